package tell

import (
	"cmp"
	"math"
	"slices"

	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/unit"
)

// A teller gathers what is to be told of one solution.
type teller struct {
	*solution.Solution
	diags *diag.List
	// alone is the design without lines about single members of fields, once
	// somebody has asked for it.
	alone *solution.Solution
	// loose is the design with boards of any size, likewise.
	loose *solution.Solution
	// mended is in how many notebooks it was tried what may have been meant.
	mended int
	// unclashed is the design without the lines that clash with others, once somebody
	// has asked for it.
	unclashed *solution.Solution
	// lines lists the relations that mention each dimension, once somebody has asked.
	lines [][]int
	// forwards lists the relations in which a dimension stands in a floor, a ceil or
	// a nearest, once somebody has asked for it.
	forwards map[relation.VarID][]int
	// equations lists the lines with = that nothing decides yet, by each dimension of
	// theirs that is open, once somebody has asked.
	equations map[relation.VarID][]int
	// lattices are what it takes to try lines on lattices, once somebody has asked.
	lattices *latticeTrial
}

// Problems says how well readings agree and what keeps dimensions from being
// worked out.
func Problems(s *solution.Solution) diag.List {
	var diags diag.List
	t := &teller{Solution: s, diags: &diags}
	if s.Numbers.Spent != nil {
		t.spent(s.Numbers.Spent)
		return diags
	}
	bad := t.benches(t.repeats())
	wrong := t.notebooks(bad)
	t.stocksBelow(bad, wrong)
	t.impliedCounts(wrong)
	t.problems(wrong)
	if !s.Broken && s.Numbers.OK() {
		t.idleLimits()
		t.impossible()
		t.unworkable()
		t.fields()
		t.grown()
		t.noughts()
		t.formed()
	}
	return diags
}

// Checks decides the checks of a design whose dimensions are all worked out.
func Checks(s *solution.Solution) diag.List {
	var diags diag.List
	t := &teller{Solution: s, diags: &diags}
	for _, c := range s.Checks {
		if c.Condition.Holds(s.Numbers.Values) {
			continue
		}
		message := c.Message
		if message == "" {
			message = "this check doesn't hold"
		}
		t.explainCondition(diags.Errorf("check", c.At, "%s", message), c.Condition)
	}
	return diags
}

// explainCondition says what the sides of a failed comparison came to.
func (t *teller) explainCondition(d *diag.Diagnostic, c model.Condition) {
	for _, part := range c.Parts {
		t.explainCondition(d, part)
	}
	if c.Parts != nil || c.Left.Kind == unit.Text {
		return
	}
	off := ""
	if miss := math.Abs(t.Eval(c.Left.Expr) - t.Eval(c.Right.Expr)); (c.Left.Kind == unit.Length || c.Left.Kind == unit.Area) && miss > nothing && !c.Holds(t.Numbers.Values) {
		off = ": off by " + t.Format(miss, c.Left.Kind, c.Left.At)
	}
	for _, side := range []model.Side{c.Left, c.Right} {
		if _, known := side.Expr.Constant(); known {
			continue
		}
		if v, why := t.Eval(side.Expr), t.faultIn(side.Expr); !finite(v) {
			d.Note(side.At, "%s can't be worked out: it %s", side.At.Short(), cmp.Or(why, "comes out larger than any number"))
		} else {
			d.Note(side.At, "%s is %s%s", side.At.Short(), t.Format(v, side.Kind, side.At), off)
			off = ""
		}
	}
	if d.Help == "" {
		d.WithHelp("change the lines that give it, or the check")
	}
}

// A set is the things of which something has been told.
type set map[model.Node]bool

// problems tells of counts, clashes, tangles and what is left open, but of what
// follows from wrong readings, by the things that rest on them.
func (t *teller) problems(wrong set) {
	told := map[string]bool{}
	// What follows from a reported problem within the same thing is no news.
	settled, uncovered := set{}, set{}
	for _, c := range t.Numbers.Counts {
		if t.clashesBeside(c) {
			continue // what the others come to without its line is no news
		}
		if !wrong[t.Owners[c.Var]] && !t.notWhole(c) {
			t.count(c)
		}
		settled[t.Owners[c.Var]] = true
	}
	for _, c := range t.Numbers.Clashes {
		behind := slices.Concat(c.Relations, c.Facts)
		if len(t.Numbers.Counts) > 0 && t.concernsAny(behind, settled) || t.restsOn(behind, wrong) {
			continue
		}
		if len(c.Relations) == 0 {
			// One reading keeps all that follows from it from being covered.
			if t.concernsAny(c.Facts, uncovered) {
				continue
			}
			t.mention(c.Facts, uncovered)
		}
		// A mirrored panel repeats the clash of the lines that it inherited.
		key := ""
		for _, i := range slices.Concat(c.Relations, c.Carried.Relations, c.Facts) {
			if r := &t.System.Relations[i]; r.Role != relation.Held {
				key += r.At.String() + "|"
			}
		}
		if !told[key] {
			told[key] = true
			t.clash(c)
		}
	}
	for _, c := range t.Numbers.Clashes {
		t.mention(slices.Concat(c.Relations, c.Facts), settled)
	}
	for _, g := range t.Numbers.Tangles {
		if len(g.Found) > 0 || len(g.Vars) == 0 || !wrong[t.Owners[g.Vars[0]]] {
			t.tangle(g)
		}
		t.mention(g.Relations, settled)
	}
	t.givenUp(settled)
	if t.Broken {
		return // what is open may have been stated by a line that is broken
	}
	var clashing map[relation.VarID]bool
	if len(t.Numbers.Clashes) > 0 {
		clashing = t.byNumber()
	}
	for _, f := range t.Numbers.Free {
		// What a line states and is open beside a clash clashes too: it is told once
		// that one is put right.
		if !t.ownsAny(f, settled) && !t.hangsOnTangle(f) && !slices.ContainsFunc(f.Vars, func(v relation.VarID) bool { return clashing[v] }) {
			t.free(f)
		}
	}
}

