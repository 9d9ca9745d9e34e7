package relation

import (
	"math"
	"strings"

	"foredge/lang/unit"
)

// Say writes a relation as a maker would: in the maker's own words, or else its
// two sides and, in parentheses, why it holds. Lengths are in the given unit.
func (s *System) Say(r *Relation, in unit.Unit) string {
	if r.Words != "" {
		return r.Words
	}
	return s.equation(r.Left, r.Sign, r.Right, r.Why, in)
}

// SayDefault writes a default like [System.Say].
func (s *System) SayDefault(d *Default, in unit.Unit) string {
	return s.equation(d.Left, EQ, d.Right, d.Why, in)
}

func (s *System) equation(left Expr, sign Sign, right Expr, why string, in unit.Unit) string {
	kind := s.measureOf(left)
	if !kind.known() {
		kind = s.measureOf(right)
	}
	w := writer{s: s, in: in}
	w.expr(left, kind, lowest)
	w.text.WriteString([...]string{EQ: " = ", GE: " >= ", LE: " <= "}[sign])
	w.expr(right, kind, lowest)
	if why != "" {
		w.text.WriteString(" (" + why + ")")
	}
	return w.text.String()
}

// A measure is what sort of value an expression has: the powers of length and
// angle in it, such as a length of 2 for an area. The zero measure is that of a
// plain number, or not known.
type measure struct{ length, angle int }

func (m measure) known() bool { return m != measure{} }

// measureOfKind is the measure of a value of a kind.
func measureOfKind(k unit.Kind) measure {
	switch k {
	case unit.Length:
		return measure{length: 1}
	case unit.Angle:
		return measure{angle: 1}
	}
	return measure{}
}

// measureOf works out what sort of value an expression has from the dimensions
// in it.
func (s *System) measureOf(e Expr) measure {
	switch e.Op {
	case Const:
		return measureOfKind(e.Kind)
	case Ref:
		return measureOfKind(s.Vars[e.Var].Kind)
	case Product:
		var m measure
		for _, a := range e.Args {
			m = m.times(s.measureOf(a), 1)
		}
		return m
	case Quotient:
		return s.measureOf(e.Args[0]).times(s.measureOf(e.Args[1]), -1)
	case Sqrt:
		m := s.measureOf(e.Args[0])
		return measure{m.length / 2, m.angle / 2}
	case Sum, Min, Max, Abs, Floor, Ceil, Nearest:
		for _, a := range e.Args {
			if m := s.measureOf(a); m.known() {
				return m
			}
		}
	case Acos:
		return measure{angle: 1}
	}
	return measure{}
}

// times is the measure of a product, or with a sign of -1 of a quotient.
func (m measure) times(by measure, sign int) measure {
	return measure{m.length + sign*by.length, m.angle + sign*by.angle}
}

// How tightly an operator holds its operands, from the loosest on.
const (
	lowest = iota
	summand
	subtrahend
	factor
	divisor
)

// mostTerms is how many terms of a sum are written out; of a longer one its
// ends are.
const mostTerms = 8

// A writer writes expressions.
type writer struct {
	s    *System
	in   unit.Unit
	text strings.Builder
}

// expr writes an expression of the given sort where what stands around it holds
// with the given strength.
func (w *writer) expr(e Expr, m measure, around int) {
	switch e.Op {
	case Const:
		if e.Kind != unit.None {
			m = measureOfKind(e.Kind)
		}
		w.number(e.Value, m)
	case Ref:
		w.text.WriteString(w.s.Vars[e.Var].Name)
	case Sum:
		w.within(around > summand, func() { w.sum(e.Args, m) })
	case Product:
		w.within(around > factor, func() { w.product(e.Args) })
	case Quotient:
		w.within(around >= factor, func() {
			w.expr(e.Args[0], w.s.measureOf(e.Args[0]), factor)
			w.text.WriteString(" / ")
			w.expr(e.Args[1], w.s.measureOf(e.Args[1]), divisor)
		})
	default:
		w.call(e, m)
	}
}

func (w *writer) within(brackets bool, write func()) {
	if brackets {
		w.text.WriteString("(")
	}
	write()
	if brackets {
		w.text.WriteString(")")
	}
}

func (w *writer) number(v float64, m measure) {
	switch {
	case v == 0: // needs no unit
		w.text.WriteString("0")
	case v == math.Pi:
		w.text.WriteString("pi")
	case m == measure{length: 1}:
		w.text.WriteString(unit.FormatLength(v, w.in))
	case m == measure{angle: 1}:
		w.text.WriteString(unit.FormatNumber(v, 3) + " deg")
	default:
		w.text.WriteString(unit.FormatNumber(v, 6))
	}
}

func (w *writer) sum(terms []Expr, m measure) {
	for i, t := range terms {
		if len(terms) > mostTerms && i >= 3 && i < len(terms)-1 {
			if i == 3 {
				w.text.WriteString(" + ...")
			}
			continue
		}
		minus := t.Op == Product && len(t.Args) == 2 && t.Args[0].Op == Const && t.Args[0].Value == -1
		switch {
		case minus && i > 0:
			w.text.WriteString(" - ")
			w.expr(t.Args[1], m, subtrahend)
			continue
		case i > 0:
			w.text.WriteString(" + ")
		}
		w.expr(t, m, summand)
	}
}

func (w *writer) product(factors []Expr) {
	if len(factors) == 2 && factors[0].Op == Const && factors[0].Value == -1 {
		w.text.WriteString("-")
		factors = factors[1:]
	}
	for i, f := range factors {
		if i > 0 {
			w.text.WriteString(" * ")
		}
		m := measure{}
		if f.Op != Const {
			m = w.s.measureOf(f)
		}
		w.expr(f, m, factor)
	}
}

func (w *writer) call(e Expr, m measure) {
	w.text.WriteString(map[Op]string{Min: "min", Max: "max", Abs: "abs", Sqrt: "sqrt", Cos: "cos", Acos: "acos",
		Floor: "floor", Ceil: "ceil", Nearest: "nearest"}[e.Op] + "(")
	for i, a := range e.Args {
		if i > 0 {
			w.text.WriteString(", ")
		}
		inner := m
		switch e.Op {
		case Cos, Acos, Sqrt:
			inner = w.s.measureOf(a)
		}
		w.expr(a, inner, lowest)
	}
	w.text.WriteString(")")
}
