package parse

import (
	"foredge/lang/ast"
	"foredge/lang/source"
)

// inside reads a value that takes up the whole stretch.
func (p *parser) inside(s stretch, read func() ast.Expr) ast.Expr {
	pos, end := p.pos, p.end
	// Stretches count from the statement's first token.
	p.pos, p.end = p.first+s.from, p.first+s.to
	x := read()
	if p.pos < p.end {
		p.leftover()
		x = p.badExpr(x.Span().Start, int(p.toks[p.end-1].end))
	}
	p.pos, p.end = pos, end
	return x
}

// The levels of operators, from the loosest.
const (
	levelOr = iota + 1
	levelAnd
	levelNot
	levelCompare
	levelSum
	levelProduct
	levelUnary
)

// sum reads a value made with + - * /.
func (p *parser) sum() ast.Expr { return p.binary(levelSum) }

// condition reads a value that may compare and join.
func (p *parser) condition() ast.Expr { return p.binary(levelOr) }

// operator returns the operator that the next token is, and its level.
func (p *parser) operator() (ast.Op, int) {
	t := p.tok()
	switch t.kind {
	case plus:
		return ast.Add, levelSum
	case minus:
		return ast.Sub, levelSum
	case star:
		return ast.Mul, levelProduct
	case slash:
		return ast.Div, levelProduct
	case eq, ne, lt, le, gt, ge:
		return t.kind.sign(), levelCompare
	case word:
		switch t.text(p) {
		case "and":
			return ast.And, levelAnd
		case "or":
			return ast.Or, levelOr
		}
	}
	return ast.NoOp, 0
}

// binary reads operands and the operators between them down to a level:
// precedence climbing. Operators of one level group from the left.
func (p *parser) binary(lowest int) ast.Expr {
	left := p.unary(lowest)
	for !p.failed {
		op, level := p.operator()
		if op == ast.NoOp || level < lowest {
			break
		}
		at := p.tok().span(p)
		if !p.oneMore(at) {
			break
		}
		p.pos++
		right := p.binary(level + 1)
		b := &ast.Binary{Op: op, OpAt: at, L: left, R: right}
		b.SetSpan(p.span(left.Span().Start, p.lastEnd()))
		left = b
		if level == levelCompare {
			left = p.chain(b)
		}
	}
	return left
}

// oneMore counts one more operator and reports whether that is still within
// the limit. Values nest as deep as they have operators.
func (p *parser) oneMore(at source.Span) bool {
	if p.terms++; p.terms <= maxTerms {
		return true
	}
	p.fail(codeTooLong, at, "this value has more than %d parts", maxTerms).
		WithHelp("give its parts names with let")
	return false
}

// chain reads the rest of `3 <= A <= 5` in a condition. It means that each
// pair holds: 3 <= A and A <= 5.
func (p *parser) chain(b *ast.Binary) ast.Expr {
	var all ast.Expr = b
	for !p.failed {
		op, level := p.operator()
		if level != levelCompare {
			break
		}
		at := p.tok().span(p)
		if !p.oneMore(at) {
			break
		}
		p.pos++
		next := &ast.Binary{Op: op, OpAt: at, L: b.R, R: p.binary(levelCompare + 1)}
		next.SetSpan(p.span(b.R.Span().Start, p.lastEnd()))
		both := &ast.Binary{Op: ast.And, OpAt: at, L: all, R: next}
		both.SetSpan(p.span(all.Span().Start, p.lastEnd()))
		all, b = both, next
	}
	return all
}

// unary reads -A, not A, or an operand.
func (p *parser) unary(lowest int) ast.Expr {
	t := p.tok()
	op, level := ast.NoOp, levelUnary
	switch {
	case t.kind == minus:
		op = ast.Neg
	case t.kind == plus && p.peek(1).kind == number:
		p.fail(codeSyntax, t.span(p), "a + can't stand before a value").WithHelp("leave it out")
		p.pos++
	case t.is(p, "not") && lowest <= levelNot && startsOperand(p.peek(1).kind):
		op, level = ast.Not, levelNot
	}
	if op == ast.NoOp {
		return p.operand()
	}
	if !p.enter(t) {
		return p.badRest(t)
	}
	defer p.leave()
	p.pos++
	u := &ast.Unary{Op: op, X: p.binary(level)}
	u.SetSpan(p.span(int(t.start), p.lastEnd()))
	return u
}

