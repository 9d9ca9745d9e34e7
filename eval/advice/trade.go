package advice

import (
	"fmt"
	"math"

	"foredge/eval/outcome"
	"foredge/eval/shelf"
	"foredge/eval/wire"
	"foredge/eval/word"
	"foredge/lang/diag/codes"
	"foredge/lang/unit"
)

// What the trade takes a wire by, in mm. The shelf's bindings hold the same numbers.
const (
	// A bindery's requirements for wire: a loop is 3/16 in larger than the book with
	// its covers. A page on coils: a coil 4 mm.
	loopOverBook = 3.0 / 16 * 25.4
	coilOverBook = 4.0
	// A wire that is more than so many times as large as the trade takes is far too
	// large (common practice, no source).
	farTooLarge = 2.0
	// Three loops to the inch go up to 9/16 in by a wire maker's page, up to 5/8 in by
	// another binder's: the larger counts.
	loopOnThree = 5.0 / 8 * 25.4
	// Four coils to the inch are for coils of 6 to 16 mm: a magazine for print
	// finishers, 2007.
	coilOnFour = 16.0
	// Up to which pitch a row counts as three, or as four, to the inch: half way to the
	// next wider one that is sold, (25.4/3 + 25.4/2) / 2 and (25.4/4 + 25.4/3.5) / 2.
	threeToTheInch = 10.58
	fourToTheInch  = 6.8
)

// A trade is what binders go by for a form of binding.
type trade struct {
	over             float64 // how much larger than the book, covers included
	from             string
	largest, onPitch float64 // the largest on holes that lie so near to one another
	pitchFrom        string
	wider            string
}

// tradeOf is what binders go by; ok is false for rings, which are sold by other
// numbers.
func tradeOf(form word.Binding) (t trade, ok bool) {
	switch form {
	case word.Loop:
		return trade{loopOverBook, "a bindery's requirements for wire", loopOnThree, threeToTheInch,
			"9/16 in by a wire maker's page, 5/8 in by another binder's, are the largest loops on three holes to the inch", "two to the inch"}, true
	case word.Coil:
		return trade{coilOverBook, "a page on coils", coilOnFour, fourToTheInch,
			"16 mm is the largest coil on four holes to the inch, according to a magazine for print finishers", "three to the inch, with oval holes"}, true
	}
	return trade{}, false
}

// byTrade is the inside diameter that binders give a wire round a book.
func (t trade) byTrade(answer wire.Answer) float64 { return answer.Stack + t.over }

// A Usual is what binders take for a book, in mm.
type Usual struct {
	Ring float64     // the least inside diameter
	Sold *shelf.Size // the next that is sold and with which the cover turns too; nil if there is none
}

// UsualFor says what binders take for a row with its wire, whatever that is; false
// where they have no rule for the form or for so few holes, or nothing says how thick
// the leaves are.
func UsualFor(b outcome.BoundRow) (u Usual, ok bool) {
	t, ok := tradeOf(b.Form)
	if !ok || b.Missing != "" || b.Holes < leastRow || !b.LeavesKnown {
		return Usual{}, false
	}
	answer := wire.Check(b.Case)
	u.Ring = t.byTrade(answer)
	if least := math.Max(u.Ring, answer.LeastInside); !math.IsNaN(least) {
		u.Sold = sold(b, least)
	}
	return u, true
}

// sold is the smallest wire on the shelf that is at least so large; nil if none is, or
// none that goes on the row's pitch.
func sold(b outcome.BoundRow, least float64) *shelf.Size {
	t, _ := tradeOf(b.Form)
	for _, s := range shelf.Sizes(b.Form.String()) {
		if s.Ring >= least-nearly {
			if t.tooLarge(b.Pitch, s.Ring) {
				return nil
			}
			return &s
		}
	}
	return nil
}

// tooLarge reports whether a wire is larger than those that are made for holes so
// near to one another.
func (t trade) tooLarge(pitch, inside float64) bool {
	return pitch > 0 && pitch < t.onPitch-nearly && inside > t.largest+nearly
}

// nextSold says which wire that is at least so large is sold, "" if none is.
func nextSold(b outcome.BoundRow, least float64) string {
	s := sold(b, least)
	if s == nil {
		return ""
	}
	return fmt.Sprintf("%s of %s inside (%s on the shelf)", b.Form, exactly(b, s.Ring), s.Name)
}

