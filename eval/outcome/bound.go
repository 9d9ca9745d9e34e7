package outcome

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/solution"
	"foredge/eval/wire"
	"foredge/eval/word"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A BoundRow is a panel's row of holes with the wire that goes through them, as
// package wire asks for it. Lengths are in mm.
type BoundRow struct {
	Name    string // front.wire
	Panel   string
	Binding string // the binding's name from the top
	Form    word.Binding
	// At is the panel, HoleAt the line that gives the holes or else the row or the
	// panel, RingAt the binding.
	At, HoleAt, RingAt source.Span
	Unit               unit.Unit
	// Missing says why there is no answer, in words that follow "because"; empty
	// if Case is complete.
	Missing string
	// LeavesKnown says that the thickness of what lies between the boards is
	// stated; where it isn't, they are taken to lie on one another.
	LeavesKnown bool
	Covers      bool // the row lies on one of a notebook, along its spine
	// Holes is how many the row has, and Pitch how far they lie apart, the least of gaps
	// that are listed; 0 where that isn't known.
	Holes int
	Pitch float64
	Case  wire.Case
	// On is the panel.
	On *model.Panel
}

// BoundRows lists the rows of this design's panels that have a binding, in the
// design's order. Of a design with errors it tells what could be worked out.
func BoundRows(s *solution.Solution) []BoundRow {
	var out []BoundRow
	on := boardsOn(s)
	for _, n := range s.Things {
		if row, ok := n.(*model.Row); ok && row.Binding != nil && row.Panel != nil && row.Panel.Built {
			out = append(out, bound(s, row, on))
		}
	}
	return out
}

// bound is a row with its wire; on is how many boards each binding has.
func bound(s *solution.Solution, m *model.Row, on map[*model.Binding]int) BoundRow {
	x := m.Binding
	b := BoundRow{Name: m.Path, Panel: m.Panel.Path, Binding: x.Path, Form: x.Form, On: m.Panel,
		At: m.Panel.At, HoleAt: m.Panel.At, RingAt: x.At, Unit: m.Unit}
	if m.Declared {
		b.HoleAt = m.At
	}
	if m.Hole != nil && m.Hole.Own {
		b.HoleAt = m.Hole.At
	}
	w := wire.Wire{Inside: s.Of(&x.Thing, dim.Ring), Thick: s.Of(&x.Thing, dim.Wire)}
	switch b.Form {
	case word.Loop:
		// Two wires side by side are the least that a twin loop can be.
		w.Over = s.Maybe(&x.Thing, dim.Pair).Or(2 * w.Thick)
	case word.Coil:
		w.Pitch = s.Maybe(&x.Thing, dim.Pitch).OrElse(s.Maybe(&m.Thing, dim.Pitch)).Or(math.NaN())
	}
	book := wire.Book{Board: s.Of(&m.Panel.Thing, dim.Thick), Boards: on[x]}
	inset := s.Of(&m.Thing, dim.Inset)
	if book.Boards > 1 {
		book.Reach = inset
	}
	if m.Covers != nil {
		b.Covers = m.Edge == word.Spine
		book.Reach = math.Max(book.Reach, s.Of(&m.Covers.Thing, dim.Inset))
	}
	if on := boundWith(m); on != nil {
		book.Leaves, b.LeavesKnown = s.Maybe(&on.Thing, dim.Thick).Get()
	}
	b.Case = wire.Case{Wire: w, Book: book, Hole: hole(s, m), Inset: inset}
	b.Holes = int(math.Round(s.Maybe(&m.Thing, dim.Count).Or(0)))
	b.Pitch = s.Maybe(&m.Thing, dim.Pitch).Or(0)
	for _, gap := range m.Gaps {
		if s.Known(gap) && (b.Pitch == 0 || s.Value(gap) < b.Pitch) {
			b.Pitch = s.Value(gap)
		}
	}
	b.Missing = b.missing()
	return b
}

// boundWith is the notebook whose leaves are on the wire of a cover's row; nil if there is
// none. One of which no row is stated is bound with the cover; of one that has rows, other
// rows of the cover hold something else.
func boundWith(m *model.Row) *model.Notebook {
	switch book := m.Panel.Covers; {
	case m.Covers != nil:
		return m.Covers.Book
	case book != nil && len(book.Rows) == 0:
		return book
	}
	return nil
}

// NoBoard reports whether all that is missing is how thick the board is.
func (b *BoundRow) NoBoard() bool { return b.Missing != "" && b.Missing == b.noBoard() }

func (b *BoundRow) noBoard() string { return "nothing says how thick " + b.Panel + " is" }

// LargestInset is how far in from the edge the holes may lie so that the cover
// turns, with those of the other board of a pair as far in; NaN if there is none.
func (b *BoundRow) LargestInset() float64 {
	if k := b.Case.Book; k.Boards > 1 && k.Reach == b.Case.Inset {
		return b.Case.Wire.LargestPair(k)
	}
	return b.Case.Wire.LargestInset(b.Case.Book)
}

// missing says what keeps a case from being complete, "" for nothing.
func (b *BoundRow) missing() string {
	w, book, hole := b.Case.Wire, b.Case.Book, b.Case.Hole
	switch {
	case !(w.Inside > 0):
		return "the inside diameter (ring) of " + b.Binding + " isn't stated"
	case !(w.Thick > 0):
		return "the thickness of the wire of " + b.Binding + " isn't stated"
	case math.IsNaN(w.Pitch):
		return "the pitch of " + b.Binding + " isn't stated"
	case !(book.Board > 0):
		return b.noBoard()
	case math.IsNaN(b.Case.Inset + book.Reach + hole.Along + hole.Across):
		return "its holes could not be worked out"
	}
	return ""
}

// boardsOn is how many boards of this design are on each wire, at most a pair.
func boardsOn(s *solution.Solution) map[*model.Binding]int {
	on := map[*model.Binding]int{}
	for _, node := range s.Things {
		row, ok := node.(*model.Row)
		if !ok || row.Binding == nil || row.Panel == nil {
			continue
		}
		n := 1
		if row.Panel.Copies.Or(1) > 1 {
			n = 2
		}
		on[row.Binding] = min(2, on[row.Binding]+n)
	}
	return on
}
