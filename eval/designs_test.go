package eval_test

import (
	"foredge/eval/solution"
	"math"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"foredge/eval"
	"foredge/lang/unit"
)

// The harbour log. Chi square, pitch and web were worked out by hand from its
// readings (weighted least squares, all of one accuracy; no source).
func TestHarbourLog(t *testing.T) {
	s := sound(t, corpus(t, "harbour-log.fore"))
	b := s.Numbers.Benches[0]
	if b.Freedom != 2 || math.Abs(b.ChiSquare-0.03) > 0.01 {
		t.Errorf("%d degrees of freedom, chi square %.4f; worked out by hand: 2 and about 0.03", b.Freedom, b.ChiSquare)
	}
	near(t, s, "log.wire.pitch", 8.468, 0.0005)
	near(t, s, "log.wire.web", 4.4485, 0.0005)
	for _, p := range []string{"front", "back"} {
		near(t, s, p+".wire.count", 24, 0)
		near(t, s, p+".wire.pitch", number(t, s, "log.wire.pitch"), 1e-9)
		near(t, s, p+".wire.hole.along", number(t, s, "log.wire.hole.along")+0.3, 1e-9)
		near(t, s, p+".wire.hole.across", number(t, s, "log.wire.hole.across")+0.3, 1e-9)
		near(t, s, p+".wire.first", number(t, s, "log.wire.first")-0.15, 1e-9)
		near(t, s, p+".wire.inset", number(t, s, "log.wire.inset")-0.15, 1e-9)
		closes := number(t, s, p+".wire.first") + 24*number(t, s, p+".wire.hole.along") +
			23*number(t, s, p+".wire.web") + number(t, s, p+".wire.last")
		near(t, s, p+".height", closes, 1e-6)
	}
	measured := map[string]bool{"width": true, "height": true}
	for _, d := range s.Dimensions() {
		part := strings.SplitN(d.Name, ".", 2)
		if part[0] == "log" && part[1] != "thick" && part[1] != "wire.count" && !(d.Uncertainty > 0) {
			t.Errorf("%s has no uncertainty", d.Name)
		}
		if part[0] == "front" && (measured[part[1]] || part[1] == "wire.pitch" || part[1] == "title.tail") && !(d.Uncertainty > 0) {
			t.Errorf("%s has no uncertainty", d.Name)
		}
	}
}

// The uncertainty of the reconciled web against an adjustment worked out here
// by the formulas of an adjustment of conditions, S = A V A^T and V_x = V - V A^T
// S^-1 A V ("Data validation and reconciliation", an open encyclopedia; the matrix
// form as in VDI 2048, from memory), with the two conditions written out: first + 24
// hole + 23 web + last = height, and run = 23 (hole + web).
func TestHarbourUncertainty(t *testing.T) {
	s := sound(t, corpus(t, "harbour-log.fore"))
	u := 0.03 / math.Sqrt(3)
	// Order: hole, first, last, web, run, height.
	y := []float64{4.02, 5.62, 5.66, 4.45, 194.76, (210.1 + 210.0 + 210.1) / 3}
	v := []float64{u * u, u * u, u * u, u * u, u * u, u*u + 0.1*0.1/3/3}
	a := [2][]float64{{24, 1, 1, 23, 0, -1}, {23, 0, 0, 23, -1, 0}}
	var r [2]float64
	var S [2][2]float64
	for i := range a {
		for k := range y {
			r[i] += a[i][k] * y[k]
			for j := range a {
				S[i][j] += a[i][k] * v[k] * a[j][k]
			}
		}
	}
	det := S[0][0]*S[1][1] - S[0][1]*S[1][0]
	inv := [2][2]float64{{S[1][1] / det, -S[0][1] / det}, {-S[1][0] / det, S[0][0] / det}}
	chi := 0.0
	for i := range r {
		for j := range r {
			chi += r[i] * inv[i][j] * r[j]
		}
	}
	if got := s.Numbers.Benches[0].ChiSquare; math.Abs(got-chi) > 1e-9 {
		t.Errorf("chi square %.9f, want %.9f", got, chi)
	}
	for k, name := range []string{"hole.along", "first", "last", "web", "run"} {
		x, ux := y[k], v[k]
		for i := range a {
			for j := range a {
				x -= v[k] * a[i][k] * inv[i][j] * r[j]
				ux -= v[k] * a[i][k] * inv[i][j] * a[j][k] * v[k]
			}
		}
		near(t, s, "log.wire."+name, x, 1e-9)
		for _, d := range s.Dimensions() {
			if d.Name == "log.wire."+name && math.Abs(d.Uncertainty-math.Sqrt(ux)) > 1e-9 {
				t.Errorf("u(%s) = %.9f, want %.9f", name, d.Uncertainty, math.Sqrt(ux))
			}
		}
	}
}

