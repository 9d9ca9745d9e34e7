package solve

import (
	"math"

	"foredge/eval/relation"
)

// defaults fixes the third level: each default in its order, kept if the rest
// allows, as near as the limits allow otherwise, and dropped if it is decided
// already.
func (d *design) defaults() {
	for i := range d.sys.Defaults {
		def := &d.sys.Defaults[i]
		if !d.sane(def.Left, def.Right) || def.Given != nil && !d.sane(*def.Given) {
			continue
		}
		if def.Given != nil && !d.isDecided(*def.Given) {
			continue
		}
		rel := relation.Relation{Left: def.Left, Right: def.Right}
		form, ok := d.q.straight(&rel)
		if !ok || !finite(form.Const) {
			continue
		}
		a := d.q.form(form)
		if len(a.terms) == 0 {
			continue
		}
		target, held, ok := d.nearest(a)
		if !ok {
			continue
		}
		if d.fix(form, target) {
			f := fixing{level: defaultLevel, index: i, held: held, met: len(held) == 0}
			for _, t := range form.Terms {
				f.vars = append(f.vars, t.Var)
			}
			d.fixed = append(d.fixed, f)
		}
	}
	d.mark(defaultLevel)
}

// sane reports whether expressions speak of dimensions that there are, and
// that the benches know if they are theirs.
func (d *design) sane(exprs ...relation.Expr) bool {
	for i := range exprs {
		if exprs[i].Mentions(func(v relation.VarID) bool {
			return v < 0 || int(v) >= len(d.sys.Vars) || d.sys.Vars[v].Bench != 0 && !d.adj.known[v]
		}) {
			return false
		}
	}
	return true
}

// isDecided reports whether an expression has one value over what is left.
func (d *design) isDecided(e relation.Expr) bool {
	form, ok := e.Linear(d.q.lookup)
	if !ok {
		return false
	}
	a := d.q.form(form)
	if len(a.terms) == 0 {
		return true
	}
	low, high := d.q.reach(a)
	return high-low <= decidedRange
}

// decidedRange is the range, in mm, up to which a dimension is not free.
const decidedRange = 1e-3

// nearest is the value nearest to 0 that a form can take, with the limits
// that keep it from 0.
func (d *design) nearest(a affine) (target affine, held []int32, ok bool) {
	if p := d.q.part(a); p.poly == nil && len(p.limits) > 0 {
		b, ok := newWishing(p.params, []affine{a}, d.q.formsOf(p.limits), []float64{1}).solve()
		if !ok || math.Abs(b.value[0].c) <= tolerance {
			return affine{}, nil, ok
		}
		for _, i := range b.acting {
			held = append(held, p.limits[i])
		}
		return b.value[0], d.limitsOf(held), true
	}
	low, by, is := d.q.least(a)
	switch {
	case is == untold:
		return affine{}, nil, false
	case is == bounded && low.c > feasible:
		return low, d.limitsOf(by), true
	}
	high, by, is := d.q.least(a.scale(-1))
	switch {
	case is == untold:
		return affine{}, nil, false
	case is == bounded && -high.c < -feasible:
		return high.scale(-1), d.limitsOf(by), true
	}
	return affine{}, nil, true
}

// limitsOf gives the relations of limits of the space; -1 for sign rules.
func (d *design) limitsOf(forms []int32) []int32 {
	out := []int32{}
	for _, f := range forms {
		if l, ok := d.q.limitOf(f); ok {
			out = append(out, l.relation)
		}
	}
	return out
}
