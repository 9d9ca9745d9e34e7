package level

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/adjust"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// A Design is the system's part that is no bench, on its way through the
// levels, or a bench on its way through its wishes ([Bench]). Each level leaves
// its decisions as equations to the next.
type Design struct {
	*must.Solver
	bench     int // 0 for what is no bench
	scope     plan.Scope
	whole     []relation.VarID           // its counts, once they are asked for
	leeways   map[relation.VarID]leeway  // of its counts, as they were last
	chosen    map[relation.VarID]float64 // by wishes among several solutions of musts
	Adj       *adjust.Adjustments        // what the benches have found
	Active    []bool                     // relations in play; nil if all of the scope are
	read      []must.ExtraRow            // what was read of a bench that leaves something open
	Problem   *must.Problem              // of today: the musts with what later levels have fixed so far
	Stage     []Level                    // of each dimension, the level that decided it
	Fixed     []Fixing
	counted   map[relation.VarID]float64    // what `most` has found
	Because   map[relation.VarID]CountCause // and why
	middles   []must.ExtraRow               // and what centres their rows
	held      map[relation.VarID]int        // defaults that would be musts but for a wish, by what they decide, once they are asked for
	holding   map[int]bool                  // the defaults that do so, which go before others that place things
	OddCounts []must.OddCount               // what it could not
	extraOf   map[relation.VarID][]int      // places in Problem.Extra, by dimension, of the first filed
	filed     int
	pairs     map[relation.VarID][]int    // defaults that set two dimensions equal, by the first
	Pinned    []Pinning                   // dimensions to which limits leave no room
	refused   []must.OddCount             // counts for which a goal was given up
	NotWhole  []must.OddCount             // counts that wishes and defaults can't make whole
	GivenUp   []Unsettled                 // wishes given up
	unmet     []Unsettled                 // those of today
	wished    []relation.VarID            // dimensions of benches that their wishes have decided
	named     sparse.Slab[relation.VarID] // of the fixings
}

// A Level is one of the three that decide a design: Must, Wish and Default, one
// after another.
type Level uint8

const (
	None Level = iota // not decided
	Must
	Wish
	Default
)

// A Fixing is an equation that a wish or a default has become.
type Fixing struct {
	Level Level
	Met   bool // it holds as it was asked for
	late  bool // see goal
	Limit bool // Index is a limit (a relation, -1 for a sign rule) that acts
	Index int  // into System.Wishes or System.Defaults
	Vars  []relation.VarID
	// Held are limits (relations, -1 for a sign rule) at which it stopped, if it could
	// not be met, the first stated one among them.
	Held []int32
}

// A Pinning is a dimension to which limits alone leave no room, and one of
// them (a relation); -1 if they are sign rules.
type Pinning struct {
	At    relation.VarID
	Limit int32
}

// Unsettled is a wish that was given up because of a relation that isn't linear:
// an equation that has several solutions with it, a limit that doesn't hold, or
// (-1) what it says itself.
type Unsettled struct{ Wish, Relation int }

// A CountCause says what gave a count found by most: the equation by which it
// takes up room, and the known dimensions in that.
type CountCause struct {
	Relation int32
	From     []relation.VarID
}

// New makes a design ready for its first level, after what the wishes of benches
// have decided. Of its relations those are in play that lean on nothing the
// benches don't know.
func New(s *must.Solver, adj *adjust.Adjustments, benches []*Design) *Design {
	d := &Design{Solver: s, Adj: adj, Active: make([]bool, len(s.Sys.Relations)), scope: s.DesignScope}
	for _, b := range benches {
		d.Fixed, d.wished = append(d.Fixed, b.Fixed...), append(d.wished, b.wished...)
		d.NotWhole = append(d.NotWhole, b.NotWhole...)
	}
	for r := range s.Sys.Relations {
		d.Active[r] = s.Sys.Relations[r].Bench == 0 && d.factual(s.Vars[r])
	}
	return d
}

// factual reports whether the benches know all of their own dimensions among
// the given ones. What they don't know is no fact: a line that leans on it says
// nothing, and never decides anything on the bench.
func (d *Design) factual(vars []relation.VarID) bool {
	for _, v := range vars {
		if v >= 0 && int(v) < len(d.Sys.Vars) && d.Sys.Vars[v].Bench != 0 && !d.Adj.Known[v] {
			return false
		}
	}
	return true
}

