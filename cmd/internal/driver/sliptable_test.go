package driver_test

import (
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strconv"
	"strings"
	"sync"
	"sync/atomic"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/foretest"
)

// No slip whose effect on a hole or an outline is above 0.3 mm and that another
// stated line contradicts passes without a word: all places of all kinds of slips
// are tried. What becomes of them stands as a table in DEVELOPERS.md; -update
// writes it anew. A short run tries a few places and leaves the table.
func TestSlipsEverywhere(t *testing.T) {
	all, kinds := benches(t), slipKinds()
	n := foretest.Sample(10_000, 2)
	counts := make([]map[outcome]int, len(kinds))
	var lock sync.Mutex
	t.Run("designs", func(t *testing.T) {
		for _, b := range all {
			t.Run(b.name, func(t *testing.T) {
				t.Parallel()
				for i, k := range kinds {
					for _, s := range drawn(b, k, n) {
						f := b.try(t, s)
						if f.outcome == passes {
							t.Errorf("%s: %s\nmoves a hole or outline by %.3g mm, and nothing is told, though %s", k.name, s.say(b.text), f.moved, f.by)
						}
						lock.Lock()
						if counts[i] == nil {
							counts[i] = map[outcome]int{}
						}
						counts[i][f.outcome]++
						lock.Unlock()
					}
				}
			})
		}
	})
	for i, k := range kinds {
		if counts[i] == nil {
			t.Errorf("there is no place for %s in any design", k.name)
		}
	}
	if !testing.Short() {
		checkSlipTable(t, kinds, counts)
	}
}

// The same of random right designs: slips in books of all sizes.
func TestSlipsOfRandomDesigns(t *testing.T) {
	n := foretest.Sample(60, 3)
	var tried atomic.Int64
	t.Run("designs", func(t *testing.T) {
		for seed := range n {
			t.Run(strconv.Itoa(seed), func(t *testing.T) {
				t.Parallel()
				if slipsOfRandomDesign(t, seed) {
					tried.Add(1)
				}
			})
		}
	})
	if got := int(tried.Load()); got < n*2/3 {
		t.Errorf("only %d of %d designs are right", got, n)
	}
}

// slipsOfRandomDesign tries a few of each kind of slip in a design of which nothing is told;
// false if something is.
func slipsOfRandomDesign(t *testing.T, seed int) bool {
	text := evaltest.RightDesign(rand.New(rand.NewPCG(uint64(seed), 110)), evaltest.Law(seed%evaltest.Laws))
	b, told := benchOf(t, "random-"+strconv.Itoa(seed), filepath.Join(slipFolder(t), "slip.fore"), text)
	if len(told) > 0 {
		t.Log(text + told[0].Message)
		return false
	}
	for _, k := range slipKinds() {
		for _, s := range drawn(b, k, 3) {
			if f := b.try(t, s); f.outcome == passes {
				t.Errorf("%s: %s\nmoves a hole or outline by %.3g mm, and nothing is told, though %s\n%s", k.name, s.say(b.text), f.moved, f.by, text)
			}
		}
	}
	return true
}

// checkSlipTable holds the table of DEVELOPERS.md against what came out.
func checkSlipTable(t *testing.T, kinds []slipKind, counts []map[outcome]int) {
	const marker, end = "<!-- made from the kinds of slips -->\n", "<!-- end -->\n"
	path := filepath.Join(foretest.Root(t), "DEVELOPERS.md")
	text := foretest.Read(t, path)
	before, rest, ok := strings.Cut(text, marker)
	stands, after, closed := strings.Cut(rest, end)
	if !ok || !closed {
		t.Fatalf("%s has no table below %s", path, marker)
	}
	made := slipTable(kinds, counts)
	switch {
	case stands == made:
	case foretest.Update():
		foretest.Must(t, os.WriteFile(path, []byte(before+marker+made+end+after), 0o666))
	default:
		t.Errorf("the table of slips differs from %s%s\nrun this test with -update", path, foretest.Difference([]byte(stands), []byte(made)))
	}
}

func slipTable(kinds []slipKind, counts []map[outcome]int) string {
	var b strings.Builder
	b.WriteString("\n| kind | what happens | places | caught | told | told elsewhere | nothing else speaks of it | within its promise | within 0.3 mm |\n|---|---|---|---|---|---|---|---|---|\n")
	all := map[outcome]int{}
	row := func(name, what string, count map[outcome]int) {
		n := 0
		for _, c := range count {
			n += c
		}
		fmt.Fprintf(&b, "| %s | %s | %d |", name, what, n)
		for _, o := range []outcome{caught, named, hinted, unspoken, promised, harmless} {
			if count[o] == 0 {
				b.WriteString(" |")
			} else {
				fmt.Fprintf(&b, " %.0f %% |", 100*float64(count[o])/float64(n))
			}
		}
		b.WriteString("\n")
	}
	for i, k := range kinds {
		row("`"+k.name+"`", k.what, counts[i])
		for o, c := range counts[i] {
			all[o] += c
		}
	}
	row("all", "", all)
	return b.String() + "\n"
}
