package driver_test

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/lang/ast"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// contradicted says whether the other lines of the design give another value to
// what a slipped line speaks of, and which: the lines that the slip touches are
// taken out of the right design, what is left is solved, and it is looked whether
// the slipped lines agree with that within what is promised.
func (b *bench) contradicted(t *testing.T, s slip) (outcome, string) {
	t.Helper()
	if by := b.grown(t, s); by != "" {
		return passes, by
	}
	left := b.without(t, s)
	wrong, places := b.slippedLines(t, s)
	if left == nil || wrong == nil {
		return unspoken, ""
	}
	touched := func(at source.Span) bool {
		return slices.ContainsFunc(places, func(p source.Span) bool {
			return at.File == p.File && at.Start < p.End && p.Start < at.End
		})
	}
	found := unspoken
	for i := range wrong.System.Relations {
		r := &wrong.System.Relations[i]
		if r.Role != relation.Stated || r.Sign != relation.EQ || !touched(r.At) {
			continue
		}
		o, by := left.judge(wrong, relation.Minus(r.Left, r.Right), 0)
		if o == passes {
			return o, r.Words + ": " + by
		}
		if o == promised {
			found = o
		}
	}
	for i := range wrong.System.Readings {
		r := &wrong.System.Readings[i]
		if !touched(r.At) {
			continue
		}
		u := math.Sqrt(r.Accuracy*r.Accuracy/3 + r.Resolution*r.Resolution/12)
		if u > 0 && r.Scatter > beyond*u {
			return passes, r.Text + ": its repeats"
		}
		if u == 0 {
			u = r.U
		}
		o, by := left.judge(wrong, relation.Minus(r.Left, relation.C(r.Value)), u)
		if o == passes {
			return o, r.Text + ": " + by
		}
		if o == promised {
			found = o
		}
	}
	return found, ""
}

// grown says which size of a board that covers a notebook a slip has moved that
// stands in something on the board: no such line may do that, but where a limit
// says that the board may be larger.
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
	was, is := solution.Solve(right.Design), solution.Solve(wrong.Design)
	sized := map[string]float64{}
	for _, n := range right.Things {
		if n, ok := n.(*model.Panel); ok && n.Covers != nil && !regexp.MustCompile(`(?m)^\s*(height|width|over-[a-z]+) [<>]=`).MatchString(b.text) {
			sized[n.Path+".width"], sized[n.Path+".height"] = was.Of(n.Base(), dim.Width), was.Of(n.Base(), dim.Height)
		}
	}
	for _, d := range is.Dimensions() {
		if v, ok := sized[d.Name]; ok && math.Abs(v-d.Value) > 1e-3 {
			return fmt.Sprintf("%s was %.4g and is %.4g", d.Name, v, d.Value)
		}
	}
	return ""
}

// A rest is what the other lines of a design leave known.
type rest struct {
	value, u map[string]float64
	covered  bool // the line that was taken out stands in a row of a panel
}

// without solves the right design without the lines that a slip touches, without
// wishes, and without the defaults that only place things.
func (b *bench) without(t *testing.T, s slip) *rest {
	t.Helper()
	text := []byte(b.text)
	spans, about := statements(b.text, s)
	covered := false
	for _, p := range spans {
		l := lineAt(b.text, p.Start)
		covered = covered || l != nil && l.in("row") && !l.measured()
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
	if about { // what holds as no line speaks of it
		system.Relations = slices.DeleteFunc(slices.Clone(system.Relations), func(r relation.Relation) bool { return r.Role == relation.Held })
	}
	d := *m.Design
	d.System = &system
	solved := solution.Solve(&d)
	r := &rest{value: map[string]float64{}, u: map[string]float64{}, covered: covered}
	for _, d := range solved.Dimensions() {
		r.value[d.Name], r.u[d.Name] = d.Value, d.Uncertainty
	}
	return r
}

// judge says whether an expression of a slipped design that should be 0 is so by
// the rest, within what is uncertain of both. u is what is uncertain of it besides.
func (r *rest) judge(d *model.Design, e relation.Expr, u float64) (outcome, string) {
	values := make([]float64, len(d.System.Vars))
	var names []string
	var vars []relation.VarID
	for i, v := range d.System.Vars {
		values[i] = math.NaN()
		if x, ok := r.value[v.Name]; ok && !r.replaced(v.Name) {
			values[i] = x
		}
		if speaksOf(e, relation.VarID(i)) {
			vars, names = append(vars, relation.VarID(i)), append(names, v.Name)
		}
	}
	off := e.Eval(values)
	if math.IsNaN(off) {
		return unspoken, ""
	}
	for _, v := range vars {
		const step = 1e-4
		was := values[v]
		values[v] += step
		u = math.Hypot(u, (e.Eval(values)-off)/step*r.u[d.System.Vars[v].Name])
		values[v] = was
	}
	if math.Abs(off) <= max(beyond*u, 1e-3) {
		return promised, ""
	}
	return passes, fmt.Sprintf("the rest gives %s, off by %.4g ± %.2g", strings.Join(names, ", "), off, 2*u)
}

// replaced says that a dimension without a line is one that a line would replace,
// not contradict: how many a field has across and down, and the hole of a covered row.
func (r *rest) replaced(name string) bool {
	return strings.HasSuffix(name, ".across") && !strings.HasSuffix(name, ".hole.across") || strings.HasSuffix(name, ".down") ||
		r.covered && strings.Contains(name, ".hole.")
}

func speaksOf(e relation.Expr, v relation.VarID) bool {
	return e.Op == relation.Ref && e.Var == v || slices.ContainsFunc(e.Args, func(a relation.Expr) bool { return speaksOf(a, v) })
}

// slippedLines is the model of the slipped text and the places of the lines that
// the slip touched in it.
func (b *bench) slippedLines(t *testing.T, s slip) (*model.Design, []source.Span) {
	t.Helper()
	slipped := s.apply(b.text)
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
