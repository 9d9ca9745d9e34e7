package parse

import (
	"strconv"
	"strings"
	"unicode/utf8"

	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/spell"
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
		p.fail(codeSyntax, first.Span(), "nothing is said of %s", name).
			WithHelp("write what it must be, as in %s = 12", name)
	case t.kind == comma:
		p.fail(codeSyntax, t.span(p), "a list can stand only on the right of =").
			WithHelp("write one line for each name, or put ; between two statements")
	case t.kind == number || t.kind == word || t.kind == text || t.kind == lparen:
		p.fail(codeSyntax, t.span(p), "= is missing between %s and %s", name, p.shown(t)).
			WithHelp("write %s = %s, or <= or >= in place of =", name, p.shown(t))
	default:
		p.leftover()
	}
}

// isBareCall reports whether x is a name before brackets that is no function.
func isBareCall(x ast.Expr) bool {
	c, ok := x.(*ast.Call)
	if !ok {
		return false
	}
	switch c.Func.Name {
	case "min", "max", "abs", "sqrt", "floor", "ceil", "nearest":
		return false
	}
	return true
}

// leftover reports what stands behind a value and doesn't belong there.
func (p *parser) leftover() {
	t := p.tok()
	behind := p.toks[max(p.pos-1, 0)]
	at := p.place(t)
	switch {
	case t.kind == rparen:
		p.fail(codeBrace, at, "this ) closes nothing").WithHelp("take it out, or put a ( where it opens")
	case behind.kind == number && t.kind == number:
		p.fail(codeSyntax, at, "two numbers stand side by side: %s %s", behind.text(p), t.text(p)).
			WithHelp("put a comma between readings; write a fraction as in 5 1/8")
	case t.kind == word && joins(t.text(p)):
		p.fail(codeSyntax, at, "%s can stand only in a condition", t.text(p)).
			WithHelp("write two lines, or use check or when")
	case t.kind == comma:
		p.fail(codeSyntax, at, "a list can stand only on the right of =").
			WithHelp("write one line for each, or put ; between two statements")
	case t.kind.sign() != ast.NoOp:
		p.fail(codeSyntax, at, "%s can't stand here", t.text(p)).
			WithHelp("a value says how large something is; what must hold is a line of its own")
	case t.kind == word && t.is(p, "x") || t.kind == star:
		p.fail(codeSyntax, at, "%s can't stand here", p.shown(t)).
			WithHelp("write by between two sizes, as in rect 4 by 4")
	case t.kind == dot:
		p.fail(codeSyntax, at, "this point can't stand here").
			WithHelp("a point joins names, as in front.width")
	default:
		p.fail(codeSyntax, at, "%s can't stand behind %s", p.shown(t), p.shown(behind)).
			WithHelp("end the line before it, or put ; between two statements")
	}
}

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

// rightSide reads what may stand on the right of a sign: a value, or several
// with commas between, and how surely they are known.
func (p *parser) rightSide() ast.Expr {
	start := p.tok()
	if p.orders {
		if c := p.column(); c != nil {
			return c
		}
	}
	x := p.value()
	if p.tok().kind == comma {
		l := &ast.List{Elems: []ast.Expr{x}}
		for p.tok().kind == comma && !p.failed {
			p.pos++
			for p.tok().kind == eol {
				p.pos++
			}
			l.Elems = append(l.Elems, p.value())
		}
		l.SetSpan(p.span(int(start.start), p.before()))
		x = l
	}
	x = p.stated(x)
	if _, ok := x.(*ast.Stated); ok && p.tok().kind == comma {
		mark := "exact"
		if x.(*ast.Stated).Within != nil {
			mark = "±"
		}
		p.fail(codeSyntax, p.tok().span(p), "%s stands once, behind the last value", mark).
			WithHelp("it goes for each value of the list")
	}
	return x
}

