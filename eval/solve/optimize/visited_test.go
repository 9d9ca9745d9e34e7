package optimize

import (
	"math/rand/v2"
	"testing"

	"foredge/eval/solve/sparse"
)

// What was seen of a form lies between its least and greatest values; and of most that
// have room that is seen after a few forms.
func TestSeenWithinReach(t *testing.T) {
	seen, roomy := 0, 0
	for seed := range uint64(400) {
		r := rand.New(rand.NewPCG(seed, 71))
		limits, ids := randomLimits(r)
		limits, ids = limits[1:], ids[1:] // so that it may go on without end
		p := NewPolyhedron([]int32{0, 1}, limits, ids)
		if p.Empty {
			continue
		}
		form := func() sparse.Affine {
			return sparse.Affine{Terms: []sparse.Term{{At: 0, Coef: r.NormFloat64()}, {At: 1, Coef: r.NormFloat64()}}}
		}
		for range 3 {
			p.Reach(form())
		}
		f, room := form(), 20*r.Float64()
		low, high := NewPolyhedron([]int32{0, 1}, limits, ids).Reach(f)
		if high-low > room {
			roomy++
		}
		least, most := p.Seen(f)
		if least < low-1e-6 || most > high+1e-6 {
			t.Fatalf("limits %d: from %g to %g, seen from %g to %g", seed, low, high, least, most)
		}
		if most-least > room {
			seen++
		}
	}
	if roomy < 100 || seen < roomy/2 {
		t.Errorf("%d forms have room, which is seen of %d", roomy, seen)
	}
}
