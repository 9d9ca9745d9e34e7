package adjust_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// A simulated bench: a row of holes with known true values, most of its
// dimensions read, some twice or by way of others.
type simulated struct {
	*solvetest.Shop
	truth map[string]float64
	index []string // what each reading is of
}

// simulate makes up a bench; noise gives the error of a reading in units of
// its standard uncertainty.
func simulate(r *rand.Rand, noise func() float64) *simulated {
	s := &simulated{Shop: solvetest.NewShop(), truth: map[string]float64{}}
	b := s.Bench("log")
	s.Row("log.wire", "log.height")
	n := float64(5 + r.IntN(30))
	hole, web, first, last := 2+4*r.Float64(), 2+4*r.Float64(), 3+8*r.Float64(), 3+8*r.Float64()
	for d, v := range map[string]float64{"hole.along": hole, "web": web, "pitch": hole + web, "run": (n - 1) * (hole + web), "first": first, "last": last} {
		s.truth["log.wire."+d] = v
	}
	s.truth["log.height"] = first + hole + (n-1)*(hole+web) + last
	s.Is("log.wire.count", n)
	s.Close(b)
	for _, d := range []string{"log.height", "log.wire.hole.along", "log.wire.web", "log.wire.pitch", "log.wire.run", "log.wire.first", "log.wire.last"} {
		times := 1
		switch r.IntN(8) {
		case 0:
			times = 0
		case 1, 2, 3:
			times = 2
		}
		for range times {
			accuracy := []float64{0.02, 0.03, 0.05}[r.IntN(3)]
			s.Read(b, s.V(d), accuracy, s.truth[d]+noise()*accuracy/math.Sqrt(3))
			s.index = append(s.index, d)
		}
	}
	return s
}

// A reading wrong by ten standard uncertainties is named first, wherever it
// can be told apart: where 10 sqrt(r (1 - ρ)/2) is at least 3, r being its
// redundancy and ρ the largest correlation of its test with another's.
func TestDataSnooping(t *testing.T) {
	r := rand.New(rand.NewPCG(2, 1))
	named, told := 0, 0
	for done := 0; done < foretest.Sample(1000, 250); {
		s := simulate(r, r.NormFloat64)
		if len(s.Readings) == 0 {
			continue
		}
		wrong := r.IntN(len(s.Readings))
		s.Readings[wrong].Value += 10 * s.Readings[wrong].U * float64(1-2*r.IntN(2))
		sol := s.Solve()
		rep := sol.Benches[0]
		if rep.Freedom == 0 {
			continue
		}
		done++
		rho := largestCorrelation(s, wrong)
		if red := rep.Readings[wrong].Redundancy; !(10*math.Sqrt(red*(1-rho)/2) >= 3) {
			continue
		}
		told++
		if len(rep.Suspects) > 0 && rep.Suspects[0] == wrong {
			named++
		}
	}
	t.Logf("%d of %d that can be told apart are named", named, told)
	if told < foretest.Sample(200, 50) || float64(named) < 0.95*float64(told) {
		t.Errorf("%d of %d named", named, told)
	}
}

// largestCorrelation works out by dense arithmetic, from the effect that each
// reading has on the others' adjusted values, the largest correlation of one
// reading's test with another's.
func largestCorrelation(s *simulated, wrong int) float64 {
	base := s.Solve().Benches[0].Readings
	n := len(base)
	// Residual i moves by R[i][k] times a change of reading k; in units of the
	// uncertainties, R is the residuals' covariance.
	cov := make([]float64, n)
	s.Readings[wrong].Value += s.Readings[wrong].U
	for i, moved := range s.Solve().Benches[0].Readings {
		cov[i] = (moved.Deviation - base[i].Deviation) / s.Readings[i].U
	}
	s.Readings[wrong].Value -= s.Readings[wrong].U
	rho := 0.0
	for i := range cov {
		if i != wrong && base[i].Redundancy > 0 {
			rho = max(rho, math.Abs(cov[i])/math.Sqrt(base[i].Redundancy*base[wrong].Redundancy))
		}
	}
	return min(rho, 1)
}

// With nothing wrong and normal errors, the global test at 95 % rejects one
// bench in twenty.
func TestGlobalTestRejectsAsPromised(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 1))
	n := foretest.Sample(2000, 1000)
	rejected, done := 0, 0
	for done < n {
		rep := simulate(r, r.NormFloat64).Solve().Benches[0]
		if rep.Freedom == 0 {
			continue
		}
		done++
		if rep.ChiSquare > rep.Limit95 {
			rejected++
		}
	}
	if share := float64(rejected) / float64(n); math.Abs(share-0.05) > 0.015 {
		t.Errorf("%.2f %% rejected", 100*share)
	}
}

// The 95 % interval of every adjusted value holds the truth as often as it
// says with normal errors, and at least as often with bounded ones.
func TestCoverage(t *testing.T) {
	benches, chance := foretest.Sample(1000, 200), 0.0
	if foretest.CI() {
		benches = 10000
	}
	if testing.Short() {
		chance = 0.01
	}
	for _, test := range []struct {
		name      string
		noise     func(r *rand.Rand) float64
		low, high float64
	}{
		{"normal", (*rand.Rand).NormFloat64, 0.94, 0.96},
		{"bounded", func(r *rand.Rand) float64 { return math.Sqrt(3) * (2*r.Float64() - 1) }, 0.95, 1},
	} {
		r := rand.New(rand.NewPCG(4, 1))
		inside, all := 0, 0
		for range benches {
			s := simulate(r, func() float64 { return test.noise(r) })
			sol := s.Solve()
			for name, want := range s.truth {
				v := s.IDs[name]
				if math.IsNaN(sol.Values[v]) {
					continue
				}
				all++
				if math.Abs(sol.Values[v]-want) <= 1.959964*sol.U[v] {
					inside++
				}
			}
		}
		share := float64(inside) / float64(all)
		t.Logf("%s errors: %.2f %% of %d inside", test.name, 100*share, all)
		if share < test.low-chance || share > test.high+chance {
			t.Errorf("%s errors: %.2f %% inside", test.name, 100*share)
		}
	}
}
