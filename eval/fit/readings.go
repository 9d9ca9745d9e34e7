package fit

import (
	"math"
	"slices"
	"sort"

	"foredge/eval"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A bench is one notebook at work.
type bench struct {
	s       *eval.Solution
	m       eval.Measured
	repeats []repeat
}

// A repeat is a reading with a part of its uncertainty taken from its scatter.
type repeat struct {
	left     relation.Expr
	variance float64 // of the reading
	scatter  float64 // the part of variance that its repeats gave, s²/n
	freedom  float64 // n - 1
}

// findRepeats finds the readings that were repeated.
func (b *bench) findRepeats() {
	for _, r := range b.m.Report.Readings {
		rd := b.s.System.Readings[r.Index]
		if rd.Repeats > 1 && rd.Scatter > 0 {
			b.repeats = append(b.repeats, repeat{left: rd.Left, variance: rd.U * rd.U,
				scatter: rd.Scatter * rd.Scatter / float64(rd.Repeats), freedom: float64(rd.Repeats - 1)})
		}
	}
}

// spread gives the standard uncertainty of an expression of dimensions, half
// its 95 % interval and the effective degrees of freedom by the formula of
// Welch and Satterthwaite (JCGM 100:2008, G.4.1),
//
//	ν = u⁴ / Σ (c² s²/n)² / (n - 1)
//
// over the repeated readings, c being how far the expression moves with the
// reading. As it was adjusted by least squares, c is the covariance of both
// divided by the reading's own variance.
func (b *bench) spread(e relation.Expr) (u, u95, freedom float64) {
	variance, sum := 0.0, 0.0
	if len(b.repeats) == 0 {
		variance = b.s.Numbers.Covariance(e)[0][0]
	}
	for _, r := range b.repeats {
		cov := b.s.Numbers.Covariance(e, r.left)
		variance = cov[0][0]
		c := cov[0][1] / r.variance
		part := c * c * r.scatter
		sum += part * part / r.freedom
	}
	freedom = math.Inf(1)
	if sum > 0 {
		freedom = variance * variance / sum
	}
	u = math.Sqrt(variance)
	return u, u * solve.Coverage95(freedom), freedom
}

// readings reports on every reading, in the order of the file, and gives the
// suspects among them.
func (b *bench) readings() (all []Reading, suspects []int) {
	order := make([]int, len(b.m.Report.Readings))
	for i := range order {
		order[i] = i
	}
	at := func(i int) source.Span { return b.s.System.Readings[b.m.Report.Readings[i].Index].At }
	sort.SliceStable(order, func(i, j int) bool { return at(order[i]).Before(at(order[j])) })
	for _, i := range order {
		all = append(all, b.reading(b.m.Report.Readings[i]))
	}
	for _, i := range b.m.Report.Suspects {
		suspects = append(suspects, slices.Index(order, i))
	}
	return all, suspects
}

func (b *bench) reading(r solve.ReadingReport) Reading {
	rd := b.s.System.Readings[r.Index]
	o := Reading{Name: b.s.ReadingName(r.Index), Row: b.s.ReadingRow(r.Index), At: rd.At, Kind: unit.Length,
		Read: rd.Value, Value: rd.Value, U: rd.U, Repeats: rd.Repeats, Gauge: rd.Gauge,
		Adjusted: r.Adjusted, Redundancy: r.Redundancy, Checked: r.Redundancy > 0,
		Normalised: r.Normalised, Implied: r.Implied, ImpliedU: r.ImpliedU}
	if rd.Flat > 0 {
		o.Read = rd.Read
	}
	if ids := rd.Left.Vars(); len(ids) > 0 {
		o.Kind = b.s.System.Vars[ids[0]].Kind
	}
	o.AdjustedU, o.AdjustedU95, o.Freedom = b.spread(rd.Left)
	return o
}
