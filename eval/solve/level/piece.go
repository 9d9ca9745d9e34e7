package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/graph"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/sparse"
)

// A piece is goals with all that hangs together with them, where that is straight but
// for kinks, by parameters of its own: first those of the space, then one for each kink.
type piece struct {
	design *Design
	n      int     // parameters
	params []int32 // of the space
	goals  []*goal
	values []sparse.Affine // of the goals: left - right
	limits []bound
	rows   []sparse.Affine // equations: each is 0
	kinks  []kink
	bends  []int32 // the equations and limits that aren't linear
	// kinksOf is where the kinks of each of those begin, then of each goal, and where those
	// of the last end.
	kinksOf []int
	base    *linear.Elimination
	place   []float64 // room for a point of the space, shared by all pieces
}

// A bound is a form that must not fall below 0.
type bound struct {
	form sparse.Affine
	// from is the limit of the space it is, the kink or the limit that isn't linear.
	from boundKind
	at   int32
	arg  int // of a kink
}

type boundKind uint8

const (
	ofSpace boundKind = iota
	ofKink
	ofBend
)

// add makes a kink part of the piece; it gives its value.
func (p *piece) add(k kink) sparse.Affine {
	k.at = int32(p.n)
	p.n++
	for i, f := range k.limits() {
		p.limits = append(p.limits, bound{f, ofKink, int32(len(p.kinks)), i})
	}
	p.kinks = append(p.kinks, k)
	return sparse.Affine{Terms: []sparse.Term{{At: k.at, Coef: 1}}}
}

// A division parts goals by what they hang together with: with nothing that bends,
// with kinks alone, or with what is curved.
type division struct {
	straight, curved []goal
	pieces           []*piece
}

// divideBent parts goals, some of which hang together with what isn't linear.
func (d *Design) divideBent(goals []goal) division {
	q := d.Problem
	vars := make([][]relation.VarID, len(goals)) // of goals that aren't linear
	forms := make([]sparse.Affine, len(goals))
	for i := range goals {
		if form, ok := d.goalForm(&goals[i], nil); ok {
			forms[i] = q.Form(form)
		} else {
			vars[i] = goals[i].vars()
		}
	}
	bends := slices.DeleteFunc(slices.Concat(q.Pending, q.Hard), func(r int32) bool { return !q.IsEquation(r) && !q.Limit[r] })
	see := func(vars []relation.VarID) (terms []sparse.Term) {
		for _, v := range vars {
			if !q.Known[v] {
				terms = append(terms, q.VarForm(v).Terms...)
			}
		}
		return terms
	}
	bendTerms := make([][]sparse.Term, len(bends))
	for i, r := range bends {
		bendTerms[i] = see(q.Vars[r])
	}
	for i := range goals {
		if vars[i] != nil {
			forms[i].Terms = see(vars[i])
		}
	}
	group := graph.NewGroups(len(q.Space.Uses))
	join := func(terms []sparse.Term) {
		for _, t := range terms[min(1, len(terms)):] {
			group.Join(terms[0].At, t.At)
		}
	}
	for id, f := range q.Space.Forms {
		if q.Space.Floor[id] {
			join(f.Terms)
		}
	}
	for _, terms := range bendTerms {
		join(terms)
	}
	for _, f := range forms {
		join(f.Terms)
	}
	b := divider{design: d, group: group, piece: map[int32]*piece{}, place: make([]float64, len(q.Space.Uses))}
	return b.divide(goals, forms, vars, bends, bendTerms)
}

// A divider puts what hangs together into pieces.
type divider struct {
	design *Design
	group  graph.Groups
	piece  map[int32]*piece // by the group
	order  []int32
	place  []float64
}

// of is the piece of some terms, nil if nothing in it bends.
func (b *divider) of(terms []sparse.Term) *piece {
	if len(terms) == 0 {
		return nil
	}
	return b.piece[b.group.Root(terms[0].At)]
}

