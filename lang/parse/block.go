package parse

import (
	"strings"

	"foredge/lang/ast"
	"foredge/lang/source"
)

// An openBlock is a block whose closing brace has not been met yet.
type openBlock struct {
	brace source.Span // its opening brace
	owner ast.Stmt    // whose block it is
}

// stmts reads statements up to the end of the file, or of the given block.
func (p *parser) stmts(in *openBlock) []ast.Stmt {
	out := make([]ast.Stmt, 0, 4)
	for {
		switch t := p.toks[p.pos]; t.kind {
		case eol, semi:
			p.pos++
		case eof:
			return out
		case rbrace:
			if in != nil {
				return out
			}
			if bare := p.unopened(out); bare != nil && p.astray.File == nil {
				at, name := bare.Span(), p.firstWords(bare)
				p.errorAt(codeBrace, at.Start, at.End, "a { is missing after %s: what stands below it is indented, and a } below closes nothing", name).
					WithHelp("write %s {", name)
				p.goneAstray(at.Start)
				p.pos++
				continue
			}
			p.errorAt(codeBrace, int(t.start), int(t.end), "this } closes nothing").
				WithHelp("take it out, or look for a { that is missing above it")
			if p.astray.File == nil {
				p.goneAstray(p.closedEarly(out, t))
			}
			p.pos++
		case lbrace:
			if last, body := bodyOf(out); body != nil && *body == nil {
				p.errorAt(codeSyntax, int(t.start), int(t.end), "the { stands alone on its line").
					WithHelp("put it at the end of the line above, after %s", p.firstWords(last))
				p.giveBody(last, body)
				break
			}
			p.errorAt(codeSyntax, int(t.start), int(t.end), "nothing stands before this {").
				WithHelp("a block begins with a kind and a name, as in panel front {")
			out = append(out, p.badStmt(p.pos, p.pos))
		default:
			out = append(out, p.stmt())
		}
	}
}

// bodyOf returns the last statement if it is one that may have a block, and
// where its block is kept.
func bodyOf(stmts []ast.Stmt) (ast.Stmt, **ast.Block) {
	if len(stmts) == 0 {
		return nil, nil
	}
	switch s := stmts[len(stmts)-1].(type) {
	case *ast.Decl:
		return s, &s.Body
	case *ast.Mark:
		return s, &s.Body
	}
	return nil, nil
}

// spanned is a node whose place can still be set.
type spanned interface {
	ast.Node
	SetSpan(source.Span)
}

// stmt reads one statement. Whatever is wrong in it, the parser then stands
// after it.
func (p *parser) stmt() ast.Stmt {
	start := p.pos
	before := p.takeComments(int(p.toks[start].start))
	p.first, p.end = start, p.stmtEnd(start)
	p.failed, p.terms = false, 0

	s := p.readStmt()
	p.pos = p.end
	s.(spanned).SetSpan(p.span(int(p.toks[start].start), p.lastEnd()))
	// Comments inside a list that goes on over several lines.
	before = append(before, p.takeComments(p.lastEnd())...)

	if p.toks[p.pos].kind == lbrace {
		_, body := bodyOf([]ast.Stmt{s})
		if body == nil {
			p.fail(codeSyntax, p.toks[p.pos].span(p), "no block can stand after %s", p.firstWords(s)).
				WithHelp("a block begins with a kind and a name, as in panel front {")
			s = p.badStmt(start, p.pos)
		} else {
			p.giveBody(s, body)
		}
	}
	c := s.Comment()
	c.Before = append(before, c.Before...)
	if c.Suffix == nil {
		c.Suffix = p.takeLineEnd()
	}
	return s
}

// giveBody reads the block that the parser stands at and gives it to its
// statement.
func (p *parser) giveBody(s ast.Stmt, body **ast.Block) {
	d, isDecl := s.(*ast.Decl)
	outer := p.orders
	p.orders = isDecl && d.Kind.Name == "orders"
	*body = p.block(s)
	p.orders = outer
	s.(spanned).SetSpan(s.Span().To((*body).At))
	if suffix := p.takeLineEnd(); suffix != nil {
		s.Comment().Suffix = append(s.Comment().Suffix, suffix...)
	}
}

// badStmt makes a broken statement of the tokens from start on. The block
// that begins at brace, or nothing, is read for what is wrong in it.
func (p *parser) badStmt(start, brace int) *ast.BadStmt {
	b := new(ast.BadStmt)
	p.pos = brace
	b.SetSpan(p.span(int(p.toks[start].start), max(p.lastEnd(), int(p.toks[start].start))))
	if p.toks[brace].kind == lbrace {
		b.Body = p.block(b)
		b.SetSpan(b.Span().To(b.Body.At))
	}
	return b
}

