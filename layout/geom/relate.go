package geom

import "math"

// Tol is the depth in mm to which figures may reach into or out of one another
// and still count as touching: the tolerance to which designs are solved. With
// cubics it is [CurveTol].
const Tol = 1e-6

func (b *Boundary) tol(c *Boundary) float64 {
	if b.curved || c.curved {
		return CurveTol
	}
	return Tol
}

// Overlap says whether two figures share more than their edges: whether one
// reaches into the inside of the other by more than [Tol]. An open path has no
// inside but can run through that of another figure.
func Overlap(a, b Figure) bool {
	boxA, boxB := a.Bounds(), b.Bounds()
	if !boxA.Grow(-Tol).Meets(boxB) {
		return false
	}
	switch a := a.(type) {
	case Rect:
		switch b := b.(type) {
		case Rect:
			return true
		case Circle:
			return boxA.Distance(Box{b.Center, b.Center}) < b.R-Tol
		}
	case Circle:
		switch b := b.(type) {
		case Rect:
			return boxB.Distance(Box{a.Center, a.Center}) < a.R-Tol
		case Circle:
			return a.Center.Distance(b.Center) < a.R+b.R-Tol
		}
	}
	return NewBoundary(a).Overlaps(NewBoundary(b))
}

// Overlaps is [Overlap] of the figures that two boundaries bound. It looks at one
// point first: of figures that lie on one another that is the cheapest.
func (b *Boundary) Overlaps(c *Boundary) bool {
	return b.Box.Meets(c.Box) && (b.centred(c) || c.centred(b) || b.Enters(c) || c.Enters(b))
}

// Enters says whether b's boundary runs inside c, deeper than the tolerance.
func (b *Boundary) Enters(c *Boundary) bool {
	if !c.closed {
		return false
	}
	found := false
	b.probes(c, func(x Point) bool {
		found = c.Box.Holds(Box{x, x}) && c.Contains(x) && !c.Within(x, b.tol(c))
		return !found
	})
	return found
}

// centred says whether a point inside b is inside c: the two may be alike.
func (b *Boundary) centred(c *Boundary) bool {
	x, ok := b.Interior()
	return ok && c.closed && c.Contains(x) && !c.Within(x, b.tol(c)) && !b.Within(x, b.tol(c))
}

// Inside says whether inner lies wholly in outer; touching its edge from inside
// is allowed, reaching past it by more than [Tol] is not.
func Inside(outer, inner Figure) bool {
	if !outer.Bounds().Grow(Tol).Holds(inner.Bounds()) {
		return false
	}
	switch o := outer.(type) {
	case Rect:
		return true
	case Circle:
		if c, ok := inner.(Circle); ok {
			return c.Center.Distance(o.Center)+c.R <= o.R+Tol
		}
	}
	return NewBoundary(outer).Holds(NewBoundary(inner))
}

// Holds is [Inside] of the figures that two boundaries bound.
func (b *Boundary) Holds(inner *Boundary) bool {
	tol := b.tol(inner)
	if !b.closed || !b.Box.Grow(tol).Holds(inner.Box) {
		return false
	}
	inside := true
	inner.probes(b, func(x Point) bool {
		inside = b.Contains(x) || b.Within(x, tol)
		return inside
	})
	// A counter of outer within inner shows as outer's boundary inside inner.
	return inside && !b.Enters(inner)
}

// Distance is the least distance in mm between the boundaries of two figures, 0
// where they cross or touch: exact to 1e-7 for lines and arcs, to [CurveTol]
// for cubics.
func Distance(a, b Figure) float64 {
	return NewBoundary(a).distance(NewBoundary(b))
}

// Gap is the material in mm between two figures, exact as [Distance]: 0 if they
// touch, overlap or lie in one another.
func Gap(a, b Figure) float64 {
	switch a := a.(type) {
	case Rect:
		switch b := b.(type) {
		case Rect:
			return a.Bounds().Distance(b.Bounds())
		case Circle:
			return max(0, a.Bounds().Distance(Box{b.Center, b.Center})-b.R)
		}
	case Circle:
		switch b := b.(type) {
		case Rect:
			return Gap(b, a)
		case Circle:
			return max(0, a.Center.Distance(b.Center)-a.R-b.R)
		}
	}
	return NewBoundary(a).Gap(NewBoundary(b))
}

// Gap is [Gap] of the figures that two boundaries bound.
func (b *Boundary) Gap(c *Boundary) float64 {
	if len(b.Pieces) == 0 || len(c.Pieces) == 0 {
		return math.Inf(1)
	}
	d := b.distance(c)
	if d == 0 || !b.Box.Meets(c.Box) {
		return d
	}
	// Apart, each ring of one is inside or outside the other as a whole.
	for _, p := range b.Pieces {
		if c.closed && c.Contains(p.From) {
			return 0
		}
	}
	for _, p := range c.Pieces {
		if b.closed && b.Contains(p.From) {
			return 0
		}
	}
	return d
}
