package lettering

import (
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
)

// debianFonts are where Debian's packages fonts-dejavu-core and
// fonts-liberation put their files.
var debianFonts = map[string]string{
	"DejaVu Sans":      "/usr/share/fonts/truetype/dejavu/DejaVuSans.ttf",
	"DejaVu Serif":     "/usr/share/fonts/truetype/dejavu/DejaVuSerif-Bold.ttf",
	"Liberation Sans":  "/usr/share/fonts/truetype/liberation/LiberationSans-Regular.ttf",
	"Liberation Serif": "/usr/share/fonts/truetype/liberation/LiberationSerif-Italic.ttf",
}

// outside gives Debian's fonts as ours, and their files and those of the Go
// fonts as paths.
func outside(t *testing.T) (fonts map[string]*Font, paths map[string]string) {
	t.Helper()
	fonts, paths = map[string]*Font{}, map[string]string{}
	for name, path := range debianFonts {
		bytes, err := os.ReadFile(path)
		if err != nil {
			foretest.Missing(t, "the packages fonts-dejavu-core and fonts-liberation")
		}
		f, err := Parse(name, bytes)
		if err != nil {
			t.Fatal(err)
		}
		fonts[name], paths[name] = f, path
	}
	dir := t.TempDir()
	for name, bytes := range data() {
		if name != "Go Regular" && name != "Go Bold Italic" {
			continue
		}
		paths[name] = filepath.Join(dir, strings.ReplaceAll(name, " ", "")+".ttf")
		if err := os.WriteFile(paths[name], bytes, 0o600); err != nil {
			t.Fatal(err)
		}
		fonts[name] = load(t, name)
	}
	return fonts, paths
}

// A sampleText is a text in a font, and how we set it with capitals of 10 mm.
type sampleText struct {
	Font, Path, Text string
	Advance, Area    float64
	Rings            [][][2]float64
}

// randomTexts makes texts of one script each that the font has all letters of.
func randomTexts(t *testing.T, fonts map[string]*Font, paths map[string]string, n int) []sampleText {
	alphabets := map[string]string{
		"Latin":  "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyzÅÄÖåäöéèñçßæøðþŁłşžffiflAVTo",
		"Greek":  "ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩαβγδεζηθικλμνξοπρστυφχψωςάέήίόύώΆΈ",
		"Hebrew": "אבגדהוזחטיכךלמםנןסעפףצץקרשת",
		"Arabic": "ابتثجحخدذرزسشصضطظعغفقكلمنهويةىءئؤإأآ",
	}
	r := rand.New(rand.NewPCG(5, 2))
	names := []string{"DejaVu Sans", "DejaVu Serif", "Liberation Sans", "Liberation Serif", "Go Regular", "Go Bold Italic"}
	var out []sampleText
	used := map[string]int{}
	for len(out) < n {
		script := []string{"Latin", "Greek", "Hebrew", "Arabic"}[len(out)%4]
		name := names[r.IntN(len(names))]
		f := fonts[name]
		letters := []rune(alphabets[script])
		var text []rune
		for range 2 + r.IntN(12) {
			text = append(text, letters[r.IntN(len(letters))])
			if r.IntN(6) == 0 {
				text = append(text, ' ')
			}
		}
		s := strings.TrimSpace(string(text))
		has := true
		for _, c := range s {
			has = has && f.Has(c)
		}
		if !has {
			continue // no Hebrew or Arabic in Liberation and Go
		}
		l, err := f.Text(s, 10)
		if err != nil {
			t.Fatal(err)
		}
		used[script+" in "+name]++
		out = append(out, sampleText{name, paths[name], s, l.Advance, geom.Area(l.Outline), rings(l.Outline)})
	}
	for _, want := range []string{"Latin in Go Regular", "Greek in Go Bold Italic", "Latin in Liberation Sans", "Greek in Liberation Serif", "Hebrew in DejaVu Sans", "Arabic in DejaVu Sans"} {
		if used[want] < 5 {
			t.Errorf("only %d texts of %s", used[want], want)
		}
	}
	return out
}

func rings(o geom.Outline) [][][2]float64 {
	var out [][][2]float64
	for _, p := range o {
		var ring [][2]float64
		for _, x := range p.Flatten(5e-4) {
			ring = append(ring, [2]float64{x.X, x.Y})
		}
		out = append(out, ring)
	}
	return out
}

