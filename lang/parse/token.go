package parse

import "foredge/lang/ast"

// A kind says what a token is.
type kind uint8

const (
	eof kind = iota
	eol
	semi
	word
	number
	text // a string in double quotes, quotes included
	lbrace
	rbrace
	lparen
	rparen
	comma
	dot
	eq
	ne
	lt
	le
	gt
	ge
	plus
	minus
	star
	slash
	within // ± or +/-
	percent
	bad // characters that mean nothing; reported where they were met
)

// A token is a stretch of the text, by byte offsets. Tokens are kept small:
// a file has a few hundred of them for each kilobyte.
type token struct {
	kind       kind
	start, end int32
}

// endsStmt reports whether no statement reaches past the token.
func (k kind) endsStmt() bool {
	switch k {
	case eof, eol, semi, lbrace, rbrace:
		return true
	}
	return false
}

// sign returns the operator of a token that compares, or NoOp.
func (k kind) sign() ast.Op {
	switch k {
	case eq:
		return ast.Eq
	case ne:
		return ast.Ne
	case lt:
		return ast.Lt
	case le:
		return ast.Le
	case gt:
		return ast.Gt
	case ge:
		return ast.Ge
	}
	return ast.NoOp
}

// A comment is a stretch of the text, by byte offsets, from # to the end of
// its line.
type comment struct {
	start, end int32
	blank      bool // an empty line stands before it
}
