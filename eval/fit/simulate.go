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
func simulate(cov [][]float64, o opening.Room) func(more float64) (p, err float64) {
	l := root(cov)
	n := len(cov)
	rng := rand.New(rand.NewPCG(1, 2))
	z, x := make([]float64, n), make([]float64, n)
	lacks := make([]float64, draws)
	for d := range lacks {
		for i := range z {
			z[i] = rng.NormFloat64()
		}
		for i := range x {
			x[i] = 0
			for j, c := range l[i][:i+1] {
				x[i] += c * z[j]
			}
		}
		worst := math.Inf(-1)
		for _, along := range x[:n-2] {
			worst = math.Max(worst, o.Lacks(along, x[n-2]))
		}
		lacks[d] = worst - x[n-1]
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
	l := make([][]float64, len(cov))
	for i := range cov {
		l[i] = make([]float64, len(cov))
		for j := 0; j <= i; j++ {
			sum := cov[i][j]
			for k := range j {
				sum -= l[i][k] * l[j][k]
			}
			switch {
			case j < i && l[j][j] > 0:
				l[i][j] = sum / l[j][j]
			case j == i && sum > 1e-12*cov[i][i]:
				l[i][i] = math.Sqrt(sum)
			}
		}
	}
	return l
}
