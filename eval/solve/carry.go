package solve

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// carry makes a clash of an irreducible one with facts among its members: in
// place of the facts, which always hold, it finds the lines of notebooks that
// carry it, without which the notebooks' dimensions would not be what the clash
// needs. Readings count with their adjusted values. It also returns the filter in
// which the clash is irreducible, and its members there.
func (t *telling) carry(f *filter, members []int32) (Clash, *filter, []int32) {
	var c Clash
	var lines []int32
	for _, m := range members {
		if f.q.Sys.Relations[m].Role == relation.Fact {
			c.Facts = append(c.Facts, int(m))
		} else {
			lines = append(lines, m)
		}
	}
	c.Relations = indices(lines)
	g, direct, others := t.measured(f.q, members)
	if g == nil {
		return c, f, members
	}
	for _, r := range c.Facts {
		g.also = append(g.also, f.q.Vars[r]...)
	}
	all, fail := g.reduce(slices.Concat(direct, lines))
	if !fail {
		if all, fail = g.reduce(slices.Concat(others, all)); !fail {
			return c, f, members
		}
	}
	c.Relations = nil
	for _, m := range all {
		switch {
		case m < 0 && g.from[-1-m].reading >= 0:
			c.Carried.Readings = append(c.Carried.Readings, g.from[-1-m].reading)
		case m < 0:
			c.Carried.Wishes = append(c.Carried.Wishes, g.from[-1-m].wish)
		case slices.Contains(lines, m):
			c.Relations = append(c.Relations, int(m))
		default:
			c.Carried.Relations = append(c.Carried.Relations, int(m))
		}
	}
	return c, g, all
}

// measured makes a filter in which notebooks are open, and the lines of all
// notebooks of which some relations speak: those that speak of the same
// dimensions, and the others. It is nil if they speak of none that is known.
func (t *telling) measured(q *must.Problem, relations []int32) (g *filter, direct, others []int32) {
	spoken := map[relation.VarID]bool{}
	var benches []int
	for _, r := range relations {
		for _, v := range q.Vars[r] {
			b := q.Sys.Vars[v].Bench
			if !q.Given[v] || b < 1 || b > len(q.BenchScopes) {
				continue
			}
			spoken[v] = true
			if !slices.Contains(benches, b) {
				benches = append(benches, b)
			}
		}
	}
	if len(benches) == 0 {
		return nil, nil, nil
	}
	slices.Sort(benches)
	g = &filter{q: q, benches: true}
	file := func(line int32, vars []relation.VarID) {
		if slices.ContainsFunc(vars, func(v relation.VarID) bool { return spoken[v] }) {
			direct = append(direct, line)
		} else {
			others = append(others, line)
		}
	}
	for _, b := range benches {
		for _, r := range q.BenchScopes[b-1].Relations {
			if q.Sys.Relations[r].Role != relation.Own && !slices.Contains(relations, r) && t.holds(r) {
				file(r, q.Vars[r])
			}
		}
	}
	t.carriers(g, benches)
	for i := range g.rows {
		var vars []relation.VarID
		for _, x := range g.rows[i].Form.Terms {
			vars = append(vars, x.Var)
		}
		file(int32(-1-i), vars)
	}
	return g, direct, others
}

// holds reports whether a line of a notebook does, for all that is known: one
// that what was read breaks is told by itself.
func (t *telling) holds(r int32) bool {
	rel := &t.Sys.Relations[r]
	miss := rel.Residual(t.Adj.Value)
	return !(rel.Sign != relation.GE && miss > plan.Tolerance || rel.Sign != relation.LE && miss < -plan.Tolerance)
}

// carriers gives a filter rows for what was read and wished for in notebooks, at
// what came out.
func (t *telling) carriers(g *filter, benches []int) {
	add := func(form relation.Form, from source) {
		if sparse.Finite(form.Const) {
			g.rows, g.from = append(g.rows, must.ExtraRow{Form: form}), append(g.from, from)
		}
	}
	for _, b := range benches {
		for _, rep := range t.sol.Benches[b-1].Readings {
			read := &t.Plan.Readings[rep.Index]
			form := relation.Form{Terms: read.Form.Terms, Const: read.Form.Const - rep.Adjusted}
			if !read.Linear {
				form = t.straightened(t.Sys.Readings[rep.Index].Solved())
			}
			add(form, source{reading: rep.Index, wish: -1})
		}
		for _, w := range t.Plan.Wishes[b] {
			add(t.straightened(relation.Minus(t.Sys.Wishes[w].Left, t.Sys.Wishes[w].Right)), source{reading: -1, wish: w})
		}
	}
}

// straightened is an expression of a notebook's dimensions less what it comes to,
// by its tangent there.
func (t *telling) straightened(e relation.Expr) relation.Form {
	_, terms := e.Gradient(t.Adj.Value)
	form := relation.Form{Terms: terms}
	for _, x := range terms {
		form.Const -= x.Coef * t.Adj.Value[x.Var]
	}
	return form
}