// The case with joints, its sizes added up by hand: a strip of 18 + 2 · 2.5, a board of
// 140 - 7 + 3, a case of 136 + 7 + 23 + 7 + 136 (common practice, no source).
func TestJointCase(t *testing.T) {
	s := sound(t, corpus(t, "joint-case.fore"))
	for name, want := range map[string]float64{"front.width": 136, "front.height": 210, "back.width": 136,
		"spine-strip.width": 23, "case.width": 309, "case.height": 210, "case.turn-in": 16, "board": 2.5} {
		near(t, s, name, want, 1e-9)
	}
}

// same checks that two solutions agree in every dimension that both have.
func same(t *testing.T, what string, got, want *eval.Solution, within float64) {
	t.Helper()
	w := map[string]solution.Dimension{}
	for _, d := range want.Dimensions() {
		w[d.Name] = d
	}
	n := 0
	for _, d := range got.Dimensions() {
		o, ok := w[d.Name]
		// A bare named number stays bare, and what nothing states stays open.
		if !ok || d.Kind == unit.Bare || math.IsNaN(d.Value) || math.IsNaN(o.Value) {
			continue
		}
		n++
		if !(math.Abs(d.Value-o.Value) <= within) {
			t.Errorf("%s: %s is %.7f, want %.7f", what, d.Name, d.Value, o.Value)
		}
	}
	if n < 10 {
		t.Errorf("%s: only %d dimensions to compare", what, n)
	}
}

// inInches writes a design's lengths in inches.
func inInches(text string) string {
	text = strings.Replace(text, "units mm", "units in", 1)
	lines := strings.Split(text, "\n")
	numbers := regexp.MustCompile(`[0-9]+(\.[0-9]+)?`)
	for i, l := range lines {
		code, comment, _ := strings.Cut(l, "#")
		if strings.Contains(code, "count") || strings.Contains(code, "\"") {
			continue
		}
		code = numbers.ReplaceAllStringFunc(code, func(n string) string {
			if strings.Contains(code, ",") {
				return n + " mm" // repeats keep their last digit, which says how far apart they may be
			}
			v, _ := strconv.ParseFloat(n, 64)
			return strconv.FormatFloat(v/25.4, 'f', 15, 64)
		})
		// Factors are no lengths.
		code = regexp.MustCompile(`0\.078740157480315 \*`).ReplaceAllString(code, "2 *")
		lines[i] = code + "#" + comment
	}
	return strings.Join(lines, "\n")
}

func TestUnitsDoNotMatter(t *testing.T) {
	for _, name := range []string{"harbour-log.fore", "joint-case.fore"} {
		text := corpus(t, name)
		want := sound(t, text)
		got := sound(t, inInches(text))
		same(t, name+" in inches", got, want, 1e-6)
	}
}

// Any sufficient subset of the solved values, marked exact, gives the same
// geometry.
func TestSufficientSubsets(t *testing.T) {
	want := sound(t, corpus(t, "harbour-log.fore"))
	v := func(name string) string {
		return strconv.FormatFloat(number(t, want, "log."+name), 'f', 12, 64) + " exact"
	}
	design := func(lines ...string) string {
		return `units mm
notebook log {
  width = ` + v("width") + `
  row wire on spine {
    inset = ` + v("wire.inset") + `
    hole.across = ` + v("wire.hole.across") + `
    ` + strings.Join(lines, "\n    ") + `
  }
  height = ` + v("height") + `
}
panel front covers log { ease = 0.3; corner head-foredge = radius 6; corner tail-foredge = radius 6 }
panel back mirrors front
`
	}
	count, hole := "count = 24", "hole.along = "+v("wire.hole.along")
	first, last := "first = "+v("wire.first"), "last = "+v("wire.last")
	pitch, web, run := "pitch = "+v("wire.pitch"), "web = "+v("wire.web"), "run = "+v("wire.run")
	for what, lines := range map[string][]string{
		"pitch for web":         {count, hole, first, pitch},
		"last left out":         {count, hole, first, web},
		"run given":             {count, hole, first, run},
		"no count":              {hole, first, run, pitch},
		"hole left out":         {count, first, last, pitch},
		"web and pitch":         {count, web, pitch, last},
		"count from web":        {hole, first, last, web},
		"run, web and count":    {run, web, count, first},
		"everything, all agree": {count, hole, first, last, pitch, web, run},
	} {
		same(t, what, sound(t, design(lines...)), want, 1e-6)
	}
}

