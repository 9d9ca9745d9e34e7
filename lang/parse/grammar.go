package parse

import (
	"io"
	"sync"

	"github.com/alecthomas/participle/v2"
	"github.com/alecthomas/participle/v2/lexer"

	"foredge/lang/source"
)

// This file holds the grammar of what a statement opens with: the statements
// that start with a word of the language, and the heads of blocks. Package
// participle reads them; blocks themselves, and with them recovery, are in
// block.go, values in expr.go.

// A stretch is a run of tokens that holds a value. It ends before a word that
// opens the next part of the statement. [parser.inside] reads it afterwards.
type stretch struct {
	from, to int // indices into the tokens of the statement
}

// Parse takes the tokens of the stretch. A word such as weight or when ends
// it only after something that can end a value, so that a thing may bear its
// name: in `prefer weight = 3 weight 2` the first is a name.
func (s *stretch) Parse(lex *lexer.PeekingLexer) error {
	s.from = int(lex.RawCursor())
	ended, depth := false, 0
	for t := lex.Peek(); !t.EOF(); t = lex.Peek() {
		if t.Type == typeWord && ended && depth == 0 && opensPart(t.Value) {
			break
		}
		ended = true
		switch {
		case t.Type == typeWord:
			ended = !joins(t.Value)
		case t.Type == typeSign:
			switch t.Value {
			case "(":
				depth++
				ended = false
			case ")":
				depth--
			default:
				ended = t.Value == "%"
			}
		}
		lex.Next()
	}
	s.to = int(lex.RawCursor())
	if s.from == s.to {
		return participle.NextMatch
	}
	return nil
}

// A rest is all that is left of a statement.
type rest stretch

// Parse takes all tokens up to the end of the statement.
func (r *rest) Parse(lex *lexer.PeekingLexer) error {
	r.from = int(lex.RawCursor())
	for !lex.Peek().EOF() {
		lex.Next()
	}
	r.to = int(lex.RawCursor())
	if r.from == r.to {
		return participle.NextMatch
	}
	return nil
}

// opensPart reports whether a word opens a further part of a statement.
func opensPart(w string) bool {
	switch w {
	case "weight", "else", "on", "like", "mirrors", "covers", "when":
		return true
	}
	return false
}

// joins reports whether a word stands between two values.
func joins(w string) bool {
	switch w {
	case "and", "or", "not":
		return true
	}
	return false
}

type versionHead struct {
	Number lexer.Token `parser:"'foredge':Word @( Number | Word )"`
}

type unitsHead struct {
	Unit lexer.Token `parser:"'units':Word @Word"`
}

type useHead struct {
	Path  *lexer.Token `parser:"'use':Word ( @Text"`
	Shelf *lexer.Token `parser:"| @Word )"`
}

type letHead struct {
	Name  lexer.Token `parser:"'let':Word @Word '=':Sign"`
	Value *rest       `parser:"@@"`
}

type withoutHead struct {
	Name lexer.Token `parser:"'without':Word @Word"`
}

type preferHead struct {
	Relation *stretch `parser:"'prefer':Word @@"`
	Weight   *stretch `parser:"( 'weight':Word @@ )?"`
}

type checkHead struct {
	Cond    *stretch `parser:"'check':Word @@"`
	Message *stretch `parser:"( 'else':Word @@ )?"`
}

type markHead struct {
	Verb  lexer.Token `parser:"@Word"`
	What  lexer.Token `parser:"@Word"`
	Value *stretch    `parser:"@@?"`
}

type declHead struct {
	Kind    lexer.Token  `parser:"@Word"`
	Name    *lexer.Token `parser:"( @Word"`
	Title   *lexer.Token `parser:"| @Text )"`
	Clauses []clauseHead `parser:"@@*"`
}

type clauseHead struct {
	Word   lexer.Token   `parser:"( @( 'on':Word | 'like':Word | 'mirrors':Word | 'covers':Word )"`
	Target []lexer.Token `parser:"  @( Word ( '.':Sign ( Word | Number ) )* )"`
	When   lexer.Token   `parser:"| @'when':Word"`
	Cond   *stretch      `parser:"  @@ )"`
}

