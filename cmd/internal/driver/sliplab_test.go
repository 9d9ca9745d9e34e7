package driver_test

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/lang/diag"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/layout"
)

// A bench is a right design at which slips are tried.
type bench struct {
	name, path string // of the file in which slips are tried: it need not be there
	text       string
	cuts       cuts
}

func newBench(t *testing.T, name string) *bench {
	t.Helper()
	folder := filepath.Join(slipFolder(t), name)
	b, told := benchOf(t, name, filepath.Join(folder, "slip.fore"), foretest.Read(t, filepath.Join(folder, "right.fore")))
	for _, d := range told {
		t.Fatalf("%s is no right design: %v", name, d)
	}
	return b
}

// benchOf is one of a right design, with the errors and warnings that it has all
// the same.
func benchOf(t *testing.T, name, path, text string) (*bench, diag.List) {
	t.Helper()
	b := &bench{name: name, path: path, text: text}
	told, drawing := b.build(t, text)
	told = slices.DeleteFunc(told, func(d *diag.Diagnostic) bool { return d.Severity == diag.Info })
	if drawing != nil {
		b.cuts = cutsOf(drawing)
	}
	return b, told
}

// build takes a text through all stages. There is no drawing after an error.
func (b *bench) build(t *testing.T, text string) (diag.List, *layout.Drawing) {
	t.Helper()
	s := driver.NewSession(nil)
	foretest.Must(t, s.SetText(b.path, []byte(text)))
	r := s.Check(context.Background(), b.path)
	foretest.Must(t, r.Err)
	if r.Diagnostics.HasErrors() {
		return r.Diagnostics, nil
	}
	drawing, diags := s.Drawer().Draw(r.Solution.Design())
	if diags.HasErrors() {
		t.Fatalf("%s can't be drawn: %v", b.name, diags)
	}
	return r.Diagnostics, drawing
}

// An outcome is what becomes of a slip.
type outcome string

const (
	caught   outcome = "caught"                                                         // an error
	named    outcome = "told"                                                           // a warning that names the line
	hinted   outcome = "told elsewhere"                                                 // a warning, but of what came of it
	unspoken outcome = "undetectable: nothing else speaks of it"                        // in silence
	promised outcome = "undetectable: what else speaks of it agrees within its promise" // in silence
	harmless outcome = "undetectable: no hole or outline is off by more than 0.3 mm"    // in silence
	passes   outcome = "passes: another line contradicts it"                            // in silence: never
)

const (
	wrongBy = 0.3 // mm on a hole or an outline: what counts
	beyond  = 4.0 // standard uncertainties: more is a contradiction
)

// A finding is an outcome with what it rests on.
type finding struct {
	outcome outcome
	moved   float64 // mm, where there is no error
	by      string  // what contradicts it, where it passes
	told    diag.List
}

// try makes a slip and looks what becomes of it.
func (b *bench) try(t *testing.T, s slip) finding {
	t.Helper()
	list, drawing := b.build(t, s.apply(b.text))
	f := finding{told: slices.DeleteFunc(list, func(d *diag.Diagnostic) bool { return d.Severity == diag.Info })}
	if f.told.HasErrors() {
		f.outcome = caught
		return f
	}
	f.moved = moved(b.cuts, cutsOf(drawing))
	switch {
	case len(f.told) > 0 && b.spoken(s, f.told):
		f.outcome = named
	case len(f.told) > 0:
		f.outcome = hinted
	case f.moved <= wrongBy:
		f.outcome = harmless
	default:
		f.outcome, f.by = b.contradicted(t, s)
	}
	return f
}

// spoken says that a warning names the line of the slip or of what it changed.
func (b *bench) spoken(s slip, list diag.List) bool {
	text := s.apply(b.text)
	lines := map[int]bool{}
	shift := 0
	for _, c := range slices.SortedFunc(slices.Values(s), func(x, y change) int { return x.at - y.at }) {
		for at := c.at + shift; at <= c.at+shift+len(c.with); at++ {
			lines[1+strings.Count(text[:min(at, len(text))], "\n")] = true
		}
		shift += len(c.with) - (c.end - c.at)
	}
	on := func(at source.Span) bool {
		if at.File == nil {
			return false
		}
		from, to := at.File.Position(at.Start).Line, at.File.Position(at.End).Line
		for l := range lines {
			if from <= l && l <= to {
				return true
			}
		}
		return false
	}
	return slices.ContainsFunc(list, func(d *diag.Diagnostic) bool {
		return on(d.Span) || slices.ContainsFunc(d.Notes, func(n diag.Note) bool { return on(n.Span) })
	})
}

// model compiles a text, nil if there is an error.
func (b *bench) model(t *testing.T, text string) *eval.Model {
	t.Helper()
	s := driver.NewSession(nil)
	foretest.Must(t, s.SetText(b.path, []byte(text)))
	reader, file, err := s.Open(b.path)
	foretest.Must(t, err)
	tree, diags := parse.File(file)
	m, more := eval.Build(tree, reader)
	diags.Add(more)
	if m == nil || m.System == nil {
		return nil
	}
	return m
}
