package eval

import (
	"fmt"
	"math"

	"foredge/eval/opening"
	"foredge/eval/wire"
	"foredge/lang/diag"
	"foredge/lang/unit"
)

// warnBindings warns of covers that their wire doesn't suit. Panels of one size
// on one wire are told once.
func (s *Solution) warnBindings(diags *diag.List) {
	told := map[string]bool{}
	for _, c := range s.Bound() {
		// Six digits: a pair's sizes may differ by rounding.
		key := fmt.Sprintf("%s %.6v", c.Binding, c.Case)
		if c.Missing != "" || told[key] {
			continue
		}
		told[key] = true
		closes, turns, passes := c.Case.Closes(), c.Case.Turns(), c.Case.Passes()
		if closes && turns && passes {
			continue
		}
		a := wire.Check(c.Case)
		quiet := s.quietOf(s.byPath[c.Panel])
		switch {
		case !closes && quiet.Has("wire-close") || closes && !turns && quiet.Has("wire-turn"):
		case !closes:
			s.warnClose(diags, c, a)
		case !turns:
			s.warnTurn(diags, c, a)
		}
		if closes && !passes && !quiet.Has("wire-tight") {
			s.warnTight(diags, c, a)
		}
	}
}

// atMost and atLeast write a length rounded to the safe side.
func (c Bound) atMost(mm float64) string { return c.rounded(mm, math.Floor, 1e-6) }

func (c Bound) atLeast(mm float64) string { return c.rounded(mm, math.Ceil, -1e-6) }

func (c Bound) rounded(mm float64, to func(float64) float64, by float64) string {
	step := 0.01
	if c.Unit.Name == unit.Inch.Name {
		step = 0.001 * unit.Inch.Size
	}
	return unit.FormatLength(to(mm/step+by)*step, c.Unit)
}

func (c Bound) exactly(mm float64) string { return unit.FormatLength(mm, c.Unit) }

// book says how thick the closed book is, and what it is made of.
func (c Bound) book(a wire.Answer) string {
	b := c.Case.Book
	boards := "one board"
	if b.Boards > 1 {
		boards = "two boards"
	}
	boards += " of " + c.exactly(b.Board)
	if c.LeavesKnown {
		boards = c.exactly(b.Leaves) + " of leaves and " + boards
	} else {
		boards += ", leaves not counted"
	}
	return fmt.Sprintf("%s thick (%s)", c.exactly(a.Stack), boards)
}

func (s *Solution) warnClose(diags *diag.List, c Bound, a wire.Answer) {
	d := diags.Warnf("wire-close", c.At, "%s can't close round this book: the ring is %s inside, the closed book is %s, and its edges reach %s in from the wire",
		c.Binding, c.exactly(c.Case.Wire.Inside), c.book(a), c.exactly(math.Max(c.Case.Inset, c.Case.Book.Reach)))
	d.Note(c.RingAt, "%s is declared here", c.Binding)
	c.remedy(d, a)
}

func (s *Solution) warnTurn(diags *diag.List, c Bound, a wire.Answer) {
	d := diags.Warnf("wire-turn", c.At, "%s can't turn right round on %s: half way, the %s from its edge to the holes must pass what else is on the ring, which is %s inside",
		c.Panel, c.Binding, c.exactly(c.Case.Inset), c.exactly(c.Case.Wire.Inside))
	need := "and the board's edge needs " + c.exactly(c.Case.Inset)
	if b := c.Case.Book; b.Reach > 0 {
		need = fmt.Sprintf("and its edge and theirs need %s + %s", c.exactly(c.Case.Inset), c.exactly(b.Reach))
	}
	d.Note(c.RingAt, "the closed book is %s; it leaves %s across the ring, %s", c.book(a), c.exactly(a.Chord), need)
	c.remedy(d, a)
}

// What is less is no advice: nobody makes such boards, or holes that near to the
// edge (common practice, no source).
const leastBoard, leastInset = 0.2, 1.0

// remedy says what would let a cover turn.
func (c Bound) remedy(d *diag.Diagnostic, a wire.Answer) {
	b := c.Case.Book
	ring := "a ring of at least " + c.atLeast(a.LeastInside) + " inside"
	if a.LargestTurns > leastBoard {
		ring += fmt.Sprintf(", or boards of at most %s", c.atMost(a.LargestTurns))
	}
	inset := a.LargestInset
	if b.Boards > 1 && b.Reach == c.Case.Inset {
		inset = c.Case.Wire.LargestPair(b)
	}
	if inset > leastInset {
		ring += fmt.Sprintf(", or holes at most %s from the edge", c.atMost(inset))
		if c.Covers {
			ring += " (an over-spine below 0 sets the board back)"
		}
	}
	d.WithHelp("it takes %s%s", ring, silence(d.Code))
}

func (s *Solution) warnTight(diags *diag.List, c Bound, a wire.Answer) {
	h, w := c.Case.Hole, c.Case.Wire
	is := fmt.Sprintf("%s along and %s across", c.exactly(h.Along), c.exactly(h.Across))
	adjective, measure, single := h.Form.Single()
	if single {
		is = fmt.Sprintf("%s, %s %s", adjective, c.exactly(h.Stated()), measure)
	}
	what := c.exactly(w.Thick) + " of wire"
	switch {
	case w.Pitch > 0:
		what += fmt.Sprintf(", which climbs at %s degrees,", unit.FormatNumber(a.Lead, 1))
	case w.Over > w.Thick:
		what = c.exactly(w.Over) + " of paired wires, each " + c.exactly(w.Thick) + " thick,"
	}
	d := diags.Warnf("wire-tight", c.HoleAt, "the holes of %s are too small for %s: they are %s, and %s through %s of board needs more",
		c.Name, c.Binding, is, what, c.exactly(c.Case.Book.Board))
	d.Note(c.RingAt, "%s is declared here", c.Binding)
	if math.IsInf(a.Across, 1) {
		d.WithHelp("no hole of this form will do: take a larger ring or thinner boards%s", silence(d.Code))
		return
	}
	need := fmt.Sprintf("%s along and %s across", c.atLeast(math.Max(a.Along, 0)), c.atLeast(a.Across))
	if single {
		least := opening.Opening{Form: h.Form, Along: a.Along, Across: a.Across}
		need = c.atLeast(least.Stated()) + " " + measure
	}
	help := "make them at least " + need + ", with the play that you want on top"
	if a.LargestBoard > leastBoard {
		help += fmt.Sprintf("; these holes let the wire turn in boards of at most %s", c.atMost(a.LargestBoard))
	}
	d.WithHelp("%s%s", help, silence(d.Code))
}
