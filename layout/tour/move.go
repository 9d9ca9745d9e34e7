package tour

// least is the gain in nanometres below which a move isn't worth making: rounding
// could go round in circles.
const least = 0.5

// longestRun is how many nodes Or's move takes along at most.
const longestRun = 3

// longestRigid is how many nodes are turned round at most where some of them keep their
// direction: then each of them has to be looked at.
const longestRigid = 50

// A change is a move that was found worth making.
type change struct {
	gain float64
	kind uint8 // 0 for none
	// For turning, the positions that are turned round; for shifting, the run from lo to
	// hi that goes between position to and the one after it.
	lo, hi, to int32
}

const (
	turning uint8 = 1 + iota
	shifting
	shiftingTurned
)

// improve makes the best move about a node: 2-opt (G. A. Croes, "A method for solving
// traveling-salesman problems", 1958) and Or-opt (I. Or, "Traveling salesman-type
// combinatorial problems and their relation to the logistics of regional blood
// banking", 1976), looked for only where a new link is shorter than the one that it
// replaces (J. L. Bentley, "Fast algorithms for geometric traveling salesman
// problems", 1992). It returns the gain, 0 if there is none.
func (s *search) improve(node int32) float64 {
	best := change{gain: least}
	s.lookAhead(node, &best)
	s.lookBack(node, &best)
	switch best.kind {
	case turning:
		s.pushAround(best.lo, best.hi)
		s.reverse(best.lo, best.hi)
	case shifting, shiftingTurned:
		s.pushAround(best.lo, best.hi)
		s.push(s.seq[best.to])
		s.push(s.seq[best.to+1])
		s.shift(best.lo, best.hi, best.to, best.kind == shiftingTurned)
	default:
		return 0
	}
	return best.gain
}

func (s *search) pushAround(lo, hi int32) {
	s.push(s.seq[lo-1])
	s.push(s.seq[lo])
	s.push(s.seq[hi])
	s.push(s.seq[hi+1])
}

// lookAhead looks for a better link from where a node is left.
func (s *search) lookAhead(node int32, best *change) {
	k := s.at[node]
	a := s.out(node)
	now := s.cost(a, s.in(s.seq[k+1]))
	for _, f := range s.near[s.listed(a)] {
		s.budget.spend(1)
		if s.cost(a, f) >= now {
			break
		}
		other := f / 2
		m := s.at[other]
		if s.closed[other] || f == s.out(other) {
			s.tryTurn(min(k, m)+1, max(k, m), best)
			for r := range int32(longestRun) {
				s.tryShift(m-r, m, k, true, best)
				s.tryShift(k-r, k, m, true, best)
			}
		}
		if s.closed[other] || f == s.in(other) {
			for r := range int32(longestRun) {
				s.tryShift(m, m+r, k, false, best)
				s.tryShift(k-r, k, m-1, false, best)
			}
		}
	}
}

// lookBack looks for a better link to where a node is entered.
func (s *search) lookBack(node int32, best *change) {
	k := s.at[node]
	a := s.in(node)
	now := s.cost(s.out(s.seq[k-1]), a)
	for _, f := range s.near[s.listed(a)] {
		s.budget.spend(1)
		if s.cost(f, a) >= now {
			break
		}
		other := f / 2
		m := s.at[other]
		if s.closed[other] || f == s.in(other) {
			s.tryTurn(min(k, m), max(k, m)-1, best)
			for r := range int32(longestRun) {
				s.tryShift(m, m+r, k-1, true, best)
				s.tryShift(k, k+r, m-1, true, best)
			}
		}
		if s.closed[other] || f == s.out(other) {
			for r := range int32(longestRun) {
				s.tryShift(m-r, m, k-1, false, best)
				s.tryShift(k, k+r, m, false, best)
			}
		}
	}
}

// listed is the end under which an end's neighbours are kept: closed nodes have one.
func (s *search) listed(end int32) int32 {
	if s.closed[end/2] {
		return end &^ 1
	}
	return end
}

