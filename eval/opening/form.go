package opening

// A Form is the form of a hole or a cutout.
type Form uint8

const (
	Rect  Form = iota // with square or rounded corners; also what states no form
	Round             // a circle
	Slot              // with half circles at its narrow ends
	Hex               // a regular hexagon, two of whose flats run along the row
)

// Forms are all of them, in the order in which help names them.
func Forms() []Form { return []Form{Rect, Round, Slot, Hex} }

// A Size is one of the two sizes of an opening.
type Size uint8

const (
	Along  Size = iota // the row; of a cutout its width
	Across             // the row; of a cutout its height
)

// rules are what one form of opening is.
type rules interface {
	// word is what states the form.
	word() string
	// sizes are those that a statement of the form gives, in its order.
	sizes() []Size
	// tie is how the size that isn't stated follows from the stated one: by
	// which factor, and why, in words. why is empty for a form whose sizes are
	// both stated.
	tie() (factor float64, why string)
	// corners reports whether the form may state a radius of its corners.
	corners() bool
	// eased is the opening grown by half the ease on every side.
	eased(o Opening, ease float64) Opening
	// area is that of the opening, in mm².
	area(o Opening) float64
	// depth is how deep a point lies inside the opening: its distance from the
	// rim, below 0 outside (where it need not be the distance, but falls off
	// concavely). along and across are its distances from the middle.
	depth(o Opening, along, across float64) float64
}

func (f Form) rules() rules {
	switch f {
	case Round:
		return round{}
	case Slot:
		return slot{}
	case Hex:
		return hex{}
	}
	return rect{}
}

func (f Form) String() string { return f.rules().word() }

// Sizes are those that a statement of the form gives, in its order.
func (f Form) Sizes() []Size { return f.rules().sizes() }

// Tied is the size that follows from the one that is stated, by which factor,
// and why; ok is false for a form whose sizes are both stated.
func (f Form) Tied() (size Size, factor float64, why string, ok bool) {
	factor, why = f.rules().tie()
	if why == "" {
		return 0, 0, "", false
	}
	return 1 - f.Sizes()[0], factor, why, true
}

// Corners reports whether the form may state a radius of its corners.
func (f Form) Corners() bool { return f.rules().corners() }

// JawsReadLow reports whether the flats of inside jaws touch the opening on a
// chord, and so read it too small.
func (f Form) JawsReadLow() bool { return f == Round }

// Find finds the form that a word states.
func Find(word string) (Form, bool) {
	for _, f := range Forms() {
		if f.String() == word {
			return f, true
		}
	}
	return 0, false
}

// An Opening is a hole or a cutout, in mm.
type Opening struct {
	Form          Form
	Along, Across float64
	Radius        float64 // of a rect's corners, 0 for square ones
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

// Ease is by how much each size of an opening grows with an ease of 1.
func (f Form) Ease() (along, across float64) {
	o := f.rules().eased(Opening{Form: f}, 1)
	return o.Along, o.Across
}

// Usage says how openings are written.
func Usage() string {
	return "rect ALONG by ACROSS, round DIAMETER or slot ALONG by ACROSS"
}
