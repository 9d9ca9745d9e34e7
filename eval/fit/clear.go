package fit

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/eval/outcome"
	"foredge/eval/relation"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Clearance says how surely the holes of a panel's row clear the wire.
type Clearance struct {
	Name string // front.wire
	At   source.Span
	Unit unit.Unit
	// Missing says why there is no probability, in words that follow "because":
	// empty if there is one.
	Missing string
	Opening opening.Opening // as it is to be cut
	// RoomAlong and RoomAcross are by how much the wire may be off to each side;
	// absent where its thickness is not stated.
	RoomAlong, RoomAcross maybe.Of[float64]
	// KerfWithin is the half width within which the kerf is known; 0 for exact.
	KerfWithin float64
	// Probability is that of every hole clearing the wire; absent where something
	// is missing. Error is its standard error where it was simulated, 0 where it
	// was worked out.
	Probability maybe.Of[float64]
	Error       float64
	// Bounded is the probability with errors that never go beyond what was promised
	// and are as likely anywhere within it, by simulation with a standard error of at
	// most 0.0022; absent where it differs from Probability, which takes errors as
	// normal, by no more than 0.02.
	Bounded maybe.Of[float64]
	// Ease is what the openings are larger by than the holes measured, absent
	// where the panel states its own hole, or a size of it. Ease99 is the least ease with which
	// every hole clears with at least 99 %, in whole steps of Step; absent
	// likewise, and where no ease is enough.
	Ease, Ease99 maybe.Of[float64]
	// More99 is by how much the openings would have to be larger, or may be
	// smaller, for 99 %; absent where nothing is enough.
	More99 maybe.Of[float64]
	Step   float64 // 0.01 mm, or 0.0005 in for a file in inches
}

// wanted is the probability for which the least ease is sought.
const wanted = 0.99

// places are the expressions by which a row's holes are placed on the notebook.
type places struct {
	holes  []relation.Expr // centres from the starting edge: the first and last, or all of unequal gaps
	across relation.Expr   // centres from the row's own edge
	// wire is how wide what goes through each hole is along the row; of a loop
	// its uncertainty is taken for both directions.
	wire relation.Expr
	even bool
	// open are the dimensions of them that nothing decides.
	open []string
}

// tooMany is how many holes of unequal gaps are still simulated.
const tooMany = 100

// places finds where the holes of a row are, count being how many they are, 0 if
// that is not known.
func (a *analysis) places(m *outcome.MeasuredRow, count int) places {
	p := places{even: m.Gaps == 0}
	of := func(n dim.Name) relation.Expr {
		id, ok := m.Dim(n)
		if !ok || !a.solution.Known(id) {
			if !follows(m.Form, n) {
				p.open = append(p.open, n.String())
			}
			return relation.C(math.NaN())
		}
		return relation.V(id)
	}
	half := relation.C(0.5)
	holeAlong, holeAcross := of(dim.HoleAlong), of(dim.HoleAcross)
	at := relation.Add(of(dim.First), relation.Mul(half, holeAlong))
	p.across = relation.Add(of(dim.Inset), relation.Mul(half, holeAcross))
	p.holes = []relation.Expr{at}
	if id, ok := m.Dim(dim.Wire); ok {
		p.wire = relation.V(id)
	}
	if pair, ok := m.Pair.Get(); ok {
		p.wire = pair
	}
	switch {
	case !p.even && m.Gaps < tooMany:
		for _, d := range m.Dims {
			if d.Dim != dim.Gap {
				continue
			}
			if !a.solution.Known(d.ID) {
				p.open = append(p.open, d.Name)
			}
			at = relation.Add(at, relation.V(d.ID))
			p.holes = append(p.holes, at)
		}
	case p.even && count == 0:
		p.open = append(p.open, dim.Count.String())
	case p.even && count > 1:
		p.holes = append(p.holes, relation.Add(at, relation.Mul(relation.C(float64(count-1)), of(dim.Pitch))))
	}
	return p
}

// clearance works out how surely a panel's row clears the wire.
func (a *analysis) clearance(r *Row, p places, c outcome.CoveringRow) Clearance {
	out := Clearance{Name: c.Name, At: c.At, Unit: c.Unit, Opening: c.Opening, KerfWithin: c.KerfWithin.Or(0), Ease: c.Ease, Step: 0.01}
	if c.Unit.Imperial() {
		out.Step = 0.0005 * unit.Inch.Size
	}
	if r.Wire != nil {
		along, across := c.Opening.Play(r.Wire.Thick, r.Wire.Pair)
		out.RoomAlong, out.RoomAcross = known(along), known(across)
	}
	if out.Missing = missing(r, p, c); out.Missing != "" {
		return out
	}
	cov := a.deviations(p, out.KerfWithin)
	roomFor := func(more float64) opening.Room { return c.Opening.Room(r.Wire.Thick, r.Wire.Pair, more) }
	// probability is that with openings larger by more.
	var probability func(more float64) (p, err float64)
	if p.even {
		d := deviationsOf(cov)
		if a.alike == nil {
			a.alike = alike{}
		}
		probability = func(more float64) (p, err float64) {
			return a.alike.clears(d, c.Opening, r.Wire.Thick, r.Wire.Pair, more), 0
		}
	} else {
		probability = simulate(cov, roomFor(0))
	}
	share, err := probability(0)
	out.Probability, out.Error = maybe.Is(share), err
	if even, ok := a.bounded(p.deviating(), out.KerfWithin, roomFor(0)); ok {
		out.Bounded = maybe.If(even, math.Abs(even-share) > unlike)
	}
	out.findLeast(roomFor(0).Left(), a.spacing(r, p)-c.Opening.Along, probability)
	return out
}

