package layout_test

import (
	"fmt"
	"io/fs"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/eval/design"
	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/kerf"
)

// A randomRow is a row of a random design, from which the test works out by
// itself where the holes are.
type randomRow struct {
	edge, form         string
	count              int
	along, across      float64
	first, inset, step float64
}

// center is the place of hole i, from the spine and from the head, on a panel of
// w by h.
func (r randomRow) center(i int, w, h float64) geom.Point {
	run := r.first + r.along/2 + float64(i)*r.step
	in := r.inset + r.across/2
	switch r.edge {
	case "head":
		return geom.Pt(run, in)
	case "tail":
		return geom.Pt(run, h-in)
	case "foredge":
		return geom.Pt(w-in, run)
	}
	return geom.Pt(in, run)
}

// area is that of one hole, by the formulas of school.
func (r randomRow) area() float64 {
	short, long := min(r.along, r.across), max(r.along, r.across)
	switch r.form {
	case "round":
		return math.Pi * r.along * r.along / 4
	case "slot":
		return math.Pi*short*short/4 + short*(long-short)
	}
	return r.along * r.across
}

// randomText is a design of two panels with rows, by their names, on a panel of w
// by h, cut with a laser of some kerf.
func randomText(r *rand.Rand) (text string, rows map[string]randomRow, w, h, cut float64) {
	between := func(low, high float64) float64 { return math.Round((low+r.Float64()*(high-low))*1e4) / 1e4 }
	w, h, cut = between(80, 300), between(80, 300), between(0, 0.4)
	var b strings.Builder
	fmt.Fprintf(&b, "laser bench { kerf = %v }\npanel front { width = %v; height = %v\n", cut, w, h)
	corner := between(0, 8)
	fmt.Fprintf(&b, "corners = %s %v\n", []string{"radius", "chamfer"}[r.IntN(2)], corner)
	// Two rows on opposite edges, their holes clear of the corners and of the
	// middle, where a cutout and a region lie.
	pairs := [][2]string{{"head", "tail"}, {"spine", "foredge"}}[r.IntN(2)]
	length := w
	if pairs[0] == "spine" {
		length = h
	}
	rows = map[string]randomRow{}
	for i, edge := range pairs {
		row := randomRow{edge: edge, form: []string{"rect", "round", "slot"}[r.IntN(3)], along: between(2, 6), across: between(2, 6),
			first: between(10, 20), inset: between(4, 9), count: 1 + r.IntN(8)}
		sizes := fmt.Sprintf("%v by %v", row.along, row.across)
		if row.form == "round" {
			row.across = row.along
			sizes = fmt.Sprint(row.along)
		}
		row.step = between(row.along+0.5, row.along+0.5+(length-2*row.first-row.along-8*(row.along+0.5))/8)
		name := fmt.Sprintf("row-%d", i)
		rows[name] = row
		fmt.Fprintf(&b, "row %s on %s { count = %d; hole = %s %s; first = %v; inset = %v; pitch = %v }\n",
			name, edge, row.count, row.form, sizes, row.first, row.inset, row.step)
	}
	fmt.Fprintf(&b, "cutout eye { shape = slot %v by %v; spine = %v }\n", between(5, 20), between(5, 20), between(25, 30))
	b.WriteString("line fold { from = foredge; at = 26 }\n}\npanel back mirrors front\n")
	return b.String(), rows, w, h, cut
}

// Random designs: each hole where school arithmetic says and of its area, the
// mirrored panel a mirror image, parts 10 mm apart, kerf undone giving back what
// was wanted.
func TestRandomDesigns(t *testing.T) {
	for seed := range uint64(foretest.Sample(300, 60)) {
		t.Run(fmt.Sprint(seed), func(t *testing.T) { randomDesign(t, rand.New(rand.NewPCG(seed, 7))) })
	}
}

