package fit

import (
	"math"

	"foredge/eval"
	"foredge/eval/dim"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/eval/outcome"
)

// A Sure says how surely the holes of a panel's row lie on those that were
// measured. Lengths are in mm.
type Sure struct {
	// Off is by how much a hole may be off its place along or across the row: twice
	// the standard uncertainty of the hole that is least sure, which holds about
	// 95 times in a hundred.
	Off float64
	// Slack is by how much a hole is larger than the measured one to each side,
	// absent where the panel states its own hole.
	Slack maybe.Of[float64]
	// Clears is the probability that all holes clear the wire, absent where its
	// thickness isn't stated or the gaps of the row are unequal.
	Clears maybe.Of[float64]
}

// SureOf says it of each row of a panel that lies on a measured one, by its name
// from the top. It leaves out rows whose place is open, and those of a notebook
// whose readings contradict each other.
func SureOf(s *eval.Solution) map[string]Sure {
	out := map[string]Sure{}
	for _, m := range s.Measured() {
		if agreement(m).Verdict == Contradict {
			continue
		}
		a := newAnalysis(s, m)
		for i := range m.Rows {
			if len(m.Rows[i].Covers) > 0 {
				a.sure(&m.Rows[i], out)
			}
		}
	}
	return out
}

// sure says it of the rows that lie on one.
func (a *analysis) sure(m *outcome.MeasuredRow, out map[string]Sure) {
	value := func(n dim.Name) float64 {
		id, ok := m.Dim(n)
		if !ok || !a.solution.Known(id) {
			return math.NaN()
		}
		return a.solution.Value(id)
	}
	count := value(dim.Count)
	if !(count >= 1 && count <= model.MaxHoles) {
		return
	}
	p := a.places(m, int(math.Round(count)))
	if len(p.open) > 0 {
		return
	}
	cov := a.solution.Numbers.Covariance(append(p.holes[:len(p.holes):len(p.holes)], p.across)...)
	variance := 0.0
	for i := range cov {
		variance = max(variance, cov[i][i])
	}
	thick := value(dim.Wire)
	pair := thick
	if x, ok := m.Pair.Get(); ok {
		pair = a.solution.Eval(x)
	}
	// Rows of the same openings clear as surely.
	type cut struct {
		opening opening.Opening
		kerf    float64
	}
	known := map[cut]float64{}
	for _, c := range m.Covers {
		s := Sure{Off: 2 * math.Sqrt(variance)}
		if ease, ok := c.Ease.Get(); ok {
			s.Slack = maybe.Is(ease / 2)
		}
		if p.even && thick > 0 && pair > 0 && c.Opening.Along > 0 && c.Opening.Across > 0 {
			key := cut{c.Opening, c.KerfWithin.Or(0)}
			chance, ok := known[key]
			if !ok {
				chance = deviationsOf(a.deviations(p, key.kerf)).clears(c.Opening.Room(thick, pair, 0))
				known[key] = chance
			}
			s.Clears = maybe.Is(chance)
		}
		out[c.Name] = s
	}
}
