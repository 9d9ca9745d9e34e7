package eval_test

import (
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/lang/diag"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// An answer is what came of a design: the values of its dimensions by their
// names, or what is wrong with it.
type answer struct {
	values map[string]float64
	errors diag.List
}

// answerTo solves a design. back gives the names under which its dimensions are
// compared.
func answerTo(dir, main string, files, back map[string]string) answer {
	f := &folder{dir: dir, files: files, read: map[string]*source.File{}}
	file, _ := f.Use(nil, main)
	tree, ds := parse.File(file)
	m, more := eval.Build(tree, f)
	ds.Add(more)
	s, more := m.Solve()
	ds.Add(more)
	if ds.HasErrors() {
		return answer{errors: ds}
	}
	values := map[string]float64{}
	for _, d := range s.Dimensions() {
		parts := strings.Split(d.Name, ".")
		for i, part := range parts {
			if was, ok := back[part]; ok {
				parts[i] = was
			}
		}
		values[strings.Join(parts, ".")] = d.Value
	}
	return answer{values: values}
}

// differs says how another answer differs from this one, "" if it doesn't. Lets
// that were added or left out are passed over.
func (a answer) differs(b answer) string {
	if (a.values == nil) != (b.values == nil) {
		return fmt.Sprintf("one has errors, the other none:\n%s%s", show(a.errors), show(b.errors))
	}
	for _, name := range slices.Sorted(maps.Keys(a.values)) {
		got, ok := b.values[name]
		if !ok {
			return name + " is not there"
		}
		want := a.values[name]
		if math.IsNaN(got) != math.IsNaN(want) || math.Abs(got-want) > 1e-6*max(1, math.Abs(want)) {
			return fmt.Sprintf("%s is %.9g, and %.9g", name, want, got)
		}
	}
	return ""
}

// tryOrders holds a design against some ways to say the same. It reports
// whether the design has no errors.
func tryOrders(t *testing.T, r *rand.Rand, dir, main string, files map[string]string, ways int) bool {
	t.Helper()
	want := answerTo(dir, main, files, nil)
	for range ways {
		other, back := shuffled(r, files)
		got := answerTo(dir, main, other, back)
		if how := want.differs(got); how != "" {
			t.Errorf("%s\n---- as it was\n%s---- shuffled\n%s", how, together(files), together(other))
			break
		}
	}
	return want.values != nil
}

// together writes several files one after another.
func together(files map[string]string) string {
	var b strings.Builder
	for _, path := range slices.Sorted(maps.Keys(files)) {
		fmt.Fprintf(&b, "-- %s --\n%s", path, files[path])
	}
	return b.String()
}

// All designs of the corpus and the examples solve the same, whatever the order
// of their lines, things and files, whatever their names, and whether numbers
// stand in lets.
func TestOrderOfDesigns(t *testing.T) {
	for _, dir := range []string{filepath.Join("..", "examples"), filepath.Join("..", "testdata", "corpus")} {
		paths, err := filepath.Glob(filepath.Join(dir, "*.fore"))
		foretest.Must(t, err)
		for i, path := range paths {
			t.Run(filepath.Base(path), func(t *testing.T) {
				r := rand.New(rand.NewPCG(uint64(i), 6))
				if !tryOrders(t, r, dir, filepath.Base(path), filesOf(t, path), foretest.Sample(30, 5)) {
					t.Error("it has errors as it is")
				}
			})
		}
	}
}

// 1,000 random designs without errors solve the same in the same ways, and those
// with errors that lie between them have some in each.
func TestOrderOfRandomDesigns(t *testing.T) {
	n := foretest.Sample(1000, 100)
	good, seed := 0, 0
	for ; good < n && seed < 2*n; seed++ {
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			r := rand.New(rand.NewPCG(uint64(seed), 10))
			if tryOrders(t, r, "", "main.fore", randomDesign(r), 3) {
				good++
			}
		})
	}
	if good < n {
		t.Errorf("only %d of %d designs have no errors", good, seed)
	}
}