func randomDesign(t *testing.T, r *rand.Rand) {
	text, rows, w, h, cut := randomText(r)
	d := mustSolve(t, text)
	dr, diags := layout.Draw(d)
	for _, d := range diags { // a row may leave half a millimetre between its holes, and the fold may run through one
		if d.Code != "thin-detail" && d.Code != "line-through" {
			t.Fatalf("%s\n%s", text, diagtest.Text(diags))
		}
	}
	for name, row := range rows {
		for i := range row.count {
			for _, panel := range dr.Parts {
				s := shape(t, dr, fmt.Sprintf("%s.%s.%d", panel.Name, name, i+1))
				at := row.center(i, w, h)
				if panel.Name == "back" {
					at = geom.Pt(w+layout.Spacing+w-at.X, at.Y)
				}
				if off := s.Figure.Bounds().Center().Distance(at); off > 1e-6 {
					t.Errorf("%s is %g mm away from its place", s.ID, off)
				}
				if got := math.Abs(geom.Area(s.Figure)); math.Abs(got-row.area()) > 1e-6 {
					t.Errorf("%s has an area of %v, want %v", s.ID, got, row.area())
				}
			}
		}
	}
	mirrorImages(t, dr, "front", "back")
	if gap := dr.Parts[1].Bounds.Min.X - dr.Parts[0].Bounds.Max.X; math.Abs(gap-10) > 1e-9 {
		t.Errorf("parts %v apart", gap)
	}
	kerfUndone(t, dr, cut)
	again, _ := layout.Draw(d)
	if fmt.Sprintf("%+v", again) != fmt.Sprintf("%+v", dr) {
		t.Error("drawn twice, a design is not drawn alike")
	}
}

// kerfUndone grows and shrinks a cut file back to what was wanted.
func kerfUndone(t *testing.T, dr *layout.Drawing, cut float64) {
	lasered, diags := dr.ForLaser()
	if len(diags) > 0 {
		t.Fatalf("%s", diagtest.Text(diags))
	}
	for k, p := range dr.Parts {
		for i, s := range p.Shapes {
			cutShape := lasered.Parts[k].Shapes[i]
			back := cutShape.Figure
			if s.Op == layout.Cut {
				by := -cut / 2
				if s.Hole {
					by = -by
				}
				var err error
				if back, err = kerf.Offset(back, by); err != nil {
					t.Fatal(err)
				}
			}
			nearFigure(t, s.ID+" with its kerf undone", back.Move(geom.Pt(-cut/2, -cut/2)), s.Figure, 1e-6)
		}
	}
}

// checkDrawing holds what is drawn of any sound design against what encoders
// and lasers need.
func checkDrawing(t testing.TB, d *design.Design, draw func(*design.Design) (*layout.Drawing, bool)) {
	t.Helper()
	before := fmt.Sprintf("%+v", *d)
	dr, ok := draw(d)
	if after := fmt.Sprintf("%+v", *d); after != before {
		t.Fatalf("drawing has changed the design:\n%s\n%s", before, after)
	}
	if !ok {
		return
	}
	cut, diags := dr.ForLaser()
	if diags.HasErrors() {
		return
	}
	for _, p := range cut.Parts {
		for _, s := range p.Shapes {
			if s.At.IsZero() || s.Figure == nil || !strings.HasPrefix(s.ID, p.Name+".") {
				t.Fatalf("shape %q of %s at %v: %v", s.ID, p.Name, s.At, s.Figure)
			}
			box := s.Figure.Bounds()
			if box.Min.X < -1e-6 || box.Min.Y < -1e-6 || box.Max.X > cut.Size.X+1e-6 || box.Max.Y > cut.Size.Y+1e-6 {
				t.Fatalf("%s, %v, lies outside the drawing of %v", s.ID, box, cut.Size)
			}
		}
	}
	if len(cut.Parts) == 0 {
		return
	}
	for _, e := range export.Encoders(export.Options{}) {
		if err := e.Encode(discard{}, cut); err != nil {
			t.Fatalf("%s: %v", e.Name(), err)
		}
	}
}

type discard struct{}

func (discard) Write(b []byte) (int, error) { return len(b), nil }

