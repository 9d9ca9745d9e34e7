package level

import (
	"slices"

	"foredge/eval/relation"
)

// Wishes fixes the second level: the squared deviations of all wishes, each
// times its weight, add up to the least that the musts allow. What each wish
// then comes to is an equation for the next level, and so is each limit that
// holds the wishes back.
func (d *Design) Wishes() {
	goals := make([]goal, 0, len(d.Plan.Wishes[d.bench]))
	for _, i := range d.sound(d.Plan.Wishes[d.bench]) {
		w := &d.Sys.Wishes[i]
		goals = append(goals, goal{left: &w.Left, right: &w.Right, level: Wish, index: i, weight: w.Weight})
	}
	d.meetWhole(goals)
	for i := range goals {
		// A product that is wished for holds along a curve, and what has been fixed is a
		// tangent of it.
		g := &goals[i]
		if len(g.straight.Terms) > 0 {
			continue
		}
		open := func(v relation.VarID) bool { return !d.decided(v) }
		r := g.sides()
		if _, ok := r.Difference(relation.Nothing); !ok && slices.ContainsFunc(r.Vars(), open) {
			d.unmet = append(d.unmet, Unsettled{g.index, -1})
		}
	}
	d.GivenUp = d.unmet
	if d.Stage != nil {
		d.mark(Wish)
	}
}
