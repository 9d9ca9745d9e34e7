package tell_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/foretest"
)

// rightDesign is a random notebook or two that were read well: each value off by an
// error within what is promised for it, written in hundredths or tenths, many of them
// repeated. Half of the designs have errors that are as likely anywhere within it,
// half normal ones of the same deviation.
func rightDesign(rng *rand.Rand) string {
	between := func(a, b float64) float64 { return a + (b-a)*rng.Float64() }
	normal := rng.IntN(2) == 0
	var b strings.Builder
	for n := range 1 + rng.IntN(2) {
		accuracy := []float64{0.02, 0.03, 0.05, 0.1}[rng.IntN(4)]
		digits, step := 2, 0.01
		if accuracy >= 0.05 && rng.IntN(2) == 0 {
			digits, step = 1, 0.1
		}
		read := func(v float64) string {
			var all []string
			for range []int{1, 1, 1, 2, 3, 3, 5}[rng.IntN(7)] {
				off := accuracy * (2*rng.Float64() - 1)
				if normal {
					off = accuracy / math.Sqrt(3) * rng.NormFloat64()
				}
				all = append(all, fmt.Sprintf("%.*f", digits, v+off))
			}
			return strings.Join(all, ", ")
		}
		count := 2 + rng.IntN(30)
		hole, web, first, last := between(3, 6), between(3, 8), between(3, 15), between(3, 15)
		run := float64(count-1) * (hole + web)
		height := math.Max(60, first+hole+run+last)
		last = height - first - hole - run
		fmt.Fprintf(&b, "notebook n%d {\n accuracy = %g; resolution = %g\n width = %s\n height = %s\n thick = %s\n", n, accuracy, step,
			read(height*between(0.5, 1.4)), read(height), read(between(2, 20)))
		fmt.Fprintf(&b, " row w on spine { count = %d; hole = rect %.*f by %.*f; inset = %s\n first = %s; last = %s; pitch = %s }\n}\n", count, digits, hole, digits,
			between(3, 6), read(between(3, 8)), read(first), read(last), read(hole+web))
		fmt.Fprintf(&b, "panel p%d covers n%d { thick = 3 }\n", n, n)
	}
	return b.String()
}

// Of random right designs at most 6 % are warned and at most 0.3 % stopped, by the
// readings, their repeats and what a notebook is like together.
func TestRightDesigns(t *testing.T) {
	t.Parallel()
	rng := rand.New(rand.NewPCG(11, 6))
	all := foretest.Sample(4000, 1000)
	warned, stopped := map[string]int{}, 0
	for range all {
		text := rightDesign(rng)
		_, ds := evaltest.Solve(text, evaltest.Files{})
		if ds.HasErrors() {
			stopped++
		}
		codes := map[string]bool{}
		for _, d := range ds {
			codes[string(d.Code)] = true
		}
		for code := range codes {
			warned[code]++
		}
		if len(codes) > 0 {
			warned[""]++
		}
	}
	t.Logf("%d designs: %v, %d stopped", all, warned, stopped)
	// Three standard deviations of chance are allowed.
	most := func(share float64) float64 {
		return share*float64(all) + 3*math.Sqrt(share*float64(all))
	}
	if float64(warned[""]) > most(0.06) || float64(stopped) > most(0.003) {
		t.Errorf("of %d right designs %d are told something, %d stopped: %v", all, warned[""], stopped, warned)
	}
}