// What is set is what HarfBuzz (hb-shape) places of the outlines that fonttools
// reads, united by GEOS: 500 random texts in Latin, Greek, Hebrew and Arabic.
func TestAgainstHarfBuzz(t *testing.T) {
	foretest.Program(t, "hb-shape", "libharfbuzz-bin")
	fonts, paths := outside(t)
	texts := randomTexts(t, fonts, paths, 500)
	var want []struct{ Advance, Area, Apart float64 }
	foretest.AskScript(t, "testdata/harfbuzz.py", texts, &want, "fontTools", "shapely")
	if len(want) != len(texts) {
		t.Fatalf("%d answers for %d texts", len(want), len(texts))
	}
	worst := struct{ advance, area, apart float64 }{}
	for i, w := range want {
		s := texts[i]
		what := s.Font + " " + s.Text
		foretest.Near(t, what+": advance", s.Advance, w.Advance, 0.01)
		foretest.Near(t, what+": area", s.Area, w.Area, 1e-3*w.Area)
		foretest.Near(t, what+": area that only one has", w.Apart, 0, 2e-3*w.Area)
		worst.advance = math.Max(worst.advance, math.Abs(s.Advance-w.Advance))
		worst.area = math.Max(worst.area, math.Abs(s.Area/w.Area-1))
		worst.apart = math.Max(worst.apart, w.Apart/w.Area)
	}
	t.Logf("farthest apart: advance %.2g mm, area %.2g, in one only %.2g of it", worst.advance, worst.area, worst.apart)
}

// cutLetters are letters, and what is cut out of a board for them.
type cutLetters struct {
	Name            string
	Whole, Openings [][][2]float64
}

// cutOfAllKinds is letters and lines of many fonts with bridges of a width.
func cutOfAllKinds(t *testing.T, bridge, cap float64) []cutLetters {
	const all = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789"
	fonts, _ := outside(t)
	fonts["Go Bold"], fonts["Go Mono Bold"] = load(t, "Go Bold"), load(t, "Go Mono Bold")
	var cut []cutLetters
	add := func(name string, o, out geom.Outline, err error) {
		if err != nil {
			t.Errorf("%s: %v", name, err)
			return
		}
		sound(t, name, out)
		cut = append(cut, cutLetters{name, rings(o), rings(out)})
	}
	for _, name := range []string{"Go Regular", "Go Bold", "Go Mono Bold", "Go Bold Italic", "DejaVu Sans", "DejaVu Serif", "Liberation Sans", "Liberation Serif"} {
		f := fonts[name]
		for _, r := range all {
			l, err := f.Text(string(r), cap)
			if err != nil {
				t.Fatal(err)
			}
			out, err := Stencil(l.Outline, bridge, 0)
			add(name+" "+string(r), l.Outline, out, err)
		}
		for _, s := range []string{"Saltmarsh Covers", "Åse & Øyvind 1908", "ROBBQQ", "eggdoggaB8"} {
			l, err := f.Text(s, cap)
			if err != nil {
				t.Fatal(err)
			}
			out, err := Stencil(l.Outline, bridge, 0)
			add(name+" "+s, l.Outline, out, err)
			for way, st := range map[string]Style{"as asked": {Cap: cap}, "shrunk": {Cap: 3 * cap}, "spaced": {Cap: cap, Space: 0.3},
				"round": {Cap: cap, Curve: Circle, Radius: 60}, "inside": {Cap: cap, Curve: Circle, Radius: 60, Inside: true}} {
				block, err := Fit(f, s, 17*cap, 17*cap, st)
				if err != nil {
					t.Fatal(name, s, way, err)
				}
				out, err := block.Stencil(bridge, 0)
				add(name+" "+s+" "+way, block.Outline, out, err)
			}
		}
	}
	// Letters whose bridges end at a neighbour that then closes them, and parts of a
	// letter that overlap once grown.
	for _, c := range []struct {
		font, text string
		cap, space float64
		curve      Curve
	}{
		{"Go Mono Bold", "( aQ%o", 10.589, 0, Straight},
		{"Go Mono Bold", "C%{", 7.8436, 0.39218, Straight},
		{"Go Mono Bold", "{%8}<8", 8.9406, -0.89406, Straight},
		{"Go Mono Bold", "%CE)", 8.0824, -0.40412, Circle},
		{"Go Regular", "ä]]", 9.2882, 0, Circle},
		{"DejaVu Sans", "سلام مُحَمَّد هـ", 15, 0, Circle}, // bent
	} {
		block, err := Fit(fonts[c.font], c.text, 200, 200, Style{Cap: c.cap, Space: c.space, Curve: c.curve, Radius: 3 * c.cap, Inside: true})
		if err != nil {
			t.Fatal(err)
		}
		out, err := block.Stencil(bridge, 0)
		add(c.text+" side by side", block.Outline, out, err)
	}
	return cut
}

