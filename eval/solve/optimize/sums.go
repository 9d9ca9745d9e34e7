package optimize

import (
	"math"
	"slices"

	"foredge/eval/solve/linear"
	"foredge/eval/solve/sparse"
)

// longSum is how many terms a goal or a limit may have before it is made of sums of
// its first terms: as a row of its own it would have all of its parameters hang on one
// another.
const longSum = 40

// sums put a problem with long goals or limits in other parameters, as many: in place
// of most of those in a sum what it comes to up to there. Then each parameter given is
// a difference of two, and no form is long.
type sums struct {
	n     int             // parameters, as given; sums are numbered after them
	links []sparse.Affine // of each sum: two terms of what comes before it, and itself
	whole []wholeSum      // of the long forms
	form  []sparse.Affine // of each parameter given, and of each sum, by the new ones
}

// A wholeSum is the sum of all terms of a long form, and its number.
type wholeSum struct {
	terms []sparse.Term
	at    int32
}

// fewSums is how many sums are looked through for what they have in common with the
// next.
const fewSums = 50

// isLong reports whether a form is made of sums.
func isLong(f sparse.Affine) bool { return len(f.Terms) > longSum }

// sumsOf makes the sums for the long ones among some forms of n parameters, and gives
// all of the forms by the new parameters; nil if some stay long.
func sumsOf(n int, forms []sparse.Affine) (s *sums, by []sparse.Affine) {
	var long []int
	for i, f := range forms {
		if isLong(f) {
			long = append(long, i)
		}
	}
	s = &sums{n: n}
	by = slices.Clone(forms)
	// What a sum is part of is made with it.
	slices.SortStableFunc(long, func(i, j int) int { return len(forms[i].Terms) - len(forms[j].Terms) })
	for _, i := range long {
		by[i].Terms = s.shorten(forms[i].Terms)
	}
	if !s.solve() {
		return nil, nil
	}
	sum := sparse.NewGatherer(n)
	for i, f := range by {
		for _, t := range f.Terms {
			sum.Add(t.Coef, s.form[t.At].Terms)
		}
		if by[i].Terms = sum.Take(sparse.Vanish); len(by[i].Terms) > longSum {
			return nil, nil
		}
	}
	return s, by
}

// solve gives all by new parameters. It reports whether these are as many as those
// given.
func (s *sums) solve() bool {
	e := linear.Eliminate(s.links, s.n+len(s.links))
	s.form = e.Forms
	place, free := make([]int32, len(e.Forms)), 0
	for c := range e.Forms {
		if e.RowOf[c] < 0 {
			place[c] = int32(free)
			free++
		}
	}
	for _, f := range s.form {
		for i := range f.Terms {
			f.Terms[i].At = place[f.Terms[i].At]
		}
	}
	return free == s.n
}

// shorten makes a long sum one term.
func (s *sums) shorten(terms []sparse.Term) []sparse.Term {
	var first, rest []sparse.Term = nil, terms
	for _, w := range slices.Backward(s.whole[max(0, len(s.whole)-fewSums):]) {
		if k, others, ok := less(rest, w.terms); ok {
			first, rest = append(first, sparse.Term{At: w.at, Coef: k}), others
		}
	}
	all := slices.Concat(first, rest)
	sum := all[0]
	for _, t := range all[1:] {
		next := int32(s.n + len(s.links))
		link := []sparse.Term{sum, t, {At: next, Coef: -1}}
		slices.SortFunc(link, func(a, b sparse.Term) int { return int(a.At) - int(b.At) })
		s.links = append(s.links, sparse.Affine{Terms: link})
		sum = sparse.Term{At: next, Coef: 1}
	}
	if len(all) > 1 {
		s.whole = append(s.whole, wholeSum{terms, sum.At})
	}
	return []sparse.Term{sum}
}

// less takes k times others out of some terms, if all of them are there k times.
func less(terms, others []sparse.Term) (k float64, rest []sparse.Term, ok bool) {
	i := 0
	for _, o := range others {
		for i < len(terms) && terms[i].At < o.At {
			rest = append(rest, terms[i])
			i++
		}
		if i == len(terms) || terms[i].At != o.At {
			return 0, nil, false
		}
		if k == 0 {
			k = terms[i].Coef / o.Coef
		}
		if math.Abs(terms[i].Coef-k*o.Coef) > 1e-15*math.Abs(terms[i].Coef) {
			return 0, nil, false
		}
		i++
	}
	return k, append(rest, terms[i:]...), true
}

// given is a point by the parameters given, from one by the new ones.
func (s *sums) given(y []float64) []float64 {
	x := make([]float64, s.n)
	for c := range x {
		x[c] = s.form[c].Value(y)
	}
	return x
}
