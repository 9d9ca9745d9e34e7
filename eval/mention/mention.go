package mention

import (
	"cmp"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/resolve"
	"foredge/lang/source"
)

// A Mention is a place in a text that names something.
type Mention struct {
	At source.Span
	resolve.Symbol
	// Declares says that what is named gets its name here.
	Declares bool
}

// Dimension is the name of the dimension from the top, as a solution has it:
// front.wire.pitch. It is empty for what is no dimension.
func (m Mention) Dimension() string {
	switch {
	case m.Thing == nil || m.Dim == dim.None:
		return ""
	case m.Gap != "":
		return m.Thing.Path() + "." + m.Dim.String() + "." + m.Gap
	}
	path := m.Thing.Path()
	if m.Cell != (resolve.Cell{}) {
		path += "." + m.Cell.Across + "." + m.Cell.Down
	}
	return path + "." + m.Dim.String()
}

// Declaration is where what is named gets its name, zero if that is nowhere in a text.
func (m Mention) Declaration() source.Span {
	switch {
	case m.Let != nil:
		return m.Let.Stmt.Name.At
	case m.Thing != nil && m.Thing.Decl != nil && m.Thing.Decl.Name.Name != "":
		return m.Thing.Decl.Name.At
	case m.Thing != nil:
		return m.Thing.At
	}
	return source.Span{}
}

// An Index holds all mentions of a design and of the files that it uses.
type Index struct {
	info     *resolve.Info
	worlds   []*resolve.Info
	all      map[*source.File][]Mention // in order
	families families
	firsts   map[node]source.Span // see firstOf
}

// Of gathers the mentions of a design. Where things of it share a name, worlds are the
// design with one of them there after the other ([resolve.Info.Worlds]): what a name
// means is what it means in the first of them in which it means anything.
func Of(info *resolve.Info, worlds ...*resolve.Info) *Index {
	if len(worlds) == 0 {
		worlds = []*resolve.Info{info}
	}
	x := &Index{info: info, worlds: worlds, all: map[*source.File][]Mention{}, families: families{}}
	for _, w := range worlds {
		x.gather(w)
		x.families.shared(w)
	}
	for f, list := range x.all {
		slices.SortStableFunc(list, func(a, b Mention) int {
			return cmp.Or(cmp.Compare(a.At.Start, b.At.Start), cmp.Compare(b.At.End, a.At.End))
		})
		x.all[f] = slices.CompactFunc(list, func(a, b Mention) bool { return a.At == b.At })
	}
	return x
}

// At is the innermost mention at a byte offset of a file, its end included.
func (x *Index) At(f *source.File, offset int) (found Mention, ok bool) {
	for _, m := range x.all[f] {
		if m.At.Start > offset {
			break
		}
		if offset <= m.At.End && (!ok || m.At.End-m.At.Start <= found.At.End-found.At.Start) {
			found, ok = m, true
		}
	}
	return found, ok
}

// In lists the mentions of a file, in order.
func (x *Index) In(f *source.File) []Mention { return x.all[f] }

// All lists where the same is spoken of, by file and place: its declaration too. What
// goes by one name because of another, as a region of a panel and that of the style which
// it replaces, is the same; see [Index.Origins].
func (x *Index) All(of Mention) []Mention {
	var out []Mention
	for _, f := range x.Files() {
		for _, m := range x.all[f] {
			if x.same(m, of) {
				out = append(out, m)
			}
		}
	}
	return out
}

// Files lists the texts that the design is made of: its own, then those that it uses.
func (x *Index) Files() []*source.File {
	files := make([]*source.File, len(x.info.All))
	for i, f := range x.info.All {
		files[i] = f.Source
	}
	return files
}

// same reports whether two mentions are about the same.
func (x *Index) same(a, b Mention) bool {
	switch {
	case a.Order != "" || b.Order != "":
		return a.Order == b.Order
	case a.Dim != dim.None || b.Dim != dim.None:
		return a.Dimension() == b.Dimension() && a.Thing.File.Source == b.Thing.File.Source
	}
	return x.families.of(a.Symbol) == x.families.of(b.Symbol)
}

// Top is where lines at the top of the design's own file stand.
func (x *Index) Top() *resolve.Scope { return x.worlds[0].Main.Scope() }

// Things lists what a line at the top of the design's file may name: its own things,
// then those of the files it uses.
func (x *Index) Things() []*resolve.Thing {
	var out []*resolve.Thing
	for _, f := range x.worlds[0].All {
		out = append(out, f.Things...)
	}
	return out
}

// Columns are the names of the columns of the orders.
func (x *Index) Columns() []string {
	if x.info.Orders == nil {
		return nil
	}
	names := make([]string, len(x.info.Orders.Columns))
	for i, c := range x.info.Orders.Columns {
		names[i] = c.Name.Name
	}
	return names
}
