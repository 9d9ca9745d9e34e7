package cost_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/cmd/internal/cost"
	"foredge/eval/maybe"
)

// The method of the largest remainder: by hand, and its law on random amounts.
func TestCents(t *testing.T) {
	for _, c := range []struct {
		amounts []float64
		want    []int64
	}{
		{[]float64{1.004, 2.004, 3.004}, []int64{101, 200, 300}},
		{[]float64{1. / 3, 1. / 3, 1. / 3}, []int64{34, 33, 33}},
		{[]float64{0.006, 0.006}, []int64{1, 0}},
		{[]float64{12.5, 0}, []int64{1250, 0}},
		{[]float64{0.29, 0.57}, []int64{29, 57}}, // 100 times 0.29 and 0.57 are less than 29 and 57
		{nil, []int64{}},
	} {
		if got := cost.Cents(c.amounts...); !slices.Equal(got, c.want) {
			t.Errorf("%v: %v, want %v", c.amounts, got, c.want)
		}
	}
	r := rand.New(rand.NewPCG(16, 1))
	for range 2000 {
		amounts := make([]float64, 1+r.IntN(8))
		sum, all := 0.0, int64(0)
		for i := range amounts {
			amounts[i] = 50 * r.Float64()
			sum += amounts[i]
		}
		for i, c := range cost.Cents(amounts...) {
			all += c
			if math.Abs(float64(c)-100*amounts[i]) > 1+1e-6 {
				t.Fatalf("%v became %d cents", amounts[i], c)
			}
		}
		if all != int64(math.Round(100*sum)) {
			t.Fatalf("%v: %d cents of %v", amounts, all, sum)
		}
	}
}

// What isn't known of one isn't known of a sum; what is missing is named once.
func TestAdd(t *testing.T) {
	known := cost.Charge{Minutes: maybe.Is(1.5), Bill: cost.Bill{Laser: 90, Wood: 10, Total: maybe.Is(int64(100))}}
	sum := cost.Nothing()
	sum.Add(known)
	sum.Add(known)
	if sum.Minutes != maybe.Is(3.0) || sum.Total != maybe.Is(int64(200)) || sum.Laser != 180 || len(sum.Missing) != 0 {
		t.Errorf("twice: %+v", sum)
	}
	for range 2 {
		sum.Add(cost.Charge{Minutes: maybe.Is(1.0), Missing: []string{"the price of ply"}})
	}
	if sum.Minutes != maybe.Is(5.0) || sum.Total.Present() || !slices.Equal(sum.Missing, []string{"the price of ply"}) {
		t.Errorf("with one that has no price: %+v", sum)
	}
}
