package fitview

import (
	"bufio"
	"fmt"
	"math"

	"foredge/eval/fit"
	"foredge/eval/opening"
	"foredge/eval/wire"
	"foredge/eval/word"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// turns says of each cover, before all notebooks, whether its wire closes round the
// book, whether it turns right round and what would be the most. Covers that
// fare alike are told together.
func turns(out *bufio.Writer, all []fit.Turn) {
	told := map[string]bool{}
	for i, t := range all {
		p := &page{out: out, notebook: &fit.Notebook{Unit: t.Unit}}
		text := p.turn(t)
		if told[t.Binding+text] {
			continue
		}
		told[t.Binding+text] = true
		names := []string{t.Panel}
		for _, other := range all[i+1:] {
			if other.Binding == t.Binding && other.Panel != t.Panel && p.turn(other) == text {
				names = append(names, other.Panel)
			}
		}
		p.paragraph("", fmt.Sprintf("%s on %s, %s", spell.And(names), t.Binding, text))
	}
	if len(all) > 0 {
		fmt.Fprintln(out)
	}
}

// turn says how one cover fares.
func (p *page) turn(t fit.Turn) string {
	w := t.Case.Wire
	s := "a " + t.Form.String()
	if w.Inside > 0 && w.Thick > 0 {
		s += fmt.Sprintf(" of %s inside and %s of wire", p.aboutLength(w.Inside), p.aboutLength(w.Thick))
	}
	if t.Answer == nil {
		return s + ": whether it turns right round can't be told, because " + t.Missing + "."
	}
	if w.Pitch > 0 {
		s += fmt.Sprintf(" that climbs at %s degrees", unit.FormatNumber(t.Answer.Lead, 1))
	}
	return s + ": " + fares(t.Answer) + "." + p.closedBook(t) + p.leastHole(t) + p.limits(t) + p.usual(t)
}

// fares says how far a cover gets on its wire.
func fares(a *wire.Answer) string {
	switch {
	case !a.Closes:
		return "the wire can't close round the book"
	case !a.Turns:
		return "the wire closes, but the board can't turn right round"
	case !a.Passes:
		return "the wire closes and the board's edge has room to turn right round, but the hole is too small for the wire"
	}
	return "the wire closes, and the board turns right round to lie back to back"
}

// closedBook says what the closed book is made of and how thick it is.
func (p *page) closedBook(t fit.Turn) string {
	book := t.Case.Book
	s := fmt.Sprintf(" With %s of board", p.aboutLength(book.Board))
	if book.Boards > 1 {
		s += " on both sides"
	}
	if t.LeavesKnown {
		s += " and " + p.aboutLength(book.Leaves) + " of leaves"
	} else {
		s += ", leaves not counted,"
	}
	return s + fmt.Sprintf(" the closed book is %s thick.", p.aboutLength(t.Answer.Stack))
}

// leastHole says how large a hole the wire needs, beside the one that it has; ""
// where no hole will do.
func (p *page) leastHole(t fit.Turn) string {
	hole, a := t.Case.Hole, t.Answer
	if math.IsInf(a.Across, 1) {
		return ""
	}
	if _, measure, single := hole.Form.Single(); single {
		least := opening.Opening{Form: hole.Form, Along: a.Along, Across: a.Across}
		return fmt.Sprintf(" The wire needs a hole at least %s %s %s (it is %s).", p.atLeast(least.Stated()), p.notebook.Unit.Name, measure,
			p.aboutLength(hole.Stated()))
	}
	return fmt.Sprintf(" The wire needs a hole of at least %s by %s %s (it is %s by %s).", p.atLeast(a.Along), p.atLeast(a.Across),
		p.notebook.Unit.Name, p.about(hole.Along), p.aboutLength(hole.Across))
}

// limits says which boards and how many leaves the wire takes.
func (p *page) limits(t fit.Turn) string {
	a := t.Answer
	s := " With these holes it takes no board, however thin."
	if a.LargestBoard > 0 {
		why := "the edge could not pass what else is on the wire"
		if a.Limit == wire.Opening {
			why = "the hole would be too small"
		}
		s = fmt.Sprintf(" It takes boards of at most %s %s: beyond that, %s.", p.atMost(a.LargestBoard), p.notebook.Unit.Name, why)
	}
	if t.LargestLeaves > 0 {
		s += fmt.Sprintf(" With boards of this thickness there is room for %s %s of leaves.", p.atMost(t.LargestLeaves), p.notebook.Unit.Name)
	}
	return s
}

// usual says what binders take for such a book, "" where nothing says it.
func (p *page) usual(t fit.Turn) string {
	if t.Usual == nil {
		return ""
	}
	s := fmt.Sprintf(" Binders give such a book a %s of at least %s %s inside", t.Form, p.atLeast(t.Usual.Ring), p.notebook.Unit.Name)
	if sold := t.Usual.Sold; sold != nil {
		s += fmt.Sprintf("; the next that is sold is %s, %s", sold.Name, p.aboutLength(sold.Ring))
	}
	return s + "."
}

// atMost and atLeast write a limit as a rough figure on its safe side.
func (p *page) atMost(mm float64) string { return p.limit(mm, math.Floor, 1e-6) }

func (p *page) atLeast(mm float64) string { return p.limit(mm, math.Ceil, -1e-6) }

func (p *page) limit(mm float64, to func(float64) float64, by float64) string {
	scale := math.Pow10(p.digits() - 1)
	return unit.FormatNumber(to(mm/p.notebook.Unit.Size*scale+by)/scale, p.digits()-1)
}

type turnJSON struct {
	Name          string  `json:"name"`
	Panel         string  `json:"panel"`
	Binding       string  `json:"binding"`
	Form          string  `json:"form"`
	Missing       string  `json:"missing"`
	Ring          number  `json:"ring"`
	Wire          number  `json:"wire"`
	Board         number  `json:"board"`
	Boards        int     `json:"boards"`
	Leaves        number  `json:"leaves"`
	Inset         number  `json:"inset"`
	Reach         number  `json:"reach"`
	Closes        *bool   `json:"closes"`
	Turns         *bool   `json:"turns"`
	Passes        *bool   `json:"passes"`
	Limit         *string `json:"limit"`
	Margin        number  `json:"margin"`
	LeastAlong    number  `json:"least-along"`
	LeastAcross   number  `json:"least-across"`
	LargestInset  number  `json:"largest-inset"`
	LargestBoard  number  `json:"largest-board"`
	LargestLeaves number  `json:"largest-leaves"`
	LeastRing     number  `json:"least-ring"`
	UsualRing     number  `json:"usual-ring"`
	Sold          *string `json:"sold"`
	Lead          number  `json:"lead"`
	Step          number  `json:"step"`
}

func turnsOf(all []fit.Turn) []turnJSON {
	out := []turnJSON{}
	for _, t := range all {
		w, book := t.Case.Wire, t.Case.Book
		unknown := number(math.NaN())
		j := turnJSON{Name: t.Name, Panel: t.Panel, Binding: t.Binding, Form: t.Form.String(), Missing: t.Missing, Ring: number(w.Inside),
			Wire: number(w.Thick), Board: number(book.Board), Boards: book.Boards, Leaves: unknown, Inset: number(t.Case.Inset), Reach: number(book.Reach),
			Margin: unknown, LeastAlong: unknown, LeastAcross: unknown, LargestInset: unknown, LargestBoard: unknown, LargestLeaves: unknown,
			LeastRing: unknown, UsualRing: unknown, Lead: unknown, Step: unknown}
		if t.LeavesKnown {
			j.Leaves = number(book.Leaves)
		}
		if a := t.Answer; a != nil {
			j.Closes, j.Turns, j.Passes, j.Margin = &a.Closes, &a.Turns, &a.Passes, number(a.Margin)
			limit := map[wire.Limit]string{wire.Closing: "closing", wire.Turning: "turning", wire.Opening: "opening"}[a.Limit]
			j.Limit = &limit
			j.LeastAlong, j.LeastAcross = number(a.Along), number(a.Across)
			j.LargestInset, j.LargestBoard, j.LargestLeaves = number(t.BoundRow.LargestInset()), number(a.LargestBoard), number(t.LargestLeaves)
			j.LeastRing = number(a.LeastInside)
			if t.Form == word.Coil {
				j.Lead, j.Step = number(a.Lead), number(a.Step)
			}
		}
		if u := t.Usual; u != nil {
			j.UsualRing = number(u.Ring)
			if u.Sold != nil {
				j.Sold = &u.Sold.Name
			}
		}
		out = append(out, j)
	}
	return out
}