// open begins a piece where some terms are.
func (b *divider) open(terms []sparse.Term) *piece {
	if len(terms) == 0 {
		return nil
	}
	root := b.group.Root(terms[0].At)
	if b.piece[root] == nil {
		b.piece[root] = &piece{design: b.design, place: b.place}
		b.order = append(b.order, root)
	}
	return b.piece[root]
}

func (b *divider) divide(goals []goal, forms []sparse.Affine, vars [][]relation.VarID, bends []int32, bendTerms [][]sparse.Term) division {
	q := b.design.Problem
	var out division
	for i, r := range bends {
		if p := b.open(bendTerms[i]); p != nil {
			p.bends = append(p.bends, r)
		}
	}
	for i := range goals {
		if vars[i] != nil {
			b.open(forms[i].Terms)
		}
	}
	mine := map[*piece][]int{}
	for i := range goals {
		p := b.of(forms[i].Terms)
		if p == nil {
			out.straight = append(out.straight, goals[i])
			continue
		}
		p.goals = append(p.goals, &goals[i])
		mine[p] = append(mine[p], i)
	}
	local := make([]int32, len(q.Space.Uses))
	for x := range int32(len(local)) {
		if p := b.piece[b.group.Root(x)]; p != nil && len(p.goals) > 0 {
			local[x] = int32(p.n)
			p.params = append(p.params, x)
			p.n++
		}
	}
	for id, f := range q.Space.Forms {
		if !q.Space.Floor[id] || len(f.Terms) == 0 {
			continue
		}
		if p := b.of(f.Terms); p != nil && len(p.goals) > 0 {
			p.limits = append(p.limits, bound{(&bender{piece: p, local: local}).here(f), ofSpace, int32(id), 0})
		}
	}
	var curved []int
	for _, root := range b.order {
		p := b.piece[root]
		if len(p.goals) == 0 {
			continue
		}
		if p.bend(local) {
			out.pieces = append(out.pieces, p)
		} else {
			curved = append(curved, mine[p]...)
		}
	}
	slices.Sort(curved)
	for _, i := range curved {
		out.curved = append(out.curved, goals[i])
	}
	return out
}

// bend makes what isn't linear part of a piece. It reports whether all of that is
// straight but for kinks.
func (p *piece) bend(local []int32) bool {
	b := &bender{piece: p, local: local}
	q := p.design.Problem
	var straight, others []int32
	for _, r := range p.bends {
		rel := &q.Sys.Relations[r]
		kinks, n, limits := len(p.kinks), p.n, len(p.limits)
		a, ok := b.difference(rel)
		if !ok {
			p.kinks, p.n, p.limits = p.kinks[:kinks], n, p.limits[:limits]
			others = append(others, r)
			continue
		}
		straight, p.kinksOf = append(straight, r), append(p.kinksOf, kinks)
		switch rel.Sign {
		case relation.EQ:
			p.rows = append(p.rows, a)
		case relation.LE:
			p.limits = append(p.limits, bound{a.Scale(-1), ofBend, r, 0})
		default:
			p.limits = append(p.limits, bound{a, ofBend, r, 0})
		}
	}
	if len(others) > 0 && !p.follow(others) {
		return false
	}
	p.bends = straight
	p.kinksOf = append(p.kinksOf, len(p.kinks))
	for _, g := range p.goals {
		var a sparse.Affine
		if g.straight.Terms != nil {
			a = b.here(q.Form(g.straight))
		} else {
			left, ok1 := b.form(g.left)
			right, ok2 := b.form(g.right)
			if a = left.Plus(-1, right); !ok1 || !ok2 {
				return false
			}
		}
		p.values, p.kinksOf = append(p.values, a), append(p.kinksOf, len(p.kinks))
	}
	p.reduce()
	return true
}

