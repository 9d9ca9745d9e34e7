package expr

import (
	"fmt"
	"strconv"
	"strings"

	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/unit"
)

// A Form is the form of an opening or of a corner. Its sizes are read in the
// scope in which it is written.
type Form struct {
	Shape *ast.Shape
	Scope *resolve.Scope
}

// Form is the form that an expression states or names. It is nil for anything
// else; false says that what is wrong has been reported.
func (c *Compiler) Form(e ast.Expr, s *resolve.Scope) (*Form, bool) {
	switch e := e.(type) {
	case *ast.Shape:
		return &Form{e, s}, true
	case *ast.BadExpr:
		return nil, false
	case *ast.Paren:
		return c.Form(e.X, s)
	case *ast.Name:
		sym, problem := s.Lookup(e)
		if problem != nil && problem.Code != "unknown-name" {
			*c.Diags = append(*c.Diags, problem) // it could be either of two things
			return nil, false
		}
		if problem != nil || sym.Let == nil {
			return nil, !sym.Broken
		}
		v, ok := c.Let(sym.Let, e.Span())
		return v.form, ok
	}
	return nil, true
}

// form makes a value of a form that a let holds, and sees that its sizes are
// lengths.
func (c *Compiler) form(e *ast.Shape, s *resolve.Scope) (Value, bool) {
	good := true
	for _, size := range []ast.Expr{e.A, e.B, e.Radius} {
		if size != nil {
			_, ok := c.As(size, s, unit.Length, "a size of a "+e.Word.Name)
			good = good && ok
		}
	}
	return Value{Kind: unit.Form, form: &Form{e, s}, At: e.Span()}, good
}

// chosen is the expression that a let states, of several the one whose
// condition holds. Those that are not taken are only looked through for names:
// what they speak of need not be there.
func (c *Compiler) chosen(l *resolve.Let) (ast.Expr, bool) {
	choice, ok := l.Stmt.Value.(*ast.Choice)
	if !ok {
		return l.Stmt.Value, true
	}
	var taken []ast.Option
	var rest ast.Expr
	good := true
	for _, o := range choice.Options {
		if o.When == nil {
			rest = o.Value
			continue
		}
		holds, known := c.decide(o.When, l.Scope, "which value "+l.Path()+" has")
		good = good && known
		if holds {
			taken = append(taken, o)
		}
	}
	if len(taken) > 0 {
		rest = taken[0].Value
	}
	for _, o := range choice.Options {
		if o.Value != rest {
			good = c.Known(o.Value, l.Scope) && good
		}
	}
	switch {
	case !good:
		return nil, false
	case len(taken) > 1:
		c.Diags.Errorf("two-choices", choice.Span(), "%s has two values%s: %s and %s", l.Path(), c.inHand(choice, l.Scope),
			taken[0].Value.Span().Short(), taken[1].Value.Span().Short()).
			Note(taken[0].Span(), "this one holds").Note(taken[1].Span(), "and this one").
			WithHelp("change the conditions so that only one can hold")
		return nil, false
	case rest == nil:
		c.Diags.Errorf("no-choice", choice.Span(), "%s has no value%s", l.Path(), c.inHand(choice, l.Scope)).
			WithHelp("there is %s: add one for this case, or put a value without when at the end, for all that is left", optionsOf(choice))
		return nil, false
	}
	return rest, true
}

// Known reports whether every name in what is not worked out means something, as in a
// value that is not taken. It reports those that don't.
func (c *Compiler) Known(e ast.Node, s *resolve.Scope) bool {
	good := true
	ast.Walk(e, func(n ast.Node) bool {
		if call, ok := n.(*ast.Call); ok && call.Func.Name != textFunction {
			_, ok := c.find(call)
			good = good && ok
		}
		name, ok := n.(*ast.Name)
		if !ok {
			return true
		}
		sym, problem := s.Lookup(name)
		switch {
		case problem != nil:
			*c.Diags = append(*c.Diags, problem)
			good = false
		case sym.Broken:
			good = false
		case sym.Order != "":
			_, ok := c.column(sym.Order, name)
			good = good && ok
		}
		return false
	})
	return good
}

const (
	mostNamed = 6  // names or choices that a message lists
	mostShown = 40 // characters that it shows of a text
)

// optionsOf lists the values of a choice with their conditions.
func optionsOf(choice *ast.Choice) string {
	var all []string
	for _, o := range choice.Options[:min(len(choice.Options), mostNamed)] {
		all = append(all, o.Value.Span().Short()+" when "+o.When.Span().Short())
	}
	if more := len(choice.Options) - len(all); more > 0 {
		return fmt.Sprintf("%s and %d more", strings.Join(all, ", "), more)
	}
	return strings.Join(all, ", ")
}

// inHand says of the names that the conditions of a choice ask for what they
// are in the case in hand: ` where size = "small" and n = 3`.
func (c *Compiler) inHand(choice *ast.Choice, s *resolve.Scope) string {
	var all []string
	seen := map[string]bool{}
	for _, o := range choice.Options {
		if o.When == nil {
			continue
		}
		ast.Walk(o.When, func(n ast.Node) bool {
			name, ok := n.(*ast.Name)
			if !ok || seen[name.Dotted()] || len(all) == mostNamed {
				return !ok
			}
			seen[name.Dotted()] = true
			if v, ok := c.name(name, s); ok {
				all = append(all, name.Dotted()+" = "+v.shown(s.File().Unit))
			}
			return false
		})
	}
	if len(all) == 0 {
		return ""
	}
	return " where " + strings.Join(all, " and ")
}

// shown writes a value that is known for a message, lengths in the given unit.
func (v Value) shown(in unit.Unit) string {
	if v.Kind == unit.Text {
		if text := []rune(v.Text); len(text) > mostShown {
			return strconv.Quote(string(text[:mostShown]) + "...")
		}
		return strconv.Quote(v.Text)
	}
	x, _ := v.Expr.Constant()
	switch {
	case v.Kind == unit.Length && v.Power == 1:
		return unit.FormatLength(x, in)
	case v.Kind == unit.Angle:
		return unit.FormatNumber(x, digits) + " deg"
	}
	return unit.FormatNumber(x, digits)
}