// begin solves the musts with some further equations, and with what wishes have chosen.
func (d *Design) begin(extra []must.ExtraRow) *must.Problem { return d.solved(extra, nil) }

// solved does the same, where some wishes choose among several solutions.
func (d *Design) solved(extra []must.ExtraRow, wishes []int) *must.Problem {
	q := must.NewProblem(d.Solver, d.scope, d.Active, true)
	q.Give(d.Adj.Value, d.Adj.Known, d.Adj.Grad)
	for v, n := range d.counted {
		q.Value[v], q.Known[v], q.Given[v] = n, true, true
	}
	q.Uncertainty = d.Adj.Uncertainty
	q.Extra, q.Choosing, q.Chosen = extra, wishes, d.chosen
	q.Solve()
	return q
}

// Musts solves the first level, with what is in play now. It may be called again
// once something has been taken out of play. Of several solutions of what isn't linear
// wishes choose one, as long as the musts hold with it.
func (d *Design) Musts() {
	d.chosen = nil
	d.Problem = d.solved(d.read, d.sound(d.Plan.Wishes[d.bench]))
	d.Problem.Bound()
	chosen := d.Problem.Choices()
	if chosen != nil && failures(d.Problem) > 0 {
		plain := d.begin(d.read)
		plain.Bound()
		if failures(plain) < failures(d.Problem) {
			d.Problem, plain, chosen = plain, d.Problem, nil
		}
		plain.Close()
	}
	d.chosen = chosen
}

// failures is how much of the musts can't hold.
func failures(q *must.Problem) int {
	n := len(q.Conflicts) + len(q.Counts)
	for _, u := range q.Undecided {
		if len(u.Found) == 0 {
			n++
		}
	}
	return n
}

// sound are those of some wishes that can be met.
func (d *Design) sound(wishes []int) []int {
	return slices.DeleteFunc(slices.Clone(wishes), func(i int) bool {
		w := &d.Sys.Wishes[i]
		return !(w.Weight > 0) || !sparse.Finite(w.Weight) || !d.Sane(w.Left, w.Right)
	})
}

// EndMusts closes the first level.
func (d *Design) EndMusts() {
	d.Stage = make([]Level, len(d.Sys.Vars))
	d.pinWaitedFor()
	d.mark(Must)
	for _, v := range d.wished {
		d.Stage[v] = Wish
	}
}

// mark notes the level of what has become decided.
func (d *Design) mark(l Level) {
	for v := range d.Stage {
		if d.Stage[v] == None && d.decided(relation.VarID(v)) {
			d.Stage[v] = l
		}
	}
}

// decided reports whether nothing is left open in a dimension.
func (d *Design) decided(v relation.VarID) bool {
	if d.Problem.Known[v] {
		return true
	}
	f := d.Problem.FormOf[v]
	return f >= 0 && len(d.Problem.Space.Forms[f].Terms) == 0
}

// DecidedRange is the range, in mm, up to which a dimension is not free.
const DecidedRange = 1e-3

// Sane reports whether expressions speak of dimensions that there are, and
// that the benches know if they are those of others.
func (d *Design) Sane(exprs ...relation.Expr) bool {
	for i := range exprs {
		if exprs[i].Mentions(func(v relation.VarID) bool {
			return v < 0 || int(v) >= len(d.Sys.Vars) || d.Sys.Vars[v].Bench != 0 && d.Sys.Vars[v].Bench != d.bench && !d.Adj.Known[v]
		}) {
			return false
		}
	}
	return true
}

// rank orders fixings by how well they explain: limits that act, wishes met,
// wishes not met, defaults met, those that others may say as well, defaults not
// met.
func (f *Fixing) rank() int {
	switch {
	case f.Limit:
		return 0
	case f.Level == Wish && f.Met:
		return 1
	case f.Level == Wish:
		return 2
	case f.Met && !f.late:
		return 3
	case f.Met:
		return 4
	}
	return ranks - 1
}

// ranks is how many ranks there are.
const ranks = 6
