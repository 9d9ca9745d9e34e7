package eval

import (
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// funcs are the functions of the language with the number of values they take;
// -1 means one or more.
func funcs() map[string]int {
	return map[string]int{"min": -1, "max": -1, "abs": 1, "sqrt": 1, "floor": 1, "ceil": 1, "nearest": 2}
}

func funcNames() []string { return []string{"min", "max", "abs", "sqrt", "floor", "ceil", "nearest"} }

func (b *builder) call(e *ast.Call, s *resolve.Scope) (value, bool) {
	name := e.Func.Name
	want, known := funcs()[name]
	if !known {
		d := b.diags.Errorf("unknown-function", e.Func.At, "there is no function called %q", name)
		if near := spell.Nearest(name, funcNames()); near != "" {
			d.WithHelp("did you mean %s?", near)
		} else {
			d.WithHelp("the functions are min, max, abs, sqrt, floor, ceil and nearest(x, step)")
		}
		return value{}, false
	}
	if want >= 0 && len(e.Args) != want || len(e.Args) == 0 {
		d := b.diags.Errorf("arguments", e.Span(), "%s takes %s", name,
			map[int]string{-1: "one or more values", 1: "one value", 2: "two values"}[want])
		if name == "nearest" {
			d.WithHelp("write nearest(x, step): the multiple of step that is nearest to x")
		}
		return value{}, false
	}
	args := make([]value, len(e.Args))
	good := true
	for i, a := range e.Args {
		v, ok := b.value(a, s)
		args[i], good = v, good && ok
	}
	if !good {
		return value{}, false
	}
	for i := 1; i < len(args); i++ {
		var ok bool
		if args[0], args[i], ok = b.harmonise(args[0], args[i], "compared", e.Span()); !ok {
			return value{}, false
		}
	}
	// A bare first value that met a length only later on.
	for i := 1; i < len(args); i++ {
		args[0], args[i], _ = b.harmonise(args[0], args[i], "compared", e.Span())
	}
	out := args[0]
	out.at = e.Span()
	if out.kind == unit.Text || out.kind == unit.Truth {
		b.diags.Errorf("kind-mismatch", e.Span(), "%s takes numbers", name)
		return value{}, false
	}
	exprs := make([]relation.Expr, len(args))
	for i, a := range args {
		exprs[i] = a.expr
	}
	switch x, known := constant(exprs[len(exprs)-1]); {
	case name == "sqrt" && known && x < 0:
		b.diags.Errorf("impossible", e.Span(), "there is no square root of %s, which is below 0", short(args[0].at)).
			WithHelp("check this number")
		return value{}, false
	case name == "nearest" && known && x <= 0:
		b.diags.Errorf("impossible", args[1].at, "a step must be above 0").
			WithHelp("write nearest(x, step): the multiple of step that is nearest to x")
		return value{}, false
	}
	switch name {
	case "min":
		out.expr = relation.Expr{Op: relation.Min, Args: exprs}
	case "max":
		out.expr = relation.Expr{Op: relation.Max, Args: exprs}
	case "abs":
		out.expr = relation.Expr{Op: relation.Abs, Args: exprs}
	case "sqrt":
		out.expr = relation.Expr{Op: relation.Sqrt, Args: exprs}
		switch {
		case out.kind == unit.Length && out.power%2 == 0:
			out.power /= 2
		case out.kind == unit.Count:
			out.kind = unit.Ratio
		case !out.plain():
			b.diags.Errorf("kind-mismatch", e.Span(), "there is no square root of %s", args[0].describe()).
				WithHelp("take the root of a plain number, as in width * sqrt(2), or of a product of two lengths")
			return value{}, false
		}
	case "floor", "ceil":
		op := relation.Floor
		if name == "ceil" {
			op = relation.Ceil
		}
		size := 1.0
		if out.kind == unit.Length {
			size = s.File().Unit.Size
		}
		out.expr = relation.Expr{Op: op, Value: size, Args: exprs}
	case "nearest":
		out.expr = relation.Expr{Op: relation.Nearest, Args: exprs}
	}
	return out, true
}
