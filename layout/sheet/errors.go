package sheet

import (
	"fmt"
	"math"

	"foredge/layout/geom"
)

// A FitError says that a part fits no sheet that it may lie on.
type FitError struct {
	Part          string
	Width, Height float64 // mm
	Group         string
	// Room is the largest width and height in mm that a sheet of the group leaves within its margins;
	// both are 0 if the group has no sheet.
	Room  geom.Point
	Stock string // of the stock with that room
	// Turned says that it would fit if it might be turned: what it may not by itself or by its grain.
	Turned bool
}

func (e *FitError) Error() string {
	if e.Room == (geom.Point{}) {
		return fmt.Sprintf("%s is to be cut from %q, and there is none", e.Part, e.Group)
	}
	room := fmt.Sprintf("%.4g by %.4g mm", e.Room.X, e.Room.Y)
	if math.IsInf(e.Room.Y, 1) {
		room = fmt.Sprintf("a strip %.4g mm wide", e.Room.X)
	}
	if e.Turned {
		return fmt.Sprintf("%s, %.6g by %.6g mm, fits %s only turned by a quarter, and it may not be", e.Part, e.Width, e.Height, room)
	}
	return fmt.Sprintf("%s, %.6g by %.6g mm, is too large for %s", e.Part, e.Width, e.Height, room)
}

// A ShortError says that there is too little stock: of some part so many found no room.
type ShortError struct {
	Part    string // the first of them
	Missing int    // of all parts
	Group   string
}

func (e *ShortError) Error() string {
	if e.Missing == 1 {
		return fmt.Sprintf("the sheets of %q are too few: no room was found for %s", e.Group, e.Part)
	}
	return fmt.Sprintf("the sheets of %q are too few: no room was found for %d parts, among them %s", e.Group, e.Missing, e.Part)
}

// An InputError says that a number of the job means nothing.
type InputError struct {
	Of     string // the part or stock
	What   string
	Number float64
}

func (e *InputError) Error() string { return fmt.Sprintf("%s: %s can't be %g", e.Of, e.What, e.Number) }

// largest is how large in mm a part or sheet may be: 100 m.
const largest = 1e5

// most is how many parts a job may have.
const most = 1_000_000

func checkPart(p Part) error {
	for _, n := range []struct {
		what string
		v    float64
	}{{"its width", p.Width}, {"its height", p.Height}} {
		if !(n.v >= 1e-3 && n.v <= largest) {
			return &InputError{p.Name, n.what, n.v}
		}
	}
	if p.Count < 0 || p.Count > most {
		return &InputError{p.Name, "its count", float64(p.Count)}
	}
	return nil
}
