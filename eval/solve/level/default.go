package level

import (
	"cmp"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/sparse"
)

// Defaults fixes the third level, rank by rank. The defaults of one rank are
// met together, as near as all can be, but for those that take as given what is
// still open: they come after those that decide it, of whatever rank where they
// place things. One that could only be met by moving what it takes as given is dropped.
func (d *Design) Defaults() {
	rank := func(i int) int { return d.Sys.Defaults[i].Rank }
	ids := make([]int, 0, len(d.Sys.Defaults))
	for i := range d.Sys.Defaults {
		def := &d.Sys.Defaults[i]
		if d.Sane(def.Left, def.Right) && d.there(def.Given) && d.there(def.Frame) {
			ids = append(ids, i)
		}
	}
	slices.SortFunc(ids, func(a, b int) int { return cmp.Or(rank(a)-rank(b), a-b) })
	t := turns{Design: d}
	for len(ids) > 0 {
		n := 1
		for n < len(ids) && (rank(ids[n]) == rank(ids[n-1]) || d.places(ids[n]) && d.places(ids[n-1])) {
			n++
		}
		t.begin(ids[:n])
		t.pinFrames()
		for now := t.next(); len(now) > 0; now = t.next() {
			t.meet(now)
		}
		ids = ids[n:]
	}
	d.mark(Default)
}

// there reports whether dimensions are some of the design's or known ones.
func (d *Design) there(vars []relation.VarID) bool {
	return !slices.ContainsFunc(vars, func(v relation.VarID) bool { return !d.Sane(relation.V(v)) })
}

// places reports whether a default places something in a frame.
func (d *Design) places(i int) bool { return len(d.Sys.Defaults[i].Frame) > 0 }

// movable makes goals of the defaults that can be moved by more than what they
// take as given.
func (d *Design) movable(ids []int) []goal {
	goals := make([]goal, 0, len(ids))
	for _, i := range ids {
		def := &d.Sys.Defaults[i]
		g := goal{left: &def.Left, right: &def.Right, level: Default, index: i, weight: 1}
		form, ok := d.goalForm(&g, nil)
		if !ok || !slices.ContainsFunc(form.Terms, func(t relation.Term) bool { return !d.decided(t.Var) }) {
			continue
		}
		if given := d.open(d.open(nil, held(def)), def.Frame); len(given) > 0 {
			g.late = true
			if a := d.Problem.Form(form); len(a.Terms) == 0 || len(without(a, given).Terms) == 0 {
				continue
			}
		}
		goals = append(goals, g)
	}
	return goals
}

// held is what a default takes as given also where others wait for it in turn.
func held(def *relation.Default) []relation.VarID {
	if len(def.Mutual) == 0 {
		return def.Given
	}
	return slices.DeleteFunc(slices.Clone(def.Given), func(v relation.VarID) bool { return slices.Contains(def.Mutual, v) })
}

// open adds the forms of the dimensions that are not decided.
func (d *Design) open(to []sparse.Affine, vars []relation.VarID) []sparse.Affine {
	for _, v := range vars {
		if d.isOpen(v) {
			to = append(to, d.Problem.VarForm(v))
		}
	}
	return to
}

// isOpen reports whether a dimension is not decided. It gets a form.
func (d *Design) isOpen(v relation.VarID) bool {
	return !d.Problem.Known[v] && len(d.Problem.VarForm(v).Terms) > 0
}

// openFrame reports whether what a default places something in has no size yet.
func (d *Design) openFrame(i int) bool { return slices.ContainsFunc(d.Sys.Defaults[i].Frame, d.isOpen) }

// without is what is left of a form if others are held fast.
func without(a sparse.Affine, held []sparse.Affine) sparse.Affine {
	place := map[int32]int32{}
	local := func(f sparse.Affine) sparse.Affine {
		out := sparse.Affine{}
		for _, t := range f.Terms {
			at, ok := place[t.At]
			if !ok {
				at = int32(len(place))
				place[t.At] = at
			}
			out.Terms = append(out.Terms, sparse.Term{At: at, Coef: t.Coef})
		}
		slices.SortFunc(out.Terms, func(a, b sparse.Term) int { return int(a.At) - int(b.At) })
		return out
	}
	rows := make([]sparse.Affine, len(held))
	for i, f := range held {
		rows[i] = local(f)
	}
	a = local(a)
	return put(a, linear.Eliminate(rows, len(place)), sparse.NewGatherer(len(place)))
}

// put gives a form by the parameters that an elimination leaves.
func put(a sparse.Affine, e *linear.Elimination, sum *sparse.Gatherer) sparse.Affine {
	for _, t := range a.Terms {
		sum.Add(t.Coef, e.Forms[t.At].Terms)
	}
	a.Terms = sum.Take(sparse.Vanish)
	return a
}

// apart leaves out the defaults that would together give what they place
// something in a size.
func (d *Design) apart(goals []goal) []goal {
	var frames map[relation.VarID]bool
	for i := range goals {
		for _, v := range d.Sys.Defaults[goals[i].index].Frame {
			if !d.decided(v) {
				if frames == nil {
					frames = map[relation.VarID]bool{}
				}
				frames[v] = true
			}
		}
	}
	if len(frames) == 0 {
		return goals
	}
	rows := make([]sparse.Affine, 0, len(goals))
	for i := range goals {
		if form, ok := d.goalForm(&goals[i], nil); ok {
			a := d.Problem.Form(form)
			rows = append(rows, sparse.Affine{Terms: a.Terms})
		}
	}
	e := linear.Eliminate(rows, len(d.Problem.Space.Uses))
	sum := sparse.NewGatherer(len(e.Forms))
	sized := func(v relation.VarID) bool {
		return frames[v] && len(put(d.Problem.VarForm(v), e, sum).Terms) == 0
	}
	return slices.DeleteFunc(goals, func(g goal) bool { return slices.ContainsFunc(d.Sys.Defaults[g.index].Frame, sized) })
}
