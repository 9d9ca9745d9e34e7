package resolve

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/word"
	"foredge/lang/ast"
)

// Has reports whether the thing has a dimension of its kind. Some belong only to
// some things of a kind: overhangs and ease to what lies on a notebook, the wire
// to what was measured, pitch and web to a row of equal gaps, the pieces of its cloth to a case in quarter or half. A name passes over
// a dimension that the thing doesn't have.
func (t *Thing) Has(n dim.Name) bool { return !slices.Contains(t.lacks, n) }

// Example is a dimension of the thing of which a message may speak as an example,
// [dim.None] if it has none of its own: that of a material is its sheet's, those of
// a style its panels'.
func (t *Thing) Example() dim.Name {
	if t.Kind.ID == kind.Material || t.Kind.ID == kind.Style {
		return dim.None
	}
	for _, n := range []dim.Name{dim.Width, dim.Pitch} {
		if _, ok := t.Kind.Dim(n.String()); ok && t.Has(n) {
			return n
		}
	}
	for _, n := range t.Kind.Dims {
		if t.Has(n) {
			return n
		}
	}
	return dim.None
}

// settle notes which dimensions of their kind things lack, once it is known what
// each of them covers and is like.
func settle(list []*Thing) {
	for _, t := range list {
		t.lacks = t.lacking()
		settle(t.Children)
	}
}

func (t *Thing) lacking() []dim.Name {
	var lacks []dim.Name
	switch t.Kind.ID {
	case kind.Panel:
		if t.Covers == nil {
			return []dim.Name{dim.Ease, dim.OverHead, dim.OverTail, dim.OverSpine, dim.OverForedge}
		}
	case kind.Row:
		if t.CoverOf == nil {
			lacks = append(lacks, dim.Ease)
		}
		if t.Parent.Kind.ID != kind.Notebook {
			lacks = append(lacks, dim.Wire)
		}
		fallthrough
	case kind.Pattern:
		if t.listsGaps() && !t.inStyle() { // a panel that is like the style may replace them
			lacks = append(lacks, dim.Pitch, dim.Web)
		}
	case kind.Case:
		switch t.Bound() {
		case word.QuarterBound:
			lacks = append(lacks, dim.CornerReach)
		case word.HalfBound:
		default:
			lacks = append(lacks, dim.SpineReach, dim.CornerReach, dim.Overlap, dim.SpineWidth, dim.SideWidth)
		}
	case kind.Cutout, kind.Region:
		if t.Parent != nil && t.Parent.Kind.ID == kind.Field { // a member lies where its field says
			return []dim.Name{dim.Head, dim.Tail, dim.Spine, dim.Foredge}
		}
	case kind.Binding:
		form := t.BindingForm()
		if form != word.Loop {
			lacks = append(lacks, dim.Pair)
		}
		if form != word.Coil {
			lacks = append(lacks, dim.Pitch)
		}
	}
	return lacks
}

// listsGaps reports whether a row states its gaps, in a list or one by one, or lies on
// one that does. Where a row says its own edge, that of the notebook counts only if it is
// there whatever the orders say: without it the row stands by itself, and has its pitch.
func (t *Thing) listsGaps() bool {
	if t.said.listed {
		return true
	}
	for _, l := range t.Lines {
		if r, ok := l.Stmt.(*ast.Relation); ok {
			if left, ok := r.First.(*ast.Name); ok && left.Dotted() == "gaps" {
				return true
			}
		}
	}
	book := t.CoverOf
	return book != nil && (t.laid || len(book.When) == 0 && len(book.Parent.When) == 0) && book.listsGaps()
}

// BindingForm is what a binding says that it is, else what it must be by what
// lines are about, or name in full: only a coil has a pitch, only a loop a pair of wires.
func (t *Thing) BindingForm() word.Binding {
	stated, _ := word.Find(t.chosen("form"), word.Bindings()...)
	switch {
	case stated != 0:
		return stated
	case t.said.pitch:
		return word.Coil
	case t.said.pair:
		return word.Loop
	}
	return word.Ring
}

// Bound is how a case says that it is bound, 0 where it doesn't or not in a word that
// is known.
func (t *Thing) Bound() word.Bound {
	bound, _ := word.Find(t.chosen("bound"), word.Bounds()...)
	return bound
}

// chosen is the word by which a thing states a property, "" where none does. Of several
// lines the one that the compiler takes counts: what replaces what comes along, and of two
// that stand together, which is an error, the first.
func (t *Thing) chosen(property string) string {
	var counts *Line
	chosen := ""
	for _, l := range t.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 || t.Property(r.First) != property || counts != nil && counts.From == l.From {
			continue
		}
		counts, chosen = l, ""
		if n, ok := r.Rest[0].Value.(*ast.Name); ok {
			chosen = n.Dotted()
		}
	}
	return chosen
}
