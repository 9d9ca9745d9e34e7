package outcome

import (
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/eval/word"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A MeasuredThing is a thing whose numbers were read with a tool: a notebook, or
// a stock whose thickness was measured. It is what one [relation.Bench] of the
// system came to.
type MeasuredThing struct {
	Name  string
	Stock bool
	At    source.Span
	Unit  unit.Unit // of the file in which it stands
	// Caliper is what is stated of the caliper.
	Caliper model.Caliper
	// Dims are its own dimensions: width, height, thick.
	Dims []model.NamedDim
	Rows []MeasuredRow
	// Report is what became of its readings.
	Report *solve.BenchReport
}

// A MeasuredRow is a row of holes of a notebook.
type MeasuredRow struct {
	Name string       // its own
	Edge word.Edge    // along which it runs
	Form opening.Form // of its holes
	Gaps int          // how many gaps it lists; 0 for an even row
	// Dims are its dimensions: count, hole.along, ..., gap.1, ..., and wire
	// where a line speaks of it, or that of the binding of its covers where they alone name one.
	Dims []model.NamedDim
	// Pair is, for a twin loop, how far both its wires reach along the row; absent
	// where one wire goes through each hole.
	Pair maybe.Of[relation.Expr]
	// Covers are the rows of panels that lie on it.
	Covers []CoveringRow
}

// Dim finds a dimension by its name within the row.
func (r *MeasuredRow) Dim(n dim.Name) (relation.VarID, bool) {
	for _, d := range r.Dims {
		if d.Dim == n {
			return d.ID, true
		}
	}
	return 0, false
}

// A CoveringRow is a panel's row that lies on a notebook's. Sizes are in mm,
// NaN where they could not be worked out.
type CoveringRow struct {
	Name string // front.wire
	At   source.Span
	Unit unit.Unit
	// Opening is what its openings are to be cut as.
	Opening opening.Opening
	// Ease is what the openings are larger by than the holes of the notebook;
	// absent where the panel states its own hole, or a size of it.
	Ease maybe.Of[float64]
	// KerfWithin is the half width within which the kerf is known.
	KerfWithin maybe.Of[float64]
	// Bound is the binding that it has of its own, Wire what goes through each hole of that along the row;
	// "" where it has none whose wire is known.
	Bound string
	Wire  float64
}

// Measured lists the notebooks and stocks that were measured, each with its
// rows and with the rows of this design's panels that lie on them; none where the
// design was given up before they were reconciled.
func Measured(s *solution.Solution) []MeasuredThing {
	if s.Numbers.Spent != nil {
		return nil
	}
	out := make([]MeasuredThing, len(s.System.Benches))
	rows := map[*model.Row]*MeasuredRow{}
	for _, n := range s.Things {
		var b MeasuredThing
		switch n := n.(type) {
		case *model.Notebook:
			b = MeasuredThing{Caliper: n.Caliper, Rows: make([]MeasuredRow, len(n.Rows))}
			for i, row := range n.Rows {
				b.Rows[i] = MeasuredRow{Name: row.Name, Edge: row.Edge, Gaps: len(row.Gaps), Dims: row.Dims(),
					Form: row.Form(), Pair: pairOf(s, row.Binding, row.V(dim.Wire))}
				rows[row] = &b.Rows[i]
			}
		case *model.Stock:
			b = MeasuredThing{Caliper: n.Caliper, Stock: true}
		default:
			continue
		}
		t := n.Base()
		if t.Bench == 0 {
			continue
		}
		b.Name, b.At, b.Unit, b.Dims, b.Report = t.Path, t.At, t.Unit, t.Dims(), &s.Numbers.Benches[t.Bench-1]
		out[t.Bench-1] = b
	}
	bound := map[*MeasuredRow][]*model.Binding{} // of its covers
	for _, n := range s.Things {
		row, ok := n.(*model.Row)
		if !ok || row.Covers == nil || row.Panel == nil || !row.Panel.Built {
			continue
		}
		if measured := rows[row.Covers]; measured != nil {
			measured.Covers = append(measured.Covers, coveringRow(s, row))
			bound[measured] = append(bound[measured], row.Binding)
		}
	}
	for measured, all := range bound {
		measured.boundBy(s, all)
	}
	return out
}

// boundBy gives a row whose own wire isn't known that of its covers, where all of them are on the
// same one.
func (r *MeasuredRow) boundBy(s *solution.Solution, covers []*model.Binding) {
	if id, ok := r.Dim(dim.Wire); ok && s.Known(id) {
		return
	}
	size := func(b *model.Binding, n dim.Name) float64 {
		if id, ok := b.Dim(n); ok && s.Known(id) {
			return s.Value(id)
		}
		return 0
	}
	first := covers[0]
	for _, b := range covers {
		if b == nil || size(b, dim.Wire) == 0 || b.Form != first.Form || size(b, dim.Wire) != size(first, dim.Wire) || size(b, dim.Pair) != size(first, dim.Pair) {
			return
		}
	}
	id, _ := first.Dim(dim.Wire)
	r.Dims = slices.DeleteFunc(r.Dims, func(d model.NamedDim) bool { return d.Dim == dim.Wire })
	r.Dims = append(r.Dims, model.NamedDim{Name: dim.Wire.String(), Dim: dim.Wire, ID: id})
	r.Pair = pairOf(s, first, relation.V(id))
}

// pairOf is how far the wires of a twin loop reach along a row: what is stated,
// else two wires side by side. It is absent for what is no loop.
func pairOf(s *solution.Solution, b *model.Binding, wire relation.Expr) maybe.Of[relation.Expr] {
	if b == nil || b.Form != word.Loop {
		return maybe.Of[relation.Expr]{}
	}
	if id, ok := b.Dim(dim.Pair); ok && s.Known(id) {
		return maybe.Is(relation.V(id))
	}
	return maybe.Is(relation.Mul(relation.C(2), wire))
}

func coveringRow(s *solution.Solution, m *model.Row) CoveringRow {
	c := CoveringRow{Name: m.Path, At: m.At, Unit: m.Unit, Opening: hole(s, m)}
	if m.Hole == nil && !m.OwnSize {
		c.Ease = s.Maybe(&m.Thing, dim.Ease)
	}
	c.KerfWithin = above(s.Kerf(m.Panel.Stock).Within)
	if b := m.Binding; b != nil && b != m.Covers.Binding {
		if id, ok := b.Dim(dim.Wire); ok && s.Known(id) {
			wire := relation.V(id)
			c.Bound, c.Wire = b.Path, s.Eval(pairOf(s, b, wire).Or(wire))
		}
	}
	return c
}

// ReadingName is how a person finds a reading within its notebook: wire.web
// for a dimension, and what the line says for anything else.
func ReadingName(s *solution.Solution, index int) string {
	r := s.System.Readings[index]
	if r.Left.Op != relation.Ref {
		return r.Text
	}
	return strings.TrimPrefix(s.System.Vars[r.Left.Var].Name, s.System.Benches[r.Bench-1].Name+".")
}

// ReadingRow is the name of the row in which a reading stands, "" for one of
// the notebook itself.
func ReadingRow(s *solution.Solution, index int) string {
	for _, id := range s.System.Readings[index].Left.Vars() {
		switch n := s.Owners[id].(type) {
		case *model.Row:
			return n.Name
		case *model.Binding:
			if n.Row != nil {
				return n.Row.Name
			}
		}
	}
	return ""
}
