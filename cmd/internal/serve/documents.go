package serve

import (
	"context"
	"encoding/json"
	"path/filepath"
	"slices"
	"strconv"
	"sync"

	"github.com/creachadair/jrpc2"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/eval/mention"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// A document is a text that the editor has open.
type document struct {
	uri, path string
	version   int
	text      string
	stop      context.CancelFunc // of the check under way
	done      chan struct{}      // closed when this text is checked or given up
	state     *state             // nil until then
}

// A state is what came of checking a text.
type state struct {
	encoding
	text   *source.File // as it was parsed
	tree   *ast.File
	result *driver.Result
	once   sync.Once
	index  *mention.Index
}

// mentions is what the names of the text stand for; nil if it can't be read.
func (s *state) mentions() *mention.Index {
	s.once.Do(func() {
		if s.result.Prepared != nil {
			s.index = s.result.Prepared.Mentions()
		}
	})
	return s.index
}

// idText writes the id of a request as it came.
func idText(id any) string {
	switch id := id.(type) {
	case string:
		text, _ := json.Marshal(id)
		return string(text)
	case float64:
		return strconv.FormatFloat(id, 'f', -1, 64)
	}
	return ""
}

func (s *server) didOpen(_ context.Context, p inDocument) error {
	path, ok := pathOf(p.TextDocument.URI)
	if !ok { // a text that was never saved: it uses files beside where the editor was started
		path, _ = filepath.Abs("untitled.fore")
	}
	s.mu.Lock()
	d := &document{uri: p.TextDocument.URI, path: path, version: p.TextDocument.Version, text: p.TextDocument.Text}
	s.docs[d.uri] = d
	s.mu.Unlock()
	if err := s.changed(d); err != nil {
		return err
	}
	for _, other := range s.stale() {
		s.check(other)
	}
	return nil
}

func (s *server) didChange(_ context.Context, p didChange) error {
	s.mu.Lock()
	d := s.docs[p.TextDocument.URI]
	if d == nil {
		s.mu.Unlock()
		return nil
	}
	for _, c := range p.ContentChanges {
		if c.Range == nil {
			d.text = c.Text
			continue
		}
		f := source.New(d.path, []byte(d.text))
		from, to := s.encoding.held(f, c.Range.Start), s.encoding.held(f, c.Range.End)
		d.text = d.text[:min(from, to)] + c.Text + d.text[max(from, to):]
	}
	d.version = p.TextDocument.Version
	s.mu.Unlock()
	return s.changed(d)
}

func (s *server) didClose(_ context.Context, p inDocument) error {
	s.mu.Lock()
	d := s.docs[p.TextDocument.URI]
	if d == nil {
		s.mu.Unlock()
		return nil
	}
	delete(s.docs, d.uri)
	if d.stop != nil {
		d.stop()
	}
	s.mu.Unlock()
	if err := s.session.DropText(d.path); err != nil {
		return err
	}
	s.tell(d.uri, nil, nil)
	s.again(d.path)
	return nil
}

// didSave checks again what uses the saved file, and each open document of which a file
// has changed on the disk since: not every editor tells of those.
func (s *server) didSave(_ context.Context, p inDocument) error {
	if path, ok := pathOf(p.TextDocument.URI); ok {
		s.again(path)
	}
	for _, d := range s.stale() {
		s.check(d)
	}
	return nil
}

// stale are the open documents that were made of files of which one is no longer as it
// was read.
func (s *server) stale() []*document {
	s.mu.Lock()
	read := map[*document][]disk.Input{}
	open := map[string]bool{}
	for _, d := range s.docs {
		open[d.path] = true
		if d.state != nil {
			read[d] = d.state.result.Inputs
		}
	}
	s.mu.Unlock()
	now := map[string]disk.State{}
	var out []*document
	for d, inputs := range read {
		if slices.ContainsFunc(inputs, func(in disk.Input) bool {
			if open[in.Path] {
				return false
			}
			if _, looked := now[in.Path]; !looked {
				now[in.Path] = disk.Look(in.Path)
			}
			return now[in.Path] != in.State
		}) {
			out = append(out, d)
		}
	}
	return out
}

// filesChanged checks again what uses files that other programs have changed.
func (s *server) filesChanged(_ context.Context, p struct {
	Changes []struct {
		URI string `json:"uri"`
	} `json:"changes"`
}) error {
	for _, c := range p.Changes {
		if path, ok := pathOf(c.URI); ok {
			s.again(path)
		}
	}
	return nil
}

// changed has a document checked, and those that use it.
func (s *server) changed(d *document) error {
	if err := s.session.SetText(d.path, []byte(d.text)); err != nil {
		return err
	}
	s.check(d)
	s.again(d.path)
	return nil
}

// again checks the open documents that read a file, but for itself.
func (s *server) again(path string) {
	s.mu.Lock()
	var users []*document
	for _, d := range s.docs {
		if d.path != path && d.state != nil && slices.ContainsFunc(d.state.result.Inputs, func(in disk.Input) bool { return in.Path == path }) {
			users = append(users, d)
		}
	}
	s.mu.Unlock()
	for _, d := range users {
		s.check(d)
	}
}

// check begins to check a document's text; what was under way for it is stopped.
func (s *server) check(d *document) {
	s.mu.Lock()
	defer s.mu.Unlock()
	if d.stop != nil {
		d.stop()
	}
	ctx, stop := context.WithCancel(s.ctx)
	done := make(chan struct{})
	d.stop, d.done = stop, done
	version := d.version
	go func() {
		defer close(done)
		defer stop()
		s.checking.Lock()
		defer s.checking.Unlock()
		if ctx.Err() != nil {
			return
		}
		r := s.session.Check(ctx, d.path)
		if ctx.Err() != nil {
			return
		}
		s.mu.Lock()
		st := &state{encoding: s.encoding, result: r, tree: r.Tree}
		if r.Tree != nil {
			st.text = r.Tree.Source
		}
		current := d.done == done && s.docs[d.uri] == d
		if current {
			d.state = st
		}
		s.mu.Unlock()
		if current {
			s.tell(d.uri, st, &version)
		}
	}()
}

// closeAll stops whatever is under way.
func (s *server) closeAll() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, d := range s.docs {
		if d.stop != nil {
			d.stop()
		}
	}
}

