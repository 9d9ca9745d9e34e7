package expr

import (
	"unicode/utf8"

	"foredge/eval/dim"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

const (
	// maxText is how many characters a text may have that is joined of others.
	maxText = 4000
	// maxParts is how many operators a value may have, with those of the named
	// values in it: what a let doubles again and again would else have no end.
	// It is as many as a value may be written with.
	maxParts = 1000
	// digits is how many digits after the point numbers are written with.
	digits = 6
)

// textFunction is the function that writes a number.
const textFunction = "text"

// Text compiles an expression where a text is wanted. It reports a thing that is
// named there; other values that are no texts are left to the caller.
func (c *Compiler) Text(e ast.Expr, s *resolve.Scope) (Value, bool) {
	if !c.noThings(e, s) {
		return Value{}, false
	}
	return c.Value(e, s)
}

// noThings reports the things that an expression joins as if they were texts.
func (c *Compiler) noThings(e ast.Expr, s *resolve.Scope) bool {
	switch e := e.(type) {
	case *ast.Paren:
		return c.noThings(e.X, s)
	case *ast.Binary:
		left := c.noThings(e.L, s)
		return c.noThings(e.R, s) && left
	case *ast.Name:
		sym, problem := s.Lookup(e)
		if problem != nil || sym.Thing == nil || sym.Dim != dim.None {
			return true
		}
		d := c.Diags.Errorf("kind-mismatch", e.Span(), "a text is wanted here, and %s is a %s", e.Dotted(), sym.Thing.Kind.Name)
		if l := s.Behind(e); l != nil {
			hidden(d, e, l, sym.Thing)
		} else {
			d.WithHelp("write the text in quotes, or name it by a let")
		}
		return false
	}
	return true
}

// hidden says of a message about a thing that a named value further out has its
// name.
func hidden(d *diag.Diagnostic, e *ast.Name, l *resolve.Let, t *resolve.Thing) {
	d.Note(l.Stmt.Name.At, "the named value %s, which the %s hides", e.Dotted(), t.Kind.Name).
		WithHelp("give one of the two another name")
}

// join puts one text behind another.
func (c *Compiler) join(e *ast.Binary, l, r Value) (Value, bool) {
	if l.Kind != unit.Text || r.Kind != unit.Text {
		other := l
		if l.Kind == unit.Text {
			other = r
		}
		d := c.Diags.Errorf("kind-mismatch", e.Span(), "%s is %s and %s is %s: only texts can be joined",
			l.At.Short(), l.Describe(), r.At.Short(), r.Describe())
		if !other.words() {
			d.WithHelp("write %s(%s) for the number in digits", textFunction, other.At.Short())
		}
		return Value{}, false
	}
	if utf8.RuneCountInString(l.Text)+utf8.RuneCountInString(r.Text) > maxText {
		c.Diags.Errorf("too-long", e.Span(), "this text has more than %d characters", maxText).
			WithHelp("see which of the texts in it are joined again and again")
		return Value{}, false
	}
	return Value{Kind: unit.Text, Text: l.Text + r.Text, Base: l.Base, At: e.Span()}, true
}

// spelt writes a plain number that is known in digits: text(order.n + 1).
func (c *Compiler) spelt(e *ast.Call, s *resolve.Scope) (Value, bool) {
	if len(e.Args) != 1 {
		c.Diags.Errorf("arguments", e.Span(), "%s takes one value", textFunction).
			WithHelp("write %s(x): the number x in digits", textFunction)
		return Value{}, false
	}
	v, ok := c.Value(e.Args[0], s)
	if !ok {
		return Value{}, false
	}
	if !v.Plain() {
		d := c.Diags.Errorf("kind-mismatch", v.At, "%s takes a plain number, and %s is %s", textFunction, v.At.Short(), v.Describe())
		switch {
		case v.Kind == unit.Text:
			d.WithHelp("leave %s out: write %s alone", textFunction, v.At.Short())
		case v.Kind == unit.Length && v.Power == 1:
			d.WithHelp("divide it by the unit in which it is to be written, as in %s(%s / 1 mm)", textFunction, v.At.Short())
		case v.Kind == unit.Length && v.Power == -1:
			bare := "x"
			if q, ok := e.Args[0].(*ast.Binary); ok {
				bare = q.L.Span().Short()
			}
			d.WithHelp("a number that has no unit is not divided by one: write %s(%s)", textFunction, bare)
		}
		return Value{}, false
	}
	x, known := v.Expr.Constant()
	if !known {
		c.Diags.Errorf("constant", v.At, "%s rests on a dimension, and what a text says must be known before any is worked out", v.At.Short()).
			WithHelp("write numbers, named values (let) or orders")
		return Value{}, false
	}
	return Value{Kind: unit.Text, Text: unit.FormatNumber(x, digits), Base: e.Span().File, At: e.Span()}, true
}

// grown counts the operators of a value that is made of others, and reports one
// that has too many.
func (c *Compiler) grown(v Value, parts int, at source.Span) (Value, bool) {
	if v.parts = parts; parts > maxParts {
		c.Diags.Errorf("too-long", at, "this value has more than %d parts, with those of the named values in it", maxParts).
			WithHelp("multiply where a value is added to itself, or make a part of it the dimension of a thing")
		return Value{}, false
	}
	return v, true
}
