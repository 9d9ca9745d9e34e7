package parse

import (
	"strconv"

	"foredge/lang/ast"
	"foredge/lang/spell"
)

// number reads a number with its fraction and unit.
func (p *parser) number(division bool) ast.Expr {
	t := p.tok()
	p.pos++
	n := new(ast.Number)
	n.Value = p.float(t)
	written := t.text(p)
	for i := range written {
		if written[i] == '.' {
			n.Decimals = len(written) - i - 1
		}
	}
	whole := func(t token) bool { return t.kind == number && isWhole(t.text(p)) }
	// fraction takes A/B if the parser stands at it, without blanks.
	fraction := func(i int) (top, bottom token, ok bool) {
		top, over, bottom := p.peek(i), p.peek(i+1), p.peek(i+2)
		return top, bottom, whole(top) && over.kind == slash && whole(bottom) && top.adjoins(over) && over.adjoins(bottom)
	}
	p.pos--
	if top, bottom, ok := fraction(0); ok && !division {
		p.pos += 3
		p.setFraction(n, 0, top, bottom)
	} else if top, bottom, ok := fraction(1); ok && whole(t) {
		p.pos += 4
		p.setFraction(n, n.Value, top, bottom)
	} else {
		p.pos++
	}
	if !p.unit(n) {
		return p.badExpr(int(t.start), p.before())
	}
	n.SetSpan(p.span(int(t.start), p.before()))
	return n
}

func (p *parser) setFraction(n *ast.Number, whole float64, top, bottom token) {
	d, err := strconv.Atoi(bottom.text(p))
	if err != nil || d == 0 || d > 1e6 {
		p.fail(codeNumber, top.span(p).To(bottom.span(p)), "%s/%s is no fraction of a rule", top.text(p), bottom.text(p)).
			WithHelp("write it as in 7 3/8")
		d = 1
	}
	n.Value = whole + p.float(top)/float64(d)
	n.Denominator = d
}

func isWhole(s string) bool {
	for i := range len(s) {
		if s[i] < '0' || s[i] > '9' {
			return false
		}
	}
	return true
}

func (p *parser) float(t token) float64 {
	v, err := strconv.ParseFloat(t.text(p), 64)
	if err != nil || v > 1e15 {
		p.fail(codeNumber, t.span(p), "the number %s is too large", shorten(t.text(p))).
			WithHelp("nothing on a bench is that large")
		return 0
	}
	return v
}

// unit reads the unit behind a number. It reports a word there that is
// neither a unit nor one that may stand behind a value.
func (p *parser) unit(n *ast.Number) bool {
	t := p.tok()
	if t.kind == percent {
		p.pos++
		n.Unit = "%"
		return true
	}
	if t.kind != word {
		return true
	}
	switch w := t.text(p); w {
	case "mm", "cm", "m", "in", "pt", "deg":
		p.pos++
		n.Unit = w
		return true
	}
	if p.standsBehindValue(t) {
		return true
	}
	p.unknownUnit(t)
	p.pos++
	return false
}

func (p *parser) unknownUnit(t token) {
	w := t.text(p)
	behind := p.toks[p.pos-1]
	d := p.fail(codeUnit, t.span(p), "%s is no unit", w).
		WithHelp("units are mm, cm, m, in, pt, deg and %%")
	for i := range len(w) {
		if w[i] == '-' && isUnit(w[:i]) {
			d.WithHelp("a minus sign needs blanks around it: %s %s - %s", behind.text(p), w[:i], w[i+1:])
			return
		}
	}
	switch {
	case w == "x" || w == "X":
		d.Message = "x can't stand between two sizes"
		d.WithHelp("write by, as in rect 4 by 4; a product is written with *")
	case (w[0] == 'e' || w[0] == 'E') && len(w) > 1 && isWhole(w[1:]) && behind.adjoins(t):
		d.WithHelp("write the number out; powers of ten are not understood")
	case otherUnit(w) != "":
		d.WithHelp("did you mean %s?", otherUnit(w))
	default:
		if near := spell.Nearest(w, []string{"mm", "cm", "m", "in", "pt", "deg"}); near != "" {
			d.WithHelp("did you mean %s?", near)
		}
	}
}

func isUnit(w string) bool {
	switch w {
	case "mm", "cm", "m", "in", "pt", "deg":
		return true
	}
	return false
}

// otherUnit returns our word for a unit written in another usual way.
func otherUnit(w string) string {
	switch w {
	case "inch", "inches", "Inch", "inchs", "ins":
		return "in"
	case "millimetre", "millimetres", "millimeter", "millimeters", "mms":
		return "mm"
	case "centimetre", "centimetres", "centimeter", "centimeters":
		return "cm"
	case "metre", "metres", "meter", "meters":
		return "m"
	case "point", "points", "pts":
		return "pt"
	case "degree", "degrees", "degs", "º":
		return "deg"
	case "percent", "pct":
		return "%"
	}
	return ""
}
