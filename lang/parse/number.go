package parse

import (
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/numeral"
	"foredge/lang/unit"
)

// number reads a number with its fraction and unit.
func (p *parser) number() ast.Expr {
	start := int(p.tok().start)
	v, end, wrong := numeral.Read(p.text, start, p.bare)
	if wrong != nil {
		p.failNumber(codeNumber, wrong.Start, wrong.End, wrong)
	}
	// A fraction is of several tokens.
	for p.pos < p.end && int(p.toks[p.pos].start) < end {
		p.pos++
	}
	n := &ast.Number{Number: v}
	if !p.unit(n) || wrong != nil && wrong.Large {
		return p.badExpr(start, p.lastEnd())
	}
	n.SetSpan(p.span(start, p.lastEnd()))
	return n
}

// failNumber reports what package numeral says of the bytes from start to end.
func (p *parser) failNumber(code diag.Code, start, end int, wrong *numeral.Error) *diag.Diagnostic {
	return instead(p.fail(code, p.span(start, end), "%s", wrong.Message).WithHelp("%s", wrong.Help()), wrong)
}

// instead names what a hint says to write in place of a number or its unit.
func instead(d *diag.Diagnostic, wrong *numeral.Error) *diag.Diagnostic {
	for _, text := range wrong.Instead {
		d.WithFix(d.Span, text)
	}
	return d
}

// unit reads the unit after a number. It reports a word there that is
// neither a unit nor one that may follow a value.
func (p *parser) unit(n *ast.Number) bool {
	t := p.tok()
	if t.kind != word && t.kind != percent {
		return true
	}
	w := t.text(p)
	if _, ok := unit.Lookup(w); ok {
		p.pos++
		n.Unit = w
		return true
	}
	if p.followsValue(t) {
		return true
	}
	p.unknownUnit(t)
	p.pos++
	return false
}

func (p *parser) unknownUnit(t token) {
	w, last := t.text(p), p.toks[p.pos-1]
	end := int(t.end)
	if digits := numeral.Exponent(p.text[t.start:]); digits > 0 && last.adjoins(t) {
		end = int(t.start) + digits
	}
	d := p.failNumber(codeUnit, int(t.start), end, numeral.NoUnit(last.text(p), p.text[t.start:end], last.adjoins(t)))
	if w == "x" || w == "X" {
		d.Message = "x can't stand between two sizes"
		d.WithHelp("write by, as in rect 4 by 4; a product is written with *")
	}
}
