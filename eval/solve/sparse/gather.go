package sparse

import (
	"math"
	"slices"
)

// A Gatherer adds up many sparse rows at once, in a place for every column.
type Gatherer struct {
	sum, part []float64 // part is the sum of the amounts that were added
	seen      []bool
	list      []int32
	taken     Slab[Term]
}

// NewGatherer makes a gatherer with places for n columns; it grows if more come.
func NewGatherer(n int) *Gatherer {
	return &Gatherer{sum: make([]float64, n), part: make([]float64, n), seen: make([]bool, n)}
}

// Add adds k times the terms.
func (g *Gatherer) Add(k float64, terms []Term) {
	if k == 0 {
		return
	}
	for _, t := range terms {
		g.addAt(t.At, k*t.Coef)
	}
}

func (g *Gatherer) addAt(at int32, v float64) {
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

// Take returns the sum in order and makes the gatherer empty again. What
// cancels to within drop of its parts is left out.
func (g *Gatherer) Take(drop float64) []Term {
	if len(g.list) == 0 {
		return nil
	}
	slices.Sort(g.list)
	out := g.taken.Take(len(g.list))[:0]
	for _, at := range g.list {
		if s := g.sum[at]; !(math.Abs(s) <= drop*g.part[at]) {
			out = append(out, Term{at, s})
		}
		g.sum[at], g.part[at], g.seen[at] = 0, 0, false
	}
	g.list = g.list[:0]
	return out
}

// A Sum adds up the terms of a few forms by sorting them; what cancels is left
// out.
type Sum struct {
	terms []Term
}

// Add adds k times the terms.
func (s *Sum) Add(k float64, terms []Term) {
	for _, t := range terms {
		s.terms = append(s.terms, Term{t.At, k * t.Coef})
	}
}

// Take gives the sum, good until the next one is begun.
func (s *Sum) Take() []Term {
	slices.SortStableFunc(s.terms, func(a, b Term) int { return int(a.At) - int(b.At) })
	out := s.terms[:0]
	for i := 0; i < len(s.terms); {
		at, v, part := s.terms[i].At, 0.0, 0.0
		for ; i < len(s.terms) && s.terms[i].At == at; i++ {
			v += s.terms[i].Coef
			part += math.Abs(s.terms[i].Coef)
		}
		if !(math.Abs(v) <= Vanish*part) {
			out = append(out, Term{at, v})
		}
	}
	s.terms = s.terms[:0]
	return out
}
