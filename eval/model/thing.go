package model

import (
	"slices"

	"strconv"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/relation"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Design is a compiled design.
type Design struct {
	System *relation.System
	Name   string // of its file, without the ending
	Unit   unit.Unit
	At     source.Span
	// Things are those that take part, in the order in which they were met.
	Things []Node
	// Owners are the things to which the dimensions of the system belong; nil for
	// a named value.
	Owners []Node
	Checks []Check
	Laser  *Laser // nil where the design has none
	// Cells are the members of fields of which lines speak.
	Cells []Cell
	// Shared says that its file declares no panel and no case: it is there for others to
	// use.
	Shared bool
	// Broken says that errors were found, so that solving may tell less.
	Broken bool

	units map[*source.File]unit.Unit
	dims  map[string]relation.VarID
}

// New is a design with nothing in it. units are those of its files.
func New(units map[*source.File]unit.Unit) *Design {
	return &Design{System: &relation.System{}, units: units, dims: map[string]relation.VarID{}}
}

// Reserve makes room for about so many dimensions and relations, which a design of
// many things would otherwise be copied for again and again.
func (d *Design) Reserve(dims, relations int) {
	d.System.Vars = slices.Grow(d.System.Vars, dims)
	d.Owners = slices.Grow(d.Owners, dims)
	d.System.Relations = slices.Grow(d.System.Relations, relations)
	d.System.Defaults = slices.Grow(d.System.Defaults, dims)
	d.dims = make(map[string]relation.VarID, dims)
}

// Dimension finds a dimension by the name that it has from the top. Where a thing of a
// used file has one of the same name, that of the file that is built is meant.
func (d *Design) Dimension(name string) (relation.VarID, bool) {
	id, ok := d.dims[name]
	return id, ok
}

// UnitOf is the unit of the file in which a place lies.
func (d *Design) UnitOf(at source.Span) unit.Unit {
	if u, ok := d.units[at.File]; ok {
		return u
	}
	return d.Unit
}

// Kerf is the width of cut in a stock, or in what has none if s is nil: the
// stock's own, else the laser's.
func (d *Design) Kerf(s *Stock) Kerf {
	switch {
	case s != nil && s.Kerf.Width.Present():
		return s.Kerf
	case d.Laser != nil:
		return d.Laser.Kerf
	}
	return Kerf{}
}

// Add gives the design a dimension that belongs to a thing, nil for a named
// value.
func (d *Design) Add(v relation.Var, owner Node) relation.VarID {
	id := relation.VarID(len(d.System.Vars))
	d.System.Vars = append(d.System.Vars, v)
	d.Owners = append(d.Owners, owner)
	if old, taken := d.dims[v.Name]; !taken || !ofBuilt(d.Owners[old]) || ofBuilt(owner) {
		d.dims[v.Name] = id
	}
	return id
}

// ofBuilt reports whether a thing is declared in the file that is built.
func ofBuilt(n Node) bool { return n != nil && n.Base().Built }

// A Node is a thing of any kind.
type Node interface {
	// Base is what all things have.
	Base() *Thing
}

// A Thing is what all things have.
type Thing struct {
	Kind kind.ID
	Name string // within what it stands in
	Path string // from the top: front.wire
	At   source.Span
	Unit unit.Unit // of the file in which it is declared
	// Built says that it is declared in the file that is built, not in one that
	// this uses.
	Built bool
	// Bench is 0, or says which notebook or measured stock it belongs to, as in
	// [relation.Var].
	Bench int
	// Gaps are the gaps that a row lists, none for an even row.
	Gaps []relation.VarID

	dims [dim.Number]relation.VarID // each plus 1; 0 where there is none
}

// Base is the thing itself.
func (t *Thing) Base() *Thing { return t }

// SetDim gives the thing a dimension.
func (t *Thing) SetDim(n dim.Name, id relation.VarID) { t.dims[n] = id + 1 }

// Dim finds one of its dimensions.
func (t *Thing) Dim(n dim.Name) (relation.VarID, bool) { return t.dims[n] - 1, t.dims[n] > 0 }

// Is reports whether a dimension of the system is the named one of the thing.
func (t *Thing) Is(id relation.VarID, n dim.Name) bool { return t.dims[n] == id+1 }

// V is one of its dimensions as an expression. The thing must have it.
func (t *Thing) V(n dim.Name) relation.Expr { return relation.V(t.dims[n] - 1) }

// Maybe is one of its dimensions, absent if it has none of that name.
func (t *Thing) Maybe(n dim.Name) maybe.Of[relation.VarID] {
	id, ok := t.Dim(n)
	return maybe.If(id, ok)
}

// A NamedDim is a dimension with its name within its thing.
type NamedDim struct {
	Name string // hole.along, gap.3
	Dim  dim.Name
	ID   relation.VarID
}

// Dims lists the thing's dimensions in the order of its kind, then its gaps.
func (t *Thing) Dims() []NamedDim {
	var out []NamedDim
	for n := dim.None + 1; n < dim.Number; n++ {
		if id, ok := t.Dim(n); ok {
			out = append(out, NamedDim{n.String(), n, id})
		}
	}
	for i, id := range t.Gaps {
		out = append(out, NamedDim{GapName(i + 1), dim.Gap, id})
	}
	return out
}

// GapName is the name of a row's n-th gap within the row, from 1.
func GapName(n int) string { return dim.Gap.String() + "." + strconv.Itoa(n) }

// A Check is a question that is decided after solving and never moves anything.
type Check struct {
	Condition Condition
	Message   string // the maker's; "" where none is stated
	At        source.Span
}

// Quiet lists the warnings that are not to be told of a thing.
type Quiet = []diag.Code
