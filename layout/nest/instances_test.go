package nest

import (
	"context"
	"os"
	"strconv"
	"strings"
	"syscall"
	"testing"
	"time"

	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// An instance is a published strip problem.
type instance struct {
	name  string
	best  float64 // density in percent
	width float64
	job   Job
}

// published are the instances of testdata with the best densities that A. Elkeran
// gives, "A new approach for sheet nesting problem using guided cuckoo search and
// pairwise clustering", European Journal of Operational Research, 2013 (from memory).
var published = []struct {
	name string
	best float64
}{
	{"albano", 89.58}, {"dagli", 89.51}, {"fu", 92.41}, {"jakobs1", 89.10}, {"jakobs2", 87.73},
	{"shapes0", 68.79}, {"shapes1", 76.73}, {"shirts", 88.96}, {"trousers", 91.00},
}

// readInstance reads an instance of testdata: the strip's width, then a line for each
// part with its copies, its turns and its corners.
func readInstance(t testing.TB, name string, best float64) instance {
	t.Helper()
	in := instance{name: name, best: best}
	number := func(s string) float64 {
		v, err := strconv.ParseFloat(s, 64)
		foretest.Must(t, err)
		return v
	}
	for line := range strings.Lines(foretest.Read(t, "testdata/"+name+".txt")) {
		words := strings.Fields(line)
		switch {
		case len(words) == 0 || words[0] == "#":
		case words[0] == "strip":
			in.width = number(words[1])
		default:
			head, tail, _ := strings.Cut(line, ":")
			words = strings.Fields(head)
			p := Part{Copies: int(number(words[1]))}
			for _, w := range words[3:] {
				p.Turns = append(p.Turns, number(w))
			}
			var ring []geom.Point
			for _, w := range strings.Fields(tail) {
				x, y, _ := strings.Cut(w, ",")
				ring = append(ring, geom.Pt(number(y), number(x)))
			}
			p.Outline = geom.Polygon(ring...).Oriented(true)
			in.job.Parts = append(in.job.Parts, p)
		}
	}
	return in
}

func TestDev(t *testing.T) {
	gap, all := 0.0, 0.0
	steps, _ := strconv.Atoi(os.Getenv("STEPS"))
	if steps == 0 {
		t.Skip()
	}
	for _, p := range published {
		if only := os.Getenv("ONLY"); only != "" && !strings.Contains(only, p.name) {
			continue
		}
		in := readInstance(t, p.name, p.best)
		in.job.Steps = steps
		in.job.Seed, _ = strconv.ParseUint(os.Getenv("SEED"), 10, 64)
		var ru, rv syscall.Rusage
		syscall.Getrusage(0, &ru)
		var start float64
		in.job.Progress = func(p Progress) {
			if start == 0 {
				start = p.Used
			}
		}
		s, err := Strip(context.Background(), in.job, in.width)
		if err != nil {
			t.Fatal(err)
		}
		syscall.Getrusage(0, &rv)
		cpu := time.Duration(rv.Utime.Nano() - ru.Utime.Nano())
		if os.Getenv("NOCHECK") == "" {
			checkExactly(t, in.job.Parts, s.Placements, in.width, s.Length)
		}
		gap += 100*s.Density - p.best
		all += cpu.Seconds()
		t.Logf("%-9s %.2f of %.2f (%.2f), length %.4f from %.4f, %d steps in %.1f s", p.name, 100*s.Density, p.best, 100*s.Density-p.best, s.Length, start, s.Steps, cpu.Seconds())
	}
	t.Logf("sum %.2f, %.1f s of", gap, all)
}
