package opening

// An Opening is a hole or a cutout, in mm.
type Opening struct {
	Form          Form
	Along, Across float64
	Radius        float64 // of a rect's corners, 0 for square ones
}

// Regular is the opening with the size that isn't stated as it follows from the
// stated one.
func (o Opening) Regular() Opening {
	tied, factor, _, ok := o.Form.Tied()
	if ok {
		*o.size(tied) = *o.size(tied.other()) * factor
	}
	return o
}

// Stated is the first of the sizes that a statement gives, and the only one of a
// form that states one.
func (o Opening) Stated() float64 { return *o.size(o.Form.Sizes()[0]) }

func (o *Opening) size(s Size) *float64 {
	if s == Across {
		return &o.Across
	}
	return &o.Along
}

// Spanning is the least opening of the form that is at least so long and so
// wide, with the same corners.
func (o Opening) Spanning(along, across float64) Opening {
	o.Along, o.Across = along, across
	tied, factor, _, ok := o.Form.Tied()
	if ok {
		stated := o.size(tied.other())
		*stated = max(*stated, *o.size(tied)/factor)
	}
	return o.Regular()
}

// Lengthened is the opening as long as given, if it is shorter and its length
// follows from nothing else.
func (o Opening) Lengthened(along float64) Opening {
	if _, _, _, tied := o.Form.Tied(); !tied {
		o.Along = max(o.Along, along)
	}
	return o
}

// Wider is the opening with more of the size that is stated, across the row
// where both are.
func (o Opening) Wider(by float64) Opening {
	stated := Across
	if tied, _, _, ok := o.Form.Tied(); ok {
		stated = tied.other()
	}
	*o.size(stated) += by
	return o.Regular()
}

// Eased is the opening with all of its rim moved out by half the ease.
func (o Opening) Eased(ease float64) Opening { return o.Form.rules().eased(o, ease) }

// Area is in mm².
func (o Opening) Area() float64 { return o.Form.rules().area(o) }

// Depth is how deep a point lies inside the opening, at the given distances
// from its middle: how far from the rim, below 0 outside.
func (o Opening) Depth(along, across float64) float64 {
	return o.Form.rules().depth(o, along, across)
}

// Square reports whether the opening is a rectangle with square corners, so that
// whatever is no longer and no wider goes through.
func (o Opening) Square() bool { return o.Form.rules().square(o) }
