package lettering

import (
	"bufio"
	"encoding/binary"
	"errors"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// Levels of embedding and the order from left to right are those of Unicode's
// own test, of Debian's package unicode-data. What controls direction is left
// out: it has no ink.
func TestBidiAgainstUnicode(t *testing.T) {
	file, err := os.Open("/usr/share/unicode/BidiCharacterTest.txt")
	if err != nil {
		foretest.Missing(t, "the package unicode-data")
	}
	defer file.Close()
	in := bufio.NewScanner(file)
	n, wrong := 0, 0
	for in.Scan() {
		fields := strings.Split(in.Text(), ";")
		if strings.HasPrefix(in.Text(), "#") || len(fields) != 5 || fields[1] == "2" {
			continue
		}
		var line []rune
		plain := true
		for _, code := range strings.Fields(fields[0]) {
			r, err := strconv.ParseInt(code, 16, 32)
			if err != nil {
				t.Fatal(err)
			}
			// Embeddings, overrides and isolates by control characters, and ends of
			// paragraphs, are no part of a line.
			plain = plain && r >= 0x20 && r != 0x7f && r != 0x85 && !(r >= 0x2028 && r <= 0x202e) && !(r >= 0x2066 && r <= 0x2069)
			line = append(line, rune(r))
		}
		if !plain {
			continue
		}
		n++
		rtl := fields[1] == "1"
		levels := embeddings(line, rtl)
		var order []string
		got := runs(line, rtl)
		for _, r := range got {
			for k := r.start; k < r.end; k++ {
				i := k
				if r.level%2 == 1 {
					i = r.end - 1 - (k - r.start)
				}
				order = append(order, strconv.Itoa(i))
			}
		}
		ok := strings.Join(order, " ") == fields[4]
		for i, want := range strings.Fields(fields[3]) {
			ok = ok && (want == "x" || want == strconv.Itoa(levels[i]))
		}
		if !ok && !strings.Contains(fields[3], "x") {
			wrong++
			if wrong < 10 {
				t.Errorf("%s: levels %v, want %s; order %s, want %s", fields[0], levels, fields[3], strings.Join(order, " "), fields[4])
			}
		}
	}
	if n < 1000 || wrong > 0 {
		t.Errorf("%d lines, %d wrong", n, wrong)
	}
	t.Logf("%d lines", n)
}

// A line of Latin letters in a text that runs from right to left stands as one
// word, and what follows it to its left (Unicode Standard Annex #9, rules W7, N2
// and I2); in a text from left to right, to its right.
func TestLatinLineOfHebrewText(t *testing.T) {
	for _, c := range []struct {
		line string
		rtl  bool
		want string
	}{
		{"Log!", false, "Log!"}, {"Log!", true, "!Log"}, {"Log 12.", true, ".Log 12"}, {"", true, ""},
	} {
		line := []rune(c.line)
		got := ""
		for _, r := range runs(line, c.rtl) {
			word := slices.Clone(line[r.start:r.end])
			if r.level%2 == 1 {
				slices.Reverse(word)
			}
			got += string(word)
		}
		if got != c.want {
			t.Errorf("%q in a text from right to left %v stands as %q, want %q", c.line, c.rtl, got, c.want)
		}
	}
}

// A line of two scripts and directions stands in the order in which it is read.
func TestMixedLines(t *testing.T) {
	fonts, _ := outside(t)
	f := fonts["DejaVu Sans"]
	places := func(s string) string {
		var b strings.Builder
		for _, r := range runs([]rune(s), rightToLeft([]rune(s))) {
			fmt.Fprintf(&b, "[%s]", string([]rune(s)[r.start:r.end]))
		}
		return b.String()
	}
	for s, want := range map[string]string{
		"Log שלום 12":    "[Log ][12][שלום ]",
		"שלום Log":       "[Log][שלום ]",
		"abc אב 12 גד x": "[abc ][ גד][12][אב ][ ][x]",
		"Log λόγος":      "[Log ][λόγος]",
	} {
		if got := places(s); got != want {
			t.Errorf("%s: %s, want %s", s, got, want)
		}
		if _, err := f.Text(s, 5); err != nil {
			t.Error(err)
		}
	}
	// Joined letters are no wider for being spaced, and are shorter than apart.
	joined, err := Fit(f, "سلام", 100, 30, Style{Cap: 8, Space: 2})
	if err != nil {
		t.Fatal(err)
	}
	same, _ := Fit(f, "سلام", 100, 30, Style{Cap: 8})
	foretest.Near(t, "spaced Arabic", joined.Outline.Bounds().Width(), same.Outline.Bounds().Width(), 1e-9)
}

// collection joins font files to a TTC file: a header, the directories with
// their offsets moved, and the tables (OpenType specification, "Font
// collections").
func collection(files ...[]byte) []byte {
	head := []byte("ttcf\x00\x01\x00\x00")
	head = binary.BigEndian.AppendUint32(head, uint32(len(files)))
	at := len(head) + 4*len(files)
	var body []byte
	for _, f := range files {
		start := at + len(body)
		head = binary.BigEndian.AppendUint32(head, uint32(start))
		f = slices.Clone(f)
		for i := range int(binary.BigEndian.Uint16(f[4:])) {
			entry := f[12+16*i:]
			binary.BigEndian.PutUint32(entry[8:], binary.BigEndian.Uint32(entry[8:])+uint32(start))
		}
		body = append(body, f...)
	}
	return append(head, body...)
}

func TestCollection(t *testing.T) {
	fonts := data()
	ttc := collection(fonts["Go Regular"], fonts["Go Bold"], fonts["Go Mono"])
	for name, want := range map[string]string{"shop.ttc#1": "Go Regular", "shop.ttc#2": "Go Bold", "shop.ttc#Go Bold": "Go Bold", "shop.ttc#go mono": "Go Mono"} {
		f, err := Parse(name, ttc)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		got, _ := f.Text("Harbour", 8)
		asked, _ := load(t, want).Text("Harbour", 8)
		foretest.Near(t, name, geom.Area(got.Outline), geom.Area(asked.Outline), 1e-9)
	}
	for name, want := range map[string]string{
		"shop.ttc":         `"shop.ttc" holds 3 fonts: Go Regular, Go Bold, Go Mono`,
		"shop.ttc#4":       `"shop.ttc" holds no font 4; it has Go Regular, Go Bold, Go Mono`,
		"shop.ttc#Go Slab": `"shop.ttc" holds no font Go Slab; it has Go Regular, Go Bold, Go Mono`,
	} {
		_, err := Parse(name, ttc)
		var several CollectionError
		if !errors.As(err, &several) || several.Error() != want {
			t.Errorf("%s: %v", name, err)
		}
	}
	// The header of three fonts is 12 bytes and 4 for each.
	for n, want := range map[int]string{4: "it is too short", 11: "it is too short", 12: "it is cut off", 16: "it is cut off", 23: "it is cut off",
		24: "it is cut off", 30: "it is cut off", len(ttc) / 2: "it is cut off"} {
		_, err := Parse("shop.ttc#1", ttc[:n])
		if want = `"shop.ttc#1" can't be read as a font (TTF, OTF or TTC): ` + want; err == nil || err.Error() != want {
			t.Errorf("a collection cut off at %d: %v, want %s", n, err, want)
		}
	}
}

func TestSpacing(t *testing.T) {
	f := load(t, "Go Bold")
	tight, _ := Fit(f, "HHHH", 200, 40, Style{Cap: 10})
	loose, err := Fit(f, "HHHH", 200, 40, Style{Cap: 10, Space: 1.5})
	if err != nil {
		t.Fatal(err)
	}
	foretest.Near(t, "three spaces", loose.Outline.Bounds().Width()-tight.Outline.Bounds().Width(), 4.5, 1e-9)
	// Space keeps its size where letters shrink, and all still fits.
	for _, space := range []float64{-0.3, 0.5, 2} {
		b, err := Fit(f, "Saltmarsh Covers", 60, 20, Style{Cap: 10, Space: space})
		if err != nil {
			t.Fatal(err)
		}
		foretest.Near(t, "width", b.Outline.Bounds().Width(), 60, 1e-6)
		if b.Cap >= 10 {
			t.Errorf("space %g: capitals of %g", space, b.Cap)
		}
	}
	if _, err := Fit(f, "Saltmarsh Covers", 20, 20, Style{Cap: 10, Space: 2}); err == nil {
		t.Error("15 spaces of 2 mm stand in 20 mm")
	}
}

func TestWrap(t *testing.T) {
	f := load(t, "Go Regular")
	const long = "Notes on tides, birds and other neighbours of the harbour wall"
	one, err := Fit(f, long, 60, 30, Style{})
	if err != nil {
		t.Fatal(err)
	}
	several, err := Fit(f, long, 60, 30, Style{Wrap: true})
	if err != nil {
		t.Fatal(err)
	}
	if several.Lines < 3 || !several.Wrapped || several.Cap < 2*one.Cap || one.Wrapped {
		t.Errorf("wrapped: %d lines, capitals of %g; else %g", several.Lines, several.Cap, one.Cap)
	}
	box := geom.Box{Max: geom.Pt(60, 30)}
	if !box.Holds(several.Outline.Bounds()) {
		t.Errorf("ink at %v", several.Outline.Bounds())
	}
	// No way to break the lines gives larger letters: all are tried.
	words := strings.Fields(long)
	best := 0.0
	for mask := range 1 << (len(words) - 1) {
		var b strings.Builder
		for i, w := range words {
			b.WriteString(w)
			switch {
			case i == len(words)-1:
			case mask>>i&1 == 1:
				b.WriteByte('\n')
			default:
				b.WriteByte(' ')
			}
		}
		if strings.Count(b.String(), "\n") > 5 {
			continue
		}
		t, _ := f.compose(b.String(), Style{})
		k, _ := t.scale(box.Grow(-1e-9))
		best = math.Max(best, k*f.cap)
	}
	// But for what letters reach above and below their lines.
	if several.Cap > best+1e-6 || several.Cap < 0.98*best {
		t.Errorf("capitals of %g, with the best breaks %g", several.Cap, best)
	}
	// With room for the capitals asked for, a text keeps its lines.
	short, err := Fit(f, "two\nlines", 100, 60, Style{Cap: 5, Wrap: true})
	if err != nil || short.Lines != 2 || short.Wrapped || short.Cap != 5 {
		t.Errorf("%+v %v", short, err)
	}
	// Fixed blanks hold words together.
	fixed, err := Fit(f, "Harbour\u00a0Log", 20, 20, Style{Wrap: true})
	if err != nil || fixed.Lines != 1 {
		t.Errorf("%+v %v", fixed, err)
	}
}

// Letters along a circle stand on it, upright to it, at their distances.
func TestCircle(t *testing.T) {
	f := load(t, "Go Bold")
	center := geom.Pt(40, 40)
	for _, inside := range []bool{false, true} {
		b, err := Fit(f, "HIHIH", 80, 80, Style{Cap: 6, Curve: Circle, Radius: 30, Inside: inside})
		if err != nil {
			t.Fatal(err)
		}
		foretest.Near(t, "capitals", b.Cap, 6, 0)
		line, _ := f.Text("HIHIH", 6)
		for i, p := range b.Outline {
			// Each foot is a chord of the baseline's circle, each top 6 mm farther out
			// or in.
			least, most := math.Inf(1), 0.0
			for _, q := range p.Flatten(1e-3) {
				d := q.Distance(center)
				least, most = math.Min(least, d), math.Max(most, d)
			}
			w := line.Outline[i].Bounds().Width() / 2
			if inside {
				foretest.Near(t, "foot", most, math.Hypot(30, w), 0.3)
				foretest.Near(t, "top", least, 24, 0.05)
			} else {
				foretest.Near(t, "foot", least, 30, 0.05)
				foretest.Near(t, "top", most, math.Hypot(36, w), 0.3)
			}
		}
		if middle := b.Outline.Bounds().Center().X; math.Abs(middle-40) > 1e-6 {
			t.Errorf("the middle is at %g", middle)
		}
		if at := b.Outline.Bounds().Center().Y; (at > 40) != inside {
			t.Errorf("inside %v: at %g", inside, at)
		}
	}
	// Spread, equal letters stand at equal angles all round.
	b, err := Fit(f, "IIIIIIII", 80, 80, Style{Cap: 6, Curve: Circle, Align: Spread})
	if err != nil {
		t.Fatal(err)
	}
	var angles []float64
	for _, p := range b.Outline {
		c := p.Bounds().Center().Sub(center)
		angles = append(angles, math.Atan2(c.Y, c.X))
	}
	slices.Sort(angles)
	for i := range angles {
		gap := angles[(i+1)%len(angles)] - angles[i]
		foretest.Near(t, "angle", math.Mod(gap+2*math.Pi, 2*math.Pi), math.Pi/4, 0.02)
	}
	farthest := 0.0
	for _, p := range b.Outline {
		for _, q := range p.Flatten(1e-3) {
			farthest = math.Max(farthest, q.Distance(center))
		}
	}
	foretest.Near(t, "as large as the box", farthest, 40, 1e-3)
}

// All ink along a curve lies in the box, and hardly larger letters would not.
func TestCurveFits(t *testing.T) {
	f := load(t, "Go Regular")
	for _, s := range []string{"Saltmarsh Covers", "Åg", "bound by hand at the harbour wall"} {
		for _, size := range []geom.Point{{X: 80, Y: 80}, {X: 120, Y: 40}, {X: 30, Y: 30}} {
			for _, curve := range []Curve{Arc, Circle} {
				for _, inside := range []bool{false, true} {
					for _, radius := range []float64{0, 12, 60} {
						if curve == Arc && radius == 0 || curve == Circle && 2*radius > size.Y {
							continue
						}
						b, err := Fit(f, s, size.X, size.Y, Style{Curve: curve, Inside: inside, Radius: radius})
						if err != nil {
							t.Errorf("%q %v curve %d %v radius %g: %v", s, size, curve, inside, radius, err)
							continue
						}
						if !(geom.Box{Max: size}).Holds(b.Outline.Bounds()) {
							t.Errorf("%q %v curve %d radius %g: ink at %v", s, size, curve, radius, b.Outline.Bounds())
						}
						sound(t, s, b.Outline)
						again, err := Fit(f, s, size.X, size.Y, Style{Curve: curve, Inside: inside, Radius: radius, Cap: b.Cap * 1.01})
						if err != nil || again.Cap > b.Cap*1.001 {
							t.Errorf("%q %v: capitals of %g, then %g", s, size, b.Cap, again.Cap)
						}
					}
				}
			}
		}
	}
	var curve CurveError
	if _, err := Fit(f, "two\nlines", 80, 80, Style{Curve: Circle}); !errors.As(err, &curve) {
		t.Errorf("two lines: %v", err)
	}
	if _, err := Fit(f, "too far out", 40, 40, Style{Curve: Circle, Radius: 50}); err == nil {
		t.Error("a circle larger than its box has room")
	}
}

// Blanks of other widths and what has no sign of its own are as in fonts with outlines.
func TestStrokeBlanks(t *testing.T) {
	wide := func(font, between string) float64 {
		t.Helper()
		block, err := Fit(load(t, font), "H"+between+"H", 400, 100, Style{Cap: 21, Align: Left})
		if err != nil {
			t.Fatalf("%s with %+q: %v", font, between, err)
		}
		return block.Outline.Bounds().Width()
	}
	for _, font := range []string{"stroke", "stroke-script"} {
		none, space := wide(font, ""), wide(font, " ")
		// Unicode Standard, table 6-2, of an em of 32.
		for blank, want := range map[string]float64{"\u00a0": space - none, "\u202f": (space - none) / 2, "\u2002": 16, "\u2003": 32, "\u2009": 6.4, "\u3000": 32} {
			foretest.Near(t, fmt.Sprintf("%s: a blank %+q", font, blank), wide(font, blank)-none, want, 1e-9)
		}
		// What HarfBuzz gives no room in a font with outlines that lacks it has none here.
		outlines := wide("Go Bold", "")
		for _, r := range "\u00ad\u034f\u061c\u200b\u200c\u200d\u200e\u200f\u202a\u2060\u2066\ufe0f\ufeff\U000e0020" {
			foretest.Near(t, fmt.Sprintf("%s: nothing seen, %+q", font, r), wide(font, string(r)), none, 1e-9)
			foretest.Near(t, fmt.Sprintf("Go Bold: nothing seen, %+q", r), wide("Go Bold", string(r)), outlines, 1e-9)
		}
		// Nothing is kerned.
		foretest.Near(t, font+": AV", wide(font, "AV")-none, wide(font, "A")-none+wide(font, "V")-none, 1e-9)
		foretest.Near(t, font+": an accent behind what isn't seen", wide(font, "e\u0301"), wide(font, "e\u034f\u0301\ufe0f"), 1e-9)
	}
}

// All printable ASCII and Latin-1, with the letters beyond that are composed:
// each there, within its room, and the picture of them as it was looked at.
func TestStroke(t *testing.T) {
	f := load(t, "stroke")
	var rows []string
	row := ""
	for r := rune('!'); r <= 0xff; r++ {
		if r >= 0x7f && r <= 0xa0 || r == 0xad {
			continue // control characters, blanks
		}
		row += string(r)
		if len([]rune(row)) == 20 {
			rows, row = append(rows, row), ""
		}
	}
	rows = append(rows, row, "ŐőŘřŠšŽžŁłŒœđĐĢģĶķĄąĘęİıŋẞ", "“‘—–…”’„‚€™•†‡", "ΑΒΓΔΕΖΗΘΙΚΛΜΝΞΟΠΡΣΤΥΦΧΨΩ", "αβγδεζηθικλμνξοπρσςτυφχψω άέϊΐΆ",
		"АБВГДЕЖЗИЙКЛМНОПРСТУ", "ФХЦЧШЩЪЫЬЭЮЯЁЂЃЄЅІЇЈЉЊЋЌЎЏҐ", "абвгдежзийклмнопрст", "уфхцчшщъыьэюя", "ёђѓєѕіїјљњћќўџґ№",
		"ẢẨẲẺỂỈỎỔƠƯ", "ảẩẳẻểỉỏổơưởựễ", "ĲĳĸĿŀŉŊŋŦŧſ", "ἀἁᾶᾳἄὦ")
	var b strings.Builder
	y := 0.0
	for _, row := range rows {
		block, err := Fit(f, row, 220, 16, Style{Cap: 7, Align: Left, Space: 1})
		if err != nil {
			t.Fatal(err)
		}
		foretest.Near(t, "capitals of "+row, block.Cap, 7, 1e-9)
		for _, p := range block.Outline {
			if p.Closed || len(p.Segments) == 0 {
				t.Errorf("%s has a closed or empty line", row)
			}
			fmt.Fprintf(&b, "<path d=\"%s\"/>\n", p.Move(geom.Pt(0, y)).(geom.Path).String())
		}
		y += 15
	}
	picture := fmt.Sprintf("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"220mm\" height=\"%gmm\" viewBox=\"0 0 220 %g\">\n<g fill=\"none\" stroke=\"#000\" stroke-width=\"0.35\">\n%s</g>\n</svg>\n", y, y, b.String())
	foretest.Golden(t, filepath.Join("testdata", "stroke.svg"), []byte(picture))
	h, _ := f.Text("H", 10)
	foretest.Near(t, "an H", h.Ink.Height(), 10, 1e-9)
	for s, want := range map[string]string{
		"ℵ": `the font "stroke" has no “ℵ” (U+2135); it is in DejaVu Sans`, "日": `the font "stroke" has no “日” (U+65E5); no built-in font has it`, "a\tb": "a tab",
	} {
		if _, err := f.Text(s, 5); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%q: %v", s, err)
		}
	}
	// Accents may be coded by themselves.
	one, _ := f.Text("é", 5)
	two, err := f.Text("e\u0301", 5)
	if err != nil || one.Ink != two.Ink || one.Advance != two.Advance {
		t.Errorf("é coded in two ways: %v %v %v", one.Ink, two.Ink, err)
	}
	if !strings.Contains(Acknowledgement(), "originally created by Dr. A. V. Hershey") {
		t.Error("the acknowledgement is lost")
	}
}

