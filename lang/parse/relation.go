package parse

import (
	"foredge/lang/ast"
)

// relation reads `A = B`, `A >= B`, `3 <= A <= 5`, a reading or a property.
func (p *parser) relation() ast.Stmt {
	r := &ast.Relation{First: p.sum()}
	for p.pos < p.end && !p.failed {
		t := p.tok()
		op := t.kind.sign()
		if op == ast.NoOp {
			break
		}
		if op != ast.Eq && op != ast.Le && op != ast.Ge {
			p.fail(codeSyntax, t.span(p), "%s can't say what must hold", t.text(p)).WithHelp("use =, <= or >=")
		}
		p.pos++
		r.Rest = append(r.Rest, ast.Side{Op: op, OpAt: t.span(p), Value: p.rightSide()})
	}
	if n := len(r.Rest); n > 0 {
		if p.pos < p.end {
			p.leftover()
			last := &r.Rest[n-1]
			last.Value = p.badExpr(last.Value.Span().Start, int(p.toks[p.end-1].end))
		}
		return r
	}
	p.noSign(r.First)
	return new(ast.BadStmt)
}

// rightSide reads what may stand on the right of a sign: a value, or several
// with commas between, and how surely they are known.
func (p *parser) rightSide() ast.Expr {
	if p.orders {
		if c := p.column(); c != nil {
			return c
		}
	}
	x := p.stated(p.list(p.value))
	if _, ok := x.(*ast.Stated); ok && p.tok().kind == comma {
		mark := "exact"
		if x.(*ast.Stated).Within != nil {
			mark = "±"
		}
		p.fail(codeSyntax, p.tok().span(p), "%s stands once, after the last value", mark).
			WithHelp("it applies to every value of the list")
	}
	return x
}

// list reads one value, or several with commas between.
func (p *parser) list(read func() ast.Expr) ast.Expr {
	start := p.tok()
	x := read()
	if p.tok().kind != comma {
		return x
	}
	l := &ast.List{Elems: []ast.Expr{x}}
	for p.tok().kind == comma && !p.failed {
		p.pos++
		for p.tok().kind == eol {
			p.pos++
		}
		l.Elems = append(l.Elems, read())
	}
	l.SetSpan(p.span(int(start.start), p.lastEnd()))
	return l
}

// choice reads what a let states: one value, or several of which it chooses.
func (p *parser) choice() ast.Expr {
	start := p.pos
	x := p.rightSide()
	if !p.is("when") || p.failed {
		return x
	}
	if l, ok := x.(*ast.List); ok {
		p.fail(codeSyntax, l.Elems[0].Span(), "only the last of several values may stand without when").
			WithHelp("say when it is meant, as in let plate = 3 when size = \"small\", 5")
		return x
	}
	c := new(ast.Choice)
	for {
		o := ast.Option{Value: x}
		if p.is("when") {
			p.pos++
			o.When = p.condition()
		}
		c.Options = append(c.Options, o)
		if p.tok().kind != comma || p.failed {
			break
		}
		if o.When == nil {
			p.fail(codeSyntax, o.Span(), "only the last of several values may stand without when").
				WithHelp("say when it is meant, or put it at the end")
			break
		}
		p.pos++
		for p.tok().kind == eol {
			p.pos++
		}
		x = p.value()
	}
	c.SetSpan(p.span(int(p.toks[start].start), p.lastEnd()))
	return c
}

// stated reads ± or exact after a value.
func (p *parser) stated(x ast.Expr) ast.Expr {
	t := p.tok()
	if t.kind != within && !t.is(p, "exact") {
		return x
	}
	s := &ast.Stated{X: x, Exact: t.kind != within}
	p.pos++
	if !s.Exact {
		s.Within = p.sum()
	}
	s.SetSpan(p.span(x.Span().Start, p.lastEnd()))
	return s
}

// column reads the type of a column in a table of orders, or returns nil if
// something else stands there.
func (p *parser) column() ast.Expr {
	t := p.tok()
	next := p.peek(1)
	chosen := t.kind == word && t.is(p, "one") && next.is(p, "of")
	if t.kind != word || next.kind != eof && !next.is(p, "default") && !next.is(p, "from") && !chosen {
		return nil
	}
	p.pos++
	c := &ast.Column{Type: p.ident(t)}
	if chosen {
		p.pos++
		c.Values = p.sums()
	}
	if p.is("from") {
		p.pos++
		c.From = p.sums()
	}
	if p.is("default") {
		p.pos++
		c.Default = p.sum()
		if p.is("from") {
			p.fail(codeSyntax, p.tok().span(p), "from can't stand after default").WithHelp(`put it before, as in name = text from "Text (line 1)" default ""`)
			p.pos++
			c.From = p.sums()
		}
	}
	c.SetSpan(p.span(int(t.start), p.lastEnd()))
	return c
}

