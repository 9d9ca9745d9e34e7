package fit

import (
	"foredge/eval/outcome"
	"math"
	"slices"
	"sort"

	"foredge/eval"
	"foredge/eval/maybe"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// An analysis is the work on the readings of one notebook.
type analysis struct {
	solution *eval.Solution
	measured outcome.MeasuredThing
	repeats  []repeat
	drawn    *drawn // once a simulation has asked for it
	alike    alike  // once a probability was asked for
}

func newAnalysis(s *eval.Solution, m outcome.MeasuredThing) *analysis {
	return &analysis{solution: s, measured: m, repeats: repeats(s, m)}
}

// A repeat is a reading with a part of its uncertainty taken from its scatter.
type repeat struct {
	left     relation.Expr
	variance float64 // of the reading
	scatter  float64 // the part of variance that its repeats gave, s²/n
	freedom  float64 // n - 1
}

// repeats finds the readings that were repeated.
func repeats(s *eval.Solution, m outcome.MeasuredThing) []repeat {
	var found []repeat
	for _, report := range m.Report.Readings {
		r := s.System.Readings[report.Index]
		if r.Repeats > 1 && r.Scatter > 0 {
			found = append(found, repeat{left: r.Left, variance: r.U * r.U,
				scatter: r.Scatter * r.Scatter / float64(r.Repeats), freedom: float64(r.Repeats - 1)})
		}
	}
	return found
}

// leastPart is the least share in a variance of what rests on repeated readings.
const leastPart = 1e-12

// spread gives the standard uncertainty of an expression of dimensions, half
// its 95 % interval and the effective degrees of freedom by the formula of
// Welch and Satterthwaite (JCGM 100:2008, G.4.1),
//
//	ν = u⁴ / Σ (c² s²/n)² / (n - 1)
//
// over the repeated readings, c being how far the expression moves with the
// reading. As it was adjusted by least squares, c is the covariance of both
// divided by the reading's own variance.
func (a *analysis) spread(e relation.Expr) (u, u95, freedom float64) {
	variance, sum := 0.0, 0.0
	if len(a.repeats) == 0 {
		variance = a.solution.Numbers.Covariance(e)[0][0]
	}
	for _, r := range a.repeats {
		cov := a.solution.Numbers.Covariance(e, r.left)
		variance = cov[0][0]
		c := cov[0][1] / r.variance
		if part := c * c * r.scatter; part > leastPart*variance { // less is rounding
			sum += part * part / r.freedom
		}
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
func (a *analysis) readings() (all []Reading, suspects []int) {
	order := make([]int, len(a.measured.Report.Readings))
	for i := range order {
		order[i] = i
	}
	place := func(i int) source.Span { return a.solution.System.Readings[a.measured.Report.Readings[i].Index].At }
	sort.SliceStable(order, func(i, j int) bool { return place(order[i]).Before(place(order[j])) })
	for _, i := range order {
		all = append(all, a.reading(a.measured.Report.Readings[i]))
	}
	for _, i := range a.solution.Suspects(a.measured.Report) {
		suspects = append(suspects, slices.Index(order, i))
	}
	return all, suspects
}

// reading says what became of one reading.
func (a *analysis) reading(report solve.ReadingReport) Reading {
	r := a.solution.System.Readings[report.Index]
	out := Reading{Name: a.solution.ReadingName(report.Index), Row: a.solution.ReadingRow(report.Index), At: r.At, Kind: unit.Length,
		Read: r.Value, Value: r.Value, U: r.U, Repeats: r.Repeats, Accuracy: r.Accuracy,
		Adjusted: report.Adjusted, Redundancy: report.Redundancy, Checked: report.Redundancy > 0,
		Normalised: report.Normalised, Implied: known(report.Implied), ImpliedU: known(report.ImpliedU)}
	if r.Flat > 0 {
		out.Read = r.Read
	}
	if ids := r.Left.Vars(); len(ids) > 0 {
		out.Kind = a.solution.System.Vars[ids[0]].Kind
	}
	out.AdjustedU, out.AdjustedU95, out.Freedom = a.spread(r.Left)
	return out
}

// known is a number that the solver gives, absent where it is NaN.
func known(x float64) maybe.Of[float64] { return maybe.If(x, !math.IsNaN(x)) }
