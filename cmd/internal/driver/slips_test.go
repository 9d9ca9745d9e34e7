package driver_test

import (
	"fmt"
	"hash/fnv"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"testing"

	"foredge/lang/foretest"
)

func slipFolder(t testing.TB) string { return filepath.Join(foretest.Root(t), "testdata", "slips") }

func foretestFormat(v float64) string { return strconv.FormatFloat(v, 'g', 4, 64) }

// benches are the right designs, by name.
func benches(t *testing.T) []*bench {
	t.Helper()
	entries, err := os.ReadDir(slipFolder(t))
	foretest.Must(t, err)
	var all []*bench
	for _, e := range entries {
		if e.IsDir() {
			all = append(all, newBench(t, e.Name()))
		}
	}
	return all
}

// drawn takes some of the places where a kind of slip can be made, by a seed that
// is its name.
func drawn(b *bench, k slipKind, n int) []slip {
	h := fnv.New64a()
	h.Write([]byte(b.name + " " + k.name))
	r := rand.New(rand.NewPCG(h.Sum64(), 11))
	all := k.places(b.text)
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all[:min(n, len(all))]
}

func TestSlipSurvey(t *testing.T) {
	n := 3
	if v := os.Getenv("SLIPS"); v != "" {
		n, _ = strconv.Atoi(v)
	}
	counts := map[outcome]int{}
	var left []string
	for _, b := range benches(t) {
		for _, k := range slipKinds() {
			for _, s := range drawn(b, k, n) {
				f := b.try(t, s)
				if f.outcome == named && !b.spoken(s, f.told) {
					f.outcome = misplaced
				}
				counts[f.outcome]++
				if f.outcome == misplaced {
					if f.moved = math.NaN(); true {
						_, d := b.build(t, s.apply(b.text))
						f.moved = moved(b.cuts, cutsOf(d))
						f.by = b.contradicted(t, s) + " | " + f.told[0].Message
					}
				}
				if f.outcome != harmless && f.outcome >= unspoken {
					left = append(left, fmt.Sprintf("%d %-10s %-22s moved %-7.3g %s   [%s]", f.outcome, b.name, k.name, f.moved, s.say(b.text), f.by))
				}
			}
		}
	}
	slices.Sort(left)
	for _, l := range left {
		fmt.Println(l)
	}
	fmt.Println(counts)
}
