package parse

import (
	"strings"
	"unicode/utf8"

	"foredge/lang/ast"
	"foredge/lang/source"
)

// noSign reports a line that says nothing of what it names.
func (p *parser) noSign(first ast.Expr) {
	t := p.tok()
	name := shorten(first.Span().Text())
	switch {
	case t.kind == eof && isBareCall(first):
		name := first.(*ast.Call).Func
		rest := shorten(p.text[name.At.End:first.Span().End])
		p.fail(codeSyntax, first.Span(), "= is missing between %s and %s", name.Name, strings.TrimSpace(rest)).
			WithHelp("write %s = %s", name.Name, strings.TrimSpace(rest))
	case t.kind == eof:
		p.fail(codeSyntax, first.Span(), "nothing is said about %s", name).
			WithHelp("write what it must be, as in %s = 12", name)
	case t.kind == comma:
		p.fail(codeSyntax, t.span(p), "a list can stand only on the right of =").
			WithHelp("write one line for each name, or put ; between two statements")
	case t.kind == number && strings.HasSuffix(name, ".gap"):
		p.fail(codeSyntax, t.span(p), "a gap of another thing is spoken of as %s.%s", name, p.shown(t)).
			WithHelp("write %s.%s = 12, or gap %s = 12 in the braces of the row", name, p.shown(t), p.shown(t))
	case t.kind == word && strings.HasSuffix(name, ".corner"):
		p.fail(codeSyntax, t.span(p), "a corner is stated in the braces of its panel").
			WithHelp("write corner %s = radius 4 there", p.shown(t))
	case p.surenessOnTheLeft(first):
	case t.kind == number || t.kind == word || t.kind == text || t.kind == lparen:
		p.fail(codeSyntax, t.span(p), "= is missing between %s and %s", name, p.shown(t)).
			WithHelp("write %s = %s, or <= or >= in place of =", name, p.shown(t))
	default:
		p.leftover()
	}
}

// surenessOnTheLeft reports ± or exact between a value and the sign of its line, as
// in 148 exact = width.
func (p *parser) surenessOnTheLeft(first ast.Expr) bool {
	t := p.tok()
	if t.kind != within && !t.is(p, "exact") {
		return false
	}
	for i, sign := range p.toks[p.pos:p.end] {
		if sign.kind.sign() != ast.Eq || p.pos+i+1 == p.end {
			continue
		}
		value := shorten(p.text[first.Span().Start:p.toks[p.pos+i-1].end])
		name := shorten(p.text[p.toks[p.pos+i+1].start:p.toks[p.end-1].end])
		p.fail(codeSyntax, t.span(p), "%s stands behind what was read, on the right of =", p.shown(t)).
			WithHelp("write %s = %s", name, value)
		return true
	}
	return false
}

// isBareCall reports whether x is a name before brackets that is no function.
// The functions' meaning is package eval's, which can't be asked here.
func isBareCall(x ast.Expr) bool {
	c, ok := x.(*ast.Call)
	if !ok {
		return false
	}
	switch c.Func.Name {
	case "min", "max", "abs", "sqrt", "floor", "ceil", "nearest", "text":
		return false
	}
	return true
}

// leftover reports what stands after a value and doesn't belong there.
func (p *parser) leftover() {
	t := p.tok()
	last := p.toks[max(p.pos-1, 0)]
	at := p.place(t)
	switch {
	case t.kind == rparen:
		p.fail(codeBrace, at, "this ) closes nothing").WithHelp("take it out, or put a ( where it opens")
	case last.kind == number && t.kind == number:
		p.fail(codeSyntax, at, "two numbers stand side by side: %s %s", last.text(p), t.text(p)).
			WithHelp("put a comma between readings; write a fraction of an inch as in 4 3/4 in")
	case t.kind == number && last.kind == word && otherShape(last.text(p)) != "":
		p.otherForm(last)
	case t.kind == word && joins(t.text(p)):
		p.fail(codeSyntax, at, "%s can stand only in a condition", t.text(p)).
			WithHelp("write two lines, or use check or when")
	case t.kind == word && (t.is(p, "when") || t.is(p, "else")):
		p.fail(codeSyntax, at, "%s can't stand after %s", t.text(p), p.shown(last)).
			WithHelp("a let chooses a number, a text or a form, as in let plate = 3 when size = \"small\", 5: the last value is for all that is left; its name can stand here. For another word write the thing twice, each with a when of its own")
	case t.kind == comma:
		p.fail(codeSyntax, at, "a list can stand only on the right of =").
			WithHelp("write one line for each, or put ; between two statements")
	case t.kind.sign() != ast.NoOp:
		p.fail(codeSyntax, at, "%s can't stand here", t.text(p)).
			WithHelp("a value says how large something is; what must hold goes on a line of its own")
	case t.kind == word && t.is(p, "x") || t.kind == star:
		p.fail(codeSyntax, at, "%s can't stand here", p.shown(t)).
			WithHelp("write by between two sizes, as in rect 4 by 4")
	case t.kind == dot:
		p.fail(codeSyntax, at, "this dot can't stand here").
			WithHelp("a dot joins names, as in front.width")
	case last.kind == word && minusAtTheEnd(last.text(p)) > 0:
		name := last.text(p)
		i := minusAtTheEnd(name)
		p.fail(codeSyntax, at, "%s can't stand after %s, which is one name", p.shown(t), name).
			WithHelp("a minus sign after a name needs blanks around it: %s - %s %s", name[:i], name[i+1:], t.text(p))
	default:
		p.fail(codeSyntax, at, "%s can't stand after %s", p.shown(t), p.shown(last)).
			WithHelp("end the line before it, or put ; between two statements")
	}
}