// stated reads ± or exact behind a value.
func (p *parser) stated(x ast.Expr) ast.Expr {
	s := &ast.Stated{X: x}
	switch t := p.tok(); {
	case t.kind == within:
		p.pos++
		s.Within = p.sum()
	case t.is(p, "exact"):
		p.pos++
		s.Exact = true
	default:
		return x
	}
	s.SetSpan(p.span(x.Span().Start, p.before()))
	return s
}

// column reads the type of a column in a table of orders, or returns nil if
// something else stands there.
func (p *parser) column() ast.Expr {
	t := p.tok()
	next := p.peek(1)
	if t.kind != word || next.kind != eof && !next.is(p, "default") {
		return nil
	}
	p.pos++
	c := &ast.Column{Type: p.ident(t)}
	if p.is("default") {
		p.pos++
		c.Default = p.sum()
	}
	c.SetSpan(p.span(int(t.start), p.before()))
	return c
}

// value reads one value of a list: a shape, a grain, a pair or a sum.
func (p *parser) value() ast.Expr {
	t := p.tok()
	if t.kind == word && p.operandFollows() {
		switch t.text(p) {
		case "rect", "slot", "round", "radius", "chamfer":
			return p.shape()
		case "along":
			p.pos++
			g := &ast.Grain{Along: p.ident(p.tok())}
			p.pos++
			g.SetSpan(t.span(p).To(g.Along.At))
			return g
		}
	}
	x := p.sum()
	if !p.is("by") {
		return x
	}
	p.pos++
	pair := &ast.Pair{A: x, B: p.sum()}
	pair.SetSpan(p.span(x.Span().Start, p.before()))
	return pair
}

// operandFollows reports whether a value stands behind the next token, so
// that the token is a word of the language and not a name.
func (p *parser) operandFollows() bool {
	next := p.peek(1)
	switch next.kind {
	case number, lparen:
		return !p.is("along")
	case word:
		return next.is(p, "by") == false || p.peek(2).is(p, "by")
	}
	return false
}

// shape reads `rect A by B radius R`, `slot A by B`, `round D`, `radius R` or
// `chamfer C`.
func (p *parser) shape() ast.Expr {
	t := p.tok()
	p.pos++
	s := &ast.Shape{Word: p.ident(t), A: p.sum()}
	w := s.Word.Name
	two := w == "rect" || w == "slot"
	switch {
	case two && p.is("by"):
		p.pos++
		s.B = p.sum()
	case two:
		p.fail(codeSyntax, p.span(int(t.start), p.before()), "%s needs two sizes", w).
			WithHelp("write the size along the row, by, and the size across it: %s 4 by 4", w)
		return p.badExpr(int(t.start), p.before())
	case p.is("by"):
		p.fail(codeSyntax, p.tok().span(p), "%s takes one size", w).
			WithHelp("write %s, or a rect or slot of two sizes", p.text[t.start:p.before()])
	}
	if w == "rect" && p.is("radius") {
		p.pos++
		s.Radius = p.sum()
	}
	s.SetSpan(p.span(int(t.start), p.before()))
	return s
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
	return p.binaryAfter(lowest, false)
}

func (p *parser) binaryAfter(lowest int, division bool) ast.Expr {
	left := p.unary(lowest, division)
	for !p.failed {
		op, level := p.operator()
		if op == ast.NoOp || level < lowest {
			break
		}
		at := p.tok().span(p)
		if p.terms++; p.terms > maxTerms {
			p.fail(codeTooLarge, at, "this value has more than %d parts", maxTerms).
				WithHelp("give its parts names with let")
			break
		}
		p.pos++
		right := p.binaryAfter(level+1, op == ast.Div)
		b := &ast.Binary{Op: op, OpAt: at, L: left, R: right}
		b.SetSpan(p.span(left.Span().Start, p.before()))
		left = b
		if level == levelCompare {
			left = p.chain(b)
		}
	}
	return left
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
		p.pos++
		next := &ast.Binary{Op: op, OpAt: at, L: b.R, R: p.binary(levelCompare + 1)}
		next.SetSpan(p.span(b.R.Span().Start, p.before()))
		both := &ast.Binary{Op: ast.And, OpAt: at, L: all, R: next}
		both.SetSpan(p.span(all.Span().Start, p.before()))
		all, b = both, next
	}
	return all
}

