package eval_test

import (
	"fmt"
	"math"
	"testing"
)

// Hole counts and end margins of centred patterns, margin = (L - (n-1) p) / 2
// to the hole's centre, worked out from that rule beside this program. Pitches: a
// wire maker's page, "How It Works" (author unknown, undated); David Spiel, "Coil
// Binders: Punching for Plastic Coil", Printing Impressions, February 2005; the
// comb's from memory.
func TestHoleCountsAndMargins(t *testing.T) {
	pitches := []struct {
		name       string
		pitch, dia string
	}{
		{"3:1", "25.4 / 3", "4"}, {"2:1", "12.7", "6"}, {"4:1", "6.35", "4.365"},
		{"0.2475 in", "0.2475 in", "4.365"}, {"comb", "9/16 in", "3"},
	}
	type cell struct {
		n      int
		margin float64
	}
	for _, sheet := range []struct {
		name   string
		length float64
		cells  [5][]cell
	}{
		{"A4", 297, [5][]cell{{{34, 8.800}}, {{23, 8.800}}, {{46, 5.625}, {45, 8.800}}, {{47, 3.911}, {46, 7.054}}, {{21, 5.625}}}},
		{"A5", 210, [5][]cell{{{24, 7.633}, {23, 11.867}}, {{16, 9.750}}, {{32, 6.575}}, {{33, 4.416}}, {{15, 4.988}, {14, 12.131}}}},
		{"A6", 148, [5][]cell{{{17, 6.267}, {16, 10.500}}, {{11, 10.500}}, {{23, 4.150}}, {{23, 4.849}}, {{10, 9.706}}}},
		{"B5 ISO", 250, [5][]cell{{{29, 6.467}, {28, 10.700}}, {{19, 10.700}}, {{38, 7.525}}, {{39, 5.557}}, {{17, 10.700}}}},
		{"B5 JIS", 257, [5][]cell{{{30, 5.733}, {29, 9.967}}, {{20, 7.850}}, {{40, 4.675}}, {{40, 5.913}}, {{18, 7.056}}}},
		{"Letter", 279.4, [5][]cell{{{32, 8.467}}, {{21, 12.700}, {22, 6.350}}, {{44, 3.175}, {43, 6.350}}, {{44, 4.540}, {43, 7.684}}, {{19, 11.113}}}},
		{"Half letter", 215.9, [5][]cell{{{25, 6.350}, {24, 10.583}}, {{16, 12.700}, {17, 6.350}}, {{33, 6.350}}, {{34, 4.223}}, {{15, 7.938}}}},
	} {
		for i, cells := range sheet.cells {
			p := pitches[i]
			for _, c := range cells {
				what := fmt.Sprintf("%s %s", sheet.name, p.name)
				// The margin follows from the count ...
				s := sound(t, fmt.Sprintf(`panel a { width = 100; height = %g
row r on spine { count = %d; pitch = %s; hole = round %s; inset = 4 } }`, sheet.length, c.n, p.pitch, p.dia))
				margin := number(t, s, "a.r.first") + number(t, s, "a.r.hole.along")/2
				if math.Abs(margin-c.margin) > 0.0005000001 {
					t.Errorf("%s, %d holes: margin %.5f, the table says %.3f", what, c.n, margin, c.margin)
				}
				// ... and the count from the margin.
				s = sound(t, fmt.Sprintf(`panel a { width = 100; height = %g
row r on spine { first = (height - %d * (%s)) / 2 - hole.along / 2; last = first; pitch = %s; hole = round %s; inset = 4 } }`,
					sheet.length, c.n-1, p.pitch, p.pitch, p.dia))
				if n := number(t, s, "a.r.count"); n != float64(c.n) {
					t.Errorf("%s: %g holes, the table says %d", what, n, c.n)
				}
			}
		}
	}
}