// minusAtTheEnd is where the hyphen of width-3 is; 0 if digits end the name otherwise.
func minusAtTheEnd(name string) int {
	i := strings.LastIndexByte(name, '-')
	if i > 0 && i+1 < len(name) && strings.Trim(name[i+1:], "0123456789") == "" {
		return i
	}
	return 0
}

// otherForm reports a form of everyday speech, and names ours as a change of the text
// where as many sizes stand behind it.
func (p *parser) otherForm(t token) {
	write := otherShape(t.text(p))
	d := p.fail(codeSyntax, t.span(p), "%s is no form", t.text(p)).WithHelp("write %s", write)
	ours, _, _ := strings.Cut(strings.TrimRight(write, ","), " ")
	form, known := ast.FindShape(strings.TrimRight(ours, ","))
	sizes := 1
	for i := p.pos; i < p.end; i++ {
		if p.toks[i].is(p, "by") {
			sizes++
		}
	}
	if known && form.Sizes == sizes {
		d.WithFix(d.Span, form.Word)
	}
}

func otherShape(w string) string {
	write, _ := ast.OtherShape(w)
	return write
}

// missing reports that a value is missing where the parser stands.
func (p *parser) missing() {
	t := p.tok()
	last := p.toks[max(p.pos-1, 0)]
	switch {
	case p.pos == p.first:
		p.fail(codeSyntax, p.place(t), "a value is missing")
	case t.kind == eof && last.kind == comma && p.brackets > 0:
		p.fail(codeBrace, last.span(p), "a value and a ) are missing after the comma").
			WithHelp("what is in brackets can't continue on the next line")
	case t.kind == dot:
		p.fail(codeSyntax, t.span(p), "a name is missing before the dot").
			WithHelp("a dot joins names, as in front.width")
	case t.kind == eof && last.kind == comma:
		p.fail(codeSyntax, last.span(p), "a value is missing after the comma").
			WithHelp("take the comma out, or write the next value after it")
	case t.kind == eof:
		p.fail(codeSyntax, last.span(p), "a value is missing after %s", p.shown(last)).
			WithHelp("write a number, a name or a sum of them")
	case t.kind == rparen && last.kind == lparen:
		p.fail(codeSyntax, t.span(p), "nothing stands between ( and )").WithHelp("write a value between them")
	default:
		p.fail(codeSyntax, t.span(p), "a value is missing before %s", p.shown(t)).
			WithHelp("write a number, a name or a sum of them")
	}
}

// place returns where to mark a token; for the end of a statement that is the
// last token before it.
func (p *parser) place(t token) source.Span {
	if t.kind == eof && p.end > 0 {
		return p.toks[p.end-1].span(p)
	}
	return t.span(p)
}

// misplaced says of a token that it doesn't fit into a kind of statement.
func (p *parser) misplaced(t token, in string) string {
	if t.kind == eof {
		return "the line ends too early: something is missing after " + p.shown(p.toks[p.end-1])
	}
	return p.shown(t) + " can't stand here in a line with " + in
}

// shown returns a token as messages show it.
func (p *parser) shown(t token) string {
	if t.kind == eof || t.kind == eol {
		return "the end of the line"
	}
	return shorten(t.text(p))
}

// shorten cuts a long piece of text for a message.
func shorten(s string) string {
	const most = 40
	n := 0
	for i := range s {
		if s[i] == '\n' || s[i] == '\r' {
			return s[:i] + "…"
		}
		if n++; n > most {
			return s[:i] + "…"
		}
	}
	return s
}

func firstChar(s string) string {
	_, n := utf8.DecodeRuneInString(s)
	return s[:n]
}
