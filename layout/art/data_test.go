package art

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"github.com/tdewolff/canvas"

	"foredge/layout/geom"
)

// Path data is read as another reader, that of the canvas library, reads it:
// 2,000 random paths of all commands, compared segment by
// segment.
func TestDataAgainstCanvas(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 60))
	for range 2000 {
		text := randomData(r)
		ours, at := parseData(text)
		if at != 0 {
			t.Fatalf("%s: wrong at %d", text, at)
		}
		theirs, err := canvas.ParseSVGPath(text)
		if err != nil {
			t.Fatalf("%s: %v", text, err)
		}
		var want []geom.Path
		for _, p := range theirs.Split() {
			if q := fromCanvas(p); len(q.Segments) > 0 {
				want = append(want, q)
			}
		}
		var got []geom.Path
		for _, tr := range ours {
			if p := tr.path(identity()); len(p.Segments) > 0 {
				got = append(got, p)
			}
		}
		if err := alikePaths(got, want); err != nil {
			t.Fatalf("%s: %v", text, err)
		}
	}
}

// fromCanvas takes the commands of the other reader as they are; what an arc is
// by its ends and radii is held against librsvg elsewhere.
func fromCanvas(p *canvas.Path) geom.Path {
	at := func(p canvas.Point) geom.Point { return geom.Pt(p.X, p.Y) }
	var t trace
	for s := p.Scanner(); s.Scan(); {
		end := at(s.End())
		switch s.Cmd() {
		case canvas.MoveToCmd:
			t.start = end
		case canvas.QuadToCmd:
			t.quadratic(at(s.CP1()), end)
		case canvas.CubeToCmd:
			t.cubic(at(s.CP1()), at(s.CP2()), end)
		case canvas.ArcToCmd:
			rx, ry, phi, large, sweep := s.Arc()
			t.arc(rx, ry, phi, large, sweep, end)
		case canvas.CloseCmd:
			t.closed = true
		default:
			t.line(end)
		}
	}
	return t.path(identity())
}

// alikePaths compares segment by segment.
func alikePaths(got, want []geom.Path) error {
	if len(got) != len(want) {
		return fmt.Errorf("%d subpaths, want %d", len(got), len(want))
	}
	const tol = 1e-6
	for i, p := range got {
		q := want[i]
		if len(p.Segments) != len(q.Segments) || p.Closed != q.Closed || p.Start.Distance(q.Start) > tol {
			return fmt.Errorf("%s, want %s", p, q)
		}
		at := p.Start
		for k, a := range p.Segments {
			b := q.Segments[k]
			if k > 0 {
				at = p.Segments[k-1].End
			}
			if straight := geom.Line(at, a.End); b.Kind == geom.LineTo && straight.Distance(a.C1) <= tol && straight.Distance(a.C2) <= tol {
				// The other reader makes a line of a curve that is one.
				a = straight.Segment
			}
			if a.Kind != b.Kind || a.Clockwise != b.Clockwise ||
				max(a.End.Distance(b.End), a.C1.Distance(b.C1), a.C2.Distance(b.C2), a.Center.Distance(b.Center)) > tol {
				return fmt.Errorf("%s, want %s", p, q)
			}
		}
	}
	return nil
}

func randomData(r *rand.Rand) string {
	var b strings.Builder
	n := func() string {
		s := fmt.Sprintf("%.2f", r.Float64()*40-10)
		if r.IntN(3) == 0 {
			s = fmt.Sprint(r.IntN(40) - 41)
		}
		return s + []string{" ", ",", " , ", "\n"}[r.IntN(4)]
	}
	// Arcs are relative and large enough for their ends: where radii must be
	// enlarged, the other reader's half circles come out as less or more.
	size := func() string { return fmt.Sprintf("%.1f ", 30+r.Float64()*20) }
	flag := func() string { return []string{"0", "1", "0 ", "1,"}[r.IntN(4)] }
	b.WriteString("M" + n() + strings.TrimRight(n(), " ,\n"))
	drawn, last := 0, byte(0)
	for range 1 + r.IntN(8) {
		c := "MmLlHhVvCcSsQqTtaaZz"[r.IntN(20)]
		if c|0x20 == 'z' && drawn == 0 {
			continue // where nothing is drawn the other reader loses the place
		}
		if (c|0x20 == 'h' || c|0x20 == 'v') && last == c|0x20 {
			continue // nor may it see a line that runs back along itself
		}
		if c|0x20 == 't' && last != 'q' && last != 't' {
			continue // a straight curve, which it joins to lines beside it
		}
		last = c | 0x20
		if drawn++; c|0x20 == 'z' {
			drawn = 0
		}
		b.WriteByte(' ')
		b.WriteByte(c)
		again := 1 + r.IntN(2)
		switch c | 0x20 {
		case 'm':
			again = 2
		case 'h', 'v':
			again = 1
		}
		for range again {
			switch c | 0x20 {
			case 'm', 'l', 't':
				b.WriteString(n() + n())
			case 'h', 'v':
				b.WriteString(n())
			case 'c':
				b.WriteString(n() + n() + n() + n() + n() + n())
			case 's', 'q':
				b.WriteString(n() + n() + n() + n())
			case 'a':
				b.WriteString(size() + size() + n() + flag() + flag() + n() + n())
			}
		}
		// What follows a comma must be a number.
		s := strings.TrimRight(b.String(), " ,\n")
		b.Reset()
		b.WriteString(s)
	}
	return b.String()
}