// spacing is the least distance from one of a row's holes to the next, centre to centre.
func (a *analysis) spacing(r *Row, p places) float64 {
	if len(p.holes) < 2 {
		return math.Inf(1)
	}
	at := make([]float64, len(p.holes))
	for i, e := range p.holes {
		at[i] = a.solution.Eval(e)
	}
	if p.even {
		return math.Abs(at[1]-at[0]) / float64(max(1, r.Count-1))
	}
	least := math.Inf(1)
	for i := range at[1:] {
		least = min(least, math.Abs(at[i+1]-at[i]))
	}
	return least
}

// deviating lists what deviates, as [analysis.deviations] has it, but for the kerf.
func (p places) deviating() []relation.Expr {
	return append(append([]relation.Expr{}, p.holes...), p.across, relation.Mul(relation.C(0.5), p.wire))
}

// deviations are the covariances of the places of a row's holes along it, of that
// of all of them across it, and of the room that wire and kerf leave to each side.
func (a *analysis) deviations(p places, kerfWithin float64) [][]float64 {
	cov := a.solution.Numbers.Covariance(p.deviating()...)
	last := len(cov) - 1
	cov[last][last] += kerfWithin * kerfWithin / 3 / 4 // half of the kerf's error to each side
	return cov
}

// anotherWire is by how much of what was measured a wire is another one, not the same as it is
// called (common practice, no source).
const anotherWire = 0.1

// missing says why there is no probability for a panel's row on r, in words that
// follow "because"; empty if there is one.
func missing(r *Row, p places, c outcome.CoveringRow) string {
	switch {
	case math.IsNaN(c.Opening.Along + c.Opening.Across):
		return "its holes could not be worked out"
	case len(p.open) > 0:
		return "nothing decides " + p.open[0] + " of " + r.Name
	case r.Wire == nil:
		return "the thickness of the wire is not stated"
	case c.Bound != "" && math.Abs(c.Wire-r.Wire.Pair) > anotherWire*r.Wire.Pair:
		return "it is bound by " + c.Bound + ", not by the wire that was measured"
	case !p.even && r.Gaps >= tooMany:
		return "it has too many unequal gaps"
	}
	return ""
}

// findLeast finds the least ease for 99 %, a whole number of steps. left is by how
// much the openings could shrink to each side, most by how much they may grow before
// each touches the next: there are no wider ones.
func (c *Clearance) findLeast(left, most float64, probability func(more float64) (p, err float64)) {
	ease := c.Ease.Or(0)
	// With the first number of steps the openings are no wider than the wire.
	none := int(math.Floor((ease-2*left)/c.Step)) - 1
	high, ok := leastSteps(none, func(steps int) (p, room float64) {
		more := float64(steps)*c.Step - ease
		p, _ = probability(more)
		return p, left + more/2
	}, func(room float64) int { return int(math.Ceil((2*(room-left) + ease) / c.Step)) })
	if !ok {
		return
	}
	if float64(high)*c.Step-ease >= most {
		return
	}
	c.More99 = maybe.Is(float64(high)*c.Step - ease)
	c.Ease99 = maybe.If(float64(high)*c.Step, c.Ease.Present())
}

// mostSteps is how many steps are tried, 20 m: nothing that was measured is as unsure.
const mostSteps = 1 << 21

// leastSteps finds the least number of steps with a probability of at least [wanted].
// With none there is no room. at gives the probability and the room to each side with
// some steps, stepsFor how many leave a room. Each guess takes the deviation for
// normal, which is near enough to need few.
func leastSteps(none int, at func(steps int) (p, room float64), stepsFor func(room float64) int) (steps int, ok bool) {
	low, high, found := none, none+mostSteps, false
	next := none + 1
	for tries := 1; high-low > 1 || !found; tries++ {
		p, room := at(next)
		if p >= wanted {
			high, found = next, true
		} else if low = next; low == none+mostSteps {
			return 0, false
		}
		guess := stepsFor(room * math.Erfinv(wanted) / math.Erfinv(p))
		switch {
		case p <= 0 || !found && (tries > 6 || guess <= low):
			guess = none + 2*(low-none) // nothing to guess by
		case tries > 6:
			guess = low + (high-low)/2
		case guess >= high:
			guess = high - 1
		}
		next = max(low+1, min(guess, high))
		if found {
			next = max(low+1, min(guess, high-1))
		}
	}
	return high, true
}
