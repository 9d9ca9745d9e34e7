package outcome

import (
	"math"
	"strings"

	"foredge/eval/design"
	"foredge/eval/dim"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/solution"
	"foredge/eval/word"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

func stock(s *solution.Solution, m *model.Stock) *design.Stock {
	if m == nil {
		return nil
	}
	sheet, called, wood := &m.Sheet, m, woodOf(s, m)
	for called.Same && sameSheets(s, called, called.Like) {
		called = called.Like
	}
	lines := m.Lines
	lines.Quantity, lines.Offcuts = wood.Lines.Quantity, wood.Lines.Offcuts
	return &design.Stock{Name: stockName(s, m, called.Called, called.Chosen), Declared: m.Name, Plain: called.Called, Chosen: called.Chosen, CalledAt: called.CalledAt, Wood: stockName(s, m, wood.Wood, wood.WoodChosen), At: m.At, Material: material(m), Allow: m.Allow, Grain: m.Grain, Greys: m.Greys, Quiet: Quiet(s, m),
		Size: size(m.Size), Quantity: wood.Quantity, Price: m.Price, Pace: m.Pace, Offcuts: offcuts(wood.Offcuts), Margin: m.Margin, Spacing: m.Spacing, Lines: lines, Way: m.Way, Kerf: m.Kerf.Width, Thick: s.Maybe(&m.Thing, dim.Thick),
		UsualKerf: s.Stated(sheet.Kerf), ThickOver: s.Stated(sheet.ThickOver), ThickUnder: s.Stated(sheet.ThickUnder),
		LeastWeb: above(s.Stated(sheet.LeastWeb)), LeastEdge: above(s.Stated(sheet.LeastEdge)),
		LeastDetail: above(s.Stated(sheet.LeastDetail)), LeastRadius: above(s.Stated(sheet.LeastRadius)), Movement: s.Stated(sheet.Movement)}
}

// woodOf is the stock whose sheets and offcuts parts of a stock are cut from: what it is like, and
// what that is like, as long as their sheets are the same and it has none of its own.
func woodOf(s *solution.Solution, m *model.Stock) *model.Stock {
	for m.Like != nil && !m.Supplied && sameSheets(s, m, m.Like) {
		m = m.Like
	}
	return m
}

// sameSheets reports whether the sheets of two stocks may be the same, by all that is known of both. Lengths
// stated in two units aren't one to the last digit.
func sameSheets(s *solution.Solution, a, b *model.Stock) bool {
	same := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	thick, known := s.Maybe(&a.Thing, dim.Thick).Get()
	other, both := s.Maybe(&b.Thing, dim.Thick).Get()
	size, its := a.Size.Or(model.Size{}), b.Size.Or(model.Size{})
	return (!known || !both || same(thick, other)) &&
		a.Size.Present() == b.Size.Present() && same(size.Width, its.Width) && same(size.Height, its.Height) &&
		spell.Name(a.MadeOf) == spell.Name(b.MadeOf) && a.Material == b.Material && a.Grain == b.Grain && a.Price == b.Price
}

// stockName is what a stock, or its wood, is called in full. Of those that share a name, one of
// which is chosen, each must go by another on a sheet of several orders.
func stockName(s *solution.Solution, m *model.Stock, called string, chosen bool) string {
	if !chosen {
		return called
	}
	var of []string
	if m.MadeOf != "" {
		of = append(of, m.MadeOf)
	}
	if thick, ok := s.Maybe(&m.Thing, dim.Thick).Get(); ok {
		of = append(of, s.Format(thick, unit.Length, m.At))
	}
	if len(of) == 0 {
		return called
	}
	return called + " (" + strings.Join(of, ", ") + ")"
}

func material(m *model.Stock) design.Material {
	out := design.Material{Name: m.MadeOf, AsName: spell.Name(m.MadeOf), At: m.MaterialAt}
	switch {
	case out.Name == "" && m.Shelf.Never == "" && m.Shelf.Ask == "":
		return out
	case out.Name == "": // what it is called is all that is known
		out.Name, out.AsName, out.At = m.Name, spell.Name(m.Name), m.At
	}
	if m.Material != nil {
		out.Known = true
		out.GivesOff, out.Burns, out.Never, out.Ask = m.Material.GivesOff, m.Material.Burns, m.Material.Never, m.Material.Ask
	} else {
		out.Quoted, out.OnShelf = m.Quoted, m.Shelf.Name
		out.Ask, out.GivesOff, out.Burns = m.Shelf.Ask, m.Shelf.GivesOff, m.Shelf.Burns
		out.Meant, out.Words = m.Shelf.Asked, m.Shelf.Words
	}
	if out.Never == "" && m.Shelf.Never != "" {
		out.Never, out.Meant, out.Words = m.Shelf.Never, m.Shelf.Banned, m.Shelf.Words
	}
	if spell.Name(out.Words) == out.Meant {
		out.Words = out.Meant
	}
	return out
}

// size is the size of a sheet or a bed.
func size(m maybe.Of[model.Size]) maybe.Of[design.Size] {
	v, ok := m.Get()
	return maybe.If(design.Size(v), ok)
}

func offcuts(all []model.Offcut) (out []design.Offcut) {
	for _, o := range all {
		out = append(out, design.Offcut{Size: design.Size(o.Size), Gone: design.Size(o.Gone), Corner: o.Corner})
	}
	return out
}

// above is a number, absent if it is not above 0.
func above(m maybe.Of[float64]) maybe.Of[float64] {
	v, ok := m.Get()
	return maybe.If(v, ok && v > 0)
}

func laser(s *solution.Solution) design.Laser {
	m := s.Laser
	if m == nil {
		return design.Laser{ScaleX: 1, ScaleY: 1}
	}
	colour := func(op word.Operation) maybe.Of[string] {
		c, ok := m.Colours[op]
		return maybe.If(c, ok)
	}
	return design.Laser{At: m.At, Bed: size(m.Bed), Kerf: m.Kerf.Width, LineWidth: m.LineWidth, ScaleX: m.ScaleX.Or(1), ScaleY: m.ScaleY.Or(1),
		EngraveColour: colour(word.Engrave), MarkColour: colour(word.Mark), ScoreColour: colour(word.Score), CutColour: colour(word.Cut),
		Pace: m.Pace, Shop: m.Shop, Quiet: Quiet(s, m)}
}

// Quiet is what is not to be told of a thing: what it says itself, and what
// holds for all that is cut from its stock, laid in its case or cut on the
// laser.
func Quiet(s *solution.Solution, n model.Node) design.Quiet {
	var q design.Quiet
	if s.Laser != nil {
		q = append(q, s.Laser.Quiet...)
	}
	switch n := n.(type) {
	case *model.Panel:
		if n.Case != nil {
			q = append(q, n.Case.Quiet...)
		}
		if n.Stock != nil {
			q = append(q, n.Stock.Quiet...)
		}
		return append(q, n.Quiet...)
	case *model.Case:
		return append(q, n.Quiet...)
	case *model.Stock:
		return append(q, n.Quiet...)
	}
	return q
}
