package advice

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/word"
	"foredge/lang/diag/codes"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// What a punched row of a wire is like. Pitches in mm: twin loops and thick coils
// have three holes to the inch, large loops two, coils four, 6 mm or 0.2475 in (a wire
// maker's page and a printing trade magazine of 2005, as on the shelf). How far a
// measured pitch may be off, how many holes there are at least, and from which
// thickness on a board is one that takes room: common practice, no source.
const (
	pitchOff  = 0.06
	leastRow  = 8
	boardFrom = 1.0
)

func wirePitches() []float64 { return []float64{25.4 / 3, 25.4 / 2, 25.4 / 4, 6, 0.2475 * 25.4} }

// unsaid asks once whether the wire of a notebook closes over two boards, where it
// looks like one and nothing says how large it is or how thick the leaves are.
func (a *adviser) unsaid() {
	for _, n := range a.Things {
		row, ok := n.(*model.Row)
		if !ok || row.Panel == nil || !row.Panel.Built || row.Covers == nil || row.Edge == word.NoEdge || !a.likeWire(row) {
			continue
		}
		lacks, as := a.lackOf(row)
		board := a.Of(&row.Panel.Thing, dim.Thick)
		if lacks == "" || !(board >= boardFrom-nearly) {
			continue
		}
		size := a.Format(board, unit.Length, row.Panel.At)
		a.diags.Infof("wire-unsaid", row.Panel.At, "the holes of %s lie as for a wire, and nothing says %s: do the old loops close over two boards of %s?", row.Path, lacks, size).
			WithHelp("%s: foredge then works out whether the covers turn, and with which wire", a.howToSay(row, as))
		return
	}
}

// howToSay says where to state what of a row's wire isn't stated, or to name it where its
// notebook holds several.
func (a *adviser) howToSay(row *model.Row, as string) string {
	for _, n := range a.Things {
		if b, ok := n.(*model.Binding); ok && row.Binding == nil && b.Row == nil && b.Bench == row.Covers.Bench {
			return fmt.Sprintf("name it in the braces of %s, as in binding = %s", row.Covers.Path, b.Name)
		}
	}
	return fmt.Sprintf("measure it and state it in %s, as in %s", row.Covers.Book.Path, as)
}

// noStock tells of boards that could be cut from several stocks of used files and name
// none, where no line says how thick they are.
func (a *adviser) noStock() {
	for _, n := range a.Things {
		p, ok := n.(*model.Panel)
		if !ok || !p.Built || len(p.Stocks) < 2 || a.Maybe(&p.Thing, dim.Thick).Present() || outcome.Quiet(a.Solution, p).Has("unnamed-stock") {
			continue
		}
		a.diags.Warnf("unnamed-stock", p.At, "%s doesn't say which stock it is cut from, %s, so neither its thickness is known nor what that stock's sheets and cut are like",
			p.Path, spell.Or(few(p.Stocks))).
			WithHelp("name it in the braces of the panel, as in stock = %s%s", p.Stocks[0], codes.Silence("unnamed-stock", "panel"))
	}
}

// few are the first of some names.
func few(names []string) []string {
	const shown = 3
	if len(names) <= shown {
		return names
	}
	return append(slices.Clone(names[:shown]), "others")
}

// lackOf says what of a row's wire isn't stated, and as what it could be, "" for nothing.
func (a *adviser) lackOf(row *model.Row) (lacks, as string) {
	thick := "thick = " + unit.Example(9.4, row.Unit)
	wire := fmt.Sprintf("binding loop { ring = %s; wire = %s }", unit.Example(14.3, row.Unit), unit.Example(1, row.Unit))
	switch leaves := a.Maybe(&row.Covers.Book.Thing, dim.Thick).Present(); {
	case row.Binding == nil && !leaves:
		return "which wire it is and how thick the leaves are", thick + ", and " + wire
	case row.Binding == nil:
		return "which wire it is", wire
	case !leaves && row.Binding.Form != word.Ring:
		return "how thick the leaves are", thick
	}
	return "", ""
}

// likeWire reports whether a row is one that a wire goes through.
func (a *adviser) likeWire(row *model.Row) bool {
	pitch, has := row.Dim(dim.Pitch)
	if !has || !(a.Of(&row.Thing, dim.Count) >= leastRow) {
		return false
	}
	for _, p := range wirePitches() {
		if math.Abs(a.Value(pitch)-p) <= pitchOff {
			return true
		}
	}
	return false
}
