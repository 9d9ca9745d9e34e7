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

// A Size is one of the two sizes of an opening.
type Size uint8

const (
	Along  Size = iota // the row; of a cutout its width
	Across             // the row; of a cutout its height
)

func (s Size) String() string { return [...]string{"along", "across"}[s] }

// other is the other size.
func (s Size) other() Size { return 1 - s }

// rules are what one form of opening is.
type rules interface {
	// word is what states the form.
	word() string
	// usage is how a statement of the form is written.
	usage() string
	// single is how an opening is spoken of whose statement gives one size: it is
	// round, and 4 mm wide. Both are empty for a form that states two.
	single() (adjective, measure string)
	// sign stands for the opening in a drawing made of letters, by two of them.
	sign() string
	// sizes are those that a statement of the form gives, in its order.
	sizes() []Size
	// tie is how the size that isn't stated follows from the stated one: by
	// which factor, and why, in words. why is empty for a form whose sizes are
	// both stated.
	tie() (factor float64, why string)
	// corners reports whether the form may state a radius of its corners.
	corners() bool
	// jawsReadLow reports whether the flats of inside jaws touch the opening on
	// a chord.
	jawsReadLow() bool

	// eased is the opening grown by half the ease on every side.
	eased(o Opening, ease float64) Opening
	// area is that of the opening, in mm².
	area(o Opening) float64
	// depth is how deep a point lies inside the opening: its distance from the
	// rim, below 0 outside (where it need not be the distance, but falls off
	// concavely). along and across are its distances from the middle.
	depth(o Opening, along, across float64) float64
	// square reports whether the opening is a rectangle with square corners.
	square(o Opening) bool

	// room is where the centre of a wire of the given thickness may lie in the
	// opening made larger by more.
	room(o Opening, wire, more float64) Room
	// play is how far a wire may be off to each side from the middle, along the row
	// and across it. pair is how far the wires in the opening reach along the row.
	play(o Opening, wire, pair float64) (along, across float64)
	// grown is the room in the opening grown by so much on each side.
	grown(r Room, by float64) Room
	// left is by how much the opening can shrink on each side before there is no
	// room; below 0 where there is none.
	left(r Room) float64
	// span is how far off across the row the centre may lie at most: a pair may
	// have no room that far off, but none has any beyond.
	span(r Room) float64
	// reach is how far along the row the centre may be off where it is off by
	// across, in the room and within its span; it may be below 0.
	reach(r Room, across float64) float64
	// lacks is by how much the opening must grow on each side for a wire whose
	// centre is off by along and across, neither below 0, to lie in it; below 0 by
	// how much it could shrink.
	lacks(r Room, along, across float64) float64
	// even reports whether the reach is the same anywhere in the span.
	even(r Room) bool
}

func (f Form) String() string { return f.rules().word() }

// Single is how an opening is spoken of whose statement gives one size: it is
// round, and 4 mm wide. ok is false for a form that states two.
func (f Form) Single() (adjective, measure string, ok bool) {
	adjective, measure = f.rules().single()
	return adjective, measure, measure != ""
}

// Sign stands for the opening in a drawing made of letters, by two of them.
func (f Form) Sign() string { return f.rules().sign() }

// Sizes are those that a statement of the form gives, in its order.
func (f Form) Sizes() []Size { return f.rules().sizes() }

// Tied is the size that follows from the one that is stated, by which factor,
// and why; ok is false for a form whose sizes are both stated.
func (f Form) Tied() (size Size, factor float64, why string, ok bool) {
	factor, why = f.rules().tie()
	if why == "" {
		return 0, 0, "", false
	}
	return f.Sizes()[0].other(), factor, why, true
}

// Ties reports whether a size follows from the other, so that reading it tells
// nothing new.
func (f Form) Ties(size Size) bool {
	tied, _, _, ok := f.Tied()
	return ok && size == tied
}

// Corners reports whether the form may state a radius of its corners.
func (f Form) Corners() bool { return f.rules().corners() }

// JawsReadLow reports whether the flats of inside jaws touch the opening on a
// chord, and so read it too small.
func (f Form) JawsReadLow() bool { return f.rules().jawsReadLow() }

// Find finds the form that a word states.
func Find(word string) (Form, bool) {
	for _, f := range Forms() {
		if f.String() == word {
			return f, true
		}
	}
	return 0, false
}

// Ease is by how much each size of an opening grows with an ease of 1.
func (f Form) Ease() (along, across float64) {
	o := f.rules().eased(Opening{Form: f}, 1)
	return o.Along, o.Across
}

// Usage says how openings are written: "rect ALONG by ACROSS or round DIAMETER".
func Usage() string {
	text := ""
	forms := Forms()
	for i, f := range forms {
		switch {
		case i == 0:
		case i == len(forms)-1:
			text += " or "
		default:
			text += ", "
		}
		text += f.rules().usage()
	}
	return text
}