// asBinders says what binders would take, beside what the ring's circle asks for;
// "" where they have no rule for the form or for so few holes, or nothing says how thick the leaves are.
func asBinders(b outcome.BoundRow, answer wire.Answer) string {
	t, ok := tradeOf(b.Form)
	if !ok || b.Holes < leastRow || !b.LeavesKnown || math.IsNaN(answer.LeastInside) {
		return ""
	}
	by := t.byTrade(answer)
	says := fmt.Sprintf("; binders give this book a %s of %s, %s more than it is thick (%s)", b.Form, atLeast(b, by), exactly(b, t.over), t.from)
	if next := nextSold(b, math.Max(by, answer.LeastInside)); next != "" {
		says += ": the next that is sold is a " + next
	} else if t.tooLarge(b.Pitch, math.Max(by, answer.LeastInside)) {
		says += ", and none so large is made for holes so near to one another"
	}
	return says
}

// trades warns of wires that suit the cover, but not as binders would have them:
// too small for the pages to turn easily, or far too large.
func (a *adviser) trades(b outcome.BoundRow) {
	t, ok := tradeOf(b.Form)
	if !ok || b.Holes < leastRow {
		return
	}
	quiet := outcome.Quiet(a.Solution, b.On)
	inside := b.Case.Wire.Inside
	by := b.Case.Book.Stack() + t.over // the whole answer takes long, and is seldom needed
	switch {
	case !b.LeavesKnown:
	case inside < by-nearly && !quiet.Has("wire-snug"):
		answer := wire.Check(b.Case)
		d := a.diags.Warnf("wire-snug", b.At, "%s is snug for this book: it is %s inside, and a book that is %s gets a %s of %s",
			b.Binding, exactly(b, inside), book(b, answer), b.Form, atLeast(b, by))
		d.Note(b.RingAt, "%s is declared here", b.Binding)
		d.WithHelp("it closes and turns, by %s at the least, but leaves rub: binders add %s to the thickness of the book (%s)%s%s", atLeast(b, answer.LeastInside),
			exactly(b, t.over), t.from, orNext(nextSold(b, by), "take a ", ", or thinner boards"), codes.Silence("wire-snug", "panel"))
	case inside > farTooLarge*by+nearly && !quiet.Has("wire-loose"):
		answer := wire.Check(b.Case)
		d := a.diags.Warnf("wire-loose", b.At, "%s is far too large for this book: it is %s inside, and a book that is %s gets a %s of %s",
			b.Binding, exactly(b, inside), book(b, answer), b.Form, atLeast(b, by))
		d.Note(b.RingAt, "%s is declared here", b.Binding)
		d.WithHelp("the book slides about in it: check ring and thick%s (more than twice what binders take: common practice, no source)%s",
			orNext(nextSold(b, by), "a ", " is what is sold for it"), codes.Silence("wire-loose", "panel"))
	}
}

// pitches warns of wires that are larger than those made for holes so near to one another,
// whatever the boards and the leaves are like. Panels with one pitch on one wire that
// silence the same are told once.
func (a *adviser) pitches() {
	told := map[string]bool{}
	for _, b := range a.bound {
		t, ok := tradeOf(b.Form)
		inside, quiet := b.Case.Wire.Inside, outcome.Quiet(a.Solution, b.On)
		key := fmt.Sprintf("%s %.6v %.6v %v", b.Binding, inside, b.Pitch, quiet)
		if !ok || b.Holes < leastRow || told[key] || !t.tooLarge(b.Pitch, inside) || quiet.Has("wire-pitch") {
			continue
		}
		told[key] = true
		d := a.diags.Warnf("wire-pitch", b.HoleAt, "%s is %s inside, more than a %s on holes %s apart is made in", b.Binding, exactly(b, inside), b.Form,
			unit.FormatLength(math.Round(b.Pitch*1000)/1000, b.Unit))
		d.Note(b.RingAt, "%s is declared here", b.Binding)
		d.WithHelp("%s; larger ones take %s: measure ring and pitch once more%s", t.pitchFrom, t.wider, codes.Silence("wire-pitch", "panel"))
	}
}

// orNext joins what is sold to what is said of it; "" if nothing is.
func orNext(sold, before, after string) string {
	if sold == "" {
		return ""
	}
	return "; " + before + sold + after
}
