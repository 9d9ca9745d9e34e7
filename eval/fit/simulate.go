package fit

import (
	"math"
	"math/rand/v2"
	"sort"

	"foredge/eval/opening"
)

// draws is how many rows are simulated; the standard error of a probability of
// 99 % is then 0.0003.
const draws = 100_000

// simulate draws the deviations of all holes of a row along it, of all of them
// across it, and of the room to each side, from their covariances (in this
// order), always the same ones. The function that it gives is the probability,
// with its standard error, that every hole clears if the openings are larger
// by more.
func simulate(cov [][]float64, hole opening.Room) func(more float64) (p, err float64) {
	factor := root(cov)
	n := len(cov)
	random := rand.New(rand.NewPCG(1, 2))
	causes, deviations := make([]float64, n), make([]float64, n)
	lacks := make([]float64, draws)
	for i := range lacks {
		for j := range causes {
			causes[j] = random.NormFloat64()
		}
		for j := range deviations {
			deviations[j] = 0
			for k, share := range factor[j][:j+1] {
				deviations[j] += share * causes[k]
			}
		}
		along, across, room := deviations[:n-2], deviations[n-2], deviations[n-1]
		worst := math.Inf(-1)
		for _, off := range along {
			worst = max(worst, hole.Lacks(off, across))
		}
		lacks[i] = worst - room
	}
	sort.Float64s(lacks)
	return func(more float64) (p, err float64) {
		clear := sort.Search(draws, func(i int) bool { return lacks[i] > more/2 })
		p = float64(clear) / draws
		return p, math.Sqrt(p * (1 - p) / draws)
	}
}

// root is Cholesky's factor L of a covariance, L Lᵀ = cov, with zeros for what
// follows from the deviations before it.
func root(cov [][]float64) [][]float64 {
	factor := make([][]float64, len(cov))
	for i := range cov {
		factor[i] = make([]float64, len(cov))
		for j := 0; j <= i; j++ {
			sum := cov[i][j]
			for k := range j {
				sum -= factor[i][k] * factor[j][k]
			}
			switch {
			case j < i && factor[j][j] > 0:
				factor[i][j] = sum / factor[j][j]
			case j == i && sum > 1e-12*cov[i][i]:
				factor[i][i] = math.Sqrt(sum)
			}
		}
	}
	return factor
}
