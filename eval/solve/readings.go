package solve

import (
	"math"
	"slices"

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

const (
	// alike is the correlation of their tests above which two readings can't be
	// told apart.
	alike = 0.95
	// faint is the least redundancy, beside that of the main suspect, of a
	// reading worth naming with it: below it, ten times the mistake would be
	// needed to explain the same.
	faint = 0.01
)

// suspects finds the reading with the largest normalised deviation and those
// that nothing tells apart from it. Among equals it is the one in which the
// smallest mistake explains the most.
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
		m := rep.Readings[main]
		w, best := math.Abs(r.Normalised), math.Abs(m.Normalised)
		if w > best*(1+1e-6) || w > best*(1-1e-6) && r.Redundancy > m.Redundancy*(1+1e-9) {
			main = i
		}
	}
	if main < 0 {
		return nil
	}
	covariance := b.Covariances(main)
	// Left out, a reading takes the square of its normalised deviation with it.
	// If without the main suspect the others agree, one without which they still
	// contradict each other is told apart by them, however alike the tests are.
	most := 1e-6 * rep.ChiSquare // what rounding leaves where nothing is left to check
	if rep.Freedom > 1 {
		most = distuv.ChiSquared{K: float64(rep.Freedom - 1)}.Quantile(0.999)
	}
	explains := func(i int) bool {
		w := rep.Readings[i].Normalised
		return rep.ChiSquare-w*w <= most
	}
	var out []int
	for i, r := range rep.Readings {
		if i == main {
			out = append(out, i)
			continue
		}
		if r.Redundancy < faint*rep.Readings[main].Redundancy || r.Redundancy == 0 {
			continue
		}
		if explains(main) && !explains(i) {
			continue
		}
		if math.Abs(covariance(i))/math.Sqrt(r.Redundancy*rep.Readings[main].Redundancy) > alike {
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