// Numbers run together as SVG 1.1, 8.3.9 allows; what it doesn't allow is told by
// the character.
func TestDataForms(t *testing.T) {
	for text, want := range map[string]string{
		"M0.6.5-3.5 1":          "M0.6 0.5L-3.5 1",
		"M1 2l3-4":              "M1 2L4 -2",
		"M10-20A5.5.3-4.110-.1": "", // radii 5.5 and .3, angle −4.1, flags 1 and 0, then −.1 alone: broken
		"M0 0A5 5 0 0 1 5 5":    "M0 0A5 5 0 0 1 5 5",
		"m1 1 2 2z m1 1h2":      "M1 1L3 3Z M2 2L4 2",
		"M1e1-1E0L0 0":          "M10 -1L0 0",
	} {
		traces, at := parseData(text)
		if (at != 0) != (want == "") {
			t.Errorf("%s: wrong at %d", text, at)
			continue
		}
		var got []string
		for _, tr := range traces {
			got = append(got, tr.path(identity()).String())
		}
		if g := strings.Join(got, " "); g != want {
			t.Errorf("%s: %s, want %s", text, g, want)
		}
	}
}

// Where path data is wrong, counted from 1: at the first character that can't be
// read. The flags of an arc are 0 or 1 and nothing else (SVG 1.1, 8.3.9).
func TestDataWrongAt(t *testing.T) {
	for text, want := range map[string]int{
		"M0 0A5 5 0 0 1 3 4": 0,
		"M0 0A5 5 0 2 3 4":   12, // as a flag left out it would be an arc to 2, 3
		"M0 0A5 5 0 2 3":     12,
		"M0 0A5 5 0 1 7 5":   14,
		"M0 0A5 5 0 -1 1 5":  12,
		"M0 0A5 5 0 1":       13,
		"L1 1":               1,
		"M1 1,":              6,
		"M1 1 2":             7,
	} {
		if _, at := parseData(text); at != want {
			t.Errorf("%s: wrong at %d, want %d", text, at, want)
		}
	}
}

// Files just past each limit are refused, at once.
func TestLimits(t *testing.T) {
	page := func(body string) string {
		return `<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm">` + body + `</svg>`
	}
	var crossing strings.Builder
	for i := range 4000 {
		fmt.Fprintf(&crossing, "M%d 0L%d 70L%d 70Z", i%70, 70-i%70, 71-i%70)
	}
	for want, text := range map[string]string{
		"larger than 8 MiB":           page("<!--" + strings.Repeat("x", MaxBytes) + "-->"),
		"more than 50000 elements":    page(strings.Repeat("<g/>", MaxElements)),
		"more than 64 deep":           page(strings.Repeat("<g>", MaxDepth) + strings.Repeat("</g>", MaxDepth)),
		"more than 100000 lines":      page(`<path d="M0 0` + strings.Repeat("h1v1", MaxSegments/2+1) + `" fill="none" stroke="red"/>`),
		"more than 2000 styles":       page("<style>" + strings.Repeat(".a{}", maxRules+1) + "</style>"),
		"too tangled for its outline": page(`<path d="` + crossing.String() + `"/>`),
	} {
		if _, err := Parse("a.svg", []byte(text)); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%s: %.200v", want, err)
		}
	}
}

func BenchmarkParse(b *testing.B) {
	var body strings.Builder
	for i := range 1000 {
		fmt.Fprintf(&body, `<path d="M%d %dc1 -2 3 -2 4 0s-3 2 -4 0z"/>`, i%40*5, i/40*6)
	}
	data := []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="60mm" height="60mm">` + body.String() + `</svg>`)
	b.SetBytes(int64(len(data)))
	for b.Loop() {
		if _, err := Parse("a.svg", data); err != nil {
			b.Fatal(err)
		}
	}
}
