package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/adjust"

	"gonum.org/v1/gonum/stat/distuv"
)

// reportOf says what became of the readings.
func reportOf(b *adjust.Bench) BenchReport {
	out := BenchReport{Bench: b.Number, Scale: math.NaN(), Freedom: b.Freedom()}
	out.Readings = make([]ReadingReport, 0, len(b.Readings))
	for i, r := range b.Readings {
		read := &b.Sys.Readings[r]
		rep := ReadingReport{Index: r, Implied: math.NaN(), ImpliedU: math.NaN()}
		deviation, share := b.Check(i)
		out.ChiSquare += deviation * deviation
		rep.Deviation = deviation * read.U
		rep.Adjusted = read.Value - rep.Deviation
		rep.AdjustedU = read.U * math.Sqrt(share)
		if rest := 1 - share; rest > 1e-9 {
			rep.Redundancy = rest
			rep.Normalised = deviation / math.Sqrt(rest)
			rep.Implied = read.Value - rep.Deviation/rest
			rep.ImpliedU = read.U * math.Sqrt(share/rest)
		}
		out.Readings = append(out.Readings, rep)
	}
	if out.Freedom > 0 {
		out.limit(1)
		out.Scale = math.Sqrt(out.ChiSquare / float64(out.Freedom))
		if out.ChiSquare > out.Limit95 {
			out.Suspects = suspects(b, &out)
		}
	} else {
		out.Freedom, out.ChiSquare = 0, 0
	}
	return out
}

// limit sets the limits of the global test, for one of so many in a design that all
// of them together pass 95 and 99.9 % of right designs.
func (r *BenchReport) limit(tests int) {
	chi := distuv.ChiSquared{K: float64(r.Freedom)}
	r.Limit95, r.Limit999 = chi.Quantile(math.Pow(0.95, 1/float64(tests))), chi.Quantile(math.Pow(0.999, 1/float64(tests)))
}

// limitTogether sets the limits of all notebooks, once it is known how many are
// tested.
func limitTogether(reports []BenchReport) {
	tests := 0
	for _, r := range reports {
		if r.Freedom > 0 {
			tests++
		}
	}
	if tests < 2 {
		return
	}
	known := map[int]*BenchReport{} // one of each freedom: the points of chi-square take a while
	for i := range reports {
		r := &reports[i]
		if r.Freedom == 0 {
			continue
		}
		if like, ok := known[r.Freedom]; ok {
			r.Limit95, r.Limit999 = like.Limit95, like.Limit999
		} else {
			r.limit(tests)
			known[r.Freedom] = r
		}
		if r.ChiSquare <= r.Limit95 {
			r.Suspects = nil
		}
	}
}

// suspects finds the reading with the largest normalised deviation, without which
// the others agree best, and those that nothing tells apart from it, however
// little checks them: those without which the others agree as well but for what
// chance makes of one reading (95 %). Among equals the first is the one in which
// the smallest mistake explains the most. One that would have to be what it can't
// be is none, unless all are.
func suspects(b *adjust.Bench, rep *BenchReport) []int {
	main := -1
	for i, r := range rep.Readings {
		if r.Redundancy == 0 {
			continue
		}
		if main < 0 {
			main = i
			continue
		}
		if never, before := impossible(b, &rep.Readings[i]), impossible(b, &rep.Readings[main]); never != before {
			if before {
				main = i
			}
			continue
		}
		m := rep.Readings[main]
		w, best := math.Abs(r.Normalised), math.Abs(m.Normalised)
		if w > best*(1+1e-6) || w > best*(1-1e-6) && r.Redundancy > m.Redundancy*(1+1e-9) {
			main = i
		}
	}
	if main < 0 {
		return nil
	}
	best, apart := rep.Readings[main].Normalised, distuv.ChiSquared{K: 1}.Quantile(0.95)
	var out []int
	for i, r := range rep.Readings {
		// Left out, a reading takes the square of its normalised deviation with it.
		if i == main || r.Redundancy > 0 && best*best-r.Normalised*r.Normalised < apart && !impossible(b, &rep.Readings[i]) {
			out = append(out, i)
		}
	}
	slices.SortStableFunc(out, func(i, j int) int {
		switch a, b := rep.Readings[i].Redundancy, rep.Readings[j].Redundancy; {
		case i == main, j != main && a > b:
			return -1
		case j == main, a < b:
			return 1
		}
		return 0
	})
	return out
}

// impossible reports whether what the others imply for a reading can't be: a size
// below 0, or a sum of sizes.
func impossible(b *adjust.Bench, r *ReadingReport) bool {
	read := &b.Plan.Readings[r.Index]
	return read.Linear && read.Form.Const >= 0 && r.Implied+3*r.ImpliedU < 0 &&
		!slices.ContainsFunc(read.Form.Terms, func(t relation.Term) bool { return t.Coef < 0 || b.Sys.Vars[t.Var].Signed })
}
