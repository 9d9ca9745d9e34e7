package parse

import "foredge/lang/source"

// A TokenKind says what a [Token] is.
type TokenKind uint8

const (
	Word    TokenKind = iota // a name, or a word of the language
	Number                   // without its unit
	Text                     // in its quotes
	Sign                     // an operator, a bracket, a brace, a comma or ;
	Comment                  // from # to the end of its line
	Bad                      // what means nothing
)

// A Token is a stretch of a text that can't be divided, by byte offsets.
type Token struct {
	Kind       TokenKind
	Start, End int
}

// Tokens cuts a text up, comments among the rest, for those who show or lay out a
// design as it is written. Between two tokens there are only blanks and line ends.
// It takes any bytes.
func Tokens(src *source.File) []Token {
	p := &parser{src: src, text: src.Text()}
	if !p.checkText() {
		return nil
	}
	p.scan()
	out := make([]Token, 0, len(p.toks)+len(p.comments))
	comments := p.comments
	for _, t := range p.toks {
		for len(comments) > 0 && comments[0].start <= t.start {
			out = append(out, Token{Comment, int(comments[0].start), int(comments[0].end)})
			comments = comments[1:]
		}
		if t.kind != eof && t.kind != eol {
			out = append(out, Token{t.kind.shown(), int(t.start), int(t.end)})
		}
	}
	return out
}

// shown is what a token is to those who only show it.
func (k kind) shown() TokenKind {
	switch k {
	case word:
		return Word
	case number:
		return Number
	case text:
		return Text
	case bad:
		return Bad
	}
	return Sign
}