// hangsOnTangle reports whether what is open hangs on a dimension of a notebook that has
// several values, or none, of which it is told.
func (t *teller) hangsOnTangle(f solve.FreeGroup) bool {
	for _, g := range t.Numbers.Tangles {
		for _, v := range g.Vars {
			for _, k := range t.openIn(v) {
				r := &t.System.Relations[k]
				if t.System.Vars[v].Bench > 0 && r.Bench == 0 && slices.ContainsFunc(r.Vars(), func(w relation.VarID) bool { return slices.Contains(f.Vars, w) }) {
					return true
				}
			}
		}
	}
	return false
}

// byNumber is the dimensions that a line says to be a number.
func (t *teller) byNumber() map[relation.VarID]bool {
	all := map[relation.VarID]bool{}
	for i := range t.System.Relations {
		r := &t.System.Relations[i]
		if r.Sign != relation.EQ || r.Role == relation.Own || r.Left.Op != relation.Ref {
			continue
		}
		if _, known := r.Right.Constant(); known {
			all[r.Left.Var] = true
		}
	}
	return all
}

// givenUp tells of wishes that were given up, one for each line that is to blame and no
// part of a clash: what can't hold at all keeps no wish.
func (t *teller) givenUp(settled set) {
	told := map[int]bool{}
	for _, c := range t.Numbers.Clashes {
		for _, r := range c.Relations {
			told[r] = true
		}
	}
	for _, g := range t.Numbers.GivenUp {
		if g.Relation >= 0 && told[g.Relation] {
			continue
		}
		told[g.Relation] = true
		w := &t.System.Wishes[g.Wish]
		if g.Relation < 0 {
			t.diags.Errorf("several-solutions", w.At, "this wish can be met in several ways, and nothing says which is meant").
				WithHelp("state or wish for one of the dimensions that it speaks of")
			t.mentionIn(settled, w.Left, w.Right)
			continue
		}
		r := &t.System.Relations[g.Relation]
		var d *diag.Diagnostic
		if r.Sign == relation.EQ {
			d = t.diags.Errorf("several-solutions", w.At, "this wish can't be met: with it there are several solutions of %s, or none", t.Say(r)).
				WithHelp("state another dimension of that line, or wish for one, or change a limit on them")
		} else {
			d = t.diags.Errorf("limit", w.At, "this wish can't be met: nothing near it was found that keeps %s", t.Say(r)).
				WithHelp("state %s itself, or change the limit", t.leftOf(r))
		}
		if r.Role != relation.Own {
			d.Note(r.At, "%s", r.At.Short())
		}
		t.mention([]int{g.Relation}, settled)
	}
}

// mention adds the things of which relations speak to a set.
func (t *teller) mention(relations []int, things set) {
	for _, i := range relations {
		r := &t.System.Relations[i]
		t.mentionIn(things, r.Left, r.Right)
	}
}

// mentionIn adds the things of which expressions speak to a set.
func (t *teller) mentionIn(things set, exprs ...relation.Expr) {
	for _, e := range exprs {
		e.Mentions(func(id relation.VarID) bool {
			things[t.Owners[id]] = true
			return false
		})
	}
}

// concernsAny reports whether relations speak of any of the things.
func (t *teller) concernsAny(relations []int, things set) bool {
	is := func(id relation.VarID) bool { return things[t.Owners[id]] }
	for _, i := range relations {
		r := &t.System.Relations[i]
		if r.Left.Mentions(is) || r.Right.Mentions(is) {
			return true
		}
	}
	return false
}

// restsOn reports whether one of some relations is what was measured of any of the
// things.
func (t *teller) restsOn(relations []int, things set) bool {
	return len(things) > 0 && slices.ContainsFunc(relations, func(i int) bool {
		return t.System.Relations[i].Role == relation.Fact && t.concernsAny([]int{i}, things)
	})
}

// ownsAny reports whether any of the things has one of the dimensions that are
// open.
func (t *teller) ownsAny(f solve.FreeGroup, things set) bool {
	for _, id := range f.Vars {
		if things[t.Owners[id]] {
			return true
		}
	}
	return false
}
