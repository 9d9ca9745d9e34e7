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
		if b := args[1]; b.Low > 0 || b.High < 0 {
			return a.times(Range{1 / b.High, 1 / b.Low})
		}
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