// tryTurn tries to turn round what stands from lo to hi.
func (s *search) tryTurn(lo, hi int32, best *change) {
	if lo < 1 || hi > s.n || lo >= hi && (lo > hi || s.closed[s.seq[lo]]) || hi-lo > longest {
		return
	}
	first, last := s.seq[lo], s.seq[hi]
	out, in := s.out(s.seq[lo-1]), s.in(s.seq[hi+1])
	var gain float64
	if s.rigid {
		if hi-lo > longestRigid {
			return
		}
		gain = s.turnedGain(lo, hi)
	} else {
		gain = s.cost(out, s.in(first)) + s.cost(s.out(last), in) - s.cost(out, s.out(last)) - s.cost(s.in(first), in)
	}
	if gain > best.gain && s.mayTurn(lo, hi) {
		*best = change{gain, turning, lo, hi, 0}
	}
}

// turnedGain is what turning round gains where some nodes keep their direction.
func (s *search) turnedGain(lo, hi int32) float64 {
	s.budget.spend(int64(hi - lo))
	gain := s.cost(s.out(s.seq[lo-1]), s.in(s.seq[lo]))
	prev := s.out(s.seq[lo-1])
	for k := hi; k >= lo; k-- {
		node := s.seq[k]
		gain += s.cost(s.out(node), s.in(s.seq[k+1]))
		in, out := s.out(node), s.in(node)
		if s.oneWay[node] {
			in, out = out, in
		}
		gain -= s.cost(prev, in)
		prev = out
	}
	return gain - s.cost(prev, s.in(s.seq[hi+1]))
}

// mayTurn says whether nothing from lo to hi must come after something else there.
func (s *search) mayTurn(lo, hi int32) bool {
	if s.after == nil {
		return true
	}
	s.budget.spend(int64(hi-lo) / 4)
	for k := lo; k <= hi; k++ {
		for _, later := range s.after[s.seq[k]] {
			if s.at[later] <= hi {
				return false
			}
		}
	}
	return true
}

// tryShift tries to move the run from lo to hi between position to and the next.
func (s *search) tryShift(lo, hi, to int32, turned bool, best *change) {
	if lo < 1 || hi > s.n || to < 0 || to > s.n || to >= lo-1 && to <= hi {
		return
	}
	if max(lo-to, to-hi) > longest {
		return
	}
	p, q := s.out(s.seq[lo-1]), s.in(s.seq[hi+1])
	first, last := s.in(s.seq[lo]), s.out(s.seq[hi])
	t, u := s.out(s.seq[to]), s.in(s.seq[to+1])
	gain := s.cost(p, first) + s.cost(last, q) - s.cost(p, q) + s.cost(t, u)
	if gain <= best.gain {
		return
	}
	kind := shifting
	if turned {
		for k := lo; k <= hi && s.rigid; k++ {
			if s.oneWay[s.seq[k]] {
				return
			}
		}
		gain -= s.cost(t, last) + s.cost(first, u)
		kind = shiftingTurned
	} else {
		gain -= s.cost(t, first) + s.cost(last, u)
	}
	if gain > best.gain && s.mayShift(lo, hi, to) && (!turned || s.mayTurn(lo, hi)) {
		*best = change{gain, kind, lo, hi, to}
	}
}

// mostBound is how many nodes that must come before one are looked at before a move
// of it is given up: an outline stays behind what it holds.
const mostBound = 64

// mayShift says whether a run may go there by what must come before and after it.
func (s *search) mayShift(lo, hi, to int32) bool {
	if s.after == nil {
		return true
	}
	for k := lo; k <= hi; k++ {
		bound := s.after[s.seq[k]]
		if to < lo {
			bound = s.before[s.seq[k]]
		}
		if len(bound) > mostBound {
			return false
		}
		for _, other := range bound {
			m := s.at[other]
			if to > hi && m > hi && m <= to || to < lo && m < lo && m > to {
				return false
			}
		}
	}
	return true
}

// shift moves the run from lo to hi between position to and the next, by turning
// round three times.
func (s *search) shift(lo, hi, to int32, turned bool) {
	run := hi - lo
	if to > hi {
		s.reverse(lo, to)
		s.reverse(lo, to-run-1)
		lo, hi = to-run, to
	} else {
		s.reverse(to+1, hi)
		s.reverse(to+run+2, hi)
		lo, hi = to+1, to+1+run
	}
	if !turned {
		s.reverse(lo, hi)
	}
}
