package cost

import "math"

// A Weighed is a part that has a share of the cents of its cover, in proportion to its weight
// among the parts of that.
type Weighed struct {
	Cover, Sheet int // their indices
	Weight       float64
}

// Apportion parts the cents of each cover among its parts, so that they add up. Each part, each
// sheet and each stock, given by a number of its own for each sheet, gets its exact share
// rounded down or up, however many covers and parts it is a sum of. Where nothing of a cover
// weighs anything, all of it goes to its first part.
//
// The shares are taken for a flow, from the covers over parts, sheets and stocks back to the
// covers. Where one isn't whole, what comes into a place can only be that of its parts if
// another isn't whole either, so there is a round of such; along it as much is moved as makes
// one whole, till all are. Such roundings that keep sums of a table are known as controlled
// rounding (L. H. Cox, A constructive procedure for unbiased controlled rounding, Journal of
// the American Statistical Association 82, 1987).
func Apportion(cents []int64, parts []Weighed, stocks []int) []int64 {
	all, rests := exact(cents, parts)
	f := newFlow(len(cents), parts, rests, stocks)
	f.round()
	for i := range all {
		all[i] += f.arcs[i].rest / cent
	}
	return all
}

// cent is one cent, in the small units in which shares of one are counted, so that sums are
// exact.
const cent = 1 << 32

// whole is by how much of a cent a share may be off a whole number for what was lost as it
// was worked out.
const whole = 1e-6

// exact are the shares of parts in whole cents, and the rest of each in parts of a cent, which
// with those add up to the cents of each cover.
func exact(cents []int64, parts []Weighed) (all, rests []int64) {
	sums, first, last := make([]float64, len(cents)), make([]int, len(cents)), make([]int, len(cents))
	for i := len(parts) - 1; i >= 0; i-- {
		sums[parts[i].Cover] += parts[i].Weight
		first[parts[i].Cover] = i
	}
	left := make([]int64, len(cents)) // of a cover's cents, modulo what a part may get
	all, rests = make([]int64, len(parts)), make([]int64, len(parts))
	for i := range last {
		last[i] = -1
	}
	for i, p := range parts {
		share := 0.0
		switch {
		case sums[p.Cover] > 0:
			share = float64(cents[p.Cover]) * (p.Weight / sums[p.Cover])
		case first[p.Cover] == i:
			share = float64(cents[p.Cover])
		}
		down := math.Floor(share + whole)
		all[i] = int64(down)
		if rest := share - down; rest > whole {
			rests[i] = int64(rest * cent)
			if last[p.Cover] < 0 || rests[i] > rests[last[p.Cover]] {
				last[p.Cover] = i
			}
		}
		left[p.Cover] += all[i]
	}
	// What was lost goes to one part of the cover, which isn't whole.
	lost := make([]int64, len(cents))
	for i := range cents {
		lost[i] = (cents[i] - left[i]) * cent
	}
	for i, p := range parts {
		lost[p.Cover] -= rests[i]
	}
	for c, i := range last {
		if i >= 0 {
			rests[i] += lost[c]
		}
	}
	return all, rests
}

// A flow has the shares as arcs between places: covers, sheets, stocks and the place where
// all comes from.
type flow struct {
	arcs   []arc
	places [][]int // the arcs of each
}

// An arc is a share, of which rest is what is to become whole cents.
type arc struct {
	from, to int
	rest     int64
	of       level
}

// A level is what an arc is the sum of: those above are rounded as near as can be.
type level int

const (
	ofPart level = iota
	ofSheet
	ofStock
)

func (a *arc) whole() bool { return a.rest%cent == 0 }

// newFlow has the parts as its first arcs.
func newFlow(covers int, parts []Weighed, rests []int64, stocks []int) *flow {
	most := -1
	for _, k := range stocks {
		most = max(most, k)
	}
	sheet, stock := covers, covers+len(stocks) // the first of these places
	f := &flow{places: make([][]int, stock+most+2)}
	bySheet, byStock := make([]int64, len(stocks)), make([]int64, most+1)
	for i, p := range parts {
		f.join(arc{p.Cover, sheet + p.Sheet, rests[i], ofPart})
		bySheet[p.Sheet] += rests[i]
	}
	for i, k := range stocks {
		f.join(arc{sheet + i, stock + k, bySheet[i], ofSheet})
		byStock[k] += bySheet[i]
	}
	for k, rest := range byStock {
		f.join(arc{stock + k, len(f.places) - 1, rest, ofStock})
	}
	return f
}

func (f *flow) join(a arc) {
	i := len(f.arcs)
	f.arcs = append(f.arcs, a)
	f.places[a.from], f.places[a.to] = append(f.places[a.from], i), append(f.places[a.to], i)
}

// A step goes along an arc, with it or against it.
type step struct {
	arc int
	as  int64 // 1 or -1
}

// round makes all arcs whole.
func (f *flow) round() {
	on := make([]int, len(f.places))                      // at which step of the way a place is, from 1
	for start := len(f.places) - 1; start >= 0; start-- { // what is above the parts first
		place, way := start, []step{}
		on[place] = 1
		for {
			s, ok := f.next(place, way)
			if !ok {
				break // there is none even at the start
			}
			way = append(way, s)
			if place = f.arcs[s.arc].to; s.as < 0 {
				place = f.arcs[s.arc].from
			}
			if on[place] == 0 {
				on[place] = len(way) + 1
				continue
			}
			back := on[place] - 1
			f.shift(way[back:])
			for _, s := range way[back:] {
				on[f.arcs[s.arc].from], on[f.arcs[s.arc].to] = 0, 0
			}
			on[place] = back + 1
			way = way[:back]
		}
		on[start] = 0
	}
}

// next is a step from a place along what isn't whole, other than back by which the way came.
func (f *flow) next(place int, way []step) (step, bool) {
	for at := f.places[place]; len(at) > 0; at = at[1:] {
		i := at[0]
		if f.arcs[i].whole() {
			if len(at) == len(f.places[place]) {
				f.places[place] = at[1:] // it stays so
			}
			continue
		}
		if len(way) > 0 && way[len(way)-1].arc == i {
			continue
		}
		if f.arcs[i].from == place {
			return step{i, 1}, true
		}
		return step{i, -1}, true
	}
	return step{}, false
}

// shift moves as little as makes an arc of a round whole, the way on which those above the
// others are nearer to whole.
func (f *flow) shift(round []step) {
	top := ofPart
	for _, s := range round {
		top = max(top, f.arcs[s.arc].of)
	}
	with, against := int64(cent), int64(cent)
	topWith, topAgainst := with, against
	for _, s := range round {
		down := f.arcs[s.arc].rest % cent
		if down < 0 {
			down += cent
		}
		up := cent - down
		if s.as < 0 {
			down, up = up, down
		}
		with, against = min(with, up), min(against, down)
		if f.arcs[s.arc].of == top {
			topWith, topAgainst = min(topWith, up), min(topAgainst, down)
		}
	}
	by := with
	if topAgainst < topWith {
		by = -against
	}
	for _, s := range round {
		f.arcs[s.arc].rest += by * s.as
	}
}
