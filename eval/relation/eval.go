package relation

import (
	"math"
	"slices"
)

// Eval is the value of e at the given values of all dimensions. It is NaN
// where an argument is, and where e can't be computed: a quotient by 0, the
// square root of what is less than 0, an angle of a cosine beyond 1, the least
// of nothing.
func (e Expr) Eval(values []float64) float64 {
	switch e.Op {
	case Const:
		return e.Value
	case Ref:
		if e.Var < 0 || int(e.Var) >= len(values) {
			return math.NaN()
		}
		return values[e.Var]
	}
	var few [4]float64
	args := few[:0]
	for _, a := range e.Args {
		args = append(args, a.Eval(values))
	}
	return e.apply(args)
}

// Constant is the value of an expression that speaks of no dimension.
func (e Expr) Constant() (float64, bool) {
	v := e.Eval(nil)
	return v, !math.IsNaN(v) && !math.IsInf(v, 0)
}

// degree is one degree in radians: angles are in degrees here.
const degree = math.Pi / 180

// step takes x/size to a whole number where rounding alone keeps it from one,
// so that the floor of 3 * 0.1 / 0.1 is 3: that of the arithmetic, or of a number that
// was printed with nine digits and stated again.
func step(x, size float64, round func(float64) float64) float64 {
	if size == 0 {
		size = 1
	}
	q := x / size
	if n := math.Round(q); math.Abs(q-n) <= 1e-7*max(1, math.Abs(q)) {
		return n * size
	}
	return round(q) * size
}

// nearest is the multiple of size that is nearest to x. What rounding alone keeps from the
// middle of two counts as there, and goes away from 0: else one way to work out 20.5
// stitches comes to 20 of them and the next to 21. That is far less than what a wish
// keeps off the middle.
func nearest(x, size float64) float64 {
	q := x / size
	return math.Round(q+math.Copysign(1e-11*max(1, math.Abs(q)), q)) * size
}

// takes is the least number of arguments of an operation.
func (o Op) takes() int {
	switch o {
	case Quotient, Nearest:
		return 2
	case Sum, Product:
		return 0
	}
	return 1
}

// apply is the value of e where its arguments have the given values.
func (e Expr) apply(args []float64) float64 {
	if len(args) < e.Op.takes() {
		return math.NaN()
	}
	switch e.Op {
	case Sum:
		sum := 0.0
		for _, a := range args {
			sum += a
		}
		return sum
	case Product:
		product := 1.0
		for _, a := range args {
			product *= a
		}
		return product
	case Quotient:
		if args[1] == 0 {
			return math.NaN()
		}
		return args[0] / args[1]
	case Min:
		least := args[0]
		for _, a := range args[1:] {
			least = math.Min(least, a)
		}
		return least
	case Max:
		most := args[0]
		for _, a := range args[1:] {
			most = math.Max(most, a)
		}
		return most
	case Abs:
		return math.Abs(args[0])
	case Sqrt:
		return math.Sqrt(args[0])
	case Cos:
		return math.Cos(args[0] * degree)
	case Acos:
		return math.Acos(args[0]) / degree
	case Floor:
		return step(args[0], e.Value, math.Floor)
	case Ceil:
		return step(args[0], e.Value, math.Ceil)
	case Nearest:
		if args[1] == 0 {
			return math.NaN()
		}
		return nearest(args[0], args[1])
	}
	return math.NaN()
}

// Vars lists the dimensions that e mentions, in order and each once.
func (e Expr) Vars() []VarID {
	var ids []VarID
	e.visit(func(id VarID) { ids = append(ids, id) })
	slices.Sort(ids)
	return slices.Compact(ids)
}

// Only is the dimension that e mentions if it mentions a single one.
func (e Expr) Only() (v VarID, ok bool) {
	if e.Op == Ref {
		return e.Var, true
	}
	ids := e.Vars()
	if len(ids) != 1 {
		return 0, false
	}
	return ids[0], true
}

func (e *Expr) visit(see func(VarID)) {
	if e.Op == Ref {
		see(e.Var)
	}
	for i := range e.Args {
		e.Args[i].visit(see)
	}
}

// Mentions reports whether e mentions a dimension for which is gives true.
func (e *Expr) Mentions(is func(VarID) bool) bool {
	if e.Op == Ref {
		return is(e.Var)
	}
	for i := range e.Args {
		if e.Args[i].Mentions(is) {
			return true
		}
	}
	return false
}

// Vars lists the dimensions that both sides mention, in order and each once.
func (r *Relation) Vars() []VarID {
	ids := make([]VarID, 0, 4)
	see := func(id VarID) { ids = append(ids, id) }
	r.Left.visit(see)
	r.Right.visit(see)
	slices.Sort(ids)
	return slices.Compact(ids)
}

// VarsAt lists the dimensions on which both sides depend at the given values, in
// order and each once: beside a factor of 0 the others don't count.
func (r *Relation) VarsAt(values []float64) []VarID {
	var ids []VarID
	var visit func(e *Expr)
	visit = func(e *Expr) {
		if e.Op == Ref {
			ids = append(ids, e.Var)
		}
		if e.Op == Product {
			for i := range e.Args {
				if e.Args[i].Eval(values) == 0 {
					visit(&e.Args[i])
					return
				}
			}
		}
		for i := range e.Args {
			visit(&e.Args[i])
		}
	}
	visit(&r.Left)
	visit(&r.Right)
	slices.Sort(ids)
	return slices.Compact(ids)
}

