package opening

import "math"

// A Room is where the centre of a round wire may lie within an opening, measured
// from the opening's middle. For a twin loop the centre is that of its pair,
// whose wires lie apart to each side of it along the row.
type Room struct {
	form Form
	// along and across are half the sizes of the room of one wire; below 0 where
	// the wire is thicker than the opening is wide.
	along, across float64
	// corner is the radius of the opening's corners minus that of the wire, and so
	// may be below 0. It says nothing unless the corners are rounded.
	corner  float64
	rounded bool
	apart   float64
}

// Room is the room of a wire in the opening made larger by more. pair is how far
// the wires in the opening reach along the row: the wire's thickness where there
// is but one.
func (o Opening) Room(wire, pair, more float64) Room {
	r := o.Form.rules().room(o, wire, more)
	r.form, r.apart = o.Form, max(0, pair-wire)/2
	return r
}

// Play is how far the wires in the opening may be off to each side, along the
// row and across it; below 0 where they don't go through. pair is how far they
// reach along the row.
func (o Opening) Play(wire, pair float64) (along, across float64) {
	return o.Form.rules().play(o, wire, pair)
}

// Grown is the room in the opening grown by so much on each side.
func (r Room) Grown(by float64) Room { return r.form.rules().grown(r, by) }

// Left is by how much the opening can shrink on each side before there is no
// room; below 0 where there is none.
func (r Room) Left() float64 { return r.form.rules().left(r) }

// Span is how far off across the row the centre may lie at most, to each side. A
// pair may have no room that far off ([Room.Reach] says); none has any beyond.
func (r Room) Span() float64 { return r.form.rules().span(r) }

// Reach is how far along the row the centre may be off, to each side, where it is
// off by across; below 0 if it may not lie there at all.
func (r Room) Reach(across float64) float64 {
	across = math.Abs(across)
	if across > r.across || r.along < r.apart {
		return -1
	}
	return r.form.rules().reach(r, across)
}

// Lacks is by how much the opening must grow on each side for the centre to lie
// in the room, given its place; below 0 by how much it could shrink.
func (r Room) Lacks(along, across float64) float64 {
	return r.form.rules().lacks(r, math.Abs(along)+r.apart, math.Abs(across))
}

// Even reports whether the reach is the same anywhere in the span: the room is a
// rectangle.
func (r Room) Even() bool { return r.form.rules().even(r) }
