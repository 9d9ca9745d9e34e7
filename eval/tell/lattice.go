package tell

import (
	"maps"
	"math"

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
	w := t.trial()
	others, last := relations[:len(relations)-1], relations[len(relations)-1]
	w.forwards(others...)
	for n := range dim.Name(dim.Number) { // what else is stated of it, such as its turn
		if v, ok := l.Dim(n); ok {
			for _, i := range t.linesOf(v) {
				if i != last && w.Relations[i].Role != relation.Own {
					w.forwards(i)
				}
			}
		}
	}
	w.forwards(w.own[l.At]...)
	who := "the others"
	if math.IsNaN(l.V(dim.Links).Eval(w.values) + l.V(dim.Width).Eval(w.values)) {
		w.forwards(last) // without which there is no lattice
		w.forwards(w.own[l.At]...)
		who = "they"
	}
	of := func(n dim.Name) float64 { return l.V(n).Eval(w.values) }
	links, wide, bend := of(dim.Links), of(dim.Width), of(dim.Bend)
	if !math.IsNaN(links + wide + bend) {
		d.Note(l.At, "%s give %s %s links and a width of %s, and it then bends to a radius of %s", who, l.Path, unit.FormatNumber(links, 2),
			t.Format(wide, unit.Length, l.At), t.Format(bend, unit.Length, l.At))
	}
}
