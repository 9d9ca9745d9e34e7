package relation

import "math"

// A Range is where a value may lie, its ends among it; either may be infinite.
type Range struct{ Low, High float64 }

// Anywhere is the range of which nothing is known.
func Anywhere() Range { return Range{math.Inf(-1), math.Inf(1)} }

// Range is a range that e can't leave, by interval arithmetic (Moore, Kearfott and Cloud,
// Introduction to Interval Analysis, 2009, chapters 2 and 5). It asks for the range of each
// part, from e down, whether that is known, and works it out from those of its arguments
// where it isn't. Where dimensions stand in several parts it is wider than it need be.
func (e *Expr) Range(known func(*Expr) (Range, bool)) Range {
	if r, ok := known(e); ok {
		return r
	}
	args := make([]Range, len(e.Args))
	for i := range e.Args {
		args[i] = e.Args[i].Range(known)
	}
	if r := e.span(args); r.Low <= r.High {
		return r
	}
	return Anywhere() // it can't be computed, or not there
}

// span is the range of e where its arguments have the given ones, NaN where it isn't known.
func (e *Expr) span(args []Range) Range {
	if e.Op == Const {
		return Range{e.Value, e.Value}
	}
	if e.Op == Sum || e.Op == Product {
		out := Range{}
		if e.Op == Product {
			out = Range{1, 1}
		}
		for _, a := range args {
			if e.Op == Sum {
				out = Range{out.Low + a.Low, out.High + a.High}
			} else {
				out = out.times(a)
			}
		}
		return out
	}
	if len(args) < e.Op.takes() {
		return Anywhere()
	}
	a := args[0]
	switch e.Op {
	case Quotient:
		return a.over(args[1])
	case Min, Max:
		pick := math.Min
		if e.Op == Max {
			pick = math.Max
		}
		for _, b := range args[1:] {
			a = Range{pick(a.Low, b.Low), pick(a.High, b.High)}
		}
		return a
	case Abs:
		low, high := math.Abs(a.Low), math.Abs(a.High)
		if a.Low <= 0 && a.High >= 0 {
			return Range{0, max(low, high)}
		}
		return Range{min(low, high), max(low, high)}
	case Sqrt:
		return Range{math.Sqrt(max(a.Low, 0)), math.Sqrt(a.High)}
	case Cos:
		return Range{-1, 1}
	case Acos:
		return Range{0, 180}
	case Floor, Ceil: // neither falls as its argument grows
		return Range{e.apply([]float64{a.Low}), e.apply([]float64{a.High})}
	}
	return Anywhere()
}

// times is the range of a product.
func (a Range) times(b Range) Range {
	out := Range{math.Inf(1), math.Inf(-1)}
	for _, x := range []float64{a.Low, a.High} {
		for _, y := range []float64{b.Low, b.High} {
			p := x * y
			if x == 0 || y == 0 {
				p = 0 // also by what has no end: 0 times any value is 0
			}
			out = Range{math.Min(out.Low, p), math.Max(out.High, p)}
		}
	}
	return out
}

// Narrow is what is left of a range of a dimension where e lies in another, by the step
// back of interval arithmetic (Benhamou and others, Revising Hull and Box Consistency,
// 1999): each part in which the dimension stands lies where the rest of e lets it. It asks
// for the ranges of parts as [Expr.Range] does.
func (e *Expr) Narrow(v VarID, left, in Range, known func(*Expr) (Range, bool)) Range {
	if e.Op == Ref {
		if e.Var == v {
			left = left.And(in)
		}
		return left
	}
	for i := range e.Args {
		if part := &e.Args[i]; part.Mentions(func(o VarID) bool { return o == v }) {
			left = part.Narrow(v, left, e.back(i, in, known), known)
		}
	}
	return left
}

// Narrow is what is left of a range of a dimension where the sides of r are as its sign
// asks, each of them narrowed as [Expr.Narrow] does.
func (r *Relation) Narrow(v VarID, to Range, known func(*Expr) (Range, bool)) Range {
	left, right := r.Right.Range(known), r.Left.Range(known)
	switch r.Sign {
	case LE:
		left.Low, right.High = math.Inf(-1), math.Inf(1)
	case GE:
		left.High, right.Low = math.Inf(1), math.Inf(-1)
	}
	return r.Right.Narrow(v, r.Left.Narrow(v, to, left, known), right, known)
}

// back is where an argument of e lies where e lies in a range.
func (e *Expr) back(i int, in Range, known func(*Expr) (Range, bool)) Range {
	switch e.Op {
	case Sum, Product:
		rest := Expr{Op: e.Op}
		rest.Args = append(append(rest.Args, e.Args[:i]...), e.Args[i+1:]...)
		by := rest.Range(known)
		if e.Op == Sum {
			return Range{in.Low - by.High, in.High - by.Low}
		}
		return in.over(by)
	case Quotient:
		if len(e.Args) != 2 {
			break
		}
		other := e.Args[1-i].Range(known)
		if i == 0 {
			return in.times(other)
		}
		return other.over(in)
	case Min:
		return Range{in.Low, math.Inf(1)}
	case Max:
		return Range{math.Inf(-1), in.High}
	case Abs:
		return Range{-in.High, in.High}
	case Floor, Ceil:
		size := e.Value
		if size == 0 {
			size = 1
		}
		// What rounding alone keeps from a whole number is taken to it, by [step].
		low, high := in.Low-1e-7*max(size, math.Abs(in.Low)), in.High+1e-7*max(size, math.Abs(in.High))
		if e.Op == Floor {
			return Range{low, high + size}
		}
		return Range{low - size, high}
	}
	return Anywhere()
}

// And is where both ranges are.
func (a Range) And(b Range) Range { return Range{max(a.Low, b.Low), min(a.High, b.High)} }

// over is where x lies if x times a value of b lies in a. Where b may be 0 that is only
// known of an a above 0 and a b that isn't below.
func (a Range) over(b Range) Range {
	switch {
	case b.Low > 0 || b.High < 0:
		return a.times(Range{1 / b.High, 1 / b.Low})
	case b.Low == 0 && b.High > 0 && a.Low > 0:
		return Range{a.Low / b.High, math.Inf(1)}
	}
	return Anywhere()
}
