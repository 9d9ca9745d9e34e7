package level

import (
	"foredge/eval/relation"
	"foredge/eval/solve/sparse"
)

// Defaults fixes the third level: each default in its order, kept if the rest
// allows, as near as the limits allow otherwise, and dropped if it is decided
// already.
func (d *Design) Defaults() {
	for i := range d.Sys.Defaults {
		def := &d.Sys.Defaults[i]
		if !d.Sane(def.Left, def.Right) || def.Given != nil && !d.Sane(*def.Given) {
			continue
		}
		if def.Given != nil && !d.isDecided(*def.Given) {
			continue
		}
		rel := relation.Relation{Left: def.Left, Right: def.Right}
		form, ok := d.Problem.Straight(&rel)
		if !ok || !sparse.Finite(form.Const) {
			continue
		}
		a := d.Problem.Form(form)
		if len(a.Terms) == 0 {
			continue
		}
		target, held, ok := d.Problem.Nearest(a)
		if !ok {
			continue
		}
		if d.fix(form, target) {
			f := Fixing{Level: Default, Index: i, Held: held, met: len(held) == 0}
			for _, t := range form.Terms {
				f.Vars = append(f.Vars, t.Var)
			}
			d.Fixed = append(d.Fixed, f)
		}
	}
	d.mark(Default)
}
