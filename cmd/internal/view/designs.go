package view

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"sync"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/glance"
	"foredge/cmd/internal/scene"
	"foredge/cmd/internal/watch"
	"foredge/eval"
)

// Designs are those that are shown, each with what became of it last. Their methods
// may be called at the same time, but Build only once at a time.
type Designs struct {
	names   []string
	session *driver.Session
	results []*driver.Result // Build alone has to do with them

	mu      sync.Mutex
	shown   []shown
	changed chan struct{} // closed as soon as anything is new
}

// shown is what the page is told of a design.
type shown struct {
	revision int // 0 until it was built
	scene    *scene.Scene
	body     []byte         // the scene as JSON
	good     *eval.Solution // what the values of the scene are of; nil if there are none
	// drawn is the last scene of a design without errors that has something to be drawn,
	// or else the last one: a text may be empty while it is saved. drawnOf is what its values are of.
	drawn   *scene.Scene
	drawnOf *eval.Solution
}

// NewDesigns shows the designs of these names, of which nothing is built yet.
func NewDesigns(names []string) *Designs {
	return &Designs{names: names, session: driver.NewSession(strings.NewReader("")), results: make([]*driver.Result, len(names)),
		shown: make([]shown, len(names)), changed: make(chan struct{})}
}

// Build builds the designs that are new or read one of the changed files, and gives
// what all of them read. It is what [watch.Run] asks for.
func (d *Designs) Build(ctx context.Context, changed []string) watch.Built {
	inputs := watch.Inputs{}
	for i, name := range d.names {
		if r := d.results[i]; r == nil || watch.Reads(r.Inputs, changed) {
			r = d.session.Look(ctx, name)
			if ctx.Err() != nil {
				break
			}
			if !watch.Overtaken(r.Inputs) {
				d.show(i, r)
			}
			r.Sheets = nil // the scene has all of them that is needed
			d.results[i] = r
		}
		inputs.Add(d.results[i].Inputs)
	}
	return watch.Built{Inputs: inputs.List()}
}

// show makes what came of a design what is shown of it.
func (d *Designs) show(i int, r *driver.Result) {
	d.mu.Lock()
	last := d.shown[i]
	d.mu.Unlock()
	next := shown{revision: last.revision + 1, scene: scene.Of(r, last.drawn), good: last.drawnOf, drawn: last.drawn, drawnOf: last.drawnOf}
	if r.OK() {
		next.good = r.Solution
		if len(next.scene.Views) > 0 || last.drawn == nil || len(last.drawn.Views) == 0 {
			next.drawn, next.drawnOf = next.scene, next.good
		}
	}
	var body bytes.Buffer
	enc := json.NewEncoder(&body)
	enc.SetEscapeHTML(false)
	if err := enc.Encode(next.scene); err != nil {
		return // a scene holds nothing that can't be written: its numbers are finite
	}
	next.body = body.Bytes()
	d.mu.Lock()
	defer d.mu.Unlock()
	if bytes.Equal(next.body, last.body) {
		next.revision = last.revision
	}
	d.shown[i] = next
	if next.revision != last.revision {
		close(d.changed)
		d.changed = make(chan struct{})
	}
}

// revisions are those of all designs, and what is closed as soon as one is new.
func (d *Designs) revisions() ([]int, <-chan struct{}) {
	d.mu.Lock()
	defer d.mu.Unlock()
	all := make([]int, len(d.shown))
	for i := range d.shown {
		all[i] = d.shown[i].revision
	}
	return all, d.changed
}

// at is what is shown of a design; false if there is no such or it isn't built yet.
func (d *Designs) at(i int) (shown, bool) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if i < 0 || i >= len(d.shown) || d.shown[i].revision == 0 {
		return shown{}, false
	}
	return d.shown[i], true
}

// why explains a dimension of a design: where its value comes from.
func (d *Designs) why(i int, name string) (string, bool) {
	s, ok := d.at(i)
	if !ok || s.good == nil {
		return "", false
	}
	id, ok := s.good.Dimension(name)
	if !ok {
		return "", false
	}
	var b strings.Builder
	glance.Steps(&b, s.good.Why(id))
	return strings.ReplaceAll(b.String(), "("+scene.FolderOf(d.names[i]), "("), true
}

// path is where a file that a scene names can be opened; "" where it can't.
func (d *Designs) path(design, file int) string {
	s, ok := d.at(design)
	if !ok || file < 0 || file >= len(s.scene.Files) {
		return ""
	}
	return s.scene.Files[file].Path
}
