package opening_test

import (
	"math"
	"testing"

	form "foredge/eval/opening"
	"foredge/layout/geom"
	"foredge/layout/opening"
)

// halfWide is half of how wide an opening is at a depth below its near edge, written
// out for each form by itself.
func halfWide(n opening.Notch, depth float64) float64 {
	along, away := n.Along, n.Across
	if n.Turned {
		along, away = away, along
	}
	if depth <= 0 || depth >= away {
		return 0
	}
	depth = min(depth, away-depth) // all forms are the same from both ends
	if n.Form == form.Hex && n.Turned {
		return along / 2 * min(1, depth/(away/4))
	}
	if n.Form == form.Hex {
		return along/4 + along/4*depth/(away/2)
	}
	r := n.Radius
	if n.Form != form.Rect {
		r = min(along, away) / 2
	}
	if depth >= r {
		return along / 2
	}
	return along/2 - r + math.Sqrt(r*r-(r-depth)*(r-depth))
}

// A notch that reaches past its side is what of its opening, and of its neck down to
// the opening's middle, lies on the board: as large as strips of it add up to, and as
// wide at its mouth as the first of them, whichever side it is on.
func TestNotchPastItsSide(t *testing.T) {
	board := geom.Box{Min: geom.Pt(10, 20), Max: geom.Pt(90, 80)}
	const strips = 2000
	for _, o := range sample(t) {
		for _, turned := range []bool{false, true} {
			for side := opening.Upper; side <= opening.Left; side++ {
				for _, past := range []float64{0.02, 0.3, 0.5, 0.7, 0.93} {
					for _, part := range []float64{1, 0.9} {
						n := opening.Notch{Opening: o, Side: side, At: 50, Turned: turned}
						along, away := o.Along, o.Across
						if turned {
							along, away = away, along
						}
						n.Near, n.Neck = -past*away, part*along
						if first := 2 * halfWide(n, past*away); part < 1 && (first > n.Neck || past >= 0.5) {
							continue // its neck would mean nothing
						}
						area, mouth := 0.0, 0.0
						for i := range strips {
							v := (float64(i) + 0.5) / strips * (away + n.Near)
							half := halfWide(n, v-n.Near)
							if v < n.Near+away/2 {
								half = max(half, n.Neck/2)
							}
							area += 2 * half * (away + n.Near) / strips
							if i == 0 {
								mouth = 2 * half
							}
						}
						figure := n.Figure(board)
						if got := math.Abs(geom.Area(figure)); math.Abs(got-area) > 3e-3*area {
							t.Errorf("%+v has %v mm², want %v", n, got, area)
						}
						if got := n.Mouth(); math.Abs(got-mouth) > 5e-2*along {
							t.Errorf("%+v is %v wide at its mouth, want %v", n, got, mouth)
						}
						if !board.Grow(1e-9).Holds(figure.Bounds()) {
							t.Errorf("%+v leaves its board: %v", n, figure.Bounds())
						}
					}
				}
			}
		}
	}
}

// What a cutout that is open to a side keeps clear of is the rest of the outline.
func TestBeside(t *testing.T) {
	outline, err := geom.Board(100, 60, [4]geom.Corner{{Kind: geom.Round, Size: 10}})
	if err != nil {
		t.Fatal(err)
	}
	all := geom.Paths(outline)[0]
	for side, length := range map[opening.Side]float64{opening.Upper: 90, opening.Right: 60, opening.Lower: 100, opening.Left: 50} {
		got, want := 0.0, -length
		for p := range opening.Beside(outline, side).Pieces() {
			got += p.Length()
		}
		for p := range all.Pieces() {
			want += p.Length()
		}
		if math.Abs(got-want) > 1e-9 {
			t.Errorf("beside side %d lie %v mm of the outline, want %v", side, got, want)
		}
	}
}
