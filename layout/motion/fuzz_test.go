package motion

import (
	"math"
	"testing"

	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/tour"
)

// FuzzTime runs a path read off bytes on machines of any numbers: the time is none with
// the needs named, or finite and not below length over speed.
func FuzzTime(f *testing.F) {
	f.Add([]byte("gulls over the harbour wall"), 10.0, 500.0, 5.0, 0.1)
	f.Add([]byte{0, 0, 0, 1, 1, 1}, 0.0, math.Inf(1), math.NaN(), -1.0)
	f.Add([]byte{255, 1, 3, 3}, 1e-300, 1e300, 1e-5, 1e5)
	f.Fuzz(func(t *testing.T, data []byte, speed, a, corner, deviation float64) {
		b := geom.NewPath(geom.Pt(0, 0))
		for len(data) >= 3 && len(data) < 3000 {
			to := b.At().Add(geom.Pt(float64(int8(data[1]))/16, float64(int8(data[2]))/16))
			switch data[0] & 3 {
			case 0:
				b.Arc(to, b.At().Lerp(to, 0.5), data[0]&4 != 0)
			case 1:
				b.Cubic(geom.Pt(to.X, b.At().Y), geom.Pt(b.At().X, to.Y), to)
			default:
				b.Line(to)
			}
			data = data[3:]
		}
		m := Machine{
			Travel: maybe.Is(speed), Acceleration: maybe.Is(a),
			Corner: maybe.If(corner, corner != 0), Deviation: maybe.If(deviation, deviation != 0),
		}
		m.Ops[tour.Cut].Speed = maybe.Is(speed)
		path := b.Open()
		got, needs := m.Time([]Move{{Op: tour.Cut, Paths: []geom.Path{path}}}, maybe.Of[geom.Point]{}, maybe.Of[geom.Point]{})
		time, ok := got.Get()
		if ok == (len(needs) > 0) {
			t.Fatalf("time %v with needs %v", ok, needs)
		}
		usual := speed > 1e-3 && speed < 1e6 && a > 1e-3 && a < 1e9
		if total := time.Total(); ok && usual {
			least := geom.Length(path.Arcs(curveTol)) / speed
			if math.IsNaN(total) || math.IsInf(total, 0) || total < least*(1-1e-9) {
				t.Errorf("%v s, at least %v s", total, least)
			}
		}
	})
}