// checked waits until a document's text is checked; nil if there is none, it can't be
// read, or the request is given up.
func (s *server) checked(ctx context.Context, uri string) *state {
	for {
		s.mu.Lock()
		d := s.docs[uri]
		s.mu.Unlock()
		if d == nil {
			return nil
		}
		done := s.underway(d)
		select {
		case <-done:
		case <-ctx.Done():
			return nil
		}
		s.mu.Lock()
		st, latest := d.state, d.done == done
		s.mu.Unlock()
		if latest {
			if st == nil || st.tree == nil {
				return nil
			}
			return st
		}
	}
}

func (s *server) underway(d *document) chan struct{} {
	s.mu.Lock()
	defer s.mu.Unlock()
	return d.done
}

// tell publishes what was found by checking a document, by the files in which it is;
// a state of nil takes back what was told of it.
func (s *server) tell(uri string, st *state, version *int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	found := map[string][]diagnostic{}
	if st != nil {
		found[uri] = []diagnostic{}
		for _, d := range st.result.Told() {
			at := uri
			if path := st.result.Paths[d.Span.File]; path != "" && d.Span.File != st.text {
				at = uriOf(path)
			}
			found[at] = append(found[at], st.diagnostic(uri, d))
		}
	}
	touched := map[string]bool{uri: true}
	for at := range s.told[uri] {
		touched[at] = true
	}
	for at := range found {
		touched[at] = true
	}
	if s.told[uri] = found; st == nil {
		delete(s.told, uri)
	}
	for _, at := range sortedKeys(touched) {
		p := publishDiagnostics{URI: at, Diagnostics: s.toldOf(at)}
		if at == uri {
			p.Version = version
		}
		s.notify("textDocument/publishDiagnostics", p)
	}
}

// toldOf is what all open documents have found in a file, each thing once. One that is
// open itself tells of itself.
func (s *server) toldOf(uri string) []diagnostic {
	out := []diagnostic{}
	if s.docs[uri] != nil {
		return append(out, s.told[uri][uri]...)
	}
	seen := map[string]bool{}
	for _, by := range sortedKeys(s.told) {
		for _, d := range s.told[by][uri] {
			key, _ := json.Marshal(d)
			if !seen[string(key)] {
				seen[string(key)] = true
				out = append(out, d)
			}
		}
	}
	return out
}

func sortedKeys[V any](m map[string]V) []string {
	var keys []string
	for k := range m {
		keys = append(keys, k)
	}
	slices.Sort(keys)
	return keys
}

// notify tells the editor something; one that is gone is told nothing.
func (s *server) notify(method string, params any) {
	if err := s.rpc.Notify(s.ctx, method, params); err != nil && err != jrpc2.ErrConnClosed {
		return // the next read ends the server
	}
}

// diagnostic puts one into the protocol's form.
func (s *state) diagnostic(uri string, d *diag.Diagnostic) diagnostic {
	out := diagnostic{Range: s.span(d.Span), Severity: 1, Code: string(d.Code), Source: "foredge", Message: d.Message}
	switch d.Severity {
	case diag.Warning:
		out.Severity = 2
	case diag.Info:
		out.Severity = 3
	}
	for _, n := range d.Notes {
		if n.Span.IsZero() || s.uri(n.Span.File, uri) == "" {
			out.Message += "\n" + n.Message
			continue
		}
		out.Related = append(out.Related, related{location{s.uri(n.Span.File, uri), s.span(n.Span)}, n.Message})
	}
	if d.Help != "" {
		out.Message += "\nhint: " + d.Help
	}
	return out
}

// uri names a file of a document's design: "" for a part of the shelf.
func (s *state) uri(f *source.File, of string) string {
	switch path := s.result.Paths[f]; {
	case f == s.text:
		return of
	case path != "":
		return uriOf(path)
	}
	return ""
}
