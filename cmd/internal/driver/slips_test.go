package driver_test

import (
	"context"
	"fmt"
	"hash/fnv"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/lang/source"
)

// Each folder of testdata/slips holds a right design, right.fore, and the same with
// one slip of the bench each, in files called by the kind of slip. They are made by
// the rules of slipKinds, at places drawn by a seed, and say in their comments what
// becomes of them:
//
//	caught           there is an error
//	told             there is a warning that names the line
//	told elsewhere   there is a warning, of something else that came of the slip
//	undetectable     nothing is told, and why nothing can be
//
// -update makes the files anew.

func slipFolder(t testing.TB) string { return filepath.Join(foretest.Root(t), "testdata", "slips") }

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
	if len(all) < 8 {
		t.Errorf("only %d right designs", len(all))
	}
	return all
}

// A seed is drawn by name, so that a new kind or design leaves the others' places.
func seeded(name string) *rand.Rand {
	h := fnv.New64a()
	h.Write([]byte(name))
	return rand.New(rand.NewPCG(h.Sum64(), 11))
}

// drawn takes some of the places where a kind of slip can be made.
func drawn(b *bench, k slipKind, n int) []slip {
	all := k.places(b.text)
	r := seeded(b.name + " " + k.name)
	r.Shuffle(len(all), func(i, j int) { all[i], all[j] = all[j], all[i] })
	return all[:min(n, len(all))]
}

// A tried is a slip of which there is a file.
type tried struct {
	bench *bench
	kind  slipKind
	slip  slip
}

func (c tried) path(t testing.TB) string {
	return filepath.Join(slipFolder(t), c.bench.name, c.kind.name+".fore")
}

// kept draws the slips of which there are files: one each of four of the designs in
// which a kind can be made.
func kept(all []*bench) []tried {
	const designs = 4
	var out []tried
	for _, k := range slipKinds() {
		some := slices.Clone(all)
		r := seeded(k.name)
		r.Shuffle(len(some), func(i, j int) { some[i], some[j] = some[j], some[i] })
		n := 0
		for _, b := range some {
			if s := drawn(b, k, 1); len(s) > 0 && n < designs {
				out = append(out, tried{b, k, s[0]})
				n++
			}
		}
	}
	return out
}

func TestSlips(t *testing.T) {
	all := benches(t)
	slips := kept(all)
	if len(slips) < 150 {
		t.Errorf("only %d slips", len(slips))
	}
	made := map[string]bool{}
	for _, c := range slips {
		path := c.path(t)
		made[path] = true
		t.Run(c.bench.name+"/"+c.kind.name, func(t *testing.T) { checkSlip(t, c, path) })
	}
	old, err := filepath.Glob(filepath.Join(slipFolder(t), "*", "*.fore"))
	foretest.Must(t, err)
	for _, path := range old {
		switch {
		case made[path] || filepath.Base(path) == "right.fore":
		case foretest.Update():
			foretest.Must(t, os.Remove(path))
		default:
			t.Errorf("%s is made by no kind of slip; run this test with -update", path)
		}
	}
}

// checkSlip looks whether a file is as it is made, and tells what it expects.
func checkSlip(t *testing.T, c tried, path string) {
	f := c.bench.try(t, c.slip)
	if f.outcome == passes {
		t.Errorf("%s\n%s: it moves a hole or outline by %.3g mm, and nothing is told\n%s", c.slip.say(c.bench.text), f.outcome, f.moved, f.by)
	}
	foretest.Golden(t, path, []byte(slipFile(c, f)))
	text := []byte(foretest.Read(t, path))
	r := driver.NewSession(nil).Check(context.Background(), path)
	foretest.Must(t, r.Err)
	told := slices.DeleteFunc(r.Diagnostics, func(d *diag.Diagnostic) bool { return d.Severity == diag.Info })
	diagtest.Check(t, source.New(filepath.Clean(path), text), told)
}

// slipFile is a design with a slip and what is expected of it.
func slipFile(c tried, f finding) string {
	why := string(f.outcome)
	if f.outcome == unspoken || f.outcome == promised || f.outcome == passes {
		if why += fmt.Sprintf("; off by %.2g mm", f.moved); f.moved > 1e6 {
			why = string(f.outcome) + "; a hole or part is missing or too many"
		}
	}
	above, file := map[int][]string{}, []string(nil)
	text := c.slip.apply(c.bench.text)
	for _, d := range f.told {
		what := fmt.Sprintf("%s: %s", d.Severity, d.Message)
		if d.Span.File == nil || !strings.HasSuffix(d.Span.File.Name(), filepath.Base(c.bench.path)) {
			file = append(file, what)
			continue
		}
		line := d.Span.File.Position(d.Span.Start).Line
		above[line] = append(above[line], what)
	}
	where := func(told []string, place string) string {
		all := strings.Join(told, " | ")
		severity, rest, _ := strings.Cut(all, ": ")
		return "# " + severity + " " + place + ": " + rest + "\n"
	}
	var b strings.Builder
	fmt.Fprintf(&b, "# A slip: %s.\n# %s\n# %s.\n", c.kind.what, c.slip.say(c.bench.text), why)
	if len(file) > 0 {
		b.WriteString(where(file, "file"))
	}
	indent := regexp.MustCompile(`^ *`)
	for n, line := range slices.Collect(strings.Lines(text)) {
		if told := above[n+1]; len(told) > 0 {
			b.WriteString(indent.FindString(line) + where(told, "below"))
		}
		b.WriteString(line)
	}
	return b.String()
}
