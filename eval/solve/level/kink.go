package level

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/sparse"
)

// A kink is a min, max or abs, or a floor, ceil or nearest, that speaks of what is
// open. Its value is a parameter of its own, held by limits from one side: that of a
// max is at least each argument. On which argument it lies is then to be found.
type kink struct {
	expr *relation.Expr
	at   int32 // its parameter
	// args are what a min or max is one of, and an abs: the opposite of its argument,
	// and that. Of stairs it is what they climb along.
	args []sparse.Affine
	step float64 // the height of a stair, 0 for what are no stairs
}

// value is what a kink has to be at a point.
func (k *kink) value(x []float64) float64 {
	args := make([]relation.Expr, len(k.args), len(k.args)+1)
	for i, a := range k.args {
		args[i] = relation.C(a.Value(x))
	}
	switch {
	case k.step > 0:
		return relation.Expr{Op: k.expr.Op, Value: k.step, Args: append(args, relation.C(k.step))}.Eval(nil)
	case k.expr.Op == relation.Min:
		return relation.Call(relation.Min, args...).Eval(nil)
	}
	return relation.Call(relation.Max, args...).Eval(nil)
}

// nearest is the argument on which a kink lies at a point, the first of several.
func (k *kink) nearest(x []float64) int {
	best, off := 0, math.Inf(1)
	for i, a := range k.args {
		v := a.Value(x)
		if k.expr.Op != relation.Min {
			v = -v
		}
		if v < off {
			best, off = i, v
		}
	}
	return best
}

// alone reports whether a kink lies on one argument at a point, and on no other.
func (k *kink) alone(x []float64) bool {
	near := 0
	for _, a := range k.args {
		if math.Abs(a.Value(x)-x[k.at]) <= plan.Tolerance {
			near++
		}
	}
	return k.step == 0 && near == 1
}

// limits are what holds the parameter of a kink from one side, and stairs from both.
func (k *kink) limits() []sparse.Affine {
	own := sparse.Affine{Terms: []sparse.Term{{At: k.at, Coef: 1}}}
	if k.step > 0 {
		over, under := k.band()
		up := own.Plus(-1, k.args[0])
		down := up.Scale(-1)
		up.Const += under
		down.Const += over
		return []sparse.Affine{up, down}
	}
	out := make([]sparse.Affine, 0, len(k.args))
	for _, a := range k.args {
		if k.expr.Op == relation.Min {
			out = append(out, a.Plus(-1, own))
		} else {
			out = append(out, own.Plus(-1, a))
		}
	}
	return out
}

// band is how far stairs may lie above and below what they climb along.
func (k *kink) band() (over, under float64) {
	switch k.expr.Op {
	case relation.Floor:
		return 0, k.step
	case relation.Ceil:
		return k.step, 0
	}
	return k.step / 2, k.step / 2
}

// stair holds what stairs climb along to where they have a height: a little off the
// edges on which it may be another.
func (k *kink) stair(height sparse.Affine) []sparse.Affine {
	over, under := k.band()
	edge := 1e-6 * k.step
	low, high := k.args[0].Plus(-1, height), height.Plus(-1, k.args[0])
	low.Const += over
	high.Const += under
	if k.expr.Op != relation.Floor {
		low.Const -= edge
	}
	if k.expr.Op != relation.Ceil {
		high.Const -= edge
	}
	return []sparse.Affine{low, high}
}

// A bender puts expressions that are straight but for kinks as forms of the
// parameters of a piece.
type bender struct {
	*piece
	local []int32 // parameter of the space to that of a piece
	depth int     // how far an expression has been followed
}

// deepest is how far kinks may stand in one another.
const deepest = 200

// form puts an expression as a form of a piece; ok is false where it isn't straight
// but for kinks.
func (b *bender) form(e *relation.Expr) (a sparse.Affine, ok bool) {
	if f, ok := b.straight(e); ok {
		return b.here(b.design.Problem.Form(f)), true
	}
	if b.depth++; b.depth > deepest {
		return a, false
	}
	defer func() { b.depth-- }()
	switch e.Op {
	case relation.Sum:
		for i := range e.Args {
			part, ok := b.form(&e.Args[i])
			if !ok {
				return a, false
			}
			a = a.Plus(1, part)
		}
		return a, true
	case relation.Product:
		return b.product(e)
	case relation.Quotient:
		if len(e.Args) != 2 {
			return a, false
		}
		under, ok := b.number(&e.Args[1])
		if !ok || under == 0 {
			return a, false
		}
		a, ok = b.form(&e.Args[0])
		return a.Scale(1 / under), ok
	}
	return b.bent(e)
}

// straight is an expression as a linear form, with what is known put in where it
// has to be.
func (b *bender) straight(e *relation.Expr) (relation.Form, bool) {
	f, ok := e.LinearIn(nil, relation.Nothing)
	if !ok {
		f, ok = e.LinearIn(nil, b.design.Problem.Lookup)
	}
	return f, ok && sparse.Finite(f.Const)
}