// sums reads sums with commas between them; after a comma the list goes on in the next
// line.
func (p *parser) sums() []ast.Expr {
	all := []ast.Expr{p.sum()}
	for p.tok().kind == comma && !p.failed {
		p.pos++
		for p.tok().kind == eol {
			p.pos++
		}
		all = append(all, p.sum())
	}
	return all
}

// value reads one value of a list: a shape, a grain, a pair or a sum.
func (p *parser) value() ast.Expr {
	t := p.tok()
	if t.kind == word && p.operandFollows() {
		if shape, ok := ast.FindShape(t.text(p)); ok {
			return p.shape(shape)
		}
		if p.is("along") {
			p.pos++
			g := &ast.Grain{Along: p.ident(p.tok())}
			p.pos++
			g.SetSpan(t.span(p).To(g.Along.At))
			return g
		}
	}
	x := p.pair()
	if _, ok := x.(*ast.Pair); ok && p.is("less") {
		return p.less(x)
	}
	return x
}

// pair reads a sum, or two with `by` between them.
func (p *parser) pair() ast.Expr {
	x := p.sum()
	if !p.is("by") {
		return x
	}
	p.pos++
	pair := &ast.Pair{A: x, B: p.sum()}
	pair.SetSpan(p.span(x.Span().Start, p.lastEnd()))
	return pair
}

// less reads what is gone of a rectangle, and at which corner.
func (p *parser) less(of ast.Expr) ast.Expr {
	t := p.tok()
	p.pos++
	l := &ast.Less{Of: of, Gone: p.pair()}
	if _, ok := l.Gone.(*ast.Pair); ok && p.is("at") && p.peek(1).kind == word {
		p.pos++
		l.At = p.ident(p.tok())
		p.pos++
		l.SetSpan(p.span(of.Span().Start, p.lastEnd()))
		return l
	}
	if !p.failed {
		p.fail(codeSyntax, p.span(int(t.start), p.lastEnd()), "what is gone of a piece has a width, a height and a corner").
			WithHelp("write it as in 310 by 200 less 80 by 60 at head-right: 80 wide and 60 high, gone at the right end of the head")
	}
	return p.badExpr(of.Span().Start, p.lastEnd())
}

// operandFollows reports whether a value stands after the next token, so
// that the token is a word of the language and not a name.
func (p *parser) operandFollows() bool {
	next := p.peek(1)
	switch next.kind {
	case number, lparen:
		return !p.is("along")
	case word:
		return !next.is(p, "by") || p.peek(2).is(p, "by")
	}
	return false
}

// shape reads a shape that the word opens: `rect A by B radius R`, `round D`.
func (p *parser) shape(word ast.ShapeWord) ast.Expr {
	t := p.tok()
	p.pos++
	s := &ast.Shape{Word: p.ident(t), A: p.sum()}
	if word.Sizes == 2 {
		s.A = p.stated(s.A) // for that size alone
	}
	switch {
	case word.Sizes == 2 && p.is("by"):
		p.pos++
		s.B = p.sum()
	case word.Sizes == 2:
		d := p.fail(codeSyntax, p.span(int(t.start), p.lastEnd()), "%s needs two sizes", word.Word)
		d.WithHelp("write the size along the row, by, and the size across it: %s 4 by 4", word.Word)
		if p.tok().kind == comma && !word.Corner {
			d.WithHelp("write %s 4 by 4; further readings of a size stand in a line of their own, as in hole.along = 4.1, 4.2", word.Word)
		}
		return p.badExpr(int(t.start), p.lastEnd())
	case p.is("by"):
		d := p.fail(codeSyntax, p.tok().span(p), "%s takes one size", word.Word)
		d.WithHelp("write %s", p.text[t.start:p.lastEnd()])
		if !word.Corner {
			d.WithHelp("write %s, or a rect or slot of two sizes", p.text[t.start:p.lastEnd()])
		}
	}
	if word.Radius && p.is("radius") {
		p.pos++
		s.Radius = p.sum()
	}
	s.SetSpan(p.span(int(t.start), p.lastEnd()))
	return s
}