// Positions of filing holes from the top of the sheet, worked out from the patterns
// by hand. Two holes: ISO 838:1974, 80 mm apart, symmetrical about the sheet's axis,
// as a paper maker's page "ISO 838" tells it. Four and the Swedish: "Punchhole" and
// "Ring binder", articles of an open encyclopedia. Rings: H. J. Reggel, "Organizer".
// Letter: a bindery's page "Drilling" and a printers' page "Punching". Many small
// holes: JIS Z 8303 in a trade catalogue of 2024; their number from memory.
func TestFilingHolePositions(t *testing.T) {
	for _, c := range []struct {
		name, edge string
		w, h       float64
		row        string
		want       []float64
	}{
		{"A4, two holes", "spine", 210, 297, "count = 2; pitch = 80; hole = round 6", []float64{108.5, 188.5}},
		{"A4, four holes", "spine", 210, 297, "count = 4; pitch = 80; hole = round 6", []float64{28.5, 108.5, 188.5, 268.5}},
		{"A4, Swedish", "spine", 210, 297, "gaps = 21, 70, 21; hole = round 6", []float64{92.5, 113.5, 183.5, 204.5}},
		{"A5, two holes", "spine", 148, 210, "count = 2; pitch = 80; hole = round 6", []float64{65, 145}},
		{"A5, six rings", "spine", 148, 210, "gaps = 3/4 in, 3/4 in, 2 3/4 in, 3/4 in, 3/4 in; hole = round 5.5",
			[]float64{31.975, 51.025, 70.075, 139.925, 158.975, 178.025}},
		{"Letter, three holes", "spine", 215.9, 279.4, "count = 3; pitch = 4.25 in; hole = round 1/4 in", []float64{31.75, 139.7, 247.65}},
		{"Letter, two at the top", "head", 215.9, 279.4, "count = 2; pitch = 2.75 in; hole = round 1/4 in", []float64{73.025, 142.875}},
		{"A4, thirty", "spine", 210, 297, "count = 30; pitch = 9.5; hole = round 6", ends(30, 10.75, 286.25)},
		{"JIS B5, twenty-six", "spine", 182, 257, "count = 26; pitch = 9.5; hole = round 6", ends(26, 9.75, 247.25)},
		{"A5, twenty", "spine", 148, 210, "count = 20; pitch = 9.5; hole = round 6", ends(20, 14.75, 195.25)},
	} {
		s := sound(t, fmt.Sprintf("panel a { width = %g; height = %g\nrow r on %s { %s; inset = 12 - hole.across / 2 } }", c.w, c.h, c.edge, c.row))
		got := s.Design().Panels[0].Rows[0].Centers
		if len(got) != len(c.want) {
			t.Errorf("%s: %d holes, want %d", c.name, len(got), len(c.want))
			continue
		}
		for i := range got {
			if c.want[i] != 0 && math.Abs(got[i]-c.want[i]) > 1e-9 {
				t.Errorf("%s: hole %d at %.4f, want %.4f", c.name, i+1, got[i], c.want[i])
			}
		}
		if d := number(t, s, "a.r.inset") + number(t, s, "a.r.hole.across")/2; math.Abs(d-12) > 1e-9 {
			t.Errorf("%s: centres %.4f from the edge, want 12", c.name, d)
		}
	}
}

// ends is a row of n holes of which only the first and last are known (0
// stands for the others).
func ends(n int, first, last float64) []float64 {
	w := make([]float64, n)
	w[0], w[n-1] = first, last
	return w
}

// A notebook in inches, worked out by hand: 8 in high, with 23 holes of 0.157 in,
// 0.25 in from the head and 0.26 in from the tail, it has webs of
// (8 - 0.25 - 0.26 - 23 · 0.157) / 22 = 0.1763 in, and a pitch of a third of an inch.
func TestEightInchBench(t *testing.T) {
	s := sound(t, `units in
notebook n { accuracy = 0.001; height = 8; width = 4.75
  row w on spine { count = 23; hole = rect 0.157 by 0.16; first = 0.25; last = 0.26; inset = 0.15 } }
panel p covers n`)
	near(t, s, "n.w.web", 0.1763*25.4, 0.0001*25.4)
	near(t, s, "n.w.pitch", 25.4/3, 0.0002*25.4)
	near(t, s, "p.w.pitch", 25.4/3, 0.0002*25.4)
}

