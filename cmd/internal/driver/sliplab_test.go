package driver_test

import (
	"context"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/lang/ast"
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

// wrongBy is what counts: more than that, in mm, on a hole or an outline.
const wrongBy = 0.3

func newBench(t *testing.T, name string) *bench {
	t.Helper()
	folder := filepath.Join(slipFolder(t), name)
	b := &bench{name: name, path: filepath.Join(folder, "slip.fore"), text: foretest.Read(t, filepath.Join(folder, "right.fore"))}
	told, drawing := b.build(t, b.text)
	for _, d := range told {
		if d.Severity != diag.Info {
			t.Fatalf("%s is no right design: %v", name, d)
		}
	}
	b.cuts = cutsOf(drawing)
	return b
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
type outcome uint8

const (
	caught    outcome = iota // an error
	named                    // a warning that names the line
	unspoken                 // nothing says anything of it, and nothing else speaks of it
	harmless                 // nothing says anything, and no hole or outline is wrong by more than wrongBy
	passes                   // nothing says anything, though another line contradicts it: never
	misplaced                // a warning, but of another line: never
)

// A finding is an outcome with what it rests on.
type finding struct {
	outcome outcome
	moved   float64 // mm, where nothing was told
	by      string  // what contradicts it
	told    diag.List
}

// try makes a slip and looks what becomes of it.
func (b *bench) try(t *testing.T, s slip) finding {
	t.Helper()
	text := s.apply(b.text)
	list, drawing := b.build(t, text)
	f := finding{told: slices.DeleteFunc(list, func(d *diag.Diagnostic) bool { return d.Severity == diag.Info })}
	switch {
	case f.told.HasErrors():
		f.outcome = caught
		return f
	case len(f.told) > 0:
		f.outcome = named
		return f
	}
	if f.moved = moved(b.cuts, cutsOf(drawing)); f.moved <= wrongBy {
		f.outcome = harmless
		return f
	}
	f.outcome = unspoken
	if f.by = b.contradicted(t, s); f.by != "" {
		f.outcome = passes
	}
	return f
}

// grown says which size of a board, or of a measured row on one, a slip has moved
// that stands in something drawn on the board: no such line may do that.
func (b *bench) grown(t *testing.T, s slip) string {
	spans, _ := statements(b.text, s)
	for _, p := range spans {
		if l := lineAt(b.text, p.Start); l == nil || !l.in("region", "cutout", "field", "lattice", "line") {
			return ""
		}
	}
	right, wrong := b.model(t, b.text), b.model(t, s.apply(b.text))
	if right == nil || wrong == nil {
		return ""
	}
	is := solution.Solve(wrong.Design)
	was := solution.Solve(right.Design)
	sized := map[string]float64{}
	for _, n := range right.Things {
		switch n := n.(type) {
		case *model.Panel:
			sized[n.Path+".width"], sized[n.Path+".height"] = was.Of(n.Base(), dim.Width), was.Of(n.Base(), dim.Height)
		}
	}
	for _, d := range is.Dimensions() {
		if v, ok := sized[d.Name]; ok && math.Abs(v-d.Value) > 1e-3 {
			return d.Name + " was " + foretestFormat(v) + " and is " + foretestFormat(d.Value)
		}
	}
	return ""
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

// contradicted says which value the other lines of the design give to what a
// slipped line speaks of, if that is another one: the lines that the slip touches
// are taken out of the right design, what is left is solved, and it is looked
// whether the slipped lines agree with that within what is promised. "" if
// nothing else speaks of it.
func (b *bench) contradicted(t *testing.T, s slip) string {
	t.Helper()
	if by := b.grown(t, s); by != "" {
		return by
	}
	slipped := s.apply(b.text)
	left := b.without(t, s)
	wrong, places := b.slippedLines(t, s, slipped)
	if left == nil || wrong == nil {
		return ""
	}
	touched := func(at source.Span) bool {
		return slices.ContainsFunc(places, func(p source.Span) bool {
			return at.File == p.File && at.Start < p.End && p.Start < at.End
		})
	}
	own := func(r *relation.Relation) bool { return r.Role == relation.Stated && touched(r.At) }
	for i := range wrong.System.Relations {
		r := &wrong.System.Relations[i]
		if !own(r) {
			continue
		}
		if r.Sign == relation.EQ {
			if by := left.disagrees(wrong, relation.Minus(r.Left, r.Right), 0); by != "" {
				return r.Words + ": " + by
			}
		}
	}
	for i := range wrong.System.Readings {
		r := &wrong.System.Readings[i]
		if !touched(r.At) {
			continue
		}
		promised := math.Sqrt(r.Accuracy*r.Accuracy/3 + r.Resolution*r.Resolution/12)
		if promised > 0 && r.Scatter > 4*promised {
			return r.Text + ": its repeats"
		}
		if promised == 0 {
			promised = r.U
		}
		if by := left.disagrees(wrong, relation.Minus(r.Left, relation.C(r.Value)), promised); by != "" {
			return r.Text + ": " + by
		}
	}
	return ""
}

// A rest is what the other lines of a design leave known.
type rest struct {
	value, u map[string]float64
	say      func(float64) string
}

// without solves the right design without the lines that a slip touches, without
// wishes, and without the defaults that only place things.
func (b *bench) without(t *testing.T, s slip) *rest {
	t.Helper()
	text := []byte(b.text)
	spans, about := statements(b.text, s)
	for _, p := range spans {
		for i := p.Start; i < p.End; i++ {
			if text[i] != '\n' {
				text[i] = ' '
			}
		}
	}
	m := b.model(t, string(text))
	if m == nil {
		return nil
	}
	system := *m.System
	system.Wishes = nil
	system.Defaults = slices.DeleteFunc(slices.Clone(system.Defaults), func(d relation.Default) bool {
		return len(d.Frame) > 0 || about
	})
	d := *m.Design
	d.System = &system
	solved := solution.Solve(&d)
	r := &rest{value: map[string]float64{}, u: map[string]float64{}}
	for _, d := range solved.Dimensions() {
		r.value[d.Name], r.u[d.Name] = d.Value, d.Uncertainty
	}
	return r
}

// disagrees says by how much an expression that should be 0 isn't, beyond four
// times what is uncertain of it. u is what is uncertain of it besides.
func (r *rest) disagrees(d *model.Design, e relation.Expr, u float64) string {
	values := make([]float64, len(d.System.Vars))
	var vars []relation.VarID
	for i, v := range d.System.Vars {
		values[i] = math.NaN()
		// Where no line speaks of it a field has one across and one down.
		if x, ok := r.value[v.Name]; ok && !strings.HasSuffix(v.Name, ".across") && !strings.HasSuffix(v.Name, ".down") {
			values[i] = x
		}
		if relationSpeaksOf(e, relation.VarID(i)) {
			vars = append(vars, relation.VarID(i))
		}
	}
	off := e.Eval(values)
	if math.IsNaN(off) {
		return ""
	}
	for _, v := range vars {
		const step = 1e-4
		was := values[v]
		values[v] += step
		u = math.Hypot(u, (e.Eval(values)-off)/step*r.u[d.System.Vars[v].Name])
		values[v] = was
	}
	if math.Abs(off) <= max(4*u, 1e-3) {
		return ""
	}
	names := make([]string, len(vars))
	for i, v := range vars {
		names[i] = d.System.Vars[v].Name
	}
	return "the rest gives " + strings.Join(names, ", ") + ", off by " + foretestFormat(off) + " ± " + foretestFormat(2*u)
}

func relationSpeaksOf(e relation.Expr, v relation.VarID) bool {
	return e.Op == relation.Ref && e.Var == v || slices.ContainsFunc(e.Args, func(a relation.Expr) bool { return relationSpeaksOf(a, v) })
}

// slippedLines is the model of the slipped text and the places of the lines that
// the slip touched in it.
func (b *bench) slippedLines(t *testing.T, s slip, slipped string) (*model.Design, []source.Span) {
	t.Helper()
	back := make(slip, 0, len(s)) // the same changes the other way
	shift := 0
	for _, c := range slices.SortedFunc(slices.Values(s), func(x, y change) int { return x.at - y.at }) {
		back = append(back, change{c.at + shift, c.at + shift + len(c.with), b.text[c.at:c.end]})
		shift += len(c.with) - (c.end - c.at)
	}
	m := b.model(t, slipped)
	if m == nil {
		return nil, nil
	}
	spans, _ := statements(slipped, back)
	for i := range spans {
		spans[i].File = m.At.File
	}
	return m.Design, spans
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

// statements finds the innermost statements that a slip touches, and whether one
// is about the size of a panel itself, its overhangs or ease. A statement with
// braces counts whole.
func statements(text string, s slip) (spans []source.Span, aboutPanel bool) {
	tree, _ := parse.File(source.New("slip.fore", []byte(text)))
	for _, c := range s {
		var found *source.Span
		var in ast.Stmt
		for _, stmt := range tree.Stmts {
			ast.Walk(stmt, func(n ast.Node) bool {
				at := n.Span()
				if at.Start > c.at || c.end > at.End {
					return false
				}
				if st, ok := n.(ast.Stmt); ok {
					found, in = &at, st
				}
				return true
			})
		}
		if found == nil {
			continue
		}
		spans = append(spans, *found)
		if r, ok := in.(*ast.Relation); ok {
			name := strings.TrimSpace(text[r.First.Span().Start:r.First.Span().End])
			if l := lineAt(text, found.Start); l != nil && l.in("panel") &&
				(name == "width" || name == "height" || name == "ease" || strings.HasPrefix(name, "over-")) {
				aboutPanel = true
			}
		}
	}
	return spans, aboutPanel
}

// lineAt is the line with a value that begins at a place.
func lineAt(text string, at int) *stated {
	for _, l := range lines(text) {
		if l.at == at {
			return &l
		}
	}
	return nil
}
