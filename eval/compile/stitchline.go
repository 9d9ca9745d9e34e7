package compile

import (
	"math"

	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/word"
)

// make is the line as far inside as the inset says: its sides from the head on, each
// with the corner after it. A corner without length stays a piece of length 0.
func (o *outlineOf) make() *stitchLine {
	l := &stitchLine{pieces: make([]relation.Expr, 8), there: make([]bool, 8), sharp: make([]bool, 8)}
	for i := range l.there {
		l.there[i] = true
	}
	// Ours are head-spine, head-foredge, tail-spine, tail-foredge; the corners run
	// after head, foredge, tail and spine.
	order := [4]int{1, 3, 2, 0}
	taken := [4]relation.Expr{} // what each takes off its sides
	for i, k := range order {
		corner := &o.corners[k]
		taken[i], l.pieces[2*i+1] = o.corner(corner)
		smooth := corner.Form == word.Radius && !isZero(corner)
		l.sharp[2*i+1] = !smooth && isCut(corner)
		l.sharp[(2*i+2)%8] = !smooth
	}
	side := func(size relation.Expr, before, after int) relation.Expr {
		return relation.Minus(size, relation.Add(taken[before], taken[after]))
	}
	l.pieces[0], l.pieces[2], l.pieces[4], l.pieces[6] = side(o.w, 3, 0), side(o.h, 0, 1), side(o.w, 1, 2), side(o.h, 2, 3)
	if o.arched {
		o.underArch(l, taken)
	}
	return l
}

// isZero reports a corner that is stated to be of no size.
func isZero(c *model.Corner) bool {
	size, ok := c.Size.Get()
	v, known := size.Constant()
	return !ok || known && v == 0
}

// isCut reports a corner that has an edge of its own.
func isCut(c *model.Corner) bool {
	return (c.Form == word.Chamfer || c.Form == word.Scoop) && !isZero(c)
}

// corner is how far from the sides' meeting point a line along them ends, and how long
// it is in the corner.
func (o *outlineOf) corner(c *model.Corner) (taken, long relation.Expr) {
	d, size := o.inset, c.Size.Or(relation.C(0))
	switch {
	case c.Form == word.Radius && !isZero(c):
		return size, relation.Mul(relation.C(math.Pi/2), relation.Minus(size, d))
	case c.Form == word.Chamfer && isCut(c):
		return relation.Add(size, relation.Mul(relation.C(math.Sqrt2-1), d)),
			relation.Add(relation.Mul(relation.C(math.Sqrt2), size), relation.Mul(relation.C(2-2*math.Sqrt2), d))
	case c.Form == word.Scoop && isCut(c):
		r := relation.Add(size, d)
		return leg(r, d), relation.Mul(relation.C(math.Pi/180), r,
			relation.Minus(relation.Mul(relation.C(2), relation.Call(relation.Acos, relation.Div(d, r))), relation.C(90)))
	}
	return d, relation.C(0)
}

// leg is the other leg of a right triangle.
func leg(long, short relation.Expr) relation.Expr {
	return relation.Call(relation.Sqrt, relation.Call(relation.Max, relation.C(0), relation.Minus(relation.Mul(long, long), relation.Mul(short, short))))
}

// underArch makes the head an arc. A square corner below it is as a round one whose
// radius is the inset.
func (o *outlineOf) underArch(l *stitchLine, taken [4]relation.Expr) {
	half := relation.Div(o.w, relation.C(2))
	radius := relation.Div(relation.Add(relation.Mul(half, half), relation.Mul(o.arch, o.arch)), relation.Mul(relation.C(2), o.arch))
	inside := relation.Minus(radius, o.inset)
	var turn [2]relation.Expr // of the arch on each side, in degrees
	var foot [2]relation.Expr // how far below the top of the arch the side begins
	for i, at := range [2]int{3, 0} {
		r := taken[at]
		toSide, toArch := relation.Minus(half, r), relation.Minus(radius, r)
		// toSide / toArch, which is 1 for half a circle, with corners as round too.
		part := relation.Minus(relation.C(1), relation.Div(relation.Minus(radius, half), relation.Call(relation.Max, relation.C(1e-9), toArch)))
		part = relation.Call(relation.Max, relation.C(0), relation.Call(relation.Min, relation.C(1), part))
		turn[i] = relation.Minus(relation.C(90), relation.Call(relation.Acos, part))
		foot[i] = relation.Minus(radius, leg(toArch, toSide))
		l.pieces[2*at+1] = relation.Mul(relation.C(math.Pi/180), relation.Minus(r, o.inset), relation.Minus(relation.C(90), turn[i]))
	}
	l.pieces[0] = relation.Mul(relation.C(math.Pi/180), inside, relation.Add(turn[0], turn[1]))
	l.pieces[6] = relation.Minus(o.h, relation.Add(foot[0], taken[2]))
	l.pieces[2] = relation.Minus(o.h, relation.Add(foot[1], taken[1]))
}