// Hides reports whether v stands inside a floor, ceil or nearest of e, through
// which nothing can be solved backwards.
func (e *Expr) Hides(v VarID) bool {
	if e.Op.stairs() {
		return e.Mentions(func(id VarID) bool { return id == v })
	}
	for i := range e.Args {
		if e.Args[i].Hides(v) {
			return true
		}
	}
	return false
}

// Hides reports whether v stands inside a floor, ceil or nearest of either side.
func (r *Relation) Hides(v VarID) bool { return r.Left.Hides(v) || r.Right.Hides(v) }

// Residual is left - right at the given values of all dimensions.
func (r *Relation) Residual(values []float64) float64 {
	return r.Left.Eval(values) - r.Right.Eval(values)
}

// Gradient gives left - right and its partial derivatives at the given values.
func (r *Relation) Gradient(values []float64) (float64, []Term) {
	return r.RoundedGradient(values, 0)
}

// RoundedGradient gives the same of left - right with its kinks (min, max, abs)
// rounded off: near one it slopes to both sides. How near is of the size of
// rounding; with 0 nothing is rounded. Stairs (floor, ceil, nearest) are the slope
// through the middles of their steps then.
func (r *Relation) RoundedGradient(values []float64, rounding float64) (float64, []Term) {
	l, left := r.Left.gradient(values, rounding)
	v, right := r.Right.gradient(values, rounding)
	return l - v, Form{Terms: tidy(left)}.Plus(Form{Terms: tidy(right)}, -1).Terms
}

// HasKinks reports whether a min, max or abs stands in the relation, or a floor,
// ceil or nearest.
func (r *Relation) HasKinks() bool { return r.Left.hasKinks() || r.Right.hasKinks() }

func (e Expr) hasKinks() bool {
	return e.Op.kinked() || e.Op.stairs() || slices.ContainsFunc(e.Args, Expr.hasKinks)
}

func (o Op) kinked() bool { return o == Min || o == Max || o == Abs }

func (o Op) stairs() bool { return o == Floor || o == Ceil || o == Nearest }

// Gradient gives the value of e and its partial derivatives at the given
// values. Where e has a kink (min, max, abs) it is the derivative to one side;
// through floor, ceil and nearest it is 0.
func (e Expr) Gradient(values []float64) (value float64, terms []Term) {
	value, terms = e.gradient(values, 0)
	return value, tidy(terms)
}

func (e Expr) gradient(values []float64, rounding float64) (float64, []Term) {
	switch e.Op {
	case Const:
		return e.Value, nil
	case Ref:
		return e.Eval(values), []Term{{e.Var, 1}}
	}
	args := make([]float64, len(e.Args))
	parts := make([][]Term, len(e.Args))
	for i, a := range e.Args {
		args[i], parts[i] = a.gradient(values, rounding)
	}
	value := e.apply(args)
	if rounding > 0 && len(args) > 0 {
		switch {
		case e.Op.kinked():
			return e.rounded(args, parts, value, rounding)
		case e.Op.stairs():
			return e.middle(args[0]), parts[0]
		}
	}
	var terms []Term
	add := func(i int, k float64) {
		for _, t := range parts[i] {
			terms = append(terms, Term{t.Var, t.Coef * k})
		}
	}
	switch e.Op {
	case Sum:
		for i := range args {
			add(i, 1)
		}
	case Product:
		for i := range args {
			if len(parts[i]) == 0 {
				continue
			}
			k := 1.0
			for j, a := range args {
				if j != i {
					k *= a
				}
			}
			add(i, k)
		}
	case Quotient:
		if len(args) == 2 {
			add(0, 1/args[1])
			add(1, -args[0]/(args[1]*args[1]))
		}
	case Min, Max:
		for i, a := range args {
			if a == value {
				add(i, 1)
				break
			}
		}
	case Abs:
		if len(args) == 1 {
			add(0, math.Copysign(1, args[0]))
		}
	case Sqrt:
		if len(args) == 1 {
			add(0, 0.5/value)
		}
	case Cos:
		if len(args) == 1 {
			add(0, -degree*math.Sin(args[0]*degree))
		}
	case Acos:
		if len(args) == 1 {
			add(0, -1/(degree*math.Sqrt(1-args[0]*args[0])))
		}
	}
	return value, terms
}

// middle is a floor, ceil or nearest of a value as the line through the middles of
// its steps has it.
func (e Expr) middle(v float64) float64 {
	switch e.Op {
	case Floor:
		return v - 0.5
	case Ceil:
		return v + 0.5
	}
	return v
}

// rounded is a min, max or abs with its kink rounded off: of several values the
// logarithm of the sum of their exponentials, in units of rounding.
func (e Expr) rounded(args []float64, parts [][]Term, value, rounding float64) (float64, []Term) {
	side := 1.0
	if e.Op == Min {
		side = -1
	}
	share, sum := make([]float64, len(args)), 0.0
	for i, a := range args {
		share[i] = math.Exp(side * (a - value) / rounding)
		sum += share[i]
	}
	rounded := value + side*rounding*math.Log(sum)
	if e.Op == Abs {
		rounded = math.Hypot(args[0], rounding)
		share[0], sum = args[0], rounded
	}
	var terms []Term
	for i := range args {
		for _, t := range parts[i] {
			terms = append(terms, Term{t.Var, t.Coef * share[i] / sum})
		}
	}
	return rounded, terms
}
