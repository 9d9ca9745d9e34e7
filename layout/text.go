package layout

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/source"
	"foredge/layout/advise"
	"foredge/layout/geom"
	"foredge/layout/lettering"
)

// text letters a mark in its region's box; nil for nothing or what was reported.
func (dr *draft) text(p *design.Panel, m *design.Lettering, r *design.Region, f Frame) geom.Figure {
	box := f.box(r.Box)
	font, meant, err := dr.fontsOf(m)
	if err != nil {
		dr.reportLettering(m, r, meant, err)
		return nil
	}
	style := styleOf(m)
	block, err := lettering.Fit(font, m.Text, box.W, box.H, style)
	if err != nil {
		dr.reportLettering(m, r, meant, err)
		return nil
	}
	dr.tellOtherFonts(p, m.TextAt, "", block.Changes)
	if len(block.Outline) == 0 {
		return nil
	}
	room := func(least float64, help string) {
		dr.notes.Errorf("no-room", m.At, "%s has no room for this text with capitals %s high; %s would fit", r.Name,
			dr.length(least), dr.length(math.Floor(block.Cap*100)/100)).WithHelp("%s", help)
	}
	asked, least := m.Cap.Or(0), m.Least.Or(0)
	switch {
	case m.Fit == 0 && asked > 0 && asked < least:
		dr.notes.Errorf("no-room", m.At, "%s is to have capitals %s high, and none lower than %s", r.Name, dr.length(asked), dr.length(least)).
			WithHelp("make cap at least as large as least, or take one of them out")
		return nil
	case m.Fit != 0 && m.Cap.Present() && asked < least:
		dr.notes.Errorf("no-room", m.At, "%s may have no capitals higher than %s, and none lower than %s", r.Name, dr.length(asked), dr.length(least)).
			WithHelp("let cap be more than least")
		return nil
	case m.Fit == 0 && block.Cap < asked-1e-3:
		room(asked, "make the region larger or the capitals smaller, or write fit = shrink")
		return nil
	case block.Cap < least-1e-3:
		room(least, "make the region larger, shorten the text, or let it break into several lines: wrap = yes")
		return nil
	}
	if block.Unspaced {
		dr.notes.Warn(p.Quiet, "joined-letters", m.At, "letters of a script that joins them stay together: the spacing of %s parts the others of this text alone", dr.length(m.Spacing)).
			WithHelp("take spacing out%s", advise.Silence("joined-letters", "panel"))
	}
	if c := block.Crowd; c != nil {
		help := "choose a larger radius or lower capitals"
		if c.Space > 0 {
			help += ", or part them, as by spacing = " + dr.length(math.Ceil(c.Space*100)/100)
		}
		dr.notes.Warn(p.Quiet, "crowded-letters", m.At, "letters of this text run into one another along its curve, as %s and %s do", c.First, c.Second).
			WithHelp("%s%s", help, advise.Silence("crowded-letters", "panel"))
	}
	advise.Capitals(&dr.notes, p.Quiet, m.At, block.Cap)
	dr.drawing.Texts = append(dr.drawing.Texts, Text{Panel: p.Name, Region: r.Name, Text: m.Text, Cap: block.Cap,
		Lines: block.Lines, Wrapped: block.Wrapped, Changes: block.Changes, At: m.TextAt})
	if m.Op == word.Cut {
		bridged := func(width float64) (geom.Outline, error) { return block.Stencil(width, dr.kerfOf(p).Or(0)) }
		out, ok := dr.stencil(p, m.At, m.Bridge, block.Outline, bridged, fmt.Sprintf("the letters of %s, with capitals %s high, are", r.Name, dr.length(block.Cap)))
		if !ok {
			return nil
		}
		dr.lostStrokes(p, m, r, f, geom.Shift(box.Min).Outline(block.Outline))
		return out.Move(box.Min)
	}
	return block.Outline.Move(box.Min)
}

// tellOtherFonts tells what isn't lettered in the font that was asked for: in one sentence,
// in which other fonts which words are. It begins with what the texts are of, if that is
// no mark of their own.
func (dr *draft) tellOtherFonts(p *design.Panel, at source.Span, of string, changes []lettering.Change) {
	if len(changes) == 0 {
		return
	}
	var fonts []string
	words := map[string][]string{}
	for _, c := range changes {
		if words[c.To] == nil {
			fonts = append(fonts, c.To)
		}
		words[c.To] = append(words[c.To], "“"+c.Text+"”")
	}
	for i, to := range fonts {
		const most = 4
		is, all := " is", words[to]
		if len(all) > 1 {
			is = " are"
		}
		if more := len(all) - most; more > 0 {
			all = append(all[:most], fmt.Sprintf("%d more", more))
		}
		lettered := " lettered"
		if i > 0 {
			is, lettered = "", ""
		}
		fonts[i] = fmt.Sprintf("%s%s%s in %q", strings.Join(all, ", "), is, lettered, to)
	}
	first := changes[0]
	dr.notes.Warn(p.Quiet, "other-font", at, "%sthe font %q has no %s: %s", of, first.From, lettering.Describe(first.Lacks), strings.Join(fonts, "; ")).
		WithHelp("look at it before it is cut, or choose a font that has all letters%s", advise.Silence("other-font", "panel"))
}

