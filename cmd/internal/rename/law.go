package rename

import (
	"bytes"
	"context"
	"maps"
	"math"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/mention"
	"foredge/export"
	"foredge/export/dxf"
	"foredge/export/svg"
	"foredge/lang/source"
	"foredge/layout"
)

// A trial holds a design with the new name against itself with the old one.
type trial struct {
	found         *Found
	name          string
	before, after *reading
}

// hold refuses if anything but the name has changed.
func (t *trial) hold(ctx context.Context, before, after *driver.Session) error {
	old, now := before.Look(ctx, t.before.path), after.Look(ctx, t.before.path)
	if err := ctx.Err(); err != nil {
		return err
	}
	file := filepath.Base(t.before.path)
	if fault := newFault(old, now); fault != nil {
		if at := fault.Span; at.File != nil {
			return refuse("with the name %s it would say in line %d of %s: %s", t.name, at.File.LineNumber(at.Start), filepath.Base(at.File.Name()), fault.Message)
		}
		return refuse("with the name %s it would say of %s: %s", t.name, file, fault.Message)
	}
	if t.after == nil || old.Err != nil || now.Err != nil {
		return refuse("%s can't be read just now, so it can't be told what the name %s would do in it", file, t.name)
	}
	if err := t.meanings(); err != nil {
		return err
	}
	rename := t.renaming()
	if err := t.dimensions(old.Solution, now.Solution, rename); err != nil {
		return err
	}
	if err := t.orders(ctx, rename); err != nil {
		return err
	}
	if !sameSheets(old.Sheets, now.Sheets, newNames{rename, thingsOf(old.Solution)}) {
		return refuse("with the name %s something else than now would be cut of %s", t.name, file)
	}
	return nil
}

// renaming is what paths of the design become.
func (t *trial) renaming() func(string) string {
	for _, at := range t.found.Declared {
		if m, ok := t.before.origin(at); ok {
			return t.before.index.Renaming(m, t.name)
		}
	}
	return func(path string) string { return path }
}

// moved is where a place of the old text is in the new one.
func (t *trial) moved(p Place) Place {
	longer := len(t.name) - len(t.found.Name)
	at := func(offset int) int {
		before := 0
		for _, e := range t.found.Places {
			if e.Path == p.Path && e.End <= offset {
				before++
			}
		}
		return offset + before*longer
	}
	return Place{p.Path, at(p.Start), at(p.End)}
}

// meanings refuses if a name in any text of the design stands for something else, or
// what it stands for goes by one name with something else.
func (t *trial) meanings() error {
	means := func(d *reading, m mention.Mention, moved func(Place) Place) string {
		return d.index.Meaning(m, func(at source.Span) string {
			p, ok := d.place(at)
			if !ok {
				p = Place{"", at.Start, at.End} // of the shelf, or nowhere
				if at.File != nil {
					p.Path = at.File.Name()
				}
				return p.String()
			}
			return moved(p).String()
		})
	}
	stay := func(p Place) Place { return p }
	wanted := map[Place]mention.Mention{}
	for _, f := range t.before.index.Files() {
		for _, m := range t.before.index.In(f) {
			if p, ok := t.before.place(m.At); ok {
				wanted[t.moved(p)] = m
			}
		}
	}
	for _, f := range t.after.index.Files() {
		for _, m := range t.after.index.In(f) {
			p, ok := t.after.place(m.At)
			if !ok {
				continue
			}
			old, known := wanted[p]
			delete(wanted, p)
			if !known || means(t.before, old, t.moved) != means(t.after, m, stay) {
				return t.another(m)
			}
		}
	}
	for _, at := range slices.SortedFunc(maps.Keys(wanted), Place.compare) {
		m := wanted[at]
		return refuse("with the name %s, %s in line %d of %s would no longer stand for anything", t.name, m.At.Text(), m.At.File.LineNumber(m.At.Start), filepath.Base(m.At.File.Name()))
	}
	return nil
}

// another refuses as a name would mean another thing, and says which.
func (t *trial) another(m mention.Mention) error {
	line, file := m.At.File.LineNumber(m.At.Start), filepath.Base(m.At.File.Name())
	at := m.Declaration()
	switch {
	case m.Declares:
		for _, other := range t.after.index.Origins(m) {
			if other != m.At {
				return refuse("with the name %s, %s in line %d of %s would go together with the %s in line %d of %s", t.name,
					m.At.Text(), line, file, other.Text(), other.File.LineNumber(other.Start), filepath.Base(other.File.Name()))
			}
		}
	case m.Dimension() != "":
		return refuse("with the name %s, %s in line %d of %s would stand for the dimension %s", t.name, m.At.Text(), line, file, m.Dimension())
	case !at.IsZero():
		return refuse("with the name %s, %s in line %d of %s would stand for the one in line %d of %s", t.name,
			m.At.Text(), line, file, at.File.LineNumber(at.Start), filepath.Base(at.File.Name()))
	}
	return refuse("with the name %s, %s in line %d of %s would stand for something else", t.name, m.At.Text(), line, file)
}

// mostOrders is how many of a design's orders are worked out beside the first, which is
// built.
const mostOrders = 8