// block reads { ... }. The comments at its open and before its end go to its
// owner.
func (p *parser) block(owner ast.Stmt) *ast.Block {
	brace := p.toks[p.pos]
	open := &openBlock{brace: brace.span(p), owner: owner}
	b := new(ast.Block)
	c := owner.Comment()

	p.depth++
	defer func() { p.depth-- }()
	if p.depth > maxNesting {
		p.errorAt(codeTooDeep, int(brace.start), int(brace.end), "blocks are nested more than %d deep", maxNesting).
			WithHelp("the file is not read past this point")
		p.stopped = true
		p.pos = len(p.toks) - 1
		b.At = brace.span(p)
		c.End = append(c.End, p.takeComments(len(p.text))...)
		return b
	}

	p.pos++
	if p.toks[p.pos].kind == eol {
		c.Open = p.takeComments(int(p.toks[p.pos].start))
	}
	b.Stmts = p.stmts(open)
	closing := p.toks[p.pos]
	c.End = append(c.End, p.takeComments(int(closing.start))...)
	if closing.kind == rbrace {
		p.suspect(open, closing)
		p.pos++
	} else {
		p.unclosed(open)
	}
	b.At = p.span(int(brace.start), max(int(brace.end), p.lastEnd()))
	if p.stopped {
		b.At.End = int(brace.end)
		if n := len(b.Stmts); n > 0 {
			b.At.End = b.Stmts[n-1].Span().End
		}
	}
	return b
}

// suspect remembers the first block that seems to lack its closing brace: the
// one that took a brace which stands further left than the block's own line.
func (p *parser) suspect(open *openBlock, closing token) {
	if p.lost != nil || p.toks[p.pos-1].kind != eol {
		return
	}
	if p.indent(int(closing.start)) < p.indent(open.brace.Start) {
		p.lost = open
	}
}

// indent returns how far in the line of an offset begins.
func (p *parser) indent(at int) int {
	line, _ := p.src.Line(p.src.LineNumber(at))
	return len(line) - len(strings.TrimLeft(line, " \t"))
}

// unclosed reports that the file ended inside a block.
func (p *parser) unclosed(open *openBlock) {
	if p.stopped {
		return
	}
	blame := open
	if p.lost != nil && p.lost.brace.Start > open.brace.Start {
		blame = p.lost
	}
	name := p.firstWords(blame.owner)
	p.errorAt(codeBrace, blame.brace.Start, blame.brace.End, "the block of %s is not closed: a } is missing", name).
		WithHelp("put a } on a line of its own where %s ends", name)
	p.goneAstray(blame.brace.Start)
	// One missing brace leaves each of the outer blocks open too.
	p.stopped = true
}

// goneAstray notes that what stands from a place on may stand in the wrong braces.
func (p *parser) goneAstray(from int) {
	if p.astray.File == nil || from < p.astray.Start {
		p.astray = p.span(from, len(p.text))
	}
}

// closedEarly is where what a } without its { was to close seems to begin: where
// the statements at the top of the file before it are indented.
func (p *parser) closedEarly(before []ast.Stmt, closing token) int {
	start := int(closing.start)
	for i := len(before) - 1; i >= 0 && p.indent(before[i].Span().Start) > p.indent(int(closing.start)); i-- {
		start = before[i].Span().Start
	}
	return start
}

// unopened is the last thing declared without braces below which the next line is
// indented, as what stands in braces is; nil if there is none.
func (p *parser) unopened(stmts []ast.Stmt) (last *ast.Decl) {
	for i, s := range stmts {
		d, ok := s.(*ast.Decl)
		switch {
		case !ok:
		case d.Body != nil:
			if inner := p.unopened(d.Body.Stmts); inner != nil {
				last = inner
			}
		case i+1 < len(stmts):
			at, next := d.Span().Start, stmts[i+1].Span().Start
			if p.src.LineNumber(next) > p.src.LineNumber(at) && p.indent(next) > p.indent(at) {
				last = d
			}
		}
	}
	return last
}

// firstWords returns the words that name a statement in messages, such as
// `panel front`.
func (p *parser) firstWords(s ast.Stmt) string {
	switch s := s.(type) {
	case *ast.Decl:
		if s.Title != nil {
			return s.Kind.Name + " " + s.Title.Span().Text()
		}
		return s.Kind.Name + " " + s.Name.Name
	case *ast.Mark:
		return s.Verb.Name + " " + s.What.Name
	}
	written, _ := p.src.Line(p.src.LineNumber(s.Span().Start))
	return shorten(strings.TrimSpace(written))
}

// stmtEnd returns the index of the token that ends the statement that begins
// at i. A line that ends in a comma goes on in the next one.
func (p *parser) stmtEnd(i int) int {
	open := 0
	for ; ; i++ {
		switch k := p.toks[i].kind; k {
		case lparen:
			open++
		case rparen:
			open--
		case eof, semi, lbrace, rbrace:
			return i
		case eol:
			if open > 0 || p.toks[i-1].kind != comma || !p.goesOn(i+1) {
				return i
			}
		}
	}
}

// goesOn reports whether the line that begins with token i can be the rest of
// a list rather than a statement of its own.
func (p *parser) goesOn(i int) bool {
	t := p.toks[i]
	if t.kind != word {
		return !t.kind.endsStmt()
	}
	for i++; p.toks[i].kind == dot && p.toks[i+1].kind != eol; i += 2 {
		if p.toks[i+1].kind == eof {
			return false
		}
	}
	next := p.toks[i]
	return next.kind.sign() == 0 && next.kind != lbrace && next.kind != text &&
		(next.kind != word || next.is(p, "exact") || next.is(p, "when"))
}
