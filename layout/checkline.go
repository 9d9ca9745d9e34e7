package layout

import (
	"cmp"
	"slices"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/lang/source"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// checkLines warns of lines that run through openings of their panel: a fold has
// nothing to hold there, and a cut opens the hole, also where it only touches it.
func (dr *draft) checkLines(p *design.Panel, f Frame, openings []Shape) {
	if len(p.Lines) == 0 {
		return
	}
	across, along := reachOf(openings, false), reachOf(openings, true)
	for i := range p.Lines {
		l := &p.Lines[i]
		r, place := across, f.place(l)
		if l.From.Level() {
			r = along
		}
		how, met := "through", r.through(place, geom.Tol)
		if met == nil && l.Op == word.Cut {
			how, met = "along", r.through(place, -geom.Tol)
		}
		if met != nil {
			dr.notes.Warn(p.Quiet, "line-through", l.At, "%s runs %s %s of %s", l.Name, how, inPanel(met.ID), p.Name).
				Note(met.At, "the opening is stated here").
				WithHelp("move one of them: %s is %s from the %s%s", l.Name, dr.length(l.Distance), l.From, advise.Silence("line-through", "panel"))
		}
	}
}

// checkLettered warns of lines that cut or score a panel through letters which are engraved or
// marked on its face. One that is only marked may be meant to strike them out.
func (dr *draft) checkLettered(p *design.Panel, f Frame, ink []inked) {
	if len(p.Lines) == 0 {
		return
	}
	letters := lettersOf(ink)
	across, along := reachOf(letters, false), reachOf(letters, true)
	for i := range p.Lines {
		l := &p.Lines[i]
		r := across
		if l.From.Level() {
			r = along
		}
		met := r.through(f.place(l), geom.Tol)
		if met == nil || l.Op != word.Cut && l.Op != word.Score {
			continue
		}
		dr.notes.Warn(p.Quiet, "line-through", l.At, "%s runs through the letters of %s of %s", l.Name, inPanel(met.ID), p.Name).
			Note(met.At, "they are stated here").
			WithHelp("move one of them: %s is %s from the %s%s", l.Name, dr.length(l.Distance), l.From, advise.Silence("line-through", "panel"))
	}
}

// lettersOf are the shapes of texts that are engraved or marked.
func lettersOf(ink []inked) (letters []Shape) {
	for _, in := range ink {
		texts := map[source.Span]bool{}
		for _, m := range in.region.Marks {
			if _, is := m.(*design.Lettering); is {
				texts[m.Place()] = true
			}
		}
		for _, s := range in.shapes {
			if s.Op != Cut && texts[s.At] {
				letters = append(letters, s)
			}
		}
	}
	return letters
}

// place is where a line lies on the page: from its left, or of a level line from its head.
func (f Frame) place(l *design.Line) float64 {
	at := f.Along(l.From, 0, l.Distance)
	if l.From.Level() {
		return at.Y
	}
	return at.X
}

// A reach is how far openings go across a panel, or along it, in the order in which
// they begin. Each knows which of those that have begun goes farthest.
type reach []begun

type begun struct {
	begins, farthest float64
	opening          *Shape
}

func reachOf(openings []Shape, along bool) reach {
	r := make(reach, len(openings))
	for i := range openings {
		b := openings[i].Figure.Bounds()
		r[i].begins, r[i].farthest, r[i].opening = b.Min.X, b.Max.X, &openings[i]
		if along {
			r[i].begins, r[i].farthest = b.Min.Y, b.Max.Y
		}
	}
	slices.SortStableFunc(r, func(a, b begun) int {
		return cmp.Compare(a.begins, b.begins)
	})
	for i := 1; i < len(r); i++ {
		if r[i-1].farthest >= r[i].farthest {
			r[i].farthest, r[i].opening = r[i-1].farthest, r[i-1].opening
		}
	}
	return r
}

// through finds an opening that has a place within its reach, by more than some
// length; nil if none has.
func (r reach) through(at, by float64) *Shape {
	n, _ := slices.BinarySearchFunc(r, at-by, func(e begun, at float64) int {
		return cmp.Compare(e.begins, at)
	})
	if n == 0 || r[n-1].farthest <= at+by {
		return nil
	}
	return r[n-1].opening
}