// styleOf is how a text is to be set.
func styleOf(m *design.Lettering) lettering.Style {
	style := lettering.Style{Cap: m.Cap.Or(0), Space: m.Spacing, Wrap: m.Wrap}
	if m.Fit == word.Fill {
		style.Mode = lettering.Fill
	}
	switch m.Align {
	case word.AtLeft:
		style.Align = lettering.Left
	case word.AtRight:
		style.Align = lettering.Right
	case word.Spread:
		style.Align = lettering.Spread
	}
	if c := m.Curve; c != nil {
		style.Curve, style.Radius, style.Inside = lettering.Circle, c.Radius.Or(0), c.Inside
		if c.Form == word.Arc {
			style.Curve = lettering.Arc
		}
	}
	return style
}

// reportLettering puts what is wrong with a text, or with the font that is meant, into
// a diagnostic.
func (dr *draft) reportLettering(m *design.Lettering, r *design.Region, meant design.Font, err error) {
	var (
		unknown lettering.UnknownFontError
		several lettering.CollectionError
		missing lettering.MissingError
		control lettering.ControlError
		curve   lettering.CurveError
		room    lettering.RoomError
	)
	switch {
	case errors.As(err, &unknown):
		help := fmt.Sprintf("the built-in fonts are %s; a font of your own is named by its file, as in \"letters.ttf\"", strings.Join(lettering.Names(), ", "))
		if strings.Contains(meant.Name, ".") {
			help = "a font file ends in .ttf, .otf or .ttc; of a .ttc, say which of its fonts you mean, as in \"letters.ttc#2\""
		}
		dr.notes.Fail("font", meant.At, err, help)
	case errors.As(err, &several):
		dr.notes.Fail("font-collection", meant.At, several, "name one of them after the file, by its number or its name, as in \"letters.ttc#2\"")
	case errors.As(err, &missing):
		help := "choose a font that has the character, or write it another way"
		if meant.Data != nil && len(missing.Has) > 0 {
			help = fmt.Sprintf("name a font that has it as the next one, as in font = %q, %q, or write it another way", meant.Name, missing.Has[0])
		}
		dr.notes.Fail("glyph", m.TextAt, err, help)
	case errors.As(err, &control):
		dr.notes.Fail("unseen", m.TextAt, err, "take it out of the text")
	case errors.As(err, &curve):
		help := "set it in straight lines: remove along"
		if m.Align == word.Spread {
			help = "remove align = spread, or set it in straight lines: remove along"
		}
		dr.notes.Fail("option-clash", m.At, err, help)
	case errors.As(err, &room) && m.Curve != nil:
		dr.notes.Errorf("no-room", m.At, "%s is %s by %s: there is no room in it for this text along this curve", r.Name, dr.length(r.Width), dr.length(r.Height)).
			WithHelp("make the region larger, or choose a radius whose curve fits into it")
	case errors.As(err, &room):
		dr.notes.Errorf("no-room", r.At, "%s is %s by %s: there is no room for text", r.Name, dr.length(r.Width), dr.length(r.Height)).
			WithHelp("make the region larger")
	default:
		dr.notes.Fail("font-file", meant.At, err, "copy the file again from its source, or choose another font")
	}
}

// stencil cuts whole letters through the board, their counters held by bridges as
// bridged makes them of a width. what names them for who reads that they are too small
// for that.
func (dr *draft) stencil(p *design.Panel, at source.Span, stated maybe.Of[float64], whole geom.Outline, bridged func(width float64) (geom.Outline, error), what string) (geom.Outline, bool) {
	bridge := stated.Or(usualBridge(p))
	out, err := bridged(bridge)
	var narrow lettering.BridgeError
	switch {
	case errors.As(err, &narrow):
		dr.notes.Errorf("bridge", at, "%s too small to be cut through with bridges of %s", what, dr.length(bridge)).
			WithHelp("%s", dr.narrower(bridge, bridged))
		return nil, false
	case err != nil:
		dr.notes.Fail("bridge", at, err, "try another font, or engrave the text")
		return nil, false
	case bridge < advise.LeastOf(p).Detail-geom.Tol && geom.Area(whole)-geom.Area(out) > geom.Tol:
		advise.Narrow(&dr.notes, p, at, bridge, "at each bridge that holds a counter", "state broader bridges")
	}
	return out, true
}

// narrower is what helps letters too small for their bridges: the first half,
// quarter and so on that would do.
func (dr *draft) narrower(bridge float64, bridged func(width float64) (geom.Outline, error)) string {
	help := "make the letters larger or broader"
	for range 5 {
		// To a hundredth of a mm, as it would be written.
		bridge = math.Round(bridge/2*100) / 100
		if bridge < advise.BurnsAway/2 {
			break
		}
		if _, err := bridged(bridge); err == nil {
			return help + fmt.Sprintf(", or state a narrower bridge, as in bridge = %s", dr.length(bridge))
		}
	}
	return help
}

// usualBridge is how broad bridges are where nothing is stated: the least that
// may be left between cuts in the material, else the board's thickness, else
// 1 mm (common practice, no source).
func usualBridge(p *design.Panel) float64 {
	thick := p.Thick.Or(0)
	if !(thick > 0) {
		thick = 1
	}
	if p.Stock == nil {
		return thick
	}
	return p.Stock.LeastWeb.Or(thick)
}
