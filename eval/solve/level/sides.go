package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/sparse"
)

// A decision puts a kink on one of its arguments, or stairs on a height, below it or
// above it; up is the decision before it.
type decision struct {
	kink int
	side side
	way  way
	up   *decision
}

type way uint8

const (
	on way = iota
	below
	above
)

// A find is the best that goals can come to with some decisions, where each kink that
// none is about is only held from one side.
type find struct {
	by     *decision
	x      []float64 // by the parameters of the piece
	value  []sparse.Affine
	acting []int // limits of the piece
	sum    float64
}

// A search looks for the sides of kinks with which goals are met best: by branch and
// bound. What goals come to where some kinks are held from one side only is never
// worse than with any sides of those, so that most need not be tried. What they
// come to at the best doesn't depend on the order in which sides are tried, as long as there
// are not so many of them that the work for a piece is bounded.
type search struct {
	*piece
	best  *find
	tried int // how often the goals have been met
	until int // the work that is to be left
}

// searching is the steps of work that the search may take for all pieces together. The
// goals of each may be met so often in any case, and so often at the most.
const (
	searching  = 15_000_000
	leastTried = 4
	mostTried  = 2000
)

// may reports whether the goals may be met once more.
func (s *search) may() bool {
	return s.tried < leastTried || s.tried < mostTried && s.design.Problem.Left() > s.until
}

// solve finds the sides with which the goals are met best, as one of so many pieces; nil
// if it finds none.
func (p *piece) solve(pieces int) *find {
	s := search{piece: p, until: p.design.Problem.Left() - searching/pieces}
	root := s.meet(nil)
	if root == nil {
		return nil
	}
	s.dive(root)
	s.branch(root)
	if !s.may() && s.best != nil {
		s.tried, s.until = 0, p.design.Problem.Left()-searching/pieces
		s.turn()
	}
	return s.best
}

// branch tries the sides of a kink that isn't where it has to be, one after another.
func (s *search) branch(f *find) {
	type waiting struct {
		by    *decision
		bound float64
	}
	todo := []waiting{}
	see := func(f *find) {
		if f == nil || s.hopeless(f.sum) {
			return
		}
		k := s.off(f)
		if k < 0 {
			s.keep(f)
			return
		}
		for _, by := range slices.Backward(s.ways(k, f)) {
			todo = append(todo, waiting{by, f.sum})
		}
	}
	see(f)
	for len(todo) > 0 && s.may() {
		next := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if !s.hopeless(next.bound) {
			see(s.meet(next.by))
		}
	}
}

// hopeless reports whether nothing that is worse than a sum by less than the
// arithmetic can be the best.
func (s *search) hopeless(sum float64) bool {
	return s.best != nil && !(miss{sum: sum}).less(miss{sum: s.best.sum})
}

// keep makes a find the best.
func (s *search) keep(f *find) {
	if !s.hopeless(f.sum) && s.holds(f.x) {
		s.best = f
	}
}

// dive puts all kinks at once where they lie nearest, and again where others then
// aren't where they have to be, for a first answer.
func (s *search) dive(f *find) {
	for range 8 {
		by := f.by
		for k := range s.kinks {
			if !s.lies(k, f) {
				by = s.nearestWay(k, f.x, by)
			}
		}
		if by == f.by {
			s.keep(f)
			return
		}
		if f = s.meet(by); f == nil {
			return
		}
	}
}

// turn tries for each kink that the best runs into to lie on another of its sides, as
// long as that makes it better.
func (s *search) turn() {
	for better := true; better && s.may(); {
		better = false
		before := s.best
		fixed := make([]*decision, len(s.kinks))
		for k := range s.kinks {
			fixed[k] = s.nearestWay(k, before.x, nil)
		}
		tried := map[int32]bool{}
		for _, i := range before.acting {
			b := &s.limits[i]
			if b.from != ofKink || tried[b.at] || !s.may() {
				continue
			}
			tried[b.at] = true
			for _, other := range s.ways(int(b.at), before) {
				if other.way != on || other.side == fixed[b.at].side {
					continue
				}
				var by *decision
				for k, f := range fixed {
					if k == int(b.at) {
						f = other
					}
					by = &decision{f.kink, f.side, f.way, by}
				}
				if f := s.meet(by); f != nil && s.off(f) < 0 {
					s.keep(f)
				}
			}
		}
		better = s.best != before
	}
}

// off is the kink that is farthest from where it has to be, stairs that no decision
// puts on a height coming last; -1 if none is off.
func (s *search) off(f *find) int {
	worst, most := -1, exact
	for k := range s.kinks {
		if s.kinks[k].step > 0 {
			continue
		}
		if off := math.Abs(s.kinks[k].value(f.x) - f.x[s.kinks[k].at]); off > most {
			worst, most = k, off
		}
	}
	if worst >= 0 {
		return worst
	}
	most = -1
	for k := range s.kinks {
		if s.kinks[k].step == 0 || s.decided(k, f.by) {
			continue
		}
		n := f.x[s.kinks[k].at] / s.kinks[k].step
		if off := math.Abs(n - math.Round(n)); off > most {
			worst, most = k, off
		}
	}
	return worst
}

// exact is how far a kink may be from where it has to be.
const exact = 1e-8

// lies reports whether a kink is where it has to be, stairs decided.
func (s *search) lies(k int, f *find) bool {
	if s.kinks[k].step > 0 {
		return s.decided(k, f.by)
	}
	return math.Abs(s.kinks[k].value(f.x)-f.x[s.kinks[k].at]) <= exact
}

// decided reports whether a decision puts stairs on a height.
func (s *search) decided(k int, by *decision) bool {
	for ; by != nil; by = by.up {
		if by.kink == k && by.way == on {
			return true
		}
	}
	return false
}

