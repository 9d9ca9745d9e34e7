package tell

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/lang/diag"
	"foredge/lang/unit"
)

// noteLattices says, of lines that clash, what they would make of a lattice that
// they speak of: how many links, how wide.
func (t *teller) noteLattices(d *diag.Diagnostic, relations []int) {
	spoken := set{}
	t.mention(relations, spoken)
	for _, n := range t.Things {
		if l, ok := n.(*model.Lattice); ok && spoken[n] {
			t.noteLattice(d, l, relations)
		}
	}
}

func (t *teller) noteLattice(d *diag.Diagnostic, l *model.Lattice, relations []int) {
	values := make([]float64, len(t.System.Vars))
	for i := range values {
		values[i] = math.NaN()
	}
	forwards := func(r *relation.Relation) {
		if r.Sign == relation.EQ && r.Left.Op == relation.Ref && math.IsNaN(values[r.Left.Var]) {
			values[r.Left.Var] = r.Right.Eval(values)
		}
	}
	own := func() {
		for i := range t.System.Relations {
			if r := &t.System.Relations[i]; r.Role == relation.Own && r.At == l.At {
				forwards(r)
			}
		}
	}
	others, last := relations[:len(relations)-1], relations[len(relations)-1]
	for _, i := range others {
		forwards(&t.System.Relations[i])
	}
	for i := range t.System.Relations { // what else is stated, such as its turn
		if r := &t.System.Relations[i]; i != last && r.Role != relation.Own {
			forwards(r)
		}
	}
	own()
	who := "the others"
	if math.IsNaN(l.V(dim.Links).Eval(values) + l.V(dim.Width).Eval(values)) {
		forwards(&t.System.Relations[last]) // without which there is no lattice
		own()
		who = "they"
	}
	of := func(n dim.Name) float64 { return l.V(n).Eval(values) }
	links, wide, bend := of(dim.Links), of(dim.Width), of(dim.Bend)
	if !math.IsNaN(links + wide + bend) {
		d.Note(l.At, "%s give %s %s links and a width of %s, and it then bends to a radius of %s", who, l.Path, unit.FormatNumber(links, 2),
			t.Format(wide, unit.Length, l.At), t.Format(bend, unit.Length, l.At))
	}
}
