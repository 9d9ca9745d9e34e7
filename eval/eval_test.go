package eval_test

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/lang/diag"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// memory is a set of files in memory.
type memory map[string]string

func (m memory) Use(_ *source.File, path string) (*source.File, error) {
	if text, ok := m[path]; ok {
		return source.New(path, []byte(text)), nil
	}
	return nil, fmt.Errorf("there is no file %q", path)
}
func (m memory) Read(_ *source.File, path string) ([]byte, error) {
	if text, ok := m[path]; ok {
		return []byte(text), nil
	}
	return nil, fmt.Errorf("there is no file %q", path)
}

// compile solves a design and gives all diagnostics of the stages so far.
func compile(t testing.TB, text string) (*eval.Solution, diag.List) {
	t.Helper()
	tree, ds := parse.File(source.New("test.fore", []byte(text)))
	m, more := eval.Build(tree, memory{})
	ds.Add(more)
	s, more := m.Solve()
	ds.Add(more)
	ds.Sort()
	return s, ds
}

// sound solves a design that must have no errors.
func sound(t testing.TB, text string) *eval.Solution {
	t.Helper()
	s, ds := compile(t, text)
	if ds.HasErrors() {
		t.Fatalf("this should compile:\n%s\n%s", text, show(ds))
	}
	return s
}

func show(ds diag.List) string {
	var b strings.Builder
	if err := diag.WriteText(&b, ds, diag.TextOptions{}); err != nil {
		return err.Error()
	}
	return b.String()
}

func corpus(t testing.TB, name string) string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("..", "testdata", "corpus", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(data)
}

// number is the value of a dimension.
func number(t testing.TB, s *eval.Solution, name string) float64 {
	t.Helper()
	for _, d := range s.Dimensions() {
		if d.Name == name {
			return d.Value
		}
	}
	t.Fatalf("there is no dimension %s", name)
	return 0
}

// near checks a dimension.
func near(t testing.TB, s *eval.Solution, name string, want, within float64) {
	t.Helper()
	if got := number(t, s, name); !(math.Abs(got-want) <= within) {
		t.Errorf("%s is %.7f, want %.7f within %g", name, got, want, within)
	}
}
