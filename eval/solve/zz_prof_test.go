package solve

import "testing"

func BenchmarkZZ(b *testing.B) {
	for _, c := range []struct {
		name  string
		build func(int) *shop
	}{{"gap", boxesInARow}, {"wishes", evenBoxes}, {"readings", agreeingReadings}, {"chain", chainOfReadings}} {
		b.Run(c.name, func(b *testing.B) {
			s := c.build(1000)
			b.ReportAllocs()
			for b.Loop() {
				s.solve()
			}
		})
	}
}
