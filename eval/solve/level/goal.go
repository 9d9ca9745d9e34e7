package level

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/sparse"
)

// A goal is a wish or a default on the way to being Met: left = right.
type goal struct {
	left, right *relation.Expr // of the system
	level       Level
	// late says of a default that what it takes as given is not decided, so
	// that others explain more where they say the same.
	late   bool
	index  int // into System.Wishes or System.Defaults
	weight float64
	// straight is left - right, where that is linear outright and was asked for.
	straight relation.Form
}

// sides is the goal as a relation that need not hold.
func (g *goal) sides() relation.Relation { return relation.Relation{Left: *g.left, Right: *g.right} }

// vars lists the dimensions that the goal mentions.
func (g *goal) vars() []relation.VarID {
	r := g.sides()
	return r.Vars()
}

// An openGoal is a goal about what is not decided.
type openGoal struct {
	*goal
	form   relation.Form
	affine sparse.Affine // the same in the parameters
}

// goalForm is left - right of a goal. At a point it is the tangent there if it
// isn't linear.
func (d *Design) goalForm(g *goal, at *point) (relation.Form, bool) {
	form, ok := g.straight, true
	if form.Terms == nil {
		r := g.sides()
		if form, ok = r.Difference(relation.Nothing); ok {
			g.straight = form
		} else {
			form, ok = r.Difference(d.Problem.Lookup)
		}
	}
	if !ok && at != nil {
		r := g.sides()
		form, ok = d.tangent(&r, at), true
	}
	if !ok || !sparse.Finite(form.Const) || slices.ContainsFunc(form.Terms, func(t relation.Term) bool { return !sparse.Finite(t.Coef) }) {
		return form, false
	}
	return form, true
}

// openGoals divides the goals that are not decided into parts.
func (d *Design) openGoals(goals []goal, at *point) goalParts {
	open := make([]openGoal, 0, len(goals))
	for i := range goals {
		form, ok := d.goalForm(&goals[i], at)
		if !ok {
			continue
		}
		if a := d.Problem.Form(form); len(a.Terms) > 0 {
			open = append(open, openGoal{&goals[i], form, a})
		}
	}
	n := len(d.Problem.Space.Uses)
	p := goalParts{goals: open, done: make([]bool, len(open))}
	if len(open) <= fewGoals {
		return p
	}
	byParam := sparse.NewLister[int](n)
	for i := range open {
		for _, t := range open[i].affine.Terms {
			byParam.Expect(t.At)
		}
	}
	for i := range open {
		for _, t := range open[i].affine.Terms {
			byParam.Put(t.At, i)
		}
	}
	p.byParam = byParam.Done()
	return p
}

// fewGoals is how many goals are looked through rather than filed.
const fewGoals = 8

// sharing lists the goals with a parameter, good until it is asked again.
func (p *goalParts) sharing(x int32) []int {
	if len(p.goals) > fewGoals {
		return p.byParam.Of(x)
	}
	p.few = p.few[:0]
	for k := range p.goals {
		if p.goals[k].affine.Coef(x) != 0 {
			p.few = append(p.few, k)
		}
	}
	return p.few
}

// goalParts divides goals into parts that have nothing to do with each other.
type goalParts struct {
	goals   []openGoal
	byParam sparse.Lists[int] // where there are more than a few
	few     []int             // room for those with a parameter
	done    []bool            // goals of the part in hand or one before it
	in      []bool            // parameters, likewise, once it is asked what is around one
	of      map[int32]int     // of each group of the space the goals in it, once that is asked for
	fresh   []sparse.Term
}

// alone reports whether it is easily seen that no other goal has to do with goal i.
func (p *goalParts) alone(s *linear.Space, i int) bool {
	if p.of == nil {
		p.of = make(map[int32]int, len(p.goals))
		for k := range p.goals {
			for _, g := range groupsOf(s, p.goals[k].affine) {
				p.of[g]++
			}
		}
	}
	return !slices.ContainsFunc(groupsOf(s, p.goals[i].affine), func(g int32) bool { return p.of[g] > 1 })
}

// groupsOf are the groups of a space in which the parameters of a form are.
func groupsOf(s *linear.Space, a sparse.Affine) []int32 {
	groups := make([]int32, 0, len(a.Terms))
	for _, t := range a.Terms {
		groups = append(groups, s.Group(t.At))
	}
	slices.Sort(groups)
	return slices.Compact(groups)
}

// around is the part of goal i: the goals, the parameters joined by limits and
// by goals, and the limits of the space among them.
func (p *goalParts) around(s *linear.Space, i int) (members []int, params, limits []int32) {
	if p.in == nil {
		p.in = make([]bool, len(s.Uses))
	}
	todo := []int{i}
	p.done[i] = true
	for len(todo) > 0 {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		members = append(members, j)
		p.fresh = slices.DeleteFunc(append(p.fresh[:0], p.goals[j].affine.Terms...), func(t sparse.Term) bool { return p.in[t.At] })
		if len(p.fresh) == 0 {
			continue
		}
		ps, ls := s.Around(sparse.Affine{Terms: p.fresh})
		for _, x := range ps {
			if p.in[x] {
				continue
			}
			p.in[x] = true
			params = append(params, x)
			for _, k := range p.sharing(x) {
				if !p.done[k] {
					p.done[k] = true
					todo = append(todo, k)
				}
			}
		}
		limits = append(limits, ls...)
	}
	slices.Sort(members)
	slices.Sort(params)
	slices.Sort(limits)
	return members, params, slices.Compact(limits)
}
