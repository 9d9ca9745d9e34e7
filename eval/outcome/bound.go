package outcome

import (
	"math"
	"slices"

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

// bound is a row with its wire; on are the boards on all wires.
func bound(s *solution.Solution, m *model.Row, on boards) BoundRow {
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
	book := wire.Book{Board: s.Of(&m.Panel.Thing, dim.Thick), Boards: on.of(m)}
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

// boards are panels of this design on wires: of those on the wires of one kind, and of those
// of them with the leaves of one notebook, or of none, the first two.
type boards struct {
	all  map[source.Span][]*model.Panel
	with map[wired][]*model.Panel
}

// A wired is what wires of one kind hold together; book is nil where there are no leaves.
// Wires are of one kind if their binding was declared in one place: a row that is like
// another has the binding in its braces, too.
type wired struct {
	by   source.Span
	book *model.Notebook
}

func boardsOn(s *solution.Solution) boards {
	on := boards{map[source.Span][]*model.Panel{}, map[wired][]*model.Panel{}}
	for _, node := range s.Things {
		if row, ok := node.(*model.Row); ok && row.Binding != nil && row.Panel != nil {
			w := wired{row.Binding.At, boundWith(row)}
			on.all[w.by] = pair(on.all[w.by], row.Panel)
			on.with[w] = pair(on.with[w], row.Panel)
		}
	}
	return on
}

// pair is some panels with one more, if they are fewer than two: each counts once, however
// many of its rows a wire goes through.
func pair(panels []*model.Panel, more ...*model.Panel) []*model.Panel {
	for _, p := range more {
		if len(panels) < 2 && !slices.Contains(panels, p) {
			panels = append(panels, p)
		}
	}
	return panels
}

// of is how many boards are on the wire of a row, at most a pair. What is bound with no
// notebook may belong to any.
func (on boards) of(m *model.Row) int {
	book := boundWith(m)
	panels := on.all[m.Binding.At]
	if book != nil {
		panels = pair(slices.Clone(on.with[wired{m.Binding.At, book}]), on.with[wired{m.Binding.At, nil}]...)
	}
	if len(panels) == 1 && several(panels[0]) {
		return 2
	}
	return len(panels)
}

// several reports whether a panel stands for several boards.
func several(m *model.Panel) bool {
	if m.Tabs != nil {
		if first, last, _ := m.Tabs.Set(); last > first {
			return true
		}
	}
	return m.Copies.Or(1) > 1
}