// follow reports whether some equations decide nothing of what the goals are about: each
// gives a dimension of which nothing else speaks, or none but others of them.
func (p *piece) follow(equations []int32) bool {
	q := p.design.Problem
	spoken := map[int32]int{} // of each parameter, by how many
	speak := func(terms []sparse.Term, by int) {
		for _, t := range terms {
			spoken[t.At] += by
		}
	}
	terms := func(r int32) (out []sparse.Term) {
		for _, v := range q.Vars[r] {
			if !q.Known[v] {
				out = append(out, q.VarForm(v).Terms...)
			}
		}
		slices.SortFunc(out, func(a, b sparse.Term) int { return int(a.At) - int(b.At) })
		return slices.CompactFunc(out, func(a, b sparse.Term) bool { return a.At == b.At })
	}
	for _, r := range p.bends {
		speak(terms(r), 1)
	}
	for _, g := range p.goals {
		for _, v := range g.vars() {
			if !q.Known[v] {
				speak(q.VarForm(v).Terms, 1)
			}
		}
	}
	for _, l := range p.limits {
		if l.from == ofSpace {
			speak(q.Space.Forms[l.at].Terms, 1)
		}
	}
	last := func(r int32, given, by *relation.Expr) bool {
		if q.Sys.Relations[r].Sign != relation.EQ || given.Op != relation.Ref || q.Known[given.Var] || by.Mentions(func(v relation.VarID) bool { return v == given.Var }) {
			return false
		}
		f := q.VarForm(given.Var)
		return len(f.Terms) == 1 && spoken[f.Terms[0].At] == 1
	}
	for found := true; found && len(equations) > 0; {
		found = false
		equations = slices.DeleteFunc(equations, func(r int32) bool {
			rel := &q.Sys.Relations[r]
			gives := last(r, &rel.Left, &rel.Right) || last(r, &rel.Right, &rel.Left)
			if gives {
				speak(terms(r), -1)
				found = true
			}
			return gives
		})
	}
	return len(equations) == 0
}

// reduce takes the equations out of all else.
func (p *piece) reduce() {
	p.base = linear.Eliminate(p.rows, p.n)
	by := newReducer(p.base)
	for i := range p.values {
		p.values[i] = by.reduce(p.values[i])
	}
	for i := range p.limits {
		p.limits[i].form = by.reduce(p.limits[i].form)
	}
	for i := range p.kinks {
		for j := range p.kinks[i].args {
			p.kinks[i].args[j] = by.reduce(p.kinks[i].args[j])
		}
	}
}

// A reducer puts forms by what an elimination leaves.
type reducer struct {
	e    *linear.Elimination
	sum  *sparse.Gatherer
	grad *sparse.Gatherer
}

func newReducer(e *linear.Elimination) reducer {
	return reducer{e, sparse.NewGatherer(len(e.Forms)), sparse.NewGatherer(0)}
}

func (r reducer) reduce(f sparse.Affine) sparse.Affine {
	if !slices.ContainsFunc(f.Terms, func(t sparse.Term) bool { return r.e.RowOf[t.At] >= 0 }) {
		return f
	}
	out := sparse.Affine{Const: f.Const}
	r.grad.Add(1, f.Grad)
	for _, t := range f.Terms {
		sub := r.e.Forms[t.At]
		out.Const += t.Coef * sub.Const
		r.sum.Add(t.Coef, sub.Terms)
		r.grad.Add(t.Coef, sub.Grad)
	}
	out.Terms, out.Grad = r.sum.Take(sparse.Vanish), r.grad.Take(0)
	return out
}

// holds reports whether what bends holds at a point.
func (p *piece) holds(x []float64) bool {
	q := p.design.Problem
	at := p.place
	for i, param := range p.params {
		at[param] = x[i]
	}
	for _, r := range p.bends {
		for _, v := range q.Vars[r] {
			if !q.Known[v] {
				q.Value[v] = q.VarForm(v).Value(at)
			}
		}
		miss := q.Sys.Relations[r].Residual(q.Value)
		for _, v := range q.Vars[r] {
			if !q.Known[v] {
				q.Value[v] = math.NaN()
			}
		}
		sign := q.Sys.Relations[r].Sign
		if !(sign == relation.GE && miss >= -loose || sign == relation.LE && miss <= loose || math.Abs(miss) <= loose) {
			return false
		}
	}
	return true
}

// loose is how far what bends may be from holding at a point, in mm.
const loose = 1e-6
