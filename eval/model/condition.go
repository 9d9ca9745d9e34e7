package model

import (
	"foredge/eval/relation"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// An Ask is how a condition asks: whether all or any of its parts hold, whether
// its one part doesn't, or how its two sides compare.
type Ask uint8

const (
	All Ask = iota
	Any
	None
	Equal
	NotEqual
	Less
	AtMost
	More
	AtLeast
)

// A Condition is a question about solved values.
type Condition struct {
	Ask         Ask
	Parts       []Condition // of All, Any and None
	Left, Right Side        // of the others
}

// A Side is one side of a comparison.
type Side struct {
	Kind unit.Kind
	Expr relation.Expr
	Text string // of a text
	At   source.Span
}

// tolerance is by how much a comparison in mm or degrees may fail from rounding
// alone.
const tolerance = 1e-6

// Holds decides a condition by the values of the dimensions.
func (c Condition) Holds(values []float64) bool {
	switch c.Ask {
	case All:
		return c.Parts[0].Holds(values) && c.Parts[1].Holds(values)
	case Any:
		return c.Parts[0].Holds(values) || c.Parts[1].Holds(values)
	case None:
		return !c.Parts[0].Holds(values)
	}
	if c.Left.Kind == unit.Text {
		return (c.Left.Text == c.Right.Text) == (c.Ask == Equal)
	}
	d := c.Left.Expr.Eval(values) - c.Right.Expr.Eval(values)
	switch c.Ask {
	case Equal:
		return d >= -tolerance && d <= tolerance
	case NotEqual:
		return d < -tolerance || d > tolerance
	case Less:
		return d < -tolerance
	case AtMost:
		return d <= tolerance
	case More:
		return d > tolerance
	}
	return d >= -tolerance
}

// Known reports whether a condition speaks of no dimension.
func (c Condition) Known() bool {
	for _, p := range c.Parts {
		if !p.Known() {
			return false
		}
	}
	if c.Parts != nil || c.Left.Kind == unit.Text {
		return true
	}
	_, left := c.Left.Expr.Constant()
	_, right := c.Right.Expr.Constant()
	return left && right
}
