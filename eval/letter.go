package eval

import (
	"slices"
	"strings"

	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/spell"
)

// singleLine says whether a name is that of a font of single lines.
func singleLine(font string) bool {
	return slices.ContainsFunc(word.LineFonts(), func(f word.LineFont) bool { return strings.EqualFold(font, f.String()) })
}

// lettering sees that the options of a text go together.
func (b *builder) lettering(m *mark, s *ast.Mark) bool {
	wrong := func(help, format string, args ...any) bool {
		b.diags.Errorf("option", s.Span(), format, args...).WithHelp("%s", help)
		return false
	}
	switch {
	case m.verb != "mark" && singleLine(m.font):
		switch m.verb {
		case "cut":
			return wrong("name a font whose letters have outlines, as in font = \"Go Bold\"", "letters of the font %s are single lines: nothing of them could be cut out", m.font)
		case "inlay":
			return wrong("name a font whose letters have outlines, as in font = \"Go Bold\"", "letters of the font %s are single lines: nothing of them could be laid into a board", m.font)
		}
		return wrong("write mark text, or name a font whose letters have outlines, as in font = \"Go Regular\"", "letters of the font %s are single lines: they can be marked, not engraved as areas", m.font)
	case m.bridge != nil && m.verb != "cut" && m.verb != "inlay":
		return wrong("take bridge out, or write cut text", "only letters that are cut through have bridges")
	case m.along == "" && (m.round != nil || m.side != "" || m.align == "spread"):
		return wrong("say what the text runs along: along = arc, or along = circle", "radius, side and align = spread are for a text that runs along a curve")
	case m.along != "" && m.wrap == "yes":
		return wrong("take wrap out", "a text that runs along a curve is one line")
	case m.along == "arc" && m.round == nil:
		return wrong("add the radius on which the letters stand, as in radius = 60", "a text along an arc needs the radius of it")
	case m.along == "arc" && m.align == "spread":
		return wrong("write along = circle", "only round a whole circle can letters be spread evenly")
	case m.along == "circle" && (m.align == "left" || m.align == "right"):
		return wrong("take align out, or write align = spread", "a text along a circle is centred at its top, or spread round all of it")
	}
	return true
}

// inlay sees that what is laid in has a stock, and bridges only where something
// is cut through.
func (b *builder) inlay(m *mark, s *ast.Mark) bool {
	switch {
	case m.stock == nil && !stated(s, "stock"):
		b.diags.Errorf("stock", s.Span(), "nothing says what is laid in here is cut from").
			WithHelp("declare it, as in stock walnut { material = walnut-veneer; thick = 0.6 }, and name it in the braces: stock = walnut")
		return false
	case m.bridge != nil && m.recess != "through":
		b.diags.Errorf("option", s.Span(), "only what is cut through the board has bridges").
			WithHelp("take bridge out, or write recess = through")
		return false
	}
	return true
}

// stated says whether the braces of a mark speak of an option, be it misspelled.
func stated(s *ast.Mark, option string) bool {
	if s.Body == nil {
		return false
	}
	for _, st := range s.Body.Stmts {
		if r, ok := st.(*ast.Relation); ok {
			if name := r.First.Span().Text(); name == option || spell.Nearest(name, []string{option}) != "" {
				return true
			}
		}
	}
	return false
}
