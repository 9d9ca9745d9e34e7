package evaltest

import (
	"fmt"
	"regexp"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/eval/shelf"
	"foredge/eval/solution"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// Files are the files that a design finds beside it, by their paths. Without
// any, it stands alone.
type Files map[string]string

// Use reads another design.
func (f Files) Use(_ *source.File, path string) (*source.File, error) {
	text, ok := f[path]
	if !ok {
		return nil, fmt.Errorf("there is no file %q", path)
	}
	return source.New(path, []byte(text)), nil
}

// Read reads any other file.
func (f Files) Read(_ *source.File, path string) ([]byte, error) {
	text, ok := f[path]
	if !ok {
		return nil, fmt.Errorf("there is no file %q", path)
	}
	return []byte(text), nil
}

// Shelved are files beside which the shelf stands too.
type Shelved struct{ Files }

// Shelf gives a part of the shelf.
func (Shelved) Shelf(name string) (*source.File, bool) {
	text, ok := shelf.Text(name)
	return source.New("shelf/"+name+".fore", text), ok
}

// ShelfNames lists the parts of the shelf.
func (Shelved) ShelfNames() []string { return shelf.Names() }

// Build takes a text as far as its model. The diagnostics are those of both
// stages.
func Build(text string, files eval.Files) (*eval.Model, diag.List) {
	tree, diags := parse.File(source.New("test.fore", []byte(text)))
	m, more := eval.Build(tree, files)
	diags.Add(more)
	return m, diags
}

// Solve takes a text as far as its solution. The diagnostics are those of all
// stages, in the order of the text.
func Solve(text string, files eval.Files) (*eval.Solution, diag.List) {
	m, diags := Build(text, files)
	s, more := m.Solve()
	diags.Add(more)
	diags.Sort()
	return s, diags
}

// Sound solves a text that stands alone and must have no errors.
func Sound(t testing.TB, text string) *eval.Solution {
	t.Helper()
	return SoundWith(t, text, Files{})
}

// SoundWith solves a text that must have no errors, with files beside it.
func SoundWith(t testing.TB, text string, files eval.Files) *eval.Solution {
	t.Helper()
	s, diags := Solve(text, files)
	if diags.HasErrors() {
		t.Fatalf("this should be solved:\n%s\n%s", text, diagtest.Text(diags))
	}
	return s
}

// Dimension finds a dimension of a solution by its name.
func Dimension(t testing.TB, s *eval.Solution, name string) solution.Dimension {
	t.Helper()
	for _, d := range s.Dimensions() {
		if d.Name == name {
			return d
		}
	}
	t.Fatalf("there is no dimension %s", name)
	return solution.Dimension{}
}

// Near checks the value of a dimension, in mm or degrees.
func Near(t testing.TB, s *eval.Solution, name string, want, within float64) {
	t.Helper()
	foretest.Near(t, name, Dimension(t, s, name).Value, want, within)
}

// HarbourLogs is the harbour log of the corpus n times in one file, its things
// renamed.
func HarbourLogs(t testing.TB, n int) string {
	t.Helper()
	text := strings.Replace(foretest.Corpus(t, "harbour-log"), "units mm", "", 1)
	names := regexp.MustCompile(`\b(log|front|back)\b`)
	var b strings.Builder
	for i := range n {
		b.WriteString(names.ReplaceAllString(text, fmt.Sprintf("${1}%d", i)))
	}
	return b.String()
}
