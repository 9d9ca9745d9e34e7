package eval_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/foretest"
)

// A field of one line lies where a row of holes does that is told the same: rows
// have relations of their own.
func TestFieldsLieAsRows(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 1))
	for range foretest.Sample(200, 20) {
		count, size := 2+rng.IntN(9), 2+4*rng.Float64()
		pitch, inset := size+1+6*rng.Float64(), 3+10*rng.Float64()
		across, down, edge, last := "across", "down", "head", fmt.Sprintf("%d.1.foredge", count)
		near, far, in := "spine", "foredge", "head"
		if rng.IntN(2) == 0 {
			across, down, edge, last = "down", "across", "spine", fmt.Sprintf("1.%d.tail", count)
			near, far, in = "head", "tail", "spine"
		}
		s := evaltest.Sound(t, fmt.Sprintf(`panel front { width = 180; height = 170
			row wire on %s { count = %d; pitch = %g; inset = %g; hole = round %g }
			field pane { %s = %d; pitch-%[6]s = %[3]g; %[8]s = %[4]g; cutout each { shape = round %[5]g } }
			check pane.%[9]s > 0 }`, edge, count, pitch, inset, size, across, count, in, last))
		for name, of := range map[string]string{near: "first", far: "last", in: "inset", "gap-" + across: "web", last: "last"} {
			evaltest.Near(t, s, "front.pane."+name, evaltest.Dimension(t, s, "front.wire."+of).Value, 1e-6)
		}
		evaltest.Near(t, s, "front.pane."+down, 1, 0)
	}
}

// As many as the rest allows are as many as counting finds.
func TestMostOfAField(t *testing.T) {
	rng := rand.New(rand.NewPCG(10, 2))
	for range foretest.Sample(200, 20) {
		size, gap, edge, wide := 3+20*rng.Float64(), 1+8*rng.Float64(), 20*rng.Float64(), 60+200*rng.Float64()
		s := evaltest.Sound(t, fmt.Sprintf(`panel front { width = %g; height = 40
			field pane { across = most; gap-across = %g; spine >= %g; cutout each { width = %g; height = 9 } } }`, wide, gap, edge, size))
		n := 0
		for float64(n+1)*size+float64(n)*gap <= wide-2*edge {
			n++
		}
		evaltest.Near(t, s, "front.pane.across", float64(n), 0)
		evaltest.Near(t, s, "front.pane.spine", (wide-float64(n)*size-float64(n-1)*gap)/2, 1e-6)
	}
}
