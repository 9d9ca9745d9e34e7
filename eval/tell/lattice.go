package tell

import (
	"maps"
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// noteLattices says, of lines that clash, what they would make of a lattice that
// they speak of: how many links, how wide.
func (t *teller) noteLattices(d *diag.Diagnostic, relations []int) {
	spoken := set{}
	t.mention(relations, spoken)
	maps.DeleteFunc(spoken, func(n model.Node, _ bool) bool {
		_, ok := n.(*model.Lattice)
		return !ok
	})
	if len(spoken) == 0 {
		return
	}
	for _, n := range t.Things {
		if spoken[n] {
			t.noteLattice(d, n.(*model.Lattice), relations)
		}
	}
}

// A latticeTrial works lines forwards, with nothing known before.
type latticeTrial struct {
	*relation.System
	own    map[source.Span][]int // by its place, the relations that always hold of a lattice
	values []float64             // all NaN between trials
	given  []relation.VarID      // what has a value in this one
}

// trial is one with nothing known.
func (t *teller) trial() *latticeTrial {
	if t.lattices == nil {
		t.lattices = &latticeTrial{System: t.System, own: map[source.Span][]int{}, values: make([]float64, len(t.System.Vars))}
		for i := range t.lattices.values {
			t.lattices.values[i] = math.NaN()
		}
		for i := range t.System.Relations {
			if r := &t.System.Relations[i]; r.Role == relation.Own {
				t.lattices.own[r.At] = append(t.lattices.own[r.At], i)
			}
		}
	}
	for _, v := range t.lattices.given {
		t.lattices.values[v] = math.NaN()
	}
	t.lattices.given = t.lattices.given[:0]
	return t.lattices
}

// forwards gives the left sides of lines what their right ones come to.
func (w *latticeTrial) forwards(relations ...int) {
	for _, i := range relations {
		if r := &w.Relations[i]; r.Sign == relation.EQ && r.Left.Op == relation.Ref && math.IsNaN(w.values[r.Left.Var]) {
			w.values[r.Left.Var] = r.Right.Eval(w.values)
			w.given = append(w.given, r.Left.Var)
		}
	}
}

func (t *teller) noteLattice(d *diag.Diagnostic, l *model.Lattice, relations []int) {
	others, last := relations[:len(relations)-1], relations[len(relations)-1]
	who, of := "the others", t.ofLattice(l, others)
	if math.IsNaN(of(dim.Links) + of(dim.Width)) {
		who, of = "they", t.ofLattice(l, relations) // without the last there is no lattice
	}
	links := of(dim.Links)
	if math.IsNaN(links + of(dim.Width)) {
		return
	}
	if math.IsNaN(of(dim.Bend)) { // its turn is stated elsewhere
		others = slices.Clone(others)
		for n := range dim.Name(dim.Number) {
			v, ok := l.Dim(n)
			if !ok {
				continue
			}
			for _, i := range t.linesOf(v) {
				if i != last && t.System.Relations[i].Role != relation.Own {
					others = append(others, i)
				}
			}
		}
		who, of = "the others", t.ofLattice(l, others)
	}
	wide, bend := of(dim.Width), of(dim.Bend)
	if !math.IsNaN(wide+bend) && of(dim.Links) == links {
		d.Note(l.At, "%s give %s %s links and a width of %s, and it then bends to a radius of %s", who, l.Path, unit.FormatNumber(links, 2),
			t.Format(wide, unit.Length, l.At), t.Format(bend, unit.Length, l.At))
	}
}

// ofLattice gives the dimensions of a lattice that some lines come to, worked out
// forwards; NaN for what they leave open. It is good until it is asked again.
func (t *teller) ofLattice(l *model.Lattice, lines []int) func(dim.Name) float64 {
	w := t.trial()
	w.forwards(lines...)
	w.forwards(w.own[l.At]...)
	return func(n dim.Name) float64 { return l.V(n).Eval(w.values) }
}
