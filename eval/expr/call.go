package expr

import (
	"cmp"

	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// A function is one of the language.
type function struct {
	name string
	op   relation.Op
	args int // how many values it takes; 0 means one or more
}

func functions() []function {
	return []function{{"min", relation.Min, 0}, {"max", relation.Max, 0}, {"abs", relation.Abs, 1}, {"sqrt", relation.Sqrt, 1},
		{"floor", relation.Floor, 1}, {"ceil", relation.Ceil, 1}, {"nearest", relation.Nearest, 2}}
}

// find finds the function that a call names. It reports one that isn't there.
func (c *Compiler) find(e *ast.Call) (function, bool) {
	names := []string{textFunction}
	for _, f := range functions() {
		if f.name == e.Func.Name {
			return f, true
		}
		names = append(names, f.name)
	}
	d := c.Diags.Errorf("unknown-function", e.Func.At, "there is no function called %q", e.Func.Name)
	if near := spell.Nearest(e.Func.Name, names); near != "" {
		d.Meant(e.Func.Name, near)
	} else {
		d.WithHelp("the functions are min, max, abs, sqrt, floor, ceil, nearest(x, step) and text(x)")
	}
	return function{}, false
}

func (c *Compiler) call(e *ast.Call, s *resolve.Scope) (Value, bool) {
	if e.Func.Name == textFunction {
		return c.spelt(e, s)
	}
	f, ok := c.find(e)
	if !ok {
		return Value{}, false
	}
	if f.args > 0 && len(e.Args) != f.args || len(e.Args) == 0 {
		d := c.Diags.Errorf("arguments", e.Span(), "%s takes %s", f.name, [...]string{"one or more values", "one value", "two values"}[f.args])
		if f.op == relation.Nearest {
			d.WithHelp("write nearest(x, step): the multiple of step that is nearest to x")
		}
		return Value{}, false
	}
	args, ok := c.arguments(e, s)
	if !ok {
		return Value{}, false
	}
	out := args[0]
	out.At = e.Span()
	if out.words() {
		c.Diags.Errorf("kind-mismatch", e.Span(), "%s takes numbers", f.name)
		return Value{}, false
	}
	out.Expr = relation.Call(f.op)
	parts := 1
	for _, a := range args {
		out.number = cmp.Or(out.number, a.number)
		out.Expr.Args = append(out.Expr.Args, a.Expr)
		parts += a.parts
	}
	if out, ok = c.grown(out, parts, e.Span()); !ok {
		return Value{}, false
	}
	switch x, known := args[len(args)-1].Expr.Constant(); {
	case f.op == relation.Sqrt && known && x < 0:
		c.Diags.Errorf("impossible", e.Span(), "there is no square root of %s, which is below 0", args[0].At.Short()).
			WithHelp("check this number")
		return Value{}, false
	case f.op == relation.Nearest && known && x <= 0:
		c.Diags.Errorf("impossible", args[1].At, "a step must be above 0").
			WithHelp("write nearest(x, step): the multiple of step that is nearest to x")
		return Value{}, false
	}
	switch f.op {
	case relation.Sqrt:
		return c.root(out, args[0])
	case relation.Floor, relation.Ceil:
		out.Expr.Value = 1
		if out.Kind == unit.Length {
			out.Expr.Value = s.File().Unit.Size
		}
	}
	return out, true
}

// arguments compiles the values that a function takes, all of one kind.
func (c *Compiler) arguments(e *ast.Call, s *resolve.Scope) ([]Value, bool) {
	args := make([]Value, len(e.Args))
	good := true
	for i, a := range e.Args {
		v, ok := c.Value(a, s)
		args[i], good = v, good && ok
	}
	if !good {
		return nil, false
	}
	for i := 1; i < len(args); i++ {
		var ok bool
		if args[0], args[i], ok = c.Harmonise(args[0], args[i], "compared", e.Span()); !ok {
			return nil, false
		}
	}
	// A bare first value that met a length only later on.
	for i := 1; i < len(args); i++ {
		args[0], args[i], _ = c.Harmonise(args[0], args[i], "compared", e.Span())
	}
	return args, true
}

// root gives the square root of a value its kind.
func (c *Compiler) root(out, of Value) (Value, bool) {
	switch {
	case out.Kind == unit.Length && out.Power%2 == 0:
		out.Power /= 2
	case out.Kind == unit.Count:
		out.Kind = unit.Ratio
	case !out.Plain():
		c.Diags.Errorf("kind-mismatch", out.At, "there is no square root of %s", of.Describe()).
			WithHelp("take the root of a plain number, as in width * sqrt(2), or of a product of two lengths")
		return Value{}, false
	}
	return out, true
}