// enter counts one more level of brackets or signs and reports whether that
// is still within the limit.
func (p *parser) enter(t token) bool {
	if p.brackets >= maxNesting {
		p.fail(codeTooDeep, t.span(p), "brackets are nested more than %d deep", maxNesting).
			WithHelp("give a part of this value a name with let")
		return false
	}
	p.brackets++
	return true
}

func (p *parser) leave() { p.brackets-- }

// startsOperand reports whether an operand can begin with a token.
func startsOperand(k kind) bool {
	switch k {
	case word, number, text, lparen, minus:
		return true
	}
	return false
}

// operand reads a number, a text, a name, a call or what stands in brackets.
func (p *parser) operand() ast.Expr {
	t := p.tok()
	switch t.kind {
	case number:
		return p.number()
	case text:
		p.pos++
		return p.str(t)
	case word:
		return p.name()
	case lparen:
		if !p.enter(t) {
			return p.badRest(t)
		}
		defer p.leave()
		p.pos++
		x := &ast.Paren{X: p.condition()}
		p.closeBracket(t)
		x.SetSpan(p.span(int(t.start), p.lastEnd()))
		return x
	case bad:
		p.fail(codeCharacter, t.span(p), "this is not understood")
		p.pos++
		return p.badExpr(int(t.start), int(t.end))
	}
	p.missing()
	return p.badExpr(p.lastEnd(), p.lastEnd())
}

// closeBracket takes the ) that belongs to an opening bracket.
func (p *parser) closeBracket(open token) {
	if p.tok().kind == rparen {
		p.pos++
		return
	}
	if p.failed {
		return
	}
	t := p.tok()
	if t.kind != eof && t.kind != eol {
		p.leftover()
		return
	}
	p.fail(codeBrace, open.span(p), "this ( is not closed: a ) is missing").
		WithHelp("close it on the same line")
}

// name reads a name with dots, a call, or `gap 3` and `corner head-foredge`.
func (p *parser) name() ast.Expr {
	first := p.tok()
	p.pos++
	next := p.tok()
	switch w := first.text(p); {
	case next.kind == lparen:
		return p.call(first)
	case w == "gap" && next.kind == number && p.peek(1).kind != slash,
		w == "corner" && next.kind == word && !p.followsValue(next):
		p.pos++
		x := &ast.Indexed{Word: p.ident(first), Index: p.ident(next)}
		x.SetSpan(first.span(p).To(next.span(p)))
		return x
	}
	n := &ast.Name{Parts: []ast.Ident{p.ident(first)}}
	for p.tok().kind == dot {
		p.pos++
		t := p.tok()
		if t.kind != word && t.kind != number {
			p.fail(codeSyntax, p.toks[p.pos-1].span(p), "a name is missing after the dot").
				WithHelp("a dot joins names, as in front.width")
			return p.badExpr(int(first.start), p.lastEnd())
		}
		p.pos++
		n.Parts = append(n.Parts, p.ident(t))
	}
	n.SetSpan(p.span(int(first.start), p.lastEnd()))
	p.checkDepth(n)
	return n
}

// checkDepth reports a name with more parts than things can stand inside each
// other.
func (p *parser) checkDepth(n *ast.Name) {
	if len(n.Parts) > maxNesting {
		p.fail(codeTooDeep, n.Span(), "this name has more than %d parts", maxNesting).
			WithHelp("a dot leads into a thing, as in front.wire.pitch")
		n.Parts = n.Parts[:maxNesting]
	}
}

// call reads the arguments after a function's name.
func (p *parser) call(name token) ast.Expr {
	open := p.tok()
	if !p.enter(open) {
		return p.badRest(name)
	}
	defer p.leave()
	p.pos++
	c := &ast.Call{Func: p.ident(name)}
	for {
		c.Args = append(c.Args, p.condition())
		if p.tok().kind != comma || p.failed {
			break
		}
		p.pos++
	}
	p.closeBracket(open)
	c.SetSpan(p.span(int(name.start), p.lastEnd()))
	return c
}

func (p *parser) badExpr(start, end int) *ast.BadExpr {
	b := new(ast.BadExpr)
	b.SetSpan(p.span(start, max(start, end)))
	return b
}

// badRest gives up the rest of the statement from token t on.
func (p *parser) badRest(t token) *ast.BadExpr {
	p.pos = p.end
	return p.badExpr(int(t.start), p.lastEnd())
}