// unary reads -A, not A, or an operand.
func (p *parser) unary(lowest int, division bool) ast.Expr {
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
		return p.operand(division)
	}
	if !p.enter(t) {
		return p.badRest(t)
	}
	defer p.leave()
	p.pos++
	u := &ast.Unary{Op: op, X: p.binary(level)}
	u.SetSpan(p.span(int(t.start), p.before()))
	return u
}

// enter counts one more level of brackets or signs and reports whether that
// is still within the limit.
func (p *parser) enter(t token) bool {
	if p.brackets >= maxNesting {
		p.fail(codeTooLarge, t.span(p), "brackets stand inside each other more than %d deep", maxNesting).
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
func (p *parser) operand(division bool) ast.Expr {
	t := p.tok()
	switch t.kind {
	case number:
		return p.number(division)
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
		x.SetSpan(p.span(int(t.start), p.before()))
		return x
	case bad:
		p.fail(codeCharacter, t.span(p), "this is not understood")
		p.pos++
		return p.badExpr(int(t.start), int(t.end))
	}
	p.missing()
	return p.badExpr(p.before(), p.before())
}

// missing reports that a value is missing where the parser stands.
func (p *parser) missing() {
	t := p.tok()
	behind := p.toks[max(p.pos-1, 0)]
	switch {
	case p.pos == p.first:
		p.fail(codeSyntax, p.place(t), "a value is missing")
	case t.kind == eof && behind.kind == comma && p.brackets > 0:
		p.fail(codeBrace, behind.span(p), "a value and a ) are missing behind the comma").
			WithHelp("what stands in brackets can't go on in the next line")
	case t.kind == dot:
		p.fail(codeSyntax, t.span(p), "a name is missing before the point").
			WithHelp("a point joins names, as in front.width")
	case t.kind == eof && behind.kind == comma:
		p.fail(codeSyntax, behind.span(p), "a value is missing behind the comma").
			WithHelp("take the comma out, or write the next value behind it")
	case t.kind == eof:
		p.fail(codeSyntax, behind.span(p), "a value is missing behind %s", p.shown(behind)).
			WithHelp("write a number, a name or a sum of them")
	case t.kind == rparen && behind.kind == lparen:
		p.fail(codeSyntax, t.span(p), "nothing stands between ( and )").WithHelp("write a value between them")
	default:
		p.fail(codeSyntax, t.span(p), "a value is missing before %s", p.shown(t)).
			WithHelp("write a number, a name or a sum of them")
	}
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
		w == "corner" && next.kind == word && !p.standsBehindValue(next):
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
			p.fail(codeSyntax, p.toks[p.pos-1].span(p), "a name is missing behind the point").
				WithHelp("a point joins names, as in front.width")
			return p.badExpr(int(first.start), p.before())
		}
		p.pos++
		n.Parts = append(n.Parts, p.ident(t))
	}
	n.SetSpan(p.span(int(first.start), p.before()))
	return n
}

// call reads the arguments behind a function's name.
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
	c.SetSpan(p.span(int(name.start), p.before()))
	return c
}

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
			WithHelp("write it as in 5 1/8")
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

func (p *parser) badExpr(start, end int) *ast.BadExpr {
	b := new(ast.BadExpr)
	b.SetSpan(p.span(start, max(start, end)))
	return b
}

// badRest gives up the rest of the statement from token t on.
func (p *parser) badRest(t token) *ast.BadExpr {
	p.pos = p.end
	return p.badExpr(int(t.start), p.before())
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
		return "the line ends too early: something is missing behind " + p.shown(p.toks[p.end-1])
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

// help sets the help of the statement's error, if it was the one reported
// last.
func (p *parser) help(text string) {
	if n := len(p.diags); n > 0 && p.diags[n-1].Help == "" {
		p.diags[n-1].Help = text
	}
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