// Whatever text comes out sound is drawn without a panic, without a change to
// the design, inside the drawing, and so that encoders can write it; the same
// for its card.
func FuzzDraw(f *testing.F) {
	texts := designTexts(f)
	for i := 0; i < len(texts); i += foretest.Sample(1, 5) {
		f.Add(texts[i])
	}
	f.Fuzz(func(t *testing.T, text string) { checkText(t, text) })
}

func checkText(t testing.TB, text string) (sound bool) {
	t.Helper()
	d, _ := solved(text)
	if d == nil {
		return false
	}
	for _, draw := range []func(*design.Design) (*layout.Drawing, diag.List){layout.Draw, layout.Card} {
		checkDrawing(t, d, func(d *design.Design) (*layout.Drawing, bool) {
			dr, diags := draw(d)
			return dr, !diags.HasErrors()
		})
	}
	return true
}

// designTexts are all designs of the repository, right and wrong.
func designTexts(t testing.TB) []string {
	t.Helper()
	all := []string{pair("row wire on spine { count = 5; hole = slot 6 by 4; pitch = 9; inset = 5 }\ncorners = chamfer 3\n" +
		"region r { width = 20; height = 9; mark text \"Tide\" }")}
	for _, dir := range []string{"testdata", "examples"} {
		err := filepath.WalkDir(filepath.Join("..", dir), func(path string, d fs.DirEntry, err error) error {
			if err != nil || d.IsDir() || filepath.Ext(path) != ".fore" {
				return err
			}
			data, err := os.ReadFile(path)
			all = append(all, string(data))
			return err
		})
		if err != nil {
			t.Fatal(err)
		}
	}
	return all
}

var (
	aNumber = regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	aWord   = regexp.MustCompile(`[a-z]+(-[a-z]+)*`)
)

// mangled is a design in which a few numbers, words, signs or lines are others:
// more of such texts are well formed than of those that a fuzzer finds.
func mangled(text string, r *rand.Rand) string {
	words := strings.Fields("head tail spine foredge width height thick count hole first last inset web pitch run ease corners radius " +
		"chamfer square rect round slot most panel row region cutout line at from over-head over-spine shape prefer check mark frame")
	numbers := []string{"0", "0.0001", "0.5", "1", "2", "3", "24", "100", "297", "5000", "1000000", "1/3", "0.5 in", "30 deg"}
	pick := func(list []string) string { return list[r.IntN(len(list))] }
	one := func(re *regexp.Regexp, list []string) {
		if found := re.FindAllStringIndex(text, -1); len(found) > 0 {
			at := found[r.IntN(len(found))]
			text = text[:at[0]] + pick(list) + text[at[1]:]
		}
	}
	for range 1 + r.IntN(4) {
		lines := strings.Split(text, "\n")
		i, j := r.IntN(len(lines)), r.IntN(len(lines))
		switch r.IntN(8) {
		case 0, 1, 2:
			one(aNumber, numbers)
		case 3:
			one(aWord, words)
		case 4:
			lines[i], lines[j] = lines[j], lines[i]
			text = strings.Join(lines, "\n")
		case 5:
			text = strings.Join(append(lines[:i:i], lines[i+1:]...), "\n")
		case 6:
			text = strings.Join(append(lines[:i:i], append([]string{lines[j]}, lines[i:]...)...), "\n")
		case 7:
			one(regexp.MustCompile(`=`), []string{">=", "<=", "= 2 *", "= 10 -"})
		}
	}
	return text
}

// The same of designs in which a little is changed.
func TestMangledDesigns(t *testing.T) {
	texts := designTexts(t)
	sound := 0
	for seed := range uint64(foretest.Sample(2000, 100)) {
		r := rand.New(rand.NewPCG(seed, 11))
		text := mangled(texts[r.IntN(len(texts))], r)
		t.Run(fmt.Sprint(seed), func(t *testing.T) {
			defer func() {
				if t.Failed() {
					t.Logf("in this design:\n%s", text)
				}
			}()
			if checkText(t, text) {
				sound++
			}
		})
	}
	if sound < foretest.Sample(100, 5) {
		t.Errorf("only %d of them could be drawn", sound)
	}
}