// number is the value of an expression that speaks of nothing that is open.
func (b *bender) number(e *relation.Expr) (float64, bool) {
	f, ok := e.LinearIn(nil, b.design.Problem.Lookup)
	return f.Const, ok && len(f.Terms) == 0 && sparse.Finite(f.Const)
}

// product is that of numbers and one thing that bends.
func (b *bender) product(e *relation.Expr) (a sparse.Affine, ok bool) {
	k, open := 1.0, -1
	for i := range e.Args {
		if v, ok := b.number(&e.Args[i]); ok {
			k *= v
		} else if open >= 0 {
			return a, false
		} else {
			open = i
		}
	}
	if open < 0 {
		return a, false
	}
	a, ok = b.form(&e.Args[open])
	return a.Scale(k), ok
}

// bent makes a kink of an expression.
func (b *bender) bent(e *relation.Expr) (sparse.Affine, bool) {
	k := kink{expr: e}
	args := e.Args
	switch e.Op {
	case relation.Floor, relation.Ceil:
		k.step, args = e.Value, args[:min(1, len(args))]
		if k.step == 0 {
			k.step = 1
		}
	case relation.Nearest:
		if len(args) != 2 {
			return sparse.Affine{}, false
		}
		step, ok := b.number(&args[1])
		if !ok {
			return sparse.Affine{}, false
		}
		k.step, args = step, args[:1]
	case relation.Min, relation.Max, relation.Abs:
	default:
		return sparse.Affine{}, false
	}
	if len(args) == 0 || k.step < 0 || (e.Op == relation.Abs && len(args) != 1) || (e.Op == relation.Nearest && k.step == 0) {
		return sparse.Affine{}, false
	}
	for i := range args {
		a, ok := b.form(&args[i])
		if !ok {
			return a, false
		}
		k.args = append(k.args, a)
	}
	if e.Op == relation.Abs {
		k.args = append([]sparse.Affine{k.args[0].Scale(-1)}, k.args...)
	}
	return b.add(k), true
}

// here puts a form of the space by the parameters of the piece.
func (b *bender) here(a sparse.Affine) sparse.Affine {
	out := sparse.Affine{Const: a.Const, Grad: a.Grad, Terms: make([]sparse.Term, len(a.Terms))}
	for i, t := range a.Terms {
		out.Terms[i] = sparse.Term{At: b.local[t.At], Coef: t.Coef}
	}
	return out
}

// difference is left - right of a relation. An equation may have what is open under
// the line where all above it and on the other side is known.
func (b *bender) difference(rel *relation.Relation) (a sparse.Affine, ok bool) {
	if rel.Sign == relation.EQ {
		for _, sides := range [2][2]*relation.Expr{{&rel.Left, &rel.Right}, {&rel.Right, &rel.Left}} {
			by, over := sides[0], sides[1]
			if over.Op != relation.Quotient || len(over.Args) != 2 {
				continue
			}
			if k, known := b.number(by); known && !b.known(&over.Args[1]) {
				above, ok1 := b.form(&over.Args[0])
				under, ok2 := b.form(&over.Args[1])
				return above.Plus(-k, under), ok1 && ok2
			}
		}
	}
	left, ok1 := b.form(&rel.Left)
	right, ok2 := b.form(&rel.Right)
	return left.Plus(-1, right), ok1 && ok2
}

func (b *bender) known(e *relation.Expr) bool {
	_, ok := b.number(e)
	return ok
}

// A side is where a kink lies: on one of its arguments, or stairs on a height.
type side struct {
	arg    int
	height float64
}

// flat is an expression with each kink put where it lies.
func flat(e *relation.Expr, on map[*relation.Expr]side) relation.Expr {
	if s, ok := on[e]; ok {
		switch {
		case e.Op == relation.Min, e.Op == relation.Max:
			return flat(&e.Args[s.arg], on)
		case e.Op != relation.Abs:
			return relation.C(s.height)
		case s.arg == 1:
			return flat(&e.Args[0], on)
		}
		return relation.Neg(flat(&e.Args[0], on))
	}
	out := *e
	out.Args = make([]relation.Expr, len(e.Args))
	for i := range e.Args {
		out.Args[i] = flat(&e.Args[i], on)
	}
	return out
}

// flatForm is left - right of what becomes of a relation with each kink put where it
// lies.
func (d *Design) flatForm(left, right *relation.Expr, on map[*relation.Expr]side) (relation.Form, bool) {
	rel := relation.Relation{Left: flat(left, on), Right: flat(right, on)}
	f, ok := rel.Difference(relation.Nothing)
	if !ok {
		f, ok = rel.Difference(d.Problem.Lookup)
	}
	return f, ok && sparse.Finite(f.Const) && !slices.ContainsFunc(f.Terms, func(t relation.Term) bool { return !sparse.Finite(t.Coef) })
}
