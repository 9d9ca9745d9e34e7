package must

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
)

// A choice is a block with several solutions.
type choice struct {
	block *block
	found [][]float64
}

// choose has wishes choose a solution of each of some blocks, all from what is known now. Where
// they do of none all blocks stay as they are.
func (q *Problem) choose(several []choice) []choice {
	if len(q.Choosing) == 0 {
		return several
	}
	var chosen []choice
	for _, c := range several {
		if z := nearest(c, q.offWishes); z != nil {
			q.chose = append(q.chose, c.block.vars...)
			chosen = append(chosen, choice{c.block, [][]float64{z}})
		}
	}
	if len(chosen) == 0 {
		return several
	}
	return chosen
}

// chosenBefore is the solution of a block, of several, that was chosen before.
func (q *Problem) chosenBefore(b *block, found [][]float64) [][]float64 {
	if len(q.Chosen) == 0 || len(found) < 2 {
		return found
	}
	if z := nearest(choice{b, found}, q.offChosen); z != nil {
		return [][]float64{z}
	}
	return found
}

// nearest is the solution that is off by less than all others; nil if none is.
func nearest(c choice, off func(*block, []float64) float64) []float64 {
	misses := make([]float64, len(c.found))
	best := 0
	for i, z := range c.found {
		if misses[i] = off(c.block, z); misses[i] < misses[best] {
			best = i
		}
	}
	for i := range misses {
		if i != best && !(misses[i]-misses[best] > plan.Tolerance*max(1, misses[best])) {
			return nil
		}
	}
	return c.found[best]
}

// offWishes is by how much the wishes are missed with a solution of a block, no number where one
// speaks of something else that is open, as that may follow from it.
func (q *Problem) offWishes(b *block, z []float64) (sum float64) {
	decided, back := q.suppose(b, z)
	defer back()
	about := func(v relation.VarID) bool {
		return slices.ContainsFunc(decided, func(d decision) bool { return d.v == v })
	}
	for _, i := range q.Choosing {
		w := &q.Sys.Wishes[i]
		if r := (relation.Relation{Left: w.Left, Right: w.Right}); slices.ContainsFunc(r.Vars(), about) {
			off := r.Residual(q.Value)
			sum += w.Weight * off * off
		}
	}
	return sum
}

// offChosen is how far a solution of a block is from what was chosen of it.
func (q *Problem) offChosen(b *block, z []float64) (sum float64) {
	for i, x := range q.at(b, z) {
		if was, ok := q.Chosen[b.vars[i]]; ok {
			sum += math.Abs(x - was)
		}
	}
	return sum
}

// Choices are the dimensions of blocks of which wishes have chosen a solution, nil if there are none.
func (q *Problem) Choices() map[relation.VarID]float64 {
	if len(q.chose) == 0 {
		return nil
	}
	out := map[relation.VarID]float64{}
	for _, v := range q.chose {
		if q.Known[v] {
			out[v] = q.Value[v]
		}
	}
	return out
}