// nearestWay puts a kink where it lies nearest.
func (s *search) nearestWay(k int, x []float64, up *decision) *decision {
	kink := &s.kinks[k]
	d := &decision{kink: k, up: up}
	if kink.step > 0 {
		d.side.height = kink.value(x)
	} else {
		d.side.arg = kink.nearest(x)
	}
	return d
}

// ways are the decisions that there are about a kink, the nearest first.
func (s *search) ways(k int, f *find) []*decision {
	kink := &s.kinks[k]
	if kink.step > 0 {
		h := math.Round(f.x[kink.at]/kink.step) * kink.step
		return []*decision{
			{k, side{height: h}, on, f.by},
			{k, side{height: h - kink.step}, below, f.by},
			{k, side{height: h + kink.step}, above, f.by},
		}
	}
	out := make([]*decision, len(kink.args))
	far := make([]float64, len(kink.args))
	for i := range out {
		out[i] = &decision{k, side{arg: i}, on, f.by}
		far[i] = math.Abs(kink.args[i].Value(f.x) - f.x[kink.at])
	}
	slices.SortStableFunc(out, func(a, b *decision) int {
		switch {
		case far[a.side.arg] < far[b.side.arg]:
			return -1
		case far[a.side.arg] > far[b.side.arg]:
			return 1
		}
		return 0
	})
	return out
}

// meet meets the goals as nearly as they can be with some decisions; nil if those
// leave nothing.
func (s *search) meet(by *decision) *find {
	s.tried++
	rows, limits := s.decisions(by)
	s.design.Problem.Spend(10*(s.n+len(s.limits)), -1)
	e := linear.Eliminate(rows, s.n)
	for _, r := range e.Spare {
		if math.Abs(e.Rows[r].Const) > exact {
			return nil
		}
	}
	r := newReducer(e)
	m := meeting{search: s, r: r, free: make([]bool, s.n)}
	for i := range s.limits {
		if !m.limit(s.limits[i].form, i) {
			return nil
		}
	}
	for _, f := range limits {
		if !m.limit(f, -1) {
			return nil
		}
	}
	for i := range s.values {
		m.goal(i)
	}
	return m.solve(by)
}

// decisions are equations and limits.
func (s *search) decisions(by *decision) (rows, limits []sparse.Affine) {
	for ; by != nil; by = by.up {
		k := &s.kinks[by.kink]
		own := s.base.Forms[k.at]
		if k.step == 0 {
			rows = append(rows, own.Plus(-1, k.args[by.side.arg]))
			continue
		}
		height := sparse.Affine{Const: by.side.height}
		switch by.way {
		case below:
			limits = append(limits, height.Plus(-1, own))
		case above:
			limits = append(limits, own.Plus(-1, height))
		default:
			rows = append(rows, own.Plus(-1, height))
			limits = append(limits, k.stair(height)...)
		}
	}
	return rows, limits
}

// A meeting is a least squares problem on the way to being put.
type meeting struct {
	*search
	r       reducer
	free    []bool // parameters of which something speaks
	limited []sparse.Affine
	from    []int // of each, the limit of the piece, -1 for one of a decision
	goals   []sparse.Affine
	weights []float64
	of      []int // of each, the goal of the piece
	all     []sparse.Affine
}

func (m *meeting) see(f sparse.Affine) {
	for _, t := range f.Terms {
		m.free[t.At] = true
	}
}

// limit adds a limit. It reports whether it can hold.
func (m *meeting) limit(f sparse.Affine, from int) bool {
	f = m.r.reduce(f)
	if len(f.Terms) == 0 {
		return f.Const >= -exact
	}
	m.see(f)
	m.limited, m.from = append(m.limited, f), append(m.from, from)
	return true
}

func (m *meeting) goal(i int) {
	f := m.r.reduce(m.values[i])
	m.all = append(m.all, f)
	if len(f.Terms) > 0 {
		m.see(f)
		m.goals, m.weights, m.of = append(m.goals, f), append(m.weights, m.piece.goals[i].weight), append(m.of, i)
	}
}

// solve meets the goals.
func (m *meeting) solve(by *decision) *find {
	var params []int32
	for x, free := range m.free {
		if free {
			params = append(params, int32(x))
		}
	}
	f := &find{by: by, value: m.all}
	at := make([]float64, m.n)
	if len(params) > 0 {
		qp := m.design.Problem.QPOf(params, m.goals, m.limited, m.weights, m.about())
		var x []float64
		if len(m.goals) == 0 {
			var ok bool
			if x, ok = qp.Project(); !ok {
				return nil
			}
		} else {
			b, ok := qp.Solve()
			if !ok {
				return nil
			}
			x = b.X
			for k, i := range m.of {
				f.value[i] = b.Value[k]
			}
			for _, k := range b.Acting {
				if m.from[k] >= 0 {
					f.acting = append(f.acting, m.from[k])
				}
			}
		}
		for k, param := range params {
			at[param] = x[k]
		}
	}
	for i, g := range m.piece.goals {
		f.sum += g.weight * f.value[i].Const * f.value[i].Const
	}
	f.x = through(m.base, through(m.r.e, at))
	return f
}

// about is a dimension of which the piece speaks.
func (p *piece) about() relation.VarID {
	if len(p.bends) > 0 {
		return p.design.Problem.Vars[p.bends[0]][0]
	}
	return p.goals[0].vars()[0]
}

// through gives all columns of an elimination at a point of its parameters.
func through(e *linear.Elimination, at []float64) []float64 {
	out := make([]float64, len(at))
	for c := range out {
		out[c] = e.Forms[c].Value(at)
	}
	return out
}
