package geom

import (
	"math"
	"math/rand/v2"
	"testing"
)

// No two pieces meet of those that a sweep doesn't name, as seen by asking all pairs:
// of rings and lines that cross, touch, lie on one another or begin in one place.
func TestMeetingAgainstAllPairs(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 2))
	named, total := 0, 0
	for round := range 600 {
		place := func() Point { return Pt(100*r.Float64(), 100*r.Float64()) }
		if round%2 == 1 {
			place = func() Point { return Pt(float64(r.IntN(20)), float64(r.IntN(20))) }
		}
		var pieces []Piece
		next := map[[2]int]bool{} // pieces of which one follows the other
		ring := func(p Path) {
			first := len(pieces)
			for x := range p.Pieces() {
				pieces = append(pieces, x)
			}
			for k := first; k < len(pieces); k++ {
				behind := k + 1
				if behind == len(pieces) {
					behind = first
				}
				next[[2]int{k, behind}], next[[2]int{behind, k}] = true, true
			}
		}
		reach := math.Pow(2, float64(r.IntN(6)))
		for range 10 + r.IntN(60) {
			at := place()
			switch r.IntN(4) {
			case 0:
				ring(Paths(Circle{Center: at, R: reach * (0.1 + float64(r.IntN(8)))})[0])
			case 1:
				ring(Polygon(at, at.Add(place().Mul(reach/100)), at.Add(place().Mul(reach/100))))
			case 2:
				pieces = append(pieces, Line(at, at.Add(place().Mul(reach/50))))
			case 3:
				pieces = append(pieces, FromBulge(at, at.Add(place().Mul(reach/50)), 3*r.Float64()-1.5))
			}
		}
		meets := func(i, j int) bool {
			p, q := pieces[i], pieces[j]
			for _, x := range Intersections(nil, p, q) {
				joint := p.End == q.From && x.Distance(p.End) < 1e-5 || q.End == p.From && x.Distance(q.End) < 1e-5
				if !joint || !next[[2]int{i, j}] {
					return true
				}
			}
			return false
		}
		crowd := Meeting(pieces, meets)
		for i := range pieces {
			total++
			if crowd[i] {
				named++
				continue
			}
			for j := range i {
				if !crowd[j] && meets(i, j) {
					t.Fatalf("round %d: %v and %v meet, and neither is named", round, pieces[i], pieces[j])
				}
			}
		}
	}
	if named > 3*total/4 {
		t.Errorf("%d of %d are named", named, total)
	}
}

// Of rings in one another with a line across, and of dashes side by side, few pairs are
// asked, and hardly more than the line is named.
func TestMeetingAsksLittle(t *testing.T) {
	const n = 2000
	var rings, dashes []Piece
	rings = append(rings, Line(Pt(-1, 3), Pt(n+1, 5)))
	for i := range n {
		for p := range Paths(Circle{Center: Pt(0, 0), R: float64(i + 10)})[0].Pieces() {
			rings = append(rings, p)
		}
		dashes = append(dashes, Line(Pt(float64(i), 0), Pt(float64(i)+50, 90)))
	}
	for name, pieces := range map[string][]Piece{"rings": rings, "dashes": dashes} {
		asked := 0
		crowd := Meeting(pieces, func(i, j int) bool {
			asked++
			p, q := pieces[i], pieces[j]
			return p.End != q.From && q.End != p.From && len(Intersections(nil, p, q)) > 0
		})
		if asked > 10*len(pieces) {
			t.Errorf("%s: asked %d pairs of %d", name, asked, len(pieces))
		}
		named := 0
		for _, c := range crowd {
			if c {
				named++
			}
		}
		if most := map[string]int{"rings": 3, "dashes": 0}[name]; named > most {
			t.Errorf("%s: %d of %d are named", name, named, len(pieces))
		}
	}
}
