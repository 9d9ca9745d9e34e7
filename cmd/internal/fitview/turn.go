package fitview

import (
	"bufio"
	"fmt"
	"math"

	"foredge/eval/fit"
	"foredge/eval/wire"
	"foredge/lang/unit"
)

// turns says of each cover, before all else, whether its wire closes round the
// book, whether it turns right round and what would be the most. Covers that
// fare alike are told together.
func turns(b *bufio.Writer, all []fit.Turn) {
	told := map[string]bool{}
	for i, t := range all {
		p := &page{w: b, n: &fit.Notebook{Unit: t.Unit}}
		text := p.turn(t)
		if told[t.Binding+text] {
			continue
		}
		told[t.Binding+text] = true
		names := []string{t.Panel}
		for _, u := range all[i+1:] {
			if u.Binding == t.Binding && u.Panel != t.Panel && p.turn(u) == text {
				names = append(names, u.Panel)
			}
		}
		p.paragraph("", fmt.Sprintf("%s on %s, %s", list(names), t.Binding, text))
	}
	if len(all) > 0 {
		fmt.Fprintln(b)
	}
}

// turn says how one cover fares.
func (p *page) turn(t fit.Turn) string {
	w := t.Case.Wire
	what := "a " + t.Form.String()
	if w.Inside > 0 && w.Thick > 0 {
		what += fmt.Sprintf(" of %s inside and %s of wire", p.aboutLength(w.Inside), p.aboutLength(w.Thick))
	}
	if t.Answer == nil {
		return what + ": whether it turns right round can't be told, because " + t.Missing + "."
	}
	a, book := t.Answer, t.Case.Book
	if w.Pitch > 0 {
		what += fmt.Sprintf(" that climbs at %s degrees", unit.FormatNumber(a.Lead, 1))
	}
	s := what + ": "
	switch {
	case !a.Closes:
		s += "the wire can't close round the book"
	case !a.Turns:
		s += "the wire closes, but the board can't turn right round"
	case !a.Passes:
		s += "the wire closes and the board's edge has room to turn right round, but the hole is too small for the wire"
	default:
		s += "the wire closes, and the board turns right round to lie back to back"
	}
	s += fmt.Sprintf(". With %s of board", p.aboutLength(book.Board))
	if book.Boards > 1 {
		s += " on both sides"
	}
	if t.LeavesKnown {
		s += " and " + p.aboutLength(book.Leaves) + " of leaves"
	} else {
		s += ", leaves not counted,"
	}
	s += fmt.Sprintf(" the closed book is %s thick.", p.aboutLength(a.Stack))
	if !math.IsInf(a.Across, 1) {
		s += fmt.Sprintf(" The wire needs a hole of at least %s by %s %s", p.atLeast(a.Along), p.atLeast(a.Across), p.n.Unit.Name)
		h := t.Case.Hole
		if _, measure, single := h.Form.Single(); single {
			s += fmt.Sprintf(" (it is %s %s).", p.aboutLength(h.Stated()), measure)
		} else {
			s += fmt.Sprintf(" (it is %s by %s).", p.about(h.Along), p.aboutLength(h.Across))
		}
	}
	if a.LargestBoard > 0 {
		why := "the edge could not pass what else is on the wire"
		if a.Limit == wire.Opening {
			why = "the hole would be too small"
		}
		s += fmt.Sprintf(" It takes boards of at most %s %s: beyond, %s.", p.atMost(a.LargestBoard), p.n.Unit.Name, why)
	} else {
		s += " With these holes it takes no board, however thin."
	}
	if a.LargestLeaves > 0 {
		s += fmt.Sprintf(" With boards of this thickness there is room for %s %s of leaves.", p.atMost(a.LargestLeaves), p.n.Unit.Name)
	}
	return s
}

// atMost and atLeast write a limit as a rough figure on its safe side.
func (p *page) atMost(mm float64) string { return p.limit(mm, math.Floor, 1e-6) }

func (p *page) atLeast(mm float64) string { return p.limit(mm, math.Ceil, -1e-6) }

func (p *page) limit(mm float64, to func(float64) float64, by float64) string {
	scale := math.Pow10(p.digits() - 1)
	return unit.FormatNumber(to(mm/p.n.Unit.Size*scale+by)/scale, p.digits()-1)
}

type turnJSON struct {
	Name          string   `json:"name"`
	Panel         string   `json:"panel"`
	Binding       string   `json:"binding"`
	Form          string   `json:"form"`
	Missing       string   `json:"missing"`
	Ring          *float64 `json:"ring"`
	Wire          *float64 `json:"wire"`
	Board         *float64 `json:"board"`
	Boards        int      `json:"boards"`
	Leaves        *float64 `json:"leaves"`
	Inset         *float64 `json:"inset"`
	Reach         *float64 `json:"reach"`
	Closes        bool     `json:"closes"`
	Turns         bool     `json:"turns"`
	Passes        bool     `json:"passes"`
	Limit         string   `json:"limit"`
	Margin        *float64 `json:"margin"`
	LeastAlong    *float64 `json:"least-along"`
	LeastAcross   *float64 `json:"least-across"`
	LargestInset  *float64 `json:"largest-inset"`
	LargestBoard  *float64 `json:"largest-board"`
	LargestLeaves *float64 `json:"largest-leaves"`
	LeastRing     *float64 `json:"least-ring"`
	Lead          *float64 `json:"lead"`
	Step          *float64 `json:"step"`
}

func turnsOf(all []fit.Turn) []turnJSON {
	out := []turnJSON{}
	for _, t := range all {
		w, b := t.Case.Wire, t.Case.Book
		j := turnJSON{Name: t.Name, Panel: t.Panel, Binding: t.Binding, Form: t.Form.String(), Missing: t.Missing, Ring: number(w.Inside),
			Wire: number(w.Thick), Board: number(b.Board), Boards: b.Boards, Inset: number(t.Case.Inset), Reach: number(b.Reach)}
		if t.LeavesKnown {
			j.Leaves = number(b.Leaves)
		}
		if a := t.Answer; a != nil {
			j.Closes, j.Turns, j.Passes, j.Margin = a.Closes, a.Turns, a.Passes, number(a.Margin)
			j.Limit = map[wire.Limit]string{wire.Closing: "closing", wire.Turning: "turning", wire.Opening: "opening"}[a.Limit]
			j.LeastAlong, j.LeastAcross = number(a.Along), number(a.Across)
			j.LargestInset, j.LargestBoard, j.LargestLeaves = number(a.LargestInset), number(a.LargestBoard), number(a.LargestLeaves)
			j.LeastRing, j.Lead, j.Step = number(a.LeastInside), number(a.Lead), number(a.Step)
		}
		out = append(out, j)
	}
	return out
}