// Data reconciliation worked out beside this program, as a notebook: three segments
// and their total. What is made least: "Data validation and reconciliation", an
// article of an open encyclopedia; the solution by matrices as in VDI 2048, from
// memory.
func TestWorkedAdjustment(t *testing.T) {
	s := sound(t, `notebook n { height = 400 exact; width = 100 exact
  row r on spine {
    count = 4
    gap 1 = 80.03 ± 0.0346410161513775      # u = 0.02: half width u * sqrt(3)
    gap 2 = 80.00 ± 0.0346410161513775
    gap 3 = 80.02 ± 0.0346410161513775
    run   = 240.12 ± 0.0519615242270663     # u = 0.03
  } }`)
	for i, want := range []float64{80.043333, 80.013333, 80.033333} {
		near(t, s, fmt.Sprintf("n.r.gap.%d", i+1), want, 1e-6)
	}
	near(t, s, "n.r.run", 240.09, 1e-9)
	if g := s.Numbers.Benches[0].ChiSquare; math.Abs(g-2.33333) > 5e-6 {
		t.Errorf("gamma = %.6f, want 2.33333", g)
	}
	for _, d := range s.Dimensions() {
		want := map[string]float64{"n.r.gap.1": 0.0179947, "n.r.gap.2": 0.0179947, "n.r.gap.3": 0.0179947, "n.r.run": 0.0226779}[d.Name]
		if want > 0 && math.Abs(d.Uncertainty-want) > 5e-8 {
			t.Errorf("u(%s) = %.8f, want %.7f", d.Name, d.Uncertainty, want)
		}
	}
}

// As many holes as there is room for: with `count = most` a least margin 1 µm
// below that of a cell of the table gives the cell's count, 1 µm above it one
// hole less (the margins are worked out here by the rule, margin =
// (L - (n-1) p) / 2; sources of the pitches as above).
func TestMostHolesOfTheTable(t *testing.T) {
	pitches := []struct {
		text, dia string
		mm        float64
		radius    float64
	}{
		{"25.4 / 3", "4", 25.4 / 3, 2}, {"12.7", "6", 12.7, 3}, {"6.35", "4.365", 6.35, 2.1825},
		{"0.2475 in", "4.365", 0.2475 * 25.4, 2.1825}, {"9/16 in", "3", 9.0 / 16 * 25.4, 1.5},
	}
	counts := map[float64][5][]int{
		297:   {{34}, {23}, {46, 45}, {47, 46}, {21}},
		210:   {{24, 23}, {16}, {32}, {33}, {15, 14}},
		148:   {{17, 16}, {11}, {23}, {23}, {10}},
		250:   {{29, 28}, {19}, {38}, {39}, {17}},
		257:   {{30, 29}, {20}, {40}, {40}, {18}},
		279.4: {{32}, {21, 22}, {44, 43}, {44, 43}, {19}},
		215.9: {{25, 24}, {16, 17}, {33}, {34}, {15}},
	}
	for length, cells := range counts {
		for i, list := range cells {
			p := pitches[i]
			for _, n := range list {
				margin := (length - float64(n-1)*p.mm) / 2
				for _, c := range []struct {
					least float64
					want  int
				}{{margin - 0.001, n}, {margin + 0.001, n - 1}} {
					s := sound(t, fmt.Sprintf(`panel a { width = 100; height = %g
row r on spine { count = most; first >= %.9f; pitch = %s; hole = round %s; inset = 4 } }`, length, c.least-p.radius, p.text, p.dia))
					if got := number(t, s, "a.r.count"); got != float64(c.want) {
						t.Errorf("%g mm, pitch %s, margin at least %.4f: %g holes, want %d", length, p.text, c.least, got, c.want)
					}
				}
			}
		}
	}
}
