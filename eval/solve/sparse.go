package solve

import (
	"math"
	"slices"
)

// A term is c times the parameter (or column) at.
type term struct {
	at int32
	c  float64
}

// An affine is c + the sum of its terms, which are in order of at, none 0.
// g says how c moves with the parameters of the benches: its first-order
// dependence, from which the uncertainty of every value is worked out.
type affine struct {
	terms []term
	c     float64
	g     []term
}

// vanish is how small the sum of two coefficients may be beside them before it
// counts as 0: far above the rounding that a long elimination gathers, far
// below any ratio of sizes that a design holds.
const vanish = 1e-11

// combine gives a + k*b, both in order of at; what cancels to within drop of
// its parts is left out.
func combine(a []term, k float64, b []term, drop float64) []term {
	if k == 0 || len(b) == 0 {
		return a
	}
	return appendCombined(make([]term, 0, len(a)+len(b)), a, k, b, drop)
}

// appendCombined appends a + k*b to out, as combine gives it.
func appendCombined(out, a []term, k float64, b []term, drop float64) []term {
	i, j := 0, 0
	for i < len(a) && j < len(b) {
		switch {
		case a[i].at < b[j].at:
			out = append(out, a[i])
			i++
		case a[i].at > b[j].at:
			out = append(out, term{b[j].at, k * b[j].c})
			j++
		default:
			kb := k * b[j].c
			sum := a[i].c + kb
			if !(math.Abs(sum) <= drop*(math.Abs(a[i].c)+math.Abs(kb))) {
				out = append(out, term{a[i].at, sum})
			}
			i++
			j++
		}
	}
	out = append(out, a[i:]...)
	for ; j < len(b); j++ {
		out = append(out, term{b[j].at, k * b[j].c})
	}
	return out
}

// plus is a + k*b.
func (a affine) plus(k float64, b affine) affine {
	return affine{combine(a.terms, k, b.terms, vanish), a.c + k*b.c, combine(a.g, k, b.g, 0)}
}

func (a affine) scale(k float64) affine {
	if k == 1 {
		return a
	}
	return affine{scaled(a.terms, k), a.c * k, scaled(a.g, k)}
}

func scaled(terms []term, k float64) []term {
	if len(terms) == 0 || k == 0 {
		return nil
	}
	out := make([]term, len(terms))
	for i, t := range terms {
		out[i] = term{t.at, t.c * k}
	}
	return out
}

// coef is the coefficient of a parameter, 0 if it isn't there.
func (a affine) coef(at int32) float64 {
	if i, ok := find(a.terms, at); ok {
		return a.terms[i].c
	}
	return 0
}

func find(terms []term, at int32) (int, bool) {
	return slices.BinarySearchFunc(terms, at, func(t term, at int32) int { return int(t.at) - int(at) })
}

// size is the largest coefficient by amount.
func size(terms []term) float64 {
	m := 0.0
	for _, t := range terms {
		m = max(m, math.Abs(t.c))
	}
	return m
}

// A gatherer adds up many sparse rows at once.
type gatherer struct {
	sum, part []float64 // part is the sum of the amounts that were added
	seen      []bool
	list      []int32
	taken     slab[term]
}

func newGatherer(n int) *gatherer {
	return &gatherer{sum: make([]float64, n), part: make([]float64, n), seen: make([]bool, n)}
}

func (g *gatherer) add(k float64, terms []term) {
	if k == 0 {
		return
	}
	for _, t := range terms {
		g.addAt(t.at, k*t.c)
	}
}

func (g *gatherer) addAt(at int32, v float64) {
	for int(at) >= len(g.sum) {
		n := len(g.sum) + 1
		g.sum = append(g.sum, make([]float64, n)...)
		g.part = append(g.part, make([]float64, n)...)
		g.seen = append(g.seen, make([]bool, n)...)
	}
	if !g.seen[at] {
		g.seen[at] = true
		g.list = append(g.list, at)
	}
	g.sum[at] += v
	g.part[at] += math.Abs(v)
}

// take returns the sum in order and makes the gatherer empty again. What
// cancels to within drop of its parts is left out.
func (g *gatherer) take(drop float64) []term {
	if len(g.list) == 0 {
		return nil
	}
	slices.Sort(g.list)
	out := g.taken.take(len(g.list))[:0]
	for _, at := range g.list {
		if s := g.sum[at]; !(math.Abs(s) <= drop*g.part[at]) {
			out = append(out, term{at, s})
		}
		g.sum[at], g.part[at], g.seen[at] = 0, 0, false
	}
	g.list = g.list[:0]
	return out
}

// A lister collects short lists by key, counted first and then filled, in one
// piece of memory.
type lister[T any] struct {
	start []int32 // counts by the next key, then where each list starts
	next  []int32 // where the next of each goes
	all   []T
}

func newLister[T any](n int) *lister[T] { return &lister[T]{start: make([]int32, n+1)} }

// expect says that one more will be put under k.
func (l *lister[T]) expect(k int32) { l.start[k+1]++ }

// put adds to a list; all expect calls come before the first put.
func (l *lister[T]) put(k int32, v T) {
	if l.next == nil {
		l.allot()
	}
	l.all[l.next[k]] = v
	l.next[k]++
}

func (l *lister[T]) allot() {
	for k := 1; k < len(l.start); k++ {
		l.start[k] += l.start[k-1]
	}
	l.next = slices.Clone(l.start)
	l.all = make([]T, l.start[len(l.start)-1])
}

// A lists is lists by key, in order.
type lists[T any] struct {
	start []int32
	all   []T
}

func (l lists[T]) of(k int32) []T { return l.all[l.start[k]:l.start[k+1]] }

// done gives the lists.
func (l *lister[T]) done() lists[T] {
	if l.next == nil {
		l.allot()
	}
	return lists[T]{l.start, l.all}
}

// apart gives the lists as slices that can grow. Appending to one of them moves
// it, and no other.
func (l lists[T]) apart() [][]T {
	out := make([][]T, len(l.start)-1)
	for k := range out {
		out[k] = l.all[l.start[k]:l.start[k+1]:l.start[k+1]]
	}
	return out
}

// A slab hands out short slices, all zero, from larger ones, so that many of
// them cost few allocations.
type slab[T any] struct {
	left []T
	size int // of the last larger one
}

func (s *slab[T]) take(n int) []T {
	if n > len(s.left) {
		s.size = min(max(64, 2*s.size), 8192)
		if n > s.size/4 {
			return make([]T, n)
		}
		s.left = make([]T, s.size)
	}
	out := s.left[:n:n]
	s.left = s.left[n:]
	return out
}

// copy hands out a slice that holds the same.
func (s *slab[T]) copy(of []T) []T {
	if len(of) == 0 {
		return nil
	}
	out := s.take(len(of))
	copy(out, of)
	return out
}

func finite(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
