package rename_test

import (
	"bytes"
	"context"
	"fmt"
	"math/rand/v2"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/rename"
	"foredge/export"
	"foredge/lang/foretest"
)

// outcome is what comes of a design, with two names taken for one: its dimensions to nine
// digits, then its cut files.
func outcome(r *driver.Result, old, name string) string {
	var lines []string
	either := func(s string) bool { return s == old || s == name }
	if r.Solution != nil {
		for _, d := range r.Solution.Dimensions() {
			parts := strings.Split(d.Name, ".")
			for i, p := range parts {
				if either(p) {
					parts[i] = "?"
				}
			}
			lines = append(lines, fmt.Sprintf("%s = %.9g", strings.Join(parts, "."), d.Value))
		}
	}
	slices.Sort(lines)
	word := regexp.MustCompile(`[\pL\pN][\pL\pN\pM-]*`)
	for _, s := range r.Sheets {
		for _, enc := range export.CutFiles(export.Options{}) {
			var b bytes.Buffer
			if err := enc.Encode(&b, s.Drawing); err != nil {
				return err.Error()
			}
			lines = append(lines, word.ReplaceAllStringFunc(b.String(), func(w string) string {
				if either(w) {
					return "?"
				}
				if i := strings.LastIndexByte(w, '-'); i > 0 && either(w[:i]) && strings.Trim(w[i:], "-0123456789") == "" {
					return "?" + w[i:] // one of a set of dividers
				}
				return w
			}))
		}
	}
	return strings.Join(lines, "\n")
}

// A namer renames the names of designs and looks by itself what comes of it.
type namer struct {
	t        *testing.T
	given    int
	refused  int
	unfresh  []string // fresh names that were refused
	outcomes map[string]*driver.Result
}

// try gives a name to what is named at a place, if it is given.
func (n *namer) try(b *rename.Bench, path, text string, at int, name string, fresh bool) {
	n.t.Helper()
	ctx := context.Background()
	found, ok := b.Find(ctx, path, text, at)
	if !ok {
		n.t.Fatalf("%s: nothing is named at %d", path, at)
	}
	where := fmt.Sprintf("%s: %s in line %d to %s", filepath.Base(path), found.Name, 1+strings.Count(text[:at], "\n"), name)
	if err := b.Rename(ctx, found, name); err != nil {
		n.refused++
		if fresh && !n.before(path).Diagnostics.HasErrors() {
			n.unfresh = append(n.unfresh, fmt.Sprintf("%s: %v", where, err))
		}
		return
	}
	n.given++
	texts := map[string]string{}
	for _, p := range slices.Backward(found.Places) {
		if texts[p.Path] == "" {
			texts[p.Path] = foretest.Read(n.t, p.Path)
		}
		texts[p.Path] = texts[p.Path][:p.Start] + name + texts[p.Path][p.End:]
	}
	s := driver.NewSession(nil)
	for p, text := range texts {
		foretest.Must(n.t, s.SetText(p, []byte(text)))
	}
	for _, d := range b.Designs {
		if was, is := outcome(n.before(d), found.Name, name), outcome(s.Look(ctx, d), found.Name, name); was != is {
			n.t.Errorf("%s: %s is another: %s", where, filepath.Base(d), firstDifference(was, is))
		}
	}
}

// before is what comes of a design as it is.
func (n *namer) before(path string) *driver.Result {
	if n.outcomes[path] == nil {
		n.outcomes[path] = driver.NewSession(nil).Look(context.Background(), path)
	}
	return n.outcomes[path]
}

func firstDifference(a, b string) string {
	x, y := strings.Split(a, "\n"), strings.Split(b, "\n")
	for i := range min(len(x), len(y)) {
		if x[i] != y[i] {
			return fmt.Sprintf("%.200s / %.200s", x[i], y[i])
		}
	}
	return fmt.Sprintf("%d lines / %d", len(x), len(y))
}

// usersOf are the designs of a folder that are made of a file, itself included.
func usersOf(t *testing.T, all []string) map[string][]string {
	users := map[string][]string{}
	s := driver.NewSession(nil)
	for _, d := range all {
		r := s.Names(context.Background(), d)
		foretest.Must(t, r.Err)
		for _, path := range r.Paths {
			users[path] = append(users[path], d)
		}
	}
	return users
}

// Every name of every design in the tree is given a fresh name, and the names of other
// things in the design: what is given changes no dimension and no cut file of it or of a
// design that uses it. In a design without errors a fresh name is given, but for what
// something of the shelf that it is like calls so.
func TestRenameHoldsItsLaw(t *testing.T) {
	n := &namer{t: t, outcomes: map[string]*driver.Result{}}
	rnd := rand.New(rand.NewPCG(15, 4))
	tries := 0
	for _, folder := range []string{"examples", "testdata/corpus", "testdata/rules"} {
		all, err := filepath.Glob(filepath.Join(foretest.Root(t), folder, "*.fore"))
		foretest.Must(t, err)
		users := usersOf(t, all)
		for _, path := range all {
			text := foretest.Read(t, path)
			b := &rename.Bench{Designs: users[path]}
			places := declared(t, path)
			names := []string{}
			for _, at := range places {
				names = append(names, text[at.Start:at.End])
			}
			most := foretest.Sample(len(places), 1)
			one := foretest.Sample(1, 4) // of so many designs
			if folder == "testdata/rules" {
				most, one = 1, foretest.Sample(2, 40)
			}
			if rnd.IntN(one) > 0 {
				continue
			}
			for _, i := range rnd.Perm(len(places))[:min(most, len(places))] {
				n.try(b, path, text, places[i].Start, "zz-tern", true)
				if other := names[rnd.IntN(len(names))]; other != names[i] {
					n.try(b, path, text, places[i].Start, other, false)
				}
				tries++
			}
		}
	}
	t.Logf("%d names: %d changes given, %d refused", tries, n.given, n.refused)
	for _, u := range n.unfresh {
		if !strings.Contains(u, "what the shelf calls") {
			t.Error(u)
		}
	}
	if n.given < tries/2 || n.refused == 0 {
		t.Errorf("%d changes are given and %d refused, of %d names", n.given, n.refused, tries)
	}
}

// declared are the places at which a design's own text gives names.
func declared(t *testing.T, path string) []rename.Place {
	r := driver.NewSession(nil).Names(context.Background(), path)
	foretest.Must(t, r.Err)
	var out []rename.Place
	for _, m := range r.Prepared.Mentions().In(r.Tree.Source) {
		if m.Declares && rename.Nameable(m) {
			out = append(out, rename.Place{Path: path, Start: m.At.Start, End: m.At.End})
		}
	}
	return out
}
