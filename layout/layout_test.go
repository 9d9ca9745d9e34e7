package layout_test

import (
	"fmt"
	"math"
	"slices"
	"testing"

	"foredge/eval/design"
	"foredge/eval/evaltest"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/layout"
	"foredge/layout/geom"
)

// solved takes a text through the stages before layout; nil if one of them
// finds an error.
func solved(text string) (*design.Design, diag.List) {
	s, diags := evaltest.Solve(text, evaltest.Files{})
	if diags.HasErrors() {
		return nil, diags
	}
	return s.Design(), diags
}

// mustSolve is a solved design, which must have no errors.
func mustSolve(t testing.TB, text string) *design.Design {
	t.Helper()
	d, diags := solved(text)
	if d == nil {
		t.Fatalf("this should be solved:\n%s\n%s", text, diagtest.Text(diags))
	}
	return d
}

// drawn is a design as wanted, which must have no errors.
func drawn(t testing.TB, text string) *layout.Drawing {
	t.Helper()
	dr, diags := layout.Draw(mustSolve(t, text))
	if diags.HasErrors() {
		t.Fatalf("this should be drawn:\n%s\n%s", text, diagtest.Text(diags))
	}
	return dr
}

// lasered is a design as the laser has to cut it.
func lasered(t testing.TB, text string) *layout.Drawing {
	t.Helper()
	out, diags := drawn(t, text).ForLaser()
	if diags.HasErrors() {
		t.Fatalf("this should be cut:\n%s\n%s", text, diagtest.Text(diags))
	}
	return out
}

// told is all that is said of a design up to its cut file.
func told(t testing.TB, text string) diag.List {
	t.Helper()
	dr, diags := layout.Draw(mustSolve(t, text))
	if !diags.HasErrors() {
		_, more := dr.ForLaser()
		diags.Add(more)
	}
	return diags
}

// shape finds a shape by its ID.
func shape(t testing.TB, d *layout.Drawing, id string) layout.Shape {
	t.Helper()
	for _, p := range d.Parts {
		for _, s := range p.Shapes {
			if s.ID == id {
				return s
			}
		}
	}
	t.Fatalf("the drawing has no %s", id)
	return layout.Shape{}
}

func part(t testing.TB, d *layout.Drawing, name string) layout.Part {
	t.Helper()
	i := slices.IndexFunc(d.Parts, func(p layout.Part) bool { return p.Name == name })
	if i < 0 {
		t.Fatalf("the drawing has no part %s", name)
	}
	return d.Parts[i]
}

func ids(p layout.Part) []string {
	var all []string
	for _, s := range p.Shapes {
		all = append(all, s.ID)
	}
	return all
}

// text writes a figure to 0.1 µm, so that tables can say what is wanted.
func text(f geom.Figure) string {
	short := func(x float64) float64 { return math.Round(x*1e4)/1e4 + 0 }
	switch f := f.(type) {
	case geom.Rect:
		return fmt.Sprintf("rect %v %v, %v by %v", short(f.Min.X), short(f.Min.Y), short(f.W), short(f.H))
	case geom.Circle:
		return fmt.Sprintf("circle %v %v, radius %v", short(f.Center.X), short(f.Center.Y), short(f.R))
	case geom.Path:
		return f.String()
	case geom.Outline:
		return fmt.Sprintf("outline of %d paths", len(f))
	}
	return "nothing"
}

func wantFigure(t testing.TB, d *layout.Drawing, id, want string) {
	t.Helper()
	if got := text(shape(t, d, id).Figure); got != want {
		t.Errorf("%s is %s\nwant %s", id, got, want)
	}
}

// nearFigure checks that two figures agree within a tolerance in mm: the same
// form, and the same points in the same order, wherever a closed path starts.
func nearFigure(t testing.TB, what string, got, want geom.Figure, within float64) {
	t.Helper()
	if fmt.Sprintf("%T", got) != fmt.Sprintf("%T", want) {
		t.Errorf("%s: %s, want %s", what, text(got), text(want))
		return
	}
	a, b := points(got), points(want)
	if len(a) != len(b) {
		t.Errorf("%s: %d points, want %d", what, len(a), len(b))
		return
	}
	least := math.Inf(1)
	for shift := range a {
		most := 0.0
		for i := range a {
			most = max(most, a[(i+shift)%len(a)].Distance(b[i]))
		}
		if least = min(least, most); least <= within {
			return
		}
	}
	t.Errorf("%s is off by %.3g mm: %s, want %s", what, least, text(got), text(want))
}

// points are places all along a figure, three for each segment, clockwise.
func points(f geom.Figure) []geom.Point {
	var all []geom.Point
	for _, p := range geom.Paths(f) {
		if p.Closed {
			p = p.Oriented(true)
		}
		for s := range p.Pieces() {
			all = append(all, s.From, s.At(1./3), s.At(2./3))
		}
	}
	return all
}