// heads is only there to build all productions at once.
type heads struct {
	Version *versionHead `parser:"  @@"`
	Units   *unitsHead   `parser:"| @@"`
	Use     *useHead     `parser:"| @@"`
	Let     *letHead     `parser:"| @@"`
	Without *withoutHead `parser:"| @@"`
	Prefer  *preferHead  `parser:"| @@"`
	Check   *checkHead   `parser:"| @@"`
	Mark    *markHead    `parser:"| @@"`
	Decl    *declHead    `parser:"| @@"`
}

// A grammar has a parser for each way in which a statement can open. Which
// one applies is known from the first two tokens, so that none is ever
// tried in vain.
type grammar struct {
	version *participle.Parser[versionHead]
	units   *participle.Parser[unitsHead]
	use     *participle.Parser[useHead]
	let     *participle.Parser[letHead]
	without *participle.Parser[withoutHead]
	prefer  *participle.Parser[preferHead]
	check   *participle.Parser[checkHead]
	mark    *participle.Parser[markHead]
	decl    *participle.Parser[declHead]
}

// theGrammar is built when the first file is read: building costs more than
// reading a small file, and commands that read none should not pay for it.
var theGrammar = sync.OnceValue(func() *grammar {
	all := participle.MustBuild[heads](participle.Lexer(definition{}))
	return &grammar{
		version: production[versionHead](all),
		units:   production[unitsHead](all),
		use:     production[useHead](all),
		let:     production[letHead](all),
		without: production[withoutHead](all),
		prefer:  production[preferHead](all),
		check:   production[checkHead](all),
		mark:    production[markHead](all),
		decl:    production[declHead](all),
	}
})

func production[P any](all *participle.Parser[heads]) *participle.Parser[P] {
	p, err := participle.ParserForProduction[P](all)
	if err != nil {
		panic(err) // the grammar above is wrong; no file can cause it
	}
	return p
}

// definition is the lexer of the language for package participle. All signs
// are of one type, since productions name them by their text.
type definition struct{}

const (
	typeWord lexer.TokenType = lexer.EOF - 1 - iota
	typeNumber
	typeText
	typeLineEnd
	typeBad
	typeSign
)

func typeOf(k kind) lexer.TokenType {
	switch k {
	case eof:
		return lexer.EOF
	case word:
		return typeWord
	case number:
		return typeNumber
	case text:
		return typeText
	case eol, semi:
		return typeLineEnd
	case bad:
		return typeBad
	}
	return typeSign
}

// Symbols names the types of tokens for the productions.
func (definition) Symbols() map[string]lexer.TokenType {
	return map[string]lexer.TokenType{
		"EOF": lexer.EOF, "Word": typeWord, "Number": typeNumber, "Text": typeText,
		"LineEnd": typeLineEnd, "Bad": typeBad, "Sign": typeSign,
	}
}

// Lex cuts up a whole text. Characters that mean nothing become tokens of
// type Bad.
func (definition) Lex(filename string, r io.Reader) (lexer.Lexer, error) {
	data, err := io.ReadAll(r)
	if err != nil {
		return nil, err
	}
	src := source.New(filename, data)
	p := &parser{src: src, text: src.Text()}
	p.scan()
	return &tokenLexer{p: p, end: len(p.toks) - 1}, nil
}

// tokenLexer hands the tokens from next up to end to package participle. The
// Offset of a position counts tokens, not bytes: from a token's index both its
// place and its neighbours are known.
type tokenLexer struct {
	p         *parser
	next, end int
}

// Next returns the next token, and EOF at the end of the stretch.
func (l *tokenLexer) Next() (lexer.Token, error) {
	if l.next >= l.end {
		return lexer.EOFToken(lexer.Position{Offset: l.end}), nil
	}
	t := l.p.toks[l.next]
	l.next++
	return lexer.Token{Type: typeOf(t.kind), Value: t.text(l.p), Pos: lexer.Position{Offset: l.next - 1}}, nil
}
