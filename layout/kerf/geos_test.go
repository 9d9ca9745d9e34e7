package kerf

import (
	"errors"
	"math"
	"math/rand/v2"
	"testing"

	"foredge/layout/geom"
	"foredge/layout/internal/geos"
)

// star is a closed polygon, or path of lines, arcs and cubics, round the origin with deep
// notches, so that offsets collide and use up sides.
func star(r *rand.Rand, bend float64) geom.Path {
	n := 5 + r.IntN(20)
	corner := make([]geom.Point, n)
	for i := range corner {
		sin, cos := math.Sincos(2 * math.Pi * (float64(i) + 0.7*r.Float64()) / float64(n))
		corner[i] = geom.Pt(cos, sin).Mul(3 + 7*r.Float64())
	}
	b := geom.NewPath(corner[0])
	for i := range n {
		from, to := corner[i], corner[(i+1)%n]
		if bend > 0 && r.IntN(4) == 0 {
			side := geom.Pt(from.Y-to.Y, to.X-from.X).Mul(bend * (r.Float64() - 0.5))
			b.Cubic(from.Lerp(to, 0.3).Add(side), from.Lerp(to, 0.7).Sub(side), to)
		} else if bend > 0 && r.IntN(2) == 0 {
			b.Add(geom.FromBulge(from, to, bend*(r.Float64()-0.5)).Segment)
		} else {
			b.Line(to)
		}
	}
	return b.Close()
}

// simple says whether a path doesn't touch itself, so that it has one inside.
func simple(p geom.Path) bool { return geom.NewBoundary(p.Arcs(CurveTol)).Simple() }

// needle says whether a corner of a path is too sharp, or nearly, for a point:
// there GEOS cuts the point off where we round it.
func needle(p geom.Path) bool {
	n := len(p.Segments)
	pieces := make([]geom.Piece, 0, n)
	for s := range p.Pieces() {
		pieces = append(pieces, s)
	}
	for i, s := range pieces {
		if cos := s.Tangent(1).Dot(pieces[(i+1)%n].Tangent(0)); 2/(1+cos) > MitreLimit*MitreLimit/2 {
			return true
		}
	}
	return false
}

// GEOS offsets the same figures, as fine polygons, with mitred corners.
func TestAgainstGEOS(t *testing.T) {
	const fine = 1e-4
	type job struct {
		Figure, Got [][]geom.Point
		D           float64
	}
	r := rand.New(rand.NewPCG(3, 3))
	var jobs []job
	var bends []float64
	var figs []geom.Path
	vanished := 0
	for len(jobs) < 300 {
		bend := 0.0
		if len(jobs)%2 == 1 {
			bend = 0.5
		}
		p := star(r, bend)
		if !simple(p) || needle(p) {
			continue
		}
		d := 1.2 * (r.Float64() - 0.5)
		if len(jobs)%3 == 0 {
			d /= 10
		}
		got, err := Offset(p, d)
		j := job{D: d, Figure: [][]geom.Point{p.Flatten(fine)}}
		var v VanishError
		if errors.As(err, &v) {
			vanished++
		} else if err != nil {
			t.Fatalf("%s by %g: %v", p, d, err)
		} else {
			for _, q := range geom.Paths(got) {
				j.Got = append(j.Got, q.Flatten(fine))
			}
		}
		jobs, bends, figs = append(jobs, j), append(bends, bend), append(figs, p)
	}
	var want []struct{ Area, Miss, Round, Length float64 }
	geos.Ask(t, `
def figure(rings):
    f = Polygon()
    for ring in rings:
        f = f.symmetric_difference(Polygon([(p["X"], p["Y"]) for p in ring]).buffer(0))
    return f
answer = []
for j in data:
    f, got = figure(j["Figure"]), figure(j["Got"] or [])
    mitred = f.buffer(j["D"], join_style=2, mitre_limit=10)
    round = f.buffer(j["D"], resolution=200)
    answer.append({"Area": mitred.area, "Miss": got.symmetric_difference(mitred).area,
        "Round": (round.difference(got) if j["D"] > 0 else got.difference(round)).area, "Length": mitred.length})
`, jobs, &want)
	bad := 0
	for i, w := range want {
		d := math.Abs(jobs[i].D)
		allow := 1e-6
		if bends[i] > 0 {
			// Chords on both sides, and corners that follow arcs, not their tangents.
			allow = 2*fine*w.Length + 10*d*d*d
		}
		if w.Miss > allow {
			bad++
			if bad < 10 {
				t.Errorf("%d: %d sides by %g: %g mm² of %g off\n%s", i, len(figs[i].Segments), jobs[i].D, w.Miss, w.Area, figs[i])
			}
		}
		if w.Round > 1e-5+2*fine*w.Length {
			t.Errorf("%d: %s by %g: nearer than the offset by %g mm²", i, figs[i], jobs[i].D, w.Round)
		}
	}
	t.Logf("%d figures, %d vanished, %d off", len(want), vanished, bad)
}
