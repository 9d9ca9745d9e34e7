package solve

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/must"
)

// A filter makes clashes irreducible by leaving lines out (Chinneck, Feasibility
// and Infeasibility in Optimization, 2008: deletion filter). A line is a
// relation's number or, below 0, -1 less the place of a row.
type filter struct {
	q       *must.Problem
	benches bool             // see [must.Lines]
	apart   bool             // see [must.Problem.Apart]: it makes lines fail too
	waits   bool             // lines that didn't fail were tried of which some still wait
	also    []relation.VarID // looked at too, whatever the lines speak of
	rows    []must.ExtraRow  // of which lines may speak
	from    []source         // of each row
}

// A source is a reading or a wish of a notebook, by its place in the system; the
// other is -1.
type source struct{ reading, wish int }

func (f *filter) lines(members []int32) must.Lines {
	if len(f.rows) == 0 {
		return must.Lines{Relations: members, Benches: f.benches}
	}
	out := must.Lines{Benches: f.benches}
	for _, m := range members {
		if m >= 0 {
			out.Relations = append(out.Relations, m)
		} else {
			out.Rows = append(out.Rows, f.rows[-1-m])
		}
	}
	return out
}

// try reports whether some lines fail: whether they can't all hold beside what
// always holds. Those of the core show it, beside others that always hold.
func (f *filter) try(members []int32) (core []int32, fails bool) {
	t := f.q.Trial(f.lines(members), f.also)
	defer t.Close()
	switch {
	case t.Failed():
	case f.apart && t.Apart():
		return members, true
	default:
		f.waits = f.waits || t.Waits()
		return nil, false
	}
	c := t.Core()
	rows := 0
	for _, m := range members {
		if m >= 0 {
			if _, in := slices.BinarySearch(c.Relations, m); in {
				core = append(core, m)
			}
			continue
		}
		if _, in := slices.BinarySearch(c.Rows, int32(rows)); in {
			core = append(core, m)
		}
		rows++
	}
	return core, true
}

// fails reports whether some lines do.
func (f *filter) fails(members []int32) bool {
	_, fails := f.try(members)
	return fails
}

// reduce leaves out every line without which the others still can't all hold. Of
// lines that are as good the later ones are kept. It reports whether they fail at
// all; lines that can all hold it returns as they are.
func (f *filter) reduce(members []int32) (kept []int32, fail bool) {
	core, fails := f.try(members)
	if !fails {
		return members, false
	}
	members = f.shown(core, members)
	for i := 0; i < len(members); {
		without := slices.Delete(slices.Clone(members), i, i+1)
		if core, fails := f.try(without); fails {
			members = f.shown(core, without)
		} else {
			i++
		}
	}
	return members, true
}

// reducedApart leaves out of lines that were reduced those that only made an equation linear which
// isn't, where the others show without it that they can't all hold. It returns the filter in which
// those that are kept fail.
func (f *filter) reducedApart(members []int32) (*filter, []int32) {
	if f.apart || !f.waits || len(members) > mostApart {
		return f, members
	}
	g := *f
	g.apart = true
	if kept, fail := g.reduce(members); fail && len(kept) < len(members) {
		return &g, kept
	}
	return f, members
}

// shown is the core of some lines, if that fails by itself, else all of them.
func (f *filter) shown(core, members []int32) []int32 {
	if len(core) < len(members) {
		if _, fails := f.try(core); fails {
			return core
		}
	}
	return members
}
