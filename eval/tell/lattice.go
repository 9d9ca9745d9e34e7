package tell

import (
	"math"
	"slices"

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
		for i := range t.System.Relations {
			if i != last && t.System.Relations[i].Role != relation.Own {
				others = append(others, i)
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
// forwards; NaN for what they leave open.
func (t *teller) ofLattice(l *model.Lattice, lines []int) func(dim.Name) float64 {
	values := make([]float64, len(t.System.Vars))
	for i := range values {
		values[i] = math.NaN()
	}
	forwards := func(r *relation.Relation) {
		if r.Sign == relation.EQ && r.Left.Op == relation.Ref && math.IsNaN(values[r.Left.Var]) {
			values[r.Left.Var] = r.Right.Eval(values)
		}
	}
	for _, i := range lines {
		forwards(&t.System.Relations[i])
	}
	for i := range t.System.Relations {
		if r := &t.System.Relations[i]; r.Role == relation.Own && r.At == l.At {
			forwards(r)
		}
	}
	return func(n dim.Name) float64 { return l.V(n).Eval(values) }
}
