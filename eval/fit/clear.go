package fit

import (
	"math"

	"foredge/eval"
	"foredge/eval/opening"
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
	// RoomAlong and RoomAcross are by how much the wire may be off to each side.
	RoomAlong, RoomAcross float64
	// KerfWithin is the half width within which the kerf is known; 0 for exact.
	KerfWithin float64
	// Probability is that of every hole clearing the wire. Error is its standard
	// error where it was simulated, 0 where it was worked out.
	Probability, Error float64
	// Ease is what the openings are larger by than the holes measured, NaN where
	// the panel states its own hole. Ease99 is the least ease with which every
	// hole clears with at least 99 %, in whole steps of Step; NaN likewise.
	Ease, Ease99 float64
	// More99 is by how much the openings would have to be larger, or may be
	// smaller, for 99 %.
	More99 float64
	Step   float64 // 0.01 mm, or 0.0005 in for a file in inches
}

// wanted is the probability for which the least ease is sought.
const wanted = 0.99

// Deviations of a row from its wire, by their index in [deviations].
const (
	atFirst = iota // of the first hole, along the row
	atLast         // of the last hole, along the row
	across         // of all holes, across the row
	room           // of the room to each side: wire and kerf
)

// deviations are jointly normal deviations with mean 0, by their covariances in
// mm²: those of an even row.
type deviations [4][4]float64

// u is the standard deviation of one of them.
func (e *deviations) u(i int) float64 { return math.Sqrt(math.Max(0, e[i][i])) }

// given is what one of them, once known, says of the others: by how much each
// moves with it, and how they still vary.
func (e *deviations) given(k int) (slope [4]float64, rest deviations) {
	rest = *e
	if e[k][k] <= 0 {
		return slope, rest
	}
	for i := range e {
		slope[i] = e[i][k] / e[k][k]
	}
	for i := range e {
		for j := range e {
			rest[i][j] -= slope[i] * e[j][k]
		}
		if rest[i][i] < 1e-13*e[i][i] {
			for j := range e {
				rest[i][j], rest[j][i] = 0, 0
			}
		}
	}
	return slope, rest
}

// correlation of two of them, 0 where one doesn't vary.
func (e *deviations) correlation(i, j int) float64 {
	if c := e[i][j] / (e.u(i) * e.u(j)); !math.IsNaN(c) {
		return math.Max(-1, math.Min(1, c))
	}
	return 0
}

const (
	// widest is how many standard deviations an integral reaches to each side:
	// beyond lies 2e-9.
	widest = 6
	// smooth is how many standard deviations of what is averaged over one piece
	// of an integral may span, and sudden the least, where the probability may
	// jump within.
	smooth, sudden = 4, 0.4
)

// scales says within what change of the k-th deviation, once it is known to be
// given with the slopes and the rest, the probability may change: near the ends
// of the room for it, and anywhere.
func (e *deviations) scales(k int, slope [4]float64, rest *deviations) (near, wide float64) {
	near, wide = math.Inf(1), smooth*e.u(k)
	for i := range k {
		s := rest.u(i)
		if s > 0 {
			near = math.Min(near, s)
		}
		if slope[i] != 0 {
			wide = math.Min(wide, smooth*s/math.Abs(slope[i]))
		}
	}
	return near, math.Max(wide, sudden*e.u(k))
}

// clears is the probability that the wire lies inside the opening at both ends
// of a row. It averages over the room that wire and kerf leave, then over the
// deviation across the row.
func (e *deviations) clears(o opening.Room) float64 {
	least := o.Left()
	u := e.u(room)
	slope, rest := e.given(room)
	if u == 0 {
		if least < 0 {
			return 0
		}
		return rest.clearsGiven(o, [4]float64{})
	}
	near, wide := e.scales(room, slope, &rest)
	from := -widest * u
	if from < -least {
		from = -least
	} else {
		near = 0 // the end is nothing but the tail
	}
	return integrate(func(t float64) float64 {
		var shift [4]float64
		for i := range shift {
			shift[i] = slope[i] * t
		}
		return density(t/u) / u * rest.clearsGiven(o.Grown(t), shift)
	}, mesh(from, widest*u, wide, near, 0), 1e-7)
}

// clearsGiven is the same where the room is known, the deviations having the
// given means.
func (e *deviations) clearsGiven(o opening.Room, mean [4]float64) float64 {
	u, span := e.u(across), o.Span()
	slope, rest := e.given(across)
	a, b, r := rest.u(atFirst), rest.u(atLast), rest.correlation(atFirst, atLast)
	// ends is the probability along the row where all holes are off by y.
	ends := func(y, reach float64) float64 {
		first := mean[atFirst] + slope[atFirst]*(y-mean[across])
		last := mean[atLast] + slope[atLast]*(y-mean[across])
		return rectangle(standard(-reach-first, a), standard(reach-first, a),
			standard(-reach-last, b), standard(reach-last, b), r)
	}
	switch {
	case u == 0:
		if reach := o.Reach(mean[across]); reach >= 0 {
			return ends(mean[across], reach)
		}
		return 0
	case span <= 0:
		return 0
	case o.Even() && slope[atFirst] == 0 && slope[atLast] == 0:
		return ends(0, o.Reach(0)) * share((-span-mean[across])/u, (span-mean[across])/u)
	}
	near, wide := e.scales(across, slope, &rest)
	near, wide = near/span, wide/span
	// y = across * sin of an angle: where the corners are round, what is left
	// along the row then has no steep end.
	angle := func(y float64) float64 { return math.Asin(math.Max(-1, math.Min(1, y/span))) }
	from, to := angle(mean[across]-widest*u), angle(mean[across]+widest*u)
	first, last := near, near
	if from > -math.Pi/2 {
		first = 0
	}
	if to < math.Pi/2 {
		last = 0
	}
	return integrate(func(a float64) float64 {
		sin, cos := math.Sincos(a)
		y := span * sin
		return density((y-mean[across])/u) / u * ends(y, math.Max(0, o.Reach(y))) * span * cos
	}, mesh(from, to, wide, first, last), 3e-8)
}

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

