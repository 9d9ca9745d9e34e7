package eval_test

import (
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"runtime/debug"
	"testing"
	"time"

	"foredge/eval"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// Whatever the text, reading, building and solving end, soon and without a
// panic; each trouble has words and a place in the text; and a sound design can
// be asked for its dimensions, for why they are so, and as plain numbers.
func FuzzEval(f *testing.F) {
	for _, dir := range []string{"testdata", "examples"} {
		err := filepath.WalkDir(filepath.Join("..", dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(path) != ".fore" {
				return err
			}
			data, err := os.ReadFile(path)
			f.Add(string(data))
			return err
		})
		if err != nil {
			f.Fatal(err)
		}
	}
	for _, text := range []string{
		"", "units in", "let a = a", "let a = b; let b = a", "panel a like a", "panel a { panel b like a }",
		"panel a { width = 1 / 0; height = 0 / 0 }", "panel a { width = 1e308 * 10; height = sqrt(-1) }",
		"panel a { width = width + 1; height = height * height }", "panel a { width * height = 100; width = height }",
		"notebook n { accuracy = 0; width = 1, 2; height = 3 ± 0 }\npanel a covers n",
		"panel a { width = max(height, 3); height = min(width, 5) }", "panel a { row r on spine { count = most; pitch >= 1e-9; hole = round 1e-9 } }",
		"panel a { width = nearest(height, 0); height = floor(2.5 in) }", "panel a { prefer width = height weight 1e300; prefer height = 3 weight 0 }",
		"gap g { width = 3 }\ncase s { lay = g, g, g; turn-in = g.width }", "panel a { 1 <= width <= 2 <= height <= 3 }",
	} {
		f.Add(text)
	}
	f.Fuzz(func(t *testing.T, text string) {
		late := time.AfterFunc(10*time.Second, func() {
			debug.SetTraceback("all")
			panic("this design takes too long")
		})
		defer late.Stop()
		tree, diags := parse.File(source.New("fuzz.fore", []byte(text)))
		model, more := eval.Build(tree, memory{})
		diags.Add(more)
		s, more := model.Solve()
		diags.Add(more)
		for _, d := range diags {
			if d.Message == "" || d.Code == "" || d.Span.IsZero() {
				t.Fatalf("the message %q (%s) is at %v", d.Message, d.Code, d.Span)
			}
			if d.Span.File.Name() == "fuzz.fore" && (d.Span.Start < 0 || d.Span.End < d.Span.Start || d.Span.End > len(d.Span.File.Text())) {
				t.Fatalf("%q is at %d-%d of %d bytes", d.Message, d.Span.Start, d.Span.End, len(text))
			}
		}
		for _, d := range s.Dimensions() {
			if s.Sound && math.IsInf(d.Value, 0) {
				t.Fatalf("%s is %v", d.Name, d.Value)
			}
		}
		if !s.Sound || diags.HasErrors() {
			return
		}
		for _, name := range s.Names() {
			if id, ok := s.Dimension(name); ok {
				s.Why(id)
			}
		}
		for _, p := range s.Design().Panels {
			if !(p.Width >= -1e-6 && p.Height >= -1e-6) {
				t.Fatalf("%s is %v by %v", p.Name, p.Width, p.Height)
			}
		}
	})
}
