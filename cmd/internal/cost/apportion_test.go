package cost_test

import (
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"foredge/cmd/internal/cost"
)

// Whole cents parted among parts on sheets, by hand.
func TestApportion(t *testing.T) {
	one := func(weights ...float64) (parts []cost.Weighed) {
		for _, w := range weights {
			parts = append(parts, cost.Weighed{Weight: w})
		}
		return parts
	}
	for _, c := range []struct {
		cents  []int64
		parts  []cost.Weighed
		stocks []int
		want   []int64
	}{
		{[]int64{100}, one(1, 1, 1), []int{0}, []int64{34, 33, 33}},
		{[]int64{7}, one(0.5, 0.25, 0.25), []int{0}, []int64{3, 2, 2}}, // 3.5, 1.75, 1.75
		{[]int64{5}, one(0, 0), []int{0}, []int64{5, 0}},
		{[]int64{0}, one(2, 3), []int{0}, []int64{0, 0}},
		{[]int64{9}, one(0.1, 0.1, 0.1), []int{0}, []int64{3, 3, 3}}, // whole, however it is worked out
		{[]int64{9}, nil, []int{0}, []int64{}},
		{nil, nil, nil, []int64{}},
		// of 0.6 and 0.4 cents four times each on two sheets, 2.4 and 1.6: 2 and 2, not 4 and 0.
		{[]int64{4}, []cost.Weighed{{0, 0, 6}, {0, 0, 6}, {0, 0, 6}, {0, 0, 6}, {0, 1, 4}, {0, 1, 4}, {0, 1, 4}, {0, 1, 4}}, []int{0, 1}, []int64{1, 0, 1, 0, 1, 0, 0, 1}},
		// Two covers of a cent each with half of it on each of two sheets: a cent each.
		{[]int64{1, 1}, []cost.Weighed{{0, 0, 1}, {0, 1, 1}, {1, 0, 1}, {1, 1, 1}}, []int{0, 0}, []int64{1, 0, 0, 1}},
	} {
		if got := cost.Apportion(c.cents, c.parts, c.stocks); !slices.Equal(got, c.want) {
			t.Errorf("%d by %v: %v, want %v", c.cents, c.parts, got, c.want)
		}
	}
}

// Its law on random covers: the parts of each add up, and what parts, sheets and stocks get is
// off by less than a cent, of many small parts too.
func TestApportionLaw(t *testing.T) {
	r := rand.New(rand.NewPCG(16, 2))
	for range 400 {
		cents, sheets := make([]int64, 1+r.IntN(12)), 1+r.IntN(9)
		stocks := make([]int, sheets)
		for i := range stocks {
			stocks[i] = r.IntN(1 + r.IntN(3))
		}
		most := []int64{5, 300, 100_000, 100_000_000_000}[r.IntN(4)]
		sizes := []float64{0, 1, 1, 2.5, 50 * r.Float64(), r.Float64() / 1000}
		var parts []cost.Weighed
		sums := make([]float64, len(cents))
		for c := range cents {
			cents[c] = r.Int64N(most)
			for range 1 + r.IntN(60) {
				p := cost.Weighed{c, r.IntN(sheets), sizes[r.IntN(len(sizes))]}
				parts, sums[c] = append(parts, p), sums[c]+p.Weight
			}
			if sums[c] == 0 {
				parts = append(parts, cost.Weighed{c, 0, 1})
				sums[c] = 1
			}
		}
		got := cost.Apportion(cents, parts, stocks)
		if again := cost.Apportion(cents, parts, stocks); !slices.Equal(got, again) {
			t.Fatal("another time it is another way")
		}
		ofCover, ofSheet, ofStock := make([]int64, len(cents)), make([]float64, sheets), make([]float64, 3)
		for i, p := range parts {
			ofCover[p.Cover] += got[i]
			off := float64(got[i]) - float64(cents[p.Cover])*p.Weight/sums[p.Cover]
			ofSheet[p.Sheet], ofStock[stocks[p.Sheet]] = ofSheet[p.Sheet]+off, ofStock[stocks[p.Sheet]]+off
			if got[i] < 0 || math.Abs(off) > 1+1e-3 {
				t.Fatalf("a part is off by %v cents", off)
			}
		}
		if !slices.Equal(ofCover, cents) {
			t.Fatalf("the covers get %d of %d", ofCover, cents)
		}
		for _, off := range slices.Concat(ofSheet, ofStock) {
			if math.Abs(off) > 1+1e-3 {
				t.Fatalf("%d covers on %d sheets of %d parts: a sheet or stock is off by %v cents", len(cents), sheets, len(parts), off)
			}
		}
	}
}

func BenchmarkApportion(b *testing.B) {
	r := rand.New(rand.NewPCG(16, 3))
	cents, stocks := make([]int64, 200), make([]int, 100)
	for i := range cents {
		cents[i] = r.Int64N(2000)
	}
	for i := range stocks {
		stocks[i] = i % 4
	}
	parts := make([]cost.Weighed, 2000)
	for i := range parts {
		parts[i] = cost.Weighed{i % len(cents), r.IntN(len(stocks)), r.Float64()}
	}
	for b.Loop() {
		cost.Apportion(cents, parts, stocks)
	}
}
