package parse

import (
	"slices"
	"strings"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"foredge/lang/ast"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// readStmt reads the statement between pos and end, without its block.
func (p *parser) readStmt() ast.Stmt {
	t := p.tok()
	switch t.kind {
	case word:
		return p.wordStmt(t)
	case number, lparen, minus, plus:
		return p.relation()
	case bad:
		p.fail(codeCharacter, t.span(p), "this is not understood")
	case text:
		p.fail(codeSyntax, t.span(p), "a text can't begin a line").
			WithHelp("say what it is for, as in engrave text %s", t.text(p))
	case eq, le, ge, lt, gt, ne:
		p.fail(codeSyntax, t.span(p), "a name is missing before %s", t.text(p)).
			WithHelp("write what must be equal, as in width = 120")
	default:
		p.fail(codeSyntax, t.span(p), "a line can't begin with %s", t.text(p))
	}
	return new(ast.BadStmt)
}

// wordStmt reads a statement that begins with a word. The word may be one of
// the language or a name; what stands after it tells.
func (p *parser) wordStmt(first token) ast.Stmt {
	w := first.text(p)
	next := p.peek(1)
	if p.depth == 0 && next.kind == eq && (w == "units" || w == "use" || w == "let") {
		p.fail(codeSyntax, next.span(p), "= can't stand right after %s", w).
			WithHelp(`write it as in units mm, use "shop.fore" or let board = 2.5`)
		return new(ast.BadStmt)
	}
	if next.kind == eof && p.toks[p.end].kind == lbrace && !isVerb(w) {
		p.noName(first)
		return new(ast.BadStmt)
	}
	switch next.kind {
	case lparen:
		if w != "check" && w != "prefer" {
			return p.relation()
		}
	case minus, plus:
		// `check -a <= 3` but `check - a <= 3`, where check is a name.
		if w != "check" && w != "prefer" || next.adjoins(p.peek(2)) == first.adjoins(next) {
			return p.relation()
		}
	case word, number, text, bad, eof:
	default:
		return p.relation()
	}

	if opensPart(w) && (next.kind == text || next.kind == word && !p.followsValue(next)) {
		p.fail(codeSyntax, first.span(p), "%s can't begin a line", w).
			WithHelp("put it at the end of the line that it belongs to")
		return new(ast.BadStmt)
	}
	g := theGrammar()
	switch w {
	case "foredge":
		if p.depth == 0 { // inside a thing it is the edge, with its sign missing
			return p.version(g)
		}
	case "units":
		return p.units(g)
	case "use":
		return p.use(g)
	case "let":
		return p.let(g)
	case "without":
		return p.without(g)
	case "prefer":
		return p.prefer(g)
	case "check":
		return p.check(g)
	case "gap", "corner":
		if next.kind == number || next.kind == word && p.peek(2).kind.sign() != ast.NoOp {
			return p.relation()
		}
	}
	switch {
	case isVerb(w):
		return p.mark(g)
	case p.toks[p.end].kind != lbrace && next.kind == word && p.followsValue(next) && (p.peek(2).kind == eof || p.peek(2).kind == number || next.is(p, "by")):
		return p.relation() // `width exact`: a sign is missing
	case next.kind == word || next.kind == text && p.peek(2).kind.sign() == ast.NoOp:
		return p.decl(g)
	}
	return p.relation()
}

// isVerb reports whether marks begin with a word.
func isVerb(w string) bool {
	switch w {
	case "engrave", "mark", "score", "cut", "inlay":
		return true
	}
	return false
}

// noName reports a block whose kind is not followed by a name.
func (p *parser) noName(kind token) {
	w := kind.text(p)
	d := p.fail(codeSyntax, kind.span(p), "a name is missing between %s and {", w)
	if w == "orders" {
		d.WithHelp(`write the file of the orders, as in orders "orders.csv" {`)
		return
	}
	d.WithHelp("a block begins with a kind and a name, as in panel front {")
}

// followsValue reports whether a word has its place after a value.
func (p *parser) followsValue(t token) bool {
	switch t.text(p) {
	case "by", "less", "at", "exact", "weight", "else", "default", "and", "or":
		return true
	}
	_, shape := ast.FindShape(t.text(p))
	return shape || opensPart(t.text(p))
}

// head reads the statement's tokens with one of the productions. It returns
// nil and the token that doesn't fit if they don't match; the returned head
// then holds what came before.
func head[H any](p *parser, production *participle.Parser[H]) (h *H, wrong *token) {
	lex, err := lexer.Upgrade(&tokenLexer{p, p.pos, p.end})
	if err != nil {
		panic(err) // tokenLexer never fails
	}
	h, err = production.ParseFromLexer(lex)
	if err == nil {
		return h, nil
	}
	if h == nil {
		h = new(H)
	}
	at := p.end
	if perr, ok := err.(participle.Error); ok {
		at = min(perr.Position().Offset, p.end)
	}
	p.pos = at
	t := p.tok()
	return h, &t
}

// at returns the token that package participle handed back.
func (p *parser) at(t lexer.Token) token { return p.toks[t.Pos.Offset] }

func (p *parser) version(g *grammar) ast.Stmt {
	first := p.tok()
	h, wrong := head(p, g.version)
	if wrong != nil {
		if wrong.kind == eof {
			p.fail(codeSyntax, first.span(p), "foredge does not say which version of the language").WithHelp("write foredge 1")
		} else {
			p.fail(codeSyntax, wrong.span(p), "%s can't stand here", p.shown(*wrong)).WithHelp("write foredge 1, and nothing after it")
		}
		return new(ast.BadStmt)
	}
	return &ast.Version{Number: p.ident(p.at(h.Number))}
}

func (p *parser) units(g *grammar) ast.Stmt {
	first := p.tok()
	h, wrong := head(p, g.units)
	if wrong != nil {
		if wrong.kind == eof {
			p.fail(codeSyntax, first.span(p), "units does not say which unit").WithHelp("write units mm or units in")
		} else {
			p.fail(codeSyntax, wrong.span(p), "%s can't stand here", p.shown(*wrong)).WithHelp("write units mm or units in, and nothing after it")
		}
		return new(ast.BadStmt)
	}
	u := &ast.Units{Unit: p.ident(p.at(h.Unit))}
	if p.bare.Name == "" {
		p.bare, _ = unit.Lookup(u.Unit.Name)
		if meant, ok := unit.Meant(u.Unit.Name); ok {
			p.bare = meant // it is told that the unit is misspelt, not that its numbers are
		}
	}
	return u
}

func (p *parser) use(g *grammar) ast.Stmt {
	first := p.tok()
	h, wrong := head(p, g.use)
	if wrong != nil {
		const help = `write a file in double quotes, as in use "shop.fore", or a part of the library, as in use bindings`
		if wrong.kind == eof {
			p.fail(codeSyntax, first.span(p), "use does not say what to bring in").WithHelp(help)
		} else {
			p.fail(codeSyntax, wrong.span(p), "%s can't stand here", p.shown(*wrong)).WithHelp(help)
		}
		return new(ast.BadStmt)
	}
	s := new(ast.Use)
	if h.Path != nil {
		s.Path = p.str(p.at(*h.Path))
	} else {
		id := p.ident(p.at(*h.Shelf))
		s.Shelf = &id
	}
	return s
}

func (p *parser) let(g *grammar) ast.Stmt {
	first, name := p.tok(), p.peek(1)
	h, wrong := head(p, g.let)
	if wrong == nil {
		s := &ast.Let{Name: p.ident(p.at(h.Name))}
		s.Value = p.inside(stretch(*h.Value), p.choice)
		return s
	}
	switch {
	case name.kind != word:
		if name.kind == eof {
			name = first
		}
		p.fail(codeSyntax, name.span(p), "a name is missing after let").WithHelp("write it as in let board = 2.5")
		return new(ast.BadStmt)
	case wrong.kind == eof && p.end-1 > 0 && p.toks[p.end-1].kind == eq:
		p.fail(codeSyntax, p.toks[p.end-1].span(p), "a value is missing after =").
			WithHelp("write it as in let %s = 2.5", name.text(p))
	default:
		at := *wrong
		if at.kind == eof {
			at = name
		}
		p.fail(codeSyntax, at.span(p), "= is missing after let %s", name.text(p)).
			WithHelp("write it as in let %s = 2.5", name.text(p))
	}
	return &ast.Let{Name: p.ident(name), Value: p.badExpr(int(name.end), p.lastEnd())}
}

func (p *parser) without(g *grammar) ast.Stmt {
	first := p.tok()
	h, wrong := head(p, g.without)
	if wrong != nil {
		if wrong.kind == eof {
			p.fail(codeSyntax, first.span(p), "without does not say what to leave out").
				WithHelp("name a thing that like or mirrors brought along, as in without title")
		} else {
			p.fail(codeSyntax, wrong.span(p), "%s can't stand here", p.shown(*wrong)).
				WithHelp("without takes one name; write one line for each thing to leave out")
		}
		return new(ast.BadStmt)
	}
	return &ast.Without{Name: p.ident(p.at(h.Name))}
}

func (p *parser) prefer(g *grammar) ast.Stmt {
	h, wrong := head(p, g.prefer)
	if wrong != nil {
		p.fail(codeSyntax, p.place(*wrong), "%s", p.misplaced(*wrong, "prefer")).
			WithHelp("write it as in prefer width = 225, or prefer width = 225 weight 3")
		if h.Relation == nil {
			return new(ast.BadStmt)
		}
	}
	s := new(ast.Prefer)
	p.inside(*h.Relation, func() ast.Expr {
		s.Left = p.sum()
		t := p.tok()
		if s.Op = t.kind.sign(); s.Op == ast.NoOp {
			p.fail(codeSyntax, p.place(t), "%s", p.misplaced(t, "prefer")).
				WithHelp("write what is preferred, as in prefer width = 225")
			s.Op = ast.Eq
			s.Right = p.badExpr(p.lastEnd(), p.lastEnd())
			return s.Left
		}
		p.pos++
		s.Right = p.rightSide()
		return s.Right
	})
	if h.Weight != nil {
		s.Weight = p.inside(*h.Weight, p.sum)
	}
	return s
}

func (p *parser) check(g *grammar) ast.Stmt {
	h, wrong := head(p, g.check)
	if wrong != nil {
		switch {
		case wrong.is(p, "else") || p.pos > 0 && p.toks[p.pos-1].is(p, "else"):
			p.fail(codeSyntax, p.place(*wrong), "the message after else is missing").
				WithHelp(`write it in double quotes, as in else "too little wood between the holes"`)
		default:
			p.fail(codeSyntax, p.place(*wrong), "%s", p.misplaced(*wrong, "check")).
				WithHelp(`write it as in check web >= 3 else "too little wood"`)
		}
		if h.Cond == nil {
			return new(ast.BadStmt)
		}
	}
	s := &ast.Check{Cond: p.inside(*h.Cond, p.condition)}
	if h.Message != nil {
		s.Message = p.inside(*h.Message, p.sum)
	}
	return s
}

// markKinds are what a mark may be of.
func markKinds() []string { return []string{"text", "art", "frame"} }

// mark reads a verb such as engrave, and what it makes.
func (p *parser) mark(g *grammar) ast.Stmt {
	first, what := p.tok(), p.peek(1)
	kinds := markKinds()
	const example = `write it as in engrave text "Harbour Log", engrave art "gull.svg" or mark frame`
	switch {
	case what.kind == text:
		p.fail(codeSyntax, what.span(p), "%s does not say what %s is: text or art", first.text(p), what.text(p)).
			WithHelp("write %s text %s", first.text(p), what.text(p))
	case what.kind != word:
		p.fail(codeSyntax, first.span(p), "%s does not say what to %s", first.text(p), first.text(p)).WithHelp(example)
	}
	if p.failed {
		return new(ast.BadStmt)
	}
	if w := what.text(p); !slices.Contains(kinds, w) {
		d := p.fail(codeSyntax, what.span(p), "%s can't be followed by %s", first.text(p), w).WithHelp(example)
		if near := spell.Nearest(w, kinds); near != "" {
			d.Meant(w, near)
		}
		return new(ast.BadStmt)
	}
	s := &ast.Mark{Verb: p.ident(first), What: p.ident(what)}
	h, wrong := head(p, g.mark)
	if wrong != nil {
		p.fail(codeSyntax, p.place(*wrong), "%s", p.misplaced(*wrong, first.text(p)+" "+what.text(p))).WithHelp(example)
		if s.What.Name != "frame" {
			s.Value = p.badExpr(int(what.end), int(what.end))
		}
		return s
	}
	switch {
	case h.Value != nil && s.What.Name == "frame":
		p.pos += h.Value.from
		p.fail(codeSyntax, p.tok().span(p), "%s can't stand after %s frame", p.shown(p.tok()), first.text(p)).
			WithHelp("what is said about a frame goes in braces: %s frame { radius = 4 }", first.text(p))
	case h.Value != nil:
		s.Value = p.inside(*h.Value, func() ast.Expr { return p.list(p.sum) })
	case s.What.Name == "text":
		p.fail(codeSyntax, what.span(p), "the text to %s is missing", first.text(p)).
			WithHelp(`write it in double quotes, as in %s text "Harbour Log"`, first.text(p))
		s.Value = p.badExpr(int(what.end), int(what.end))
	case s.What.Name == "art":
		p.fail(codeSyntax, what.span(p), "the file to %s is missing", first.text(p)).
			WithHelp(`write it in double quotes, as in %s art "gull.svg"`, first.text(p))
		s.Value = p.badExpr(int(what.end), int(what.end))
	}
	return s
}

// decl reads KIND NAME CLAUSE...
func (p *parser) decl(g *grammar) ast.Stmt {
	start := p.pos
	first, second := p.tok(), p.peek(1)
	d := &ast.Decl{Kind: p.ident(first)}
	if second.kind == text {
		d.Title = p.str(second)
	} else {
		d.Name = p.ident(second)
	}
	third := p.peek(2)
	if opensPart(d.Name.Name) && third.kind == word && !opensPart(third.text(p)) {
		p.fail(codeSyntax, second.span(p), "%s has no name", d.Kind.Name).
			WithHelp("write a name between %s and %s", d.Kind.Name, d.Name.Name)
		return new(ast.BadStmt)
	}
	if what := d.Name.Name; third.kind == text && slices.Contains(markKinds(), what) {
		verbs := []string{"engrave", "mark", "score", "cut", "inlay"}
		e := p.fail(codeSyntax, first.span(p), "%s is nothing that can be done with %s", first.text(p), what).
			WithHelp("a mark begins with engrave, mark, score, cut or inlay, as in engrave text \"Harbour Log\"")
		if near := spell.Nearest(first.text(p), verbs); near != "" {
			e.Meant(first.text(p), near)
		}
		return new(ast.BadStmt)
	}
	h, wrong := head(p, g.decl)
	p.pos = start
	for _, c := range h.Clauses {
		switch {
		case c.Cond != nil:
			w := p.at(c.When)
			cond := p.inside(*c.Cond, p.condition)
			d.Clauses = append(d.Clauses, ast.Clause{At: w.span(p).To(cond.Span()), Word: p.ident(w), Target: cond})
		case len(c.Target) > 0:
			w := p.at(c.Word)
			name := p.nameOf(c.Target)
			d.Clauses = append(d.Clauses, ast.Clause{At: w.span(p).To(name.Span()), Word: p.ident(w), Target: name})
		}
	}
	if wrong == nil {
		return d
	}
	d.Broken = true
	p.pos = p.indexOf(*wrong)
	before := p.toks[p.pos-1]
	switch {
	case wrong.kind.sign() != ast.NoOp && p.pos == start+2:
		e := p.fail(codeSyntax, first.span(p).To(second.span(p)), "%s %s is no name that can be set", first.text(p), second.text(p))
		if first.text(p) == "corners" {
			e.WithHelp("corners is all of them; one is stated by its name: corner head-foredge = radius 6")
		} else {
			e.WithHelp("a name is one word; its parts are joined by hyphens (%[1]s-%[2]s) or, for a thing's dimension, by a dot (%[1]s.%[2]s)",
				first.text(p), second.text(p))
		}
		return new(ast.BadStmt)
	case before.kind == word && opensPart(before.text(p)) && p.pos > start+1:
		p.fail(codeSyntax, p.place(*wrong), "%s is not followed by a name", before.text(p)).
			WithHelp("%s", clauseHelp(before.text(p)))
		bad := p.badExpr(int(before.end), int(before.end))
		d.Clauses = append(d.Clauses, ast.Clause{At: before.span(p), Word: p.ident(before), Target: bad})
	case wrong.kind == word:
		e := p.fail(codeSyntax, wrong.span(p), "%s can't stand after %s", p.shown(*wrong), p.firstWords(d)).
			WithHelp("what may stand here: on EDGE, like NAME, mirrors NAME, covers NAME, when CONDITION, or {")
		if near := spell.Nearest(wrong.text(p), []string{"on", "like", "mirrors", "covers", "when"}); near != "" {
			e.Meant(wrong.text(p), near)
		}
	default:
		p.fail(codeSyntax, p.place(*wrong), "%s can't stand after %s", p.shown(*wrong), p.firstWords(d)).
			WithHelp("what is said about %s goes in braces after it", p.firstWords(d))
	}
	return d
}

func clauseHelp(w string) string {
	switch w {
	case "on":
		return "name an edge: on head, on tail, on spine or on foredge"
	case "when":
		return `write what must hold for it to be there, as in when order.initials != ""`
	}
	return "write the name of a thing, as in " + w + " front"
}

// indexOf returns the index of a token of the statement being read, or of its
// end.
func (p *parser) indexOf(t token) int {
	for i := p.pos; i < p.end; i++ {
		if p.toks[i] == t {
			return i
		}
	}
	return p.end
}

// nameOf makes a name of a clause's target: parts with points between.
func (p *parser) nameOf(parts []lexer.Token) *ast.Name {
	n := new(ast.Name)
	for i := 0; i < len(parts); i += 2 {
		t := parts[i]
		n.Parts = append(n.Parts, p.ident(p.at(t)))
	}
	n.SetSpan(n.Parts[0].At.To(n.Parts[len(n.Parts)-1].At))
	p.checkDepth(n)
	return n
}

// str makes the node of a text. A backslash before a quote or another
// backslash takes it as it is; \n is a new line.
func (p *parser) str(t token) *ast.String {
	s := new(ast.String)
	s.SetSpan(t.span(p))
	in := p.text[t.start+1 : t.end-1]
	if strings.IndexByte(in, '\\') < 0 {
		s.Value = in
		return s
	}
	var b strings.Builder
	for i := 0; i < len(in); i++ {
		if in[i] != '\\' {
			b.WriteByte(in[i])
			continue
		}
		i++
		switch in[i] {
		case '"', '\\':
			b.WriteByte(in[i])
		case 'n':
			b.WriteByte('\n')
		default:
			at := int(t.start) + i
			p.fail(codeBackslash, p.span(at, at+2), "the character \\ is not understood before %s", firstChar(in[i:])).
				WithHelp(`write \\ for a backslash, \" for a quote, \n for a new line; in the path of a file use /`)
		}
	}
	s.Value = b.String()
	return s
}
