package motion

import (
	"math"
	"slices"

	"foredge/eval/maybe"
	"foredge/layout/tour"
)

// A Machine is what a maker states of a laser and of what it is to do to a material. A
// number that isn't finite, or not above 0 where it must be, counts as not stated.
type Machine struct {
	// Travel is the speed with the beam off, in mm/s.
	Travel maybe.Of[float64]
	// Acceleration is that of the head, in mm/s², the same in every direction.
	Acceleration maybe.Of[float64]
	// Corner is the speed in mm/s at which the head goes round a right angle, may be 0;
	// other corners it takes with the same jump of velocity.
	Corner maybe.Of[float64]
	// Deviation is how far from a corner the head may pass when it rounds it, in mm. If
	// neither this nor Corner is stated, the head stops at each corner, as it must with no
	// more than its acceleration; if both are, the slower counts.
	Deviation maybe.Of[float64]
	// Ops are what it does in each operation, by tour.Op.
	Ops [tour.Cut + 1]Work
}

// A Work is how an operation is done.
type Work struct {
	Speed  maybe.Of[float64] // mm/s
	Passes maybe.Of[int]     // how often all of it is run; once if not stated
	// Of engraving: the distance of its lines and how far beyond the figure each begins and
	// ends, in mm; if not stated as far as the acceleration needs to reach the speed.
	Interval maybe.Of[float64]
	RunOut   maybe.Of[float64]
	// OneWay has all lines engraved in the same direction, with the way back at the speed
	// of travel.
	OneWay bool
}

// A Quantity is a number that a maker can state.
type Quantity uint8

const (
	Speed Quantity = iota
	Interval
	Acceleration
	Travel
)

// A Need is a number without which the time can't be told.
type Need struct {
	What Quantity
	Op   tour.Op // of Speed and Interval
}

func (n Need) String() string {
	switch n.What {
	case Speed:
		return "speed of " + n.Op.String()
	case Interval:
		return "line interval of " + n.Op.String()
	case Acceleration:
		return "acceleration"
	}
	return "travel speed"
}

// positive is a number that can be reckoned with.
func positive(m maybe.Of[float64]) (float64, bool) {
	v, ok := m.Get()
	return v, ok && v > 0 && !math.IsInf(v, 1)
}

// notNegative is one that may also be 0.
func notNegative(m maybe.Of[float64]) (float64, bool) {
	v, ok := m.Get()
	return v, ok && v >= 0 && !math.IsInf(v, 1)
}

// needs lists what is missing for some operations, and for travel if there is any; lined
// says that all that is engraved has its own distance of lines.
func (m *Machine) needs(ops [tour.Cut + 1]bool, travels, lined bool) (all []Need) {
	for op, used := range ops {
		if !used {
			continue
		}
		if _, ok := positive(m.Ops[op].Speed); !ok {
			all = append(all, Need{Speed, tour.Op(op)})
		}
		if _, ok := positive(m.Ops[op].Interval); !ok && tour.Op(op) == tour.Engrave && !lined {
			all = append(all, Need{Interval, tour.Op(op)})
		}
		travels = travels || m.Ops[op].OneWay && tour.Op(op) == tour.Engrave
	}
	moves := travels || slices.Contains(ops[:], true)
	if _, ok := positive(m.Acceleration); !ok && moves {
		all = append(all, Need{What: Acceleration})
	}
	if _, ok := positive(m.Travel); !ok && travels {
		all = append(all, Need{What: Travel})
	}
	return all
}
