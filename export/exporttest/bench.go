package exporttest

import (
	"io"
	"testing"

	"foredge/export"
	"foredge/layout"
)

// BenchmarkEncoder measures an encoder on a drawing: bytes a second and
// nanoseconds a shape, which stay alike where the time grows as the drawing.
func BenchmarkEncoder(b *testing.B, e export.Encoder, d *layout.Drawing) {
	shapes := 0
	for _, p := range d.Parts {
		shapes += len(p.Shapes)
	}
	b.SetBytes(int64(len(Encode(b, e, d))))
	b.ReportAllocs()
	for b.Loop() {
		if err := e.Encode(io.Discard, d); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/float64(shapes), "ns/shape")
}