// A web that is off by half a millimetre is named alone; without the run the
// web and the hole can't be told apart.
func TestMistakenWeb(t *testing.T) {
	text := strings.Replace(corpus(t, "harbour-log.fore"), "web   = 4.45 ", "web   = 4.95 ", 1)
	_, ds := compile(t, text)
	if len(ds) != 1 || ds[0].Code != "readings" {
		t.Fatalf("got\n%s", show(ds))
	}
	if got := show(ds); !strings.Contains(got, "take web again") || !strings.Contains(got, "the others imply 4.44") ||
		strings.Contains(got, "hole") {
		t.Errorf("the web should be named alone, with what the others imply:\n%s", got)
	}
	lines := strings.Split(text, "\n")
	for i, l := range lines {
		if strings.Contains(l, "run   =") {
			lines[i] = ""
		}
	}
	_, ds = compile(t, strings.Join(lines, "\n"))
	if len(ds) != 1 {
		t.Fatalf("got\n%s", show(ds))
	}
	got := show(ds)
	for _, want := range []string{"web", "hole.along", "web was read as 4.95 mm; the others imply 4.4", "hole.along was read as 4.02 mm; the others imply 3.5"} {
		if !strings.Contains(got, want) {
			t.Errorf("the report should say %q:\n%s", want, got)
		}
	}
}

// The design from a punching pattern, in inches. The count and the margin are
// worked out here by arithmetic of their own: n holes need
// 2 * 3/16 in + 4 mm + (n - 1) in / 3 of the 8 in. The pitch of three to the inch: a
// wire maker's page, "How It Works", author unknown, undated.
func TestTwinLoop(t *testing.T) {
	s := sound(t, corpus(t, "twin-loop.fore"))
	n := 1
	for 2*3.0/16*25.4+4+float64(n)*25.4/3 <= 8*25.4 {
		n++
	}
	margin := (8*25.4 - 4 - float64(n-1)*25.4/3) / 2
	if n != 23 || math.Abs(margin-6.4667) > 5e-5 {
		t.Fatalf("%d holes, margin %.4f: by hand they are 23 and 6.4667", n, margin)
	}
	for _, p := range []string{"front", "back"} {
		near(t, s, p+".wire.count", float64(n), 0)
		near(t, s, p+".wire.first", margin, 1e-3)
		near(t, s, p+".wire.last", margin, 1e-3)
		near(t, s, p+".wire.inset", 25.4/8, 1e-9)
	}
}

// Two ring holes with wishes and limits. Without its limit the best width w
// has the least (w - 225)² + (w sqrt(2) - 305)², so w = (225 + 305 sqrt(2)) / 3.
func TestRingBoard(t *testing.T) {
	text := corpus(t, "ring-board.fore")
	s := sound(t, text)
	near(t, s, "front.width", 215, 1e-6)
	near(t, s, "front.height", 304.056, 5e-4)
	near(t, s, "front.rings.inset", 9, 1e-6) // the pattern's, a wish
	s = sound(t, strings.Replace(text, "width <= 215", "", 1))
	near(t, s, "front.width", (225+305*math.Sqrt2)/3, 1e-6)
	near(t, s, "front.width", 218.78, 5e-3)
	// A limit moves what the pattern only wishes for.
	s = sound(t, strings.Replace(text, "inset >= 3 * thick", "inset >= 5 * thick", 1))
	near(t, s, "front.rings.inset", 10, 1e-6)
}
