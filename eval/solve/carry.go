package solve

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/must"
	"foredge/eval/solve/sparse"
)

// A source is where a row of [carriers] comes from: a reading, or a wish of a
// notebook, by its place in the system; the other is -1.
type source struct{ reading, wish int }

// carry adds to a clash the lines of notebooks that carry it: those without
// which the dimensions of notebooks would not be what the clash needs. Readings
// count with their adjusted values. It returns the filter in which the clash is
// one with those lines and without any one of them.
func (t *telling) carry(c *Clash, f *filter, members []int32) (*filter, []int32) {
	benches, spoken := f.measured(members)
	if len(benches) == 0 {
		return f, members
	}
	g := &filter{q: f.q, also: f.also, benches: true}
	var direct, others []int32
	file := func(line int32, vars []relation.VarID) {
		if slices.ContainsFunc(vars, func(v relation.VarID) bool { return spoken[v] }) {
			direct = append(direct, line)
		} else {
			others = append(others, line)
		}
	}
	for _, b := range benches {
		for _, r := range f.q.BenchScopes[b-1].Relations {
			if f.q.Sys.Relations[r].Role != relation.Own && !slices.Contains(members, r) {
				file(r, f.q.Vars[r])
			}
		}
	}
	rows, from := t.carriers(benches)
	g.rows = rows
	for i := range rows {
		var vars []relation.VarID
		for _, x := range rows[i].Form.Terms {
			vars = append(vars, x.Var)
		}
		file(int32(-1-i), vars)
	}
	all := slices.Concat(others, direct)
	if _, fails := g.try(all); fails && len(members) > 0 && f.q.Sys.Relations[members[0]].Bench == 0 {
		return f, members // the notebook contradicts itself, which is told of it
	}
	if _, fails := g.try(slices.Concat(members, direct)); fails {
		all = direct
	} else if _, fails := g.try(slices.Concat(members, all)); !fails {
		return f, members
	}
	all = g.reduce(members, all)
	for _, m := range all {
		switch {
		case m >= 0:
			c.Carried.Relations = append(c.Carried.Relations, int(m))
		case from[-1-m].reading >= 0:
			c.Carried.Readings = append(c.Carried.Readings, from[-1-m].reading)
		default:
			c.Carried.Wishes = append(c.Carried.Wishes, from[-1-m].wish)
		}
	}
	slices.Sort(c.Carried.Relations)
	slices.Sort(c.Carried.Readings)
	slices.Sort(c.Carried.Wishes)
	return g, slices.Concat(members, all)
}

// measured finds the notebooks whose values show that lines can't all hold, and
// their dimensions that do.
func (f *filter) measured(members []int32) (benches []int, spoken map[relation.VarID]bool) {
	t := f.q.Trial(f.lines(members), f.also)
	defer t.Close()
	spoken = map[relation.VarID]bool{}
	see := func(v relation.VarID) {
		if b := f.q.Sys.Vars[v].Bench; f.q.Given[v] && b > 0 && b <= len(f.q.BenchScopes) && !spoken[v] {
			spoken[v] = true
			if !slices.Contains(benches, b) {
				benches = append(benches, b)
			}
		}
	}
	for _, r := range t.Core().Relations {
		for _, v := range f.q.Vars[r] {
			see(v)
		}
	}
	slices.Sort(benches)
	return benches, spoken
}

// carriers are rows of what was read and wished for in notebooks, at what came
// out.
func (t *telling) carriers(benches []int) (rows []must.ExtraRow, from []source) {
	sys := t.Sys
	for _, b := range benches {
		for _, rep := range t.sol.Benches[b-1].Readings {
			read := &t.Plan.Readings[rep.Index]
			form := relation.Form{Terms: read.Form.Terms, Const: read.Form.Const - rep.Adjusted}
			if !read.Linear {
				form = t.straightened(sys.Readings[rep.Index].Left)
			}
			if sparse.Finite(form.Const) {
				rows, from = append(rows, must.ExtraRow{Form: form}), append(from, source{rep.Index, -1})
			}
		}
		for _, w := range t.Plan.Wishes[b] {
			form := t.straightened(relation.Minus(sys.Wishes[w].Left, sys.Wishes[w].Right))
			if sparse.Finite(form.Const) {
				rows, from = append(rows, must.ExtraRow{Form: form}), append(from, source{-1, w})
			}
		}
	}
	return rows, from
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