func (b *bench) places(m *eval.MeasuredRow, count int) places {
	p := places{even: m.Gaps == 0}
	dim := func(name string) relation.Expr {
		id, ok := m.Dim(name)
		if !ok || math.IsNaN(b.s.Numbers.Values[id]) {
			p.open = append(p.open, name)
			return relation.C(math.NaN())
		}
		return relation.V(id)
	}
	half := relation.C(0.5)
	along, deep := dim("hole.along"), dim("hole.across")
	at := relation.Add(dim("first"), relation.Mul(half, along))
	p.across = relation.Add(dim("inset"), relation.Mul(half, deep))
	p.holes = []relation.Expr{at}
	if id, ok := m.Dim("wire"); ok {
		p.wire = relation.V(id)
	}
	if m.Pair != nil {
		p.wire = *m.Pair
	}
	switch {
	case !p.even && m.Gaps < tooMany:
		for _, d := range m.Dims {
			if len(d.Name) > 4 && d.Name[:4] == "gap." {
				at = relation.Add(at, dim(d.Name))
				p.holes = append(p.holes, at)
			}
		}
	case p.even && count == 0:
		p.open = append(p.open, "count")
	case p.even && count > 1:
		p.holes = append(p.holes, relation.Add(at, relation.Mul(relation.C(float64(count-1)), dim("pitch"))))
	}
	return p
}

// clearance works out how surely a panel's row clears the wire.
func (b *bench) clearance(r *Row, p places, c eval.CoveringRow) Clearance {
	out := Clearance{Name: c.Name, At: c.At, Unit: c.Unit, Opening: c.Opening, KerfWithin: c.KerfWithin,
		Ease: c.Ease, RoomAlong: math.NaN(), RoomAcross: math.NaN(), Probability: math.NaN(), Ease99: math.NaN(),
		More99: math.NaN(), Step: 0.01}
	if c.Unit.Name == unit.Inch.Name {
		out.Step = 0.0005 * unit.Inch.Size
	}
	if r.Wire != nil {
		out.RoomAlong, out.RoomAcross = c.Opening.Play(r.Wire.Value, r.Pair)
	}
	switch {
	case math.IsNaN(c.Opening.Along + c.Opening.Across):
		out.Missing = "its holes could not be worked out"
		return out
	case len(p.open) > 0:
		out.Missing = "nothing decides " + p.open[0] + " of " + r.Name
		return out
	case r.Wire == nil:
		out.Missing = "the thickness of the wire is not stated"
		return out
	case !p.even && r.Gaps >= tooMany:
		out.Missing = "it has too many unequal gaps"
		return out
	}
	exprs := append(append([]relation.Expr{}, p.holes...), p.across, relation.Mul(relation.C(0.5), p.wire))
	cov := b.s.Numbers.Covariance(exprs...)
	last := len(cov) - 1
	cov[last][last] += c.KerfWithin * c.KerfWithin / 3 / 4 // half of the kerf's error to each side
	// probability is that with openings larger by more.
	var probability func(more float64) (p, err float64)
	if p.even {
		e := ends(cov)
		probability = func(more float64) (float64, float64) { return e.clears(c.Opening.Room(r.Wire.Value, r.Pair, more)), 0 }
	} else {
		probability = simulate(cov, c.Opening.Room(r.Wire.Value, r.Pair, 0))
	}
	out.Probability, out.Error = probability(0)
	out.least(c.Opening.Room(r.Wire.Value, r.Pair, 0).Left(), probability)
	return out
}

// least finds the least ease for 99 %, a whole number of steps. left is by how much
// the openings could shrink to each side.
func (c *Clearance) least(left float64, probability func(more float64) (p, err float64)) {
	ease := c.Ease
	if math.IsNaN(ease) {
		ease = 0
	}
	enough := func(steps int) bool {
		p, _ := probability(float64(steps)*c.Step - ease)
		return p >= wanted
	}
	// With the first number of steps the openings are no wider than the wire.
	low := int(math.Floor((ease-2*left)/c.Step)) - 1
	width := 1
	for ; !enough(low + width); width *= 2 {
		if width > 1<<20 {
			return // 10 m: nothing that was measured is as unsure
		}
	}
	high := low + width
	low += width / 2
	for high-low > 1 {
		if mid := low + (high-low)/2; enough(mid) {
			high = mid
		} else {
			low = mid
		}
	}
	c.More99 = float64(high)*c.Step - ease
	if !math.IsNaN(c.Ease) {
		c.Ease99 = float64(high) * c.Step
	}
}

// ends takes the covariances of an even row's end holes; a row of one hole has
// it at both ends.
func ends(cov [][]float64) *deviations {
	index := []int{0, 1, 2, 3}
	if len(cov) == 3 {
		index = []int{0, 0, 1, 2}
	}
	var e deviations
	for i, a := range index {
		for j, b := range index {
			// What is correlated by less than rounding isn't correlated.
			if c := cov[a][b]; c*c > 1e-18*cov[a][a]*cov[b][b] {
				e[i][j] = c
			}
		}
	}
	return &e
}