// orders refuses if a dimension comes out otherwise for an order further down, of which a
// few are taken from all over the table. What the names mean is the same for all.
func (t *trial) orders(ctx context.Context, rename func(string) string) error {
	old, now := t.before.result.Prepared, t.after.result.Prepared
	if old.Orders == nil || now.Orders == nil || len(old.Orders.Rows) != len(now.Orders.Rows) {
		return nil
	}
	n := len(old.Orders.Rows)
	step := max(1, (n-1+mostOrders-1)/mostOrders)
	for row := n - 1; row > 0 && ctx.Err() == nil; row -= step {
		var solved [2]*eval.Solution
		if err := driver.Guard("trying "+t.name, func() {
			for i, p := range []*eval.Prepared{old, now} {
				m, _ := p.Build(row)
				solved[i], _ = m.SolveWithin(ctx)
			}
		}); err != nil {
			return err
		}
		if err := t.dimensions(solved[0], solved[1], rename); err != nil {
			return err
		}
	}
	return ctx.Err()
}

// dimensions refuses if one comes out otherwise.
func (t *trial) dimensions(old, now *eval.Solution, rename func(string) string) error {
	if old == nil || now == nil {
		return nil
	}
	values := map[string][]float64{}
	for _, d := range now.Dimensions() {
		values[d.Name] = append(values[d.Name], d.Value)
	}
	for _, d := range old.Dimensions() {
		name := rename(d.Name)
		if len(values[name]) == 0 {
			name = d.Name // of another file, where two have something of its name
		}
		is := values[name]
		if len(is) == 0 {
			return refuse("with the name %s, %s would not be there any more", t.name, rename(d.Name))
		}
		k := max(0, slices.IndexFunc(is, func(v float64) bool { return near(d.Value, v) }))
		if math.IsNaN(d.Value) && !near(d.Value, is[k]) {
			return refuse("with the name %s, %s would be %s, and now nothing decides it", t.name, name, now.Format(is[k], d.Kind, d.At))
		}
		if !near(d.Value, is[k]) {
			return refuse("with the name %s, %s would be %s and no longer %s", t.name, name,
				now.Format(is[k], d.Kind, d.At), old.Format(d.Value, d.Kind, d.At))
		}
		values[name] = slices.Delete(is, k, k+1)
	}
	for _, name := range slices.Sorted(maps.Keys(values)) {
		if len(values[name]) > 0 {
			return refuse("with the name %s there would be %s besides", t.name, name)
		}
	}
	return nil
}

// near reports whether two values are the same but for rounding, or both open.
func near(a, b float64) bool {
	return a == b || math.IsNaN(a) && math.IsNaN(b) || math.Abs(a-b) <= 1e-9*max(1, math.Abs(a))
}

// sameSheets reports whether drawings are written to the same bytes but for the name.
func sameSheets(old, now []driver.Sheet, names newNames) bool {
	if len(old) != len(now) {
		return false
	}
	for i := range old {
		for _, enc := range []export.Encoder{svg.Encoder{}, dxf.Encoder{}} {
			var a, b bytes.Buffer
			errA := enc.Encode(&a, names.called(old[i].Drawing))
			errB := enc.Encode(&b, newNames{path: func(path string) string { return path }}.called(now[i].Drawing))
			if (errA == nil) != (errB == nil) || !bytes.Equal(a.Bytes(), b.Bytes()) {
				return false
			}
		}
	}
	return true
}

// newNames are what the names of a design become: paths of things, and which of them are those
// of things at its top.
type newNames struct {
	path   func(string) string
	things map[string]bool
}

// thingsOf are the names of the things at the top that have dimensions.
func thingsOf(s *eval.Solution) map[string]bool {
	things := map[string]bool{}
	if s != nil {
		for _, d := range s.Dimensions() {
			name, _, _ := strings.Cut(d.Name, ".")
			things[name] = true
		}
	}
	return things
}

// called is a drawing whose parts and shapes have other names. Its title and what it
// says of itself in words are left out: they are made of them and of its sizes.
func (n newNames) called(d *layout.Drawing) *layout.Drawing {
	out := *d
	out.Title, out.Desc, out.Parts = "", "", slices.Clone(d.Parts)
	for i := range out.Parts {
		p := &out.Parts[i]
		p.Name, p.Stock, p.Shapes = n.drawn(p.Name), n.path(p.Stock), slices.Clone(p.Shapes)
		for k := range p.Shapes {
			p.Shapes[k].ID = n.drawn(p.Shapes[k].ID)
		}
	}
	return &out
}

// drawn is what the name of a part or shape becomes, such as front.wire.7. Among the names
// are numbers, as in front.2.wire.7 of a second copy, and one of a set of dividers has its
// own behind the panel's name: divider-3.eye, unless a panel is called so.
func (n newNames) drawn(name string) string {
	parts := strings.Split(name, ".")
	var names []string
	var places []int
	for i, p := range parts {
		if strings.Trim(p, "0123456789") != "" {
			names, places = append(names, p), append(places, i)
		}
	}
	if len(names) == 0 {
		return name
	}
	path := strings.Join(names, ".")
	to, number := n.path(path), ""
	if i := strings.LastIndexByte(names[0], '-'); to == path && i > 0 && !n.things[names[0]] && strings.Trim(names[0][i+1:], "0123456789") == "" {
		names[0], number = names[0][:i], names[0][i:]
		to = n.path(strings.Join(names, "."))
	}
	for i, p := range strings.Split(to, ".") {
		parts[places[i]] = p
	}
	parts[places[0]] += number
	return strings.Join(parts, ".")
}
