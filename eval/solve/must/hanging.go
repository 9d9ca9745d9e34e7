package must

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// hangings say what hangs on the few dimensions on which very much does, as all that
// stands in a panel hangs on its height: of each, the relations that always hold and
// mention it, but for those of things that leave it as it is whatever it comes to. A
// trial of some lines of one thing then needn't look at all the others.
type hangings struct {
	kept map[relation.VarID][]int32
}

const (
	// muchHangs is from how many relations on very much hangs on a dimension.
	muchHangs = 24
	// largeThing is how many relations what hangs there may have to be looked into.
	largeThing = 100
	// farOff is farther than any dimension of a design comes, in mm.
	farOff = 1e6
)

// A thing is what hangs together by relations that always hold, if that through the
// dimensions on which very much hangs doesn't count.
type thing struct {
	vars      []relation.VarID
	relations []int32
	hooks     []relation.VarID // the dimensions that it hangs on
}

// hangings finds out what hangs where.
func (q *Problem) hangings() hangings {
	if q.hung != nil {
		return *q.hung
	}
	q.hung = &hangings{kept: map[relation.VarID][]int32{}}
	for _, v := range q.scope.Vars {
		if !q.given(v, false) && len(q.Equations.Of(int32(v)))+len(q.Limits.Of(int32(v))) > muchHangs {
			if all := q.allAlways(v); len(all) > muchHangs {
				q.hung.kept[v] = all
			}
		}
	}
	if len(q.hung.kept) == 0 {
		return *q.hung
	}
	seen, idle := map[int32]bool{}, map[int32]bool{}
	for _, hook := range q.scope.Vars {
		for _, r := range q.hung.kept[hook] {
			if seen[r] {
				continue
			}
			t := q.thing(r, seen)
			if q.idle(t) {
				for _, r := range t.relations {
					idle[r] = true
				}
			}
		}
	}
	for v, all := range q.hung.kept {
		q.hung.kept[v] = slices.DeleteFunc(all, func(r int32) bool { return idle[r] })
	}
	return *q.hung
}

// allAlways lists the relations that mention a dimension and hold whatever the lines
// say.
func (q *Problem) allAlways(v relation.VarID) []int32 {
	var out []int32
	for _, of := range [2]sparse.Lists[int32]{q.Equations, q.Limits} {
		for _, r := range of.Of(int32(v)) {
			if q.always(r, v, false) {
				out = append(out, r)
			}
		}
	}
	return out
}

// thing is the thing of a relation. It marks its relations as seen.
func (q *Problem) thing(r int32, seen map[int32]bool) *thing {
	t := &thing{relations: []int32{r}}
	seen[r] = true
	in := map[relation.VarID]bool{}
	for i := 0; i < len(t.relations); i++ {
		for _, v := range q.Vars[t.relations[i]] {
			if in[v] || q.given(v, false) {
				continue
			}
			in[v] = true
			if _, hook := q.hung.kept[v]; hook {
				t.hooks = append(t.hooks, v)
				continue
			}
			t.vars = append(t.vars, v)
			for _, s := range q.allAlways(v) {
				if !seen[s] {
					seen[s] = true
					t.relations = append(t.relations, s)
				}
			}
		}
	}
	return t
}

// idle reports whether a thing leaves what it hangs on as it is: whether it can be
// there, its counts being some small number, with all of that at 0, and with each of it
// far off. As linear relations leave something convex, it can then be there with all
// between.
func (q *Problem) idle(t *thing) bool {
	if len(t.vars) == 0 || len(t.relations) > largeThing || slices.ContainsFunc(t.relations, q.bent) {
		return false
	}
	if !q.hangsAt(t, -1, 0) {
		return false
	}
	for _, hook := range t.hooks {
		if !q.hangsAt(t, hook, farOff) || (q.Sys.Vars[hook].Signed || !q.signs) && !q.hangsAt(t, hook, -farOff) {
			return false
		}
	}
	return true
}

// someCount is how many of its holes a row has while it is looked at whether it can be
// there.
const someCount = 2

// bent reports whether a relation isn't linear even where all counts are known.
func (q *Problem) bent(r int32) bool {
	if q.Linear[r] {
		return false
	}
	_, ok := q.Sys.Relations[r].Difference(func(v relation.VarID) (float64, bool) {
		switch {
		case q.given(v, false):
			return q.Value[v], true
		case q.Sys.Vars[v].Whole:
			return someCount, true
		}
		return 0, false
	})
	return !ok || !q.Equation[r]
}

// hangsAt reports whether a thing can be there with one of the dimensions that it
// hangs on at a place and the others at 0.
func (q *Problem) hangsAt(t *thing, hook relation.VarID, at float64) bool {
	p := NewProblem(q.Solver, plan.Scope{Relations: slices.Clone(t.relations)}, nil, q.signs)
	defer p.Close()
	for _, r := range t.relations {
		for _, v := range q.Vars[r] {
			if p.seen[v] {
				continue
			}
			p.seen[v] = true
			p.scope.Vars = append(p.scope.Vars, v)
			if q.given(v, false) {
				p.Value[v], p.Known[v], p.Given[v] = q.Value[v], true, true
			} else if q.Sys.Vars[v].Whole {
				p.Value[v], p.Known[v], p.Given[v] = someCount, true, true
			}
		}
	}
	for _, v := range t.hooks {
		p.Value[v], p.Known[v], p.Given[v] = 0, true, true
		if v == hook {
			p.Value[v] = at
		}
	}
	p.scope.Sort()
	p.Solve()
	p.Bound()
	return !p.Failed() && len(p.Counts) == 0
}