// stencilScript tells for each of the letters what holds the board together.
const stencilScript = `
from shapely.ops import unary_union
answer = []
b = data['Bridge']
for l in data['Letters']:
    whole, openings = area(l['Whole']), area(l['Openings'])
    x0, y0, x1, y1 = whole.bounds
    land = box(x0-5, y0-5, x1+5, y1+5).difference(openings)
    thin = land.buffer(-(b/2 - 0.002), 32)
    parts = sorted(getattr(thin, 'geoms', [thin]), key=lambda p: -p.area)
    counters = [Polygon(h.coords) for p in getattr(whole, 'geoms', [whole]) for h in p.interiors]
    thinner = land.buffer(-(b/2 + 0.05), 32)
    answer.append({'Name': l['Name'], 'Pieces': pieces(land), 'Held': pieces(thin), 'Counters': len(counters),
        'Off': sum(1 for c in counters if parts[0].distance(c) > 0), 'Left': openings.area / whole.area, 'Beyond': openings.difference(whole).area / whole.area,
        'Broader': sum(1 for c in counters if sorted(getattr(thinner, 'geoms', [thinner]), key=lambda p: -p.area)[0].distance(c) > 0)})
`

// All capitals, small letters and digits cut through, held by GEOS: around each
// letter the material is one piece, and stays one if half a bridge is taken off
// all its edges; every counter still hangs on it then.
func TestStencilAgainstGEOS(t *testing.T) {
	foretest.Long(t, "asks GEOS of hundreds of letters")
	const bridge, cap = 1.2, 15
	var in struct {
		Bridge  float64
		Letters []cutLetters
	}
	in.Bridge, in.Letters = bridge, cutOfAllKinds(t, bridge, cap)
	for _, name := range Names() { // what else Latin-1 has
		for r := rune(0xa1); r <= 0xff; r++ {
			if r == 0xad {
				continue
			}
			l, err := load(t, name).Text(string(r), cap)
			if err != nil {
				t.Fatal(err)
			}
			if _, err := Stencil(l.Outline, bridge, 0); err != nil {
				t.Errorf("%s %c: %v", name, r, err)
			}
		}
	}
	var answer []struct {
		Name          string
		Pieces, Held  int
		Counters, Off int
		Left, Broader float64
		Beyond        float64 // share of the openings that no letter has
	}
	geos.Ask(t, stencilScript, in, &answer)
	counters, broader := 0, 0.0
	for _, a := range answer {
		if a.Pieces != 1 {
			t.Errorf("%s: the material falls into %d pieces", a.Name, a.Pieces)
		}
		if a.Held != 1 || a.Off != 0 {
			t.Errorf("%s: with half a bridge off, %d pieces, %d of %d counters on their own", a.Name, a.Held, a.Off, a.Counters)
		}
		if a.Beyond > 1e-3 {
			t.Errorf("%s: %.2g of it lies outside its letters", a.Name, a.Beyond)
		}
		if a.Left < 0.5 {
			t.Errorf("%s: only %.2g of it is left", a.Name, a.Left)
		}
		counters += a.Counters
		broader += a.Broader
	}
	if counters < 150 {
		t.Errorf("only %d counters", counters)
	}
	// The check can fail: bridges are no broader than asked either.
	if broader < 0.8*float64(counters) {
		t.Errorf("with more than half a bridge off only %g of %d counters come off", broader, counters)
	}
	t.Logf("%d letters and lines, %d counters", len(answer), counters)
}

func TestStencilTooSmall(t *testing.T) {
	f := load(t, "Go Bold")
	for _, s := range []string{"Harbour", "B"} {
		l, err := f.Text(s, 3)
		if err != nil {
			t.Fatal(err)
		}
		if out, err := Stencil(l.Outline, 2.5, 0); err == nil {
			t.Errorf("%s, 3 mm high, has bridges of 2.5 mm and %d openings", s, len(out))
		}
	}
}
