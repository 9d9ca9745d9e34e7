package eval

import (
	"fmt"
	"math"
	"strings"

	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Measured is a thing whose numbers were read with a tool: a notebook, or a
// stock whose thickness was measured.
type Measured struct {
	Name  string
	Stock bool
	At    source.Span
	Unit  unit.Unit // of the file in which it stands
	// Gauge, Resolution and Flat are what is stated of the caliper, in mm; 0
	// where nothing is.
	Gauge, Resolution, Flat float64
	// Dims are its own dimensions: width, height, thick.
	Dims []NamedDim
	Rows []MeasuredRow
	// Report is what became of its readings.
	Report *solve.BenchReport
}

// A NamedDim is a dimension with its name within its thing.
type NamedDim struct {
	Name string
	ID   relation.VarID
}

// A MeasuredRow is a row of holes of a notebook.
type MeasuredRow struct {
	Name string       // its own
	Edge string       // along which it runs
	Form opening.Form // of its holes
	Gaps int          // how many gaps it lists; 0 for an even row
	// Dims are its dimensions: count, hole.along, ..., gap.1, ..., and wire
	// where a line speaks of it.
	Dims []NamedDim
	// Pair is, for a twin loop, how far both its wires reach along the row; nil
	// where one wire goes through each hole.
	Pair *relation.Expr
	// Covers are the rows of panels that lie on it.
	Covers []CoveringRow
}

// Dim finds a dimension by its name within the row.
func (r *MeasuredRow) Dim(name string) (relation.VarID, bool) {
	for _, d := range r.Dims {
		if d.Name == name {
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
	// absent where the panel states its own hole.
	Ease maybe.Of[float64]
	// KerfWithin is the half width within which the kerf is known; 0 where
	// nothing is stated.
	KerfWithin float64
}

// Measured lists the notebooks and stocks that were measured, each with its
// rows and with the rows of this design's panels that lie on them.
func (s *Solution) Measured() []Measured {
	out := make([]Measured, len(s.System.Benches))
	rows := map[*item]*MeasuredRow{}
	for _, it := range s.items {
		if it.bench == 0 || it.parent != nil {
			continue
		}
		m := &out[it.bench-1]
		*m = Measured{Name: it.thing.Path(), Stock: it.thing.Kind.Name == "stock", At: it.thing.At, Unit: it.thing.File.Unit,
			Gauge: s.told(it, "gauge"), Resolution: s.told(it, "resolution"), Flat: s.told(it, "jaw-flat"),
			Dims: dimsOf(it), Report: &s.Numbers.Benches[it.bench-1]}
		for _, t := range it.thing.Children {
			if c := s.byPath[t.Path()]; c != nil && !c.out && t.Kind.Name == "row" {
				form, _ := s.formDesign(c, "hole")
				m.Rows = append(m.Rows, MeasuredRow{Name: t.Name, Edge: t.Edge, Gaps: c.gaps, Dims: dimsOf(c),
					Form: opening.Form(form), Pair: s.pairOf(c)})
			}
		}
		for i := range m.Rows {
			rows[s.byPath[m.Name+"."+m.Rows[i].Name]] = &m.Rows[i]
		}
	}
	for _, it := range s.items {
		t := it.thing
		if t.Kind.Name != "row" || t.CoverOf == nil || t.File != s.info.Main {
			continue
		}
		if row := rows[s.byPath[t.CoverOf.Path()]]; row != nil {
			row.Covers = append(row.Covers, s.coveringRow(it))
		}
	}
	return out
}

// pairOf is how far the wires of a twin loop reach along a row: what is stated,
// else two wires side by side. It is nil for a row with no loop.
func (s *Solution) pairOf(it *item) *relation.Expr {
	b := &builder{Model: s.Model}
	if it.binding == nil || b.bindingForm(it.binding) != "loop" {
		return nil
	}
	pair := relation.Mul(relation.C(2), relation.V(it.vars["wire"]))
	if id, ok := it.binding.vars["pair"]; ok && !math.IsNaN(s.value(id)) {
		pair = relation.V(id)
	}
	return &pair
}

func (s *Solution) coveringRow(it *item) CoveringRow {
	c := CoveringRow{Name: it.thing.Path(), At: it.thing.At, Unit: it.thing.File.Unit,
		Opening: s.hole(it)}
	if _, own := it.props["hole"]; !own {
		ease := s.of(it, "ease")
		c.Ease = maybe.If(ease, !math.IsNaN(ease))
	}
	for _, from := range []*item{it.parent.stock, s.laser} {
		if from == nil {
			continue
		}
		if _, ok := from.exprs["kerf"]; ok {
			c.KerfWithin = s.told(from, "kerf within")
			break
		}
	}
	return c
}

// hole is the form and size of a row's holes, as they are to be cut.
func (s *Solution) hole(it *item) opening.Opening {
	form, radius := s.formDesign(it, "hole")
	return opening.Opening{Form: opening.Form(form), Along: s.of(it, "hole.along"), Across: s.of(it, "hole.across"), Radius: radius}
}

// told is a property that is a plain number, 0 where it is not stated.
func (s *Solution) told(it *item, key string) float64 {
	if v := s.number(it, key); v > 0 {
		return v
	}
	return 0
}

// dimsOf lists the dimensions that a thing has, in the order of its kind, then
// its gaps.
func dimsOf(it *item) []NamedDim {
	var out []NamedDim
	add := func(name string) bool {
		id, ok := it.vars[name]
		if ok {
			out = append(out, NamedDim{name, id})
		}
		return ok
	}
	for _, d := range it.thing.Kind.Dims {
		add(d.Name)
	}
	for i := 1; i <= it.gaps; i++ {
		add(fmt.Sprintf("gap.%d", i))
	}
	return out
}

// ReadingName is how a person finds a reading within its notebook: wire.web
// for a dimension, and what the line says for anything else.
func (s *Solution) ReadingName(index int) string {
	r := s.System.Readings[index]
	if r.Left.Op != relation.Ref {
		return r.Text
	}
	name := s.System.Vars[r.Left.Var].Name
	return strings.TrimPrefix(name, s.System.Benches[r.Bench-1].Name+".")
}

// ReadingRow is the name of the row in which a reading stands, "" for one of
// the notebook itself.
func (s *Solution) ReadingRow(index int) string {
	r := s.System.Readings[index]
	for _, id := range r.Left.Vars() {
		for it := s.owners[id]; it != nil && it.parent != nil; it = it.parent {
			if it.thing.Kind.Name == "row" {
				return it.thing.Name
			}
		}
	}
	return ""
}
