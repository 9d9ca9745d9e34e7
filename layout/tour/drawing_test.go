package tour_test

import (
	"cmp"
	"context"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/tour"
)

// No design of the repository is run over a longer way than in the order of its file:
// operation by operation, part by part, openings before outlines, of what is cut the
// smaller contours of a shape first, each from where it starts. That order is sound but
// for pieces laid in that lie in the counter of another, which it cuts when that is free.
func TestNeverLongerThanTheFile(t *testing.T) {
	root := foretest.Root(t)
	files := evaltest.Files{}
	var paths []string
	for _, pattern := range []string{"examples/*", "testdata/corpus/*"} {
		all, err := filepath.Glob(filepath.Join(root, pattern))
		foretest.Must(t, err)
		for _, path := range all {
			switch filepath.Ext(path) {
			case ".fore":
				paths = append(paths, path)
				files[filepath.Base(path)] = foretest.Read(t, path)
			case ".svg", ".png":
				files[filepath.Base(path)] = foretest.Read(t, path)
			}
		}
	}
	tried := 0
	for _, path := range paths {
		drawing := lasered(foretest.Read(t, path), files)
		if drawing == nil {
			continue
		}
		items := itemsOf(drawing)
		asFile := fileTravel(items)
		plan, err := tour.Order(context.Background(), items, tour.Options{})
		foretest.Must(t, err)
		t.Logf("%-22s %4d figures: file %8.1f mm, plan %8.1f mm", filepath.Base(path), len(items), asFile, plan.Travel)
		if want := filepath.Base(path) == "inlay.fore"; plan.Mended != want {
			t.Errorf("%s: mended %v, want %v", path, plan.Mended, want)
		}
		if !plan.Mended {
			foretest.Near(t, path+": travel as in the file", plan.Given, asFile, 1e-5*float64(len(items)+1))
		}
		if plan.Travel > min(plan.Given, asFile)+1e-6 {
			t.Errorf("%s: %.3f mm, in the file %.3f mm", path, plan.Travel, asFile)
		}
		tried++
	}
	if tried < 10 {
		t.Errorf("only %d designs were drawn", tried)
	}
}

// lasered is a design as it is cut, nil if it can't be drawn by itself.
func lasered(text string, files evaltest.Files) *layout.Drawing {
	s, diags := evaltest.Solve(text, files)
	if diags.HasErrors() {
		return nil
	}
	drawing, diags := layout.Draw(s.Design())
	if diags.HasErrors() {
		return nil
	}
	if drawing, diags = drawing.ForLaser(); diags.HasErrors() {
		return nil
	}
	return drawing
}

// itemsOf lists the shapes of a drawing in the order of its file.
func itemsOf(d *layout.Drawing) (items []tour.Item) {
	for _, op := range layout.Ops() {
		for k := range d.Parts {
			for _, outlines := range []bool{false, true} {
				for _, s := range d.Parts[k].Shapes {
					if s.Op == op && (op == layout.Cut && !s.Hole) == outlines {
						items = append(items, tour.Item{Op: tour.Op(op), Part: k, Figure: s.Figure})
					}
				}
			}
		}
	}
	return items
}

func fileTravel(items []tour.Item) (sum float64) {
	var at geom.Point
	moving := false
	goTo := func(p geom.Point) {
		if moving {
			sum += at.Distance(p)
		}
		at, moving = p, true
	}
	for _, it := range items {
		paths := slices.DeleteFunc(geom.Paths(it.Figure), func(p geom.Path) bool { return len(p.Segments) == 0 })
		if len(paths) == 0 {
			continue
		}
		switch it.Op {
		case tour.Engrave:
			goTo(it.Figure.Bounds().Center())
			continue
		case tour.Cut:
			slices.SortStableFunc(paths, func(a, b geom.Path) int {
				return cmp.Compare(math.Abs(a.Area()), math.Abs(b.Area()))
			})
		}
		for _, p := range paths {
			goTo(p.Start)
			at = p.End()
		}
	}
	return sum
}

func TestItemsOf(t *testing.T) {
	items := itemsOf(lasered(foretest.Corpus(t, "harbour-log"), nil))
	ops := ""
	for _, it := range items {
		ops += it.Op.String() + " "
	}
	if !strings.HasPrefix(ops, "engrave ") || strings.Count(ops, "cut") < 50 {
		t.Errorf("the harbour log is %s", ops)
	}
}

// The operations are those of layout.
func TestOpsAreThoseOfLayout(t *testing.T) {
	for i, op := range layout.Ops() {
		if tour.Op(op) != tour.Op(i) || tour.Op(op).String() != op.String() {
			t.Errorf("%s is %s here", op, tour.Op(op))
		}
	}
}
