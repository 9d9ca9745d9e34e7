package driver_test

import (
	"math"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
)

// Of every design that is cut from several sheets these hold all that is drawn of it, each
// part as often as it is wanted and shape by shape as it is drawn; none mixes stocks and
// none is larger than the bed.
func TestSheetsHoldTheDesign(t *testing.T) {
	rules, err := filepath.Glob("../../../testdata/rules/*.fore")
	foretest.Must(t, err)
	laid := 0
	for _, design := range append(designFiles(t), rules...) {
		r := driver.NewSession(nil).Look(t.Context(), design)
		var whole *layout.Drawing
		var sheets []*layout.Drawing
		for _, s := range r.Sheets {
			switch {
			case s.For == driver.Cutting:
				sheets = append(sheets, s.Drawing)
			case s.For == driver.Looking:
				whole = s.Drawing
			}
		}
		if whole == nil {
			continue
		}
		laid++
		bed, known := r.Solution.Design().Laser.Bed.Get()
		times := map[string]int{}
		for _, s := range sheets {
			for _, p := range s.Parts {
				if p.Common {
					continue // what several share is no part of the design
				}
				if p.Stock != s.Parts[0].Stock {
					t.Errorf("%s: %s of %q lies on a sheet of %q", design, p.Name, p.Stock, s.Parts[0].Stock)
				}
				name := strings.TrimSuffix(p.Name, copyNumber.FindString(p.Name))
				drawn := partOf(whole, p.Name)
				if drawn == nil {
					drawn = partOf(whole, name)
				} else {
					name = p.Name
				}
				if drawn == nil {
					t.Fatalf("%s: %s isn't drawn", design, p.Name)
				}
				times[name]++
				sameShapes(t, design, *drawn, p)
			}
			if w, h := s.Size.X, s.Size.Y; known && (w > bed.Width+geom.Tol || h > bed.Height+geom.Tol) && !(len(s.Parts) == 1 && s.Parts[0].Oversize) {
				t.Errorf("%s: a sheet of %g by %g is larger than the bed", design, w, h)
			}
		}
		for _, p := range whole.Parts {
			if times[p.Name] != max(1, p.Copies) {
				t.Errorf("%s: %s lies on sheets %d times, and is wanted %d times", design, p.Name, times[p.Name], p.Copies)
			}
		}
	}
	if laid < 20 {
		t.Errorf("only %d designs are laid on sheets", laid)
	}
}

var copyNumber = regexp.MustCompile(`\.\d+$`)

func partOf(d *layout.Drawing, name string) *layout.Part {
	for i := range d.Parts {
		if d.Parts[i].Name == name {
			return &d.Parts[i]
		}
	}
	return nil
}

// sameShapes holds the shapes of a part on a sheet against those that are drawn: as large,
// and as far from the first.
func sameShapes(t *testing.T, design string, drawn, laid layout.Part) {
	t.Helper()
	if len(drawn.Shapes) != len(laid.Shapes) {
		t.Errorf("%s: %s has %d shapes, and is drawn with %d", design, laid.Name, len(laid.Shapes), len(drawn.Shapes))
		return
	}
	middle := func(p layout.Part, i int) geom.Point {
		b := p.Shapes[i].Figure.Bounds()
		return b.Min.Lerp(b.Max, 0.5)
	}
	for i, want := range drawn.Shapes {
		got := laid.Shapes[i]
		if b := got.Figure.Bounds(); laid.Knife && strings.HasSuffix(got.ID, ".outline") { // as it is wanted
			if b.Min.Distance(laid.Bounds.Min)+b.Max.Distance(laid.Bounds.Max) > 1e-6 {
				t.Errorf("%s: %s is %v, and is wanted %v", design, got.ID, b, laid.Bounds)
			}
			continue
		}
		away := middle(drawn, i).Distance(middle(drawn, 0)) - middle(laid, i).Distance(middle(laid, 0))
		if got.Op != want.Op || math.Abs(away) > 1e-6 || math.Abs(math.Abs(geom.Area(got.Figure))-math.Abs(geom.Area(want.Figure))) > 1e-6 ||
			got.ID != laid.Name+strings.TrimPrefix(want.ID, drawn.Name) {
			t.Errorf("%s: %s of %s isn't as it is drawn (%g mm off)", design, got.ID, laid.Name, away)
		}
	}
}

// Stocks whose names a disk takes for one have no file in common.
func TestSuffixes(t *testing.T) {
	var laid []layout.Sheet
	for _, stock := range []string{"birch", "Birch", "birch", "ply (birch, 3 mm)", "ply-birch-3-mm", ""} {
		laid = append(laid, layout.Sheet{Stock: stock})
	}
	seen := map[string]bool{}
	for _, suffix := range driver.Suffixes(laid) {
		if seen[strings.ToLower(suffix)] {
			t.Errorf("two files end in %s", suffix)
		}
		seen[strings.ToLower(suffix)] = true
	}
	if got := driver.Suffixes(laid[:1]); got[0] != "" {
		t.Errorf("a sheet alone ends in %q", got[0])
	}
}
