package compile

import (
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// wrong reports options of a mark that don't go together.
func (m *markReader) wrong(help, format string, args ...any) bool {
	m.Diags.Errorf("option-clash", m.stmt.Span(), format, args...).WithHelp("%s", help)
	return false
}

// checkLettering sees that the options of a text go together.
func (m *markReader) checkLettering(l *model.Lettering, side word.Side) bool {
	k := &l.Known
	for _, f := range k.Spare {
		if word.SingleLine(f.Name) != word.SingleLine(k.Font.Name) {
			return m.wrong("name fonts of one kind: as in font = stroke-script, stroke, or font = \"Go Mono\", \"Go Regular\"",
				"of the fonts %s and %s one has letters that are single lines and the other outlines: they can't stand in for each other", k.Font.Name, f.Name)
		}
	}
	if m.op != word.Mark && word.SingleLine(k.Font.Name) {
		return m.singleLines(k.Font.Name)
	}
	if l.Cap.Present() && k.Fit == word.Fill {
		return m.wrong("take one of the two out", "cap says how high the letters are, and fit = fill makes them as large as the region allows")
	}
	if l.Bridge.Present() && m.op != word.Cut && m.inlay == nil {
		return m.wrong("take bridge out, or write cut text", "only letters that are cut through have bridges")
	}
	if k.Curve == nil {
		if l.Radius.Present() || side != 0 || k.Align == word.Spread {
			return m.wrong("say what the text runs along: along = arc, or along = circle", "radius, side and align = spread are for a text that runs along a curve")
		}
		return true
	}
	switch {
	case k.Wrap:
		return m.wrong("take wrap out", "a text that runs along a curve is one line")
	case k.Curve.Form == word.Arc && !l.Radius.Present():
		return m.wrong("add the radius on which the letters stand, as in radius = "+unit.Example(60, m.UnitOf(m.stmt.Span())), "a text along an arc needs its radius")
	case k.Curve.Form == word.Arc && k.Align == word.Spread:
		return m.wrong("write along = circle", "only round a whole circle can letters be spread evenly")
	case k.Curve.Form == word.Circle && (k.Align == word.AtLeft || k.Align == word.AtRight):
		return m.wrong("take align out, or write align = spread", "a text along a circle is centred at its top, or spread round all of it")
	}
	return true
}

// singleLines reports letters that are single lines where they need outlines.
func (m *markReader) singleLines(font string) bool {
	const outlines = "name a font whose letters have outlines, as in font = \"Go Bold\""
	switch {
	case m.op == word.Cut:
		return m.wrong(outlines, "letters of the font %s are single lines: they can't be cut out", font)
	case m.inlay != nil:
		return m.wrong(outlines, "letters of the font %s are single lines: they can't be laid into a board", font)
	}
	return m.wrong("write mark text, or name a font whose letters have outlines, as in font = \"Go Regular\"",
		"letters of the font %s are single lines: they can be marked, not engraved as areas", font)
}

// checkInlay sees that what is laid in has a stock, and bridges only where
// something is cut through.
func (m *markReader) checkInlay(bridge maybe.Of[relation.Expr]) bool {
	if m.inlay.Stock == nil && !m.states("stock") {
		m.Diags.Errorf("no-stock", m.stmt.Span(), "nothing says what this inlay is cut from").
			WithHelp("declare it, as in stock walnut { material = \"walnut veneer\"; thick = %s }, and name it in the braces: stock = walnut", unit.Example(0.6, m.UnitOf(m.stmt.Span())))
		return false
	}
	if bridge.Present() && !m.inlay.Through {
		return m.wrong("take bridge out, or write recess = through", "only what is cut through the board has bridges")
	}
	return true
}

// states says whether the braces of a mark speak of an option, be it misspelled.
func (m *markReader) states(option string) bool {
	if m.stmt.Body == nil {
		return false
	}
	for _, s := range m.stmt.Body.Stmts {
		if r, ok := s.(*ast.Relation); ok {
			if name := r.First.Span().Text(); name == option || spell.Nearest(name, []string{option}) != "" {
				return true
			}
		}
	}
	return false
}
