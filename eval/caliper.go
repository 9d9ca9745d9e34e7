package eval

import (
	"fmt"
	"math"

	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/unit"
)

// A tool is what is known of the tool that gave a reading, in mm (or degrees).
type tool struct {
	gauge      float64 // half width of what it promises; 0 if nothing says it
	resolution float64 // its digital step; 0 where not stated
	flat       float64 // width of the inside jaws' flat that reads a round hole low
}

// tool finds out what read the values of a line. What the notebook states of
// its caliper holds unless the line says more: ± behind a value is all that is
// promised for it, and a fraction is as fine as its denominator.
func (b *builder) tool(it *item, l *resolve.Line, values []ast.Expr, within ast.Expr, k unit.Kind) (tool, bool) {
	if within != nil {
		x, ok := b.expr(within, l.Scope, k, "what stands behind ±")
		if !ok {
			return tool{}, false
		}
		g, known := constant(x)
		if !known || g <= 0 {
			b.diags.Errorf("gauge", within.Span(), "what stands behind ± must be a number above 0").
				WithHelp("it is the half width of what the tool promises, as in width = 148.2 ± 0.05")
			return tool{}, false
		}
		return tool{gauge: g}, true
	}
	var t tool
	var ok bool
	if t.gauge, ok = b.promised(it, "gauge"); !ok {
		return tool{}, false
	}
	if t.resolution, ok = b.promised(it, "resolution"); !ok {
		return tool{}, false
	}
	if k == unit.Length {
		for _, e := range values {
			half := halfDivision(e, l.Scope.File().Unit)
			t.gauge = max(t.gauge, half)
			if half >= coarse {
				b.noteCoarse(e, half)
			}
		}
	}
	return t, true
}

// coarse is half of the divisions, in mm, from which a fraction is more likely
// to be a shortened one: nobody measures a notebook with a rule of halves or
// quarters of an inch.
const coarse = 25.4 / 8

// noteCoarse says how little a fraction is taken to promise.
func (b *builder) noteCoarse(e ast.Expr, half float64) {
	n, _ := fraction(e)
	whole, rest := math.Modf(n.Value)
	finer := fmt.Sprintf("%.0f/16", 16*rest)
	if whole != 0 {
		finer = fmt.Sprintf("%.0f %s", whole, finer)
	}
	in := ""
	if n.Unit != "" {
		in = " " + n.Unit
	}
	b.diags.Warnf("coarse", n.Span(), "%s counts as read on a rule that is divided no finer: ± %s", short(n.Span()), unit.FormatLength(half, unit.Inch)).
		WithHelp("write the rule's own divisions, as in %s%s, or say how good it is, as in %s ± 1/32%s", finer, in, short(n.Span()), in)
}

// promised is what a notebook or stock states of its caliper, 0 where it says
// nothing; false if what it says is wrong.
func (b *builder) promised(it *item, key string) (float64, bool) {
	for top := it; top != nil; top = top.parent {
		if p, ok := top.props[key]; ok {
			return b.promise(top, key, p)
		}
	}
	return 0, true
}

// promise reads one of the properties of a caliper.
func (b *builder) promise(it *item, key string, p prop) (float64, bool) {
	v, ok := b.constantExpr(it, key, p.value, p, unit.Length)
	if ok && v <= 0 {
		b.diags.Errorf("gauge", p.at(), "%s must be a number above 0", key).WithHelp("%s", map[string]string{
			"gauge":      "it is the half width of what the tool promises, as in gauge = 0.03",
			"resolution": "it is the last digit's step of a tool that shows digits, as in resolution = 0.01",
			"jaw-flat":   "it is how wide both inside jaws are together where they touch a round hole, as in jaw-flat = 0.3",
		}[key])
		return 0, false
	}
	return v, ok
}

// halfDivision is half a division of the rule on which a fraction was read: a
// thirty-second of an inch for 5 3/16. It is 0 for other numbers.
func halfDivision(e ast.Expr, in unit.Unit) float64 {
	n, ok := fraction(e)
	if !ok {
		return 0
	}
	if u, ok := unit.Lookup(n.Unit); ok && u.Kind == unit.Length {
		in = u
	}
	return in.Size / float64(n.Denominator) / 2
}

// fraction is an expression that is a fraction and nothing else.
func fraction(e ast.Expr) (*ast.Number, bool) {
	for {
		p, ok := e.(*ast.Paren)
		if !ok {
			break
		}
		e = p.X
	}
	n, ok := e.(*ast.Number)
	return n, ok && n.Denominator != 0
}

// widen turns what inside jaws read of a round hole into its diameter. Their
// two flats, w wide together, touch the hole on a chord, so that they read
// sqrt(D² - w²).
func (t tool) widen(read float64) float64 {
	if t.flat == 0 {
		return read
	}
	return math.Hypot(read, t.flat)
}

// uncertainty is the standard uncertainty of the mean of n values with the
// sample standard deviation s: u² = g²/3 + d²/12 + s²/n (JCGM 100:2008, 4.3.7
// for the promise, F.2.2.1 for the digital step, 4.2.3 for the repeats).
func (t tool) uncertainty(s float64, n int) float64 {
	return math.Sqrt(t.gauge*t.gauge/3 + t.resolution*t.resolution/12 + s*s/float64(n))
}