// Where a text closes round a circle its last word and its first stand as far apart
// as any two words, spread or not.
func TestCircleClosesWithAGap(t *testing.T) {
	f := load(t, "Go Mono") // each letter and blank takes up as much
	center := geom.Pt(40, 40)
	for _, c := range []struct {
		text   string
		style  Style
		across int // how many gaps are as large as the one that closes, without it
	}{
		{"II II II", Style{Cap: 4, Curve: Circle, Align: Spread}, 2},
		{"III II III", Style{Cap: 6, Curve: Circle, Align: Spread, Radius: 30}, 2},
		{"IIII", Style{Cap: 4, Curve: Circle, Align: Spread}, 3}, // one word: all are alike
		{"II II II II II II", Style{Mode: Fill, Curve: Circle, Radius: 20}, 5},
		{"IIIIIIIIIIIIIIIIII", Style{Mode: Fill, Curve: Circle, Radius: 20}, 0},
		{"IIII IIII IIII IIII", Style{Mode: Fill, Curve: Circle, Radius: 20, Inside: true}, 3},
	} {
		b, err := Fit(f, c.text, 80, 80, c.style)
		if err != nil {
			t.Fatal(err)
		}
		var angles []float64
		for _, p := range b.Outline {
			d := p.Bounds().Center().Sub(center)
			angles = append(angles, math.Atan2(d.Y, d.X))
		}
		slices.Sort(angles)
		var gaps []float64
		for i, a := range angles {
			gaps = append(gaps, math.Mod(angles[(i+1)%len(angles)]-a+2*math.Pi, 2*math.Pi))
		}
		slices.Sort(gaps)
		n := len(gaps)
		letter, blank := gaps[0], gaps[n-1]
		for _, g := range gaps[n-1-c.across:] {
			foretest.Near(t, c.text+": the gap between words", g, blank, 0.02)
		}
		if c.across < n-1 && blank < 1.9*letter {
			t.Errorf("%s: the gap that closes it is %.3f, letters stand %.3f apart", c.text, blank, letter)
		}
	}
}
