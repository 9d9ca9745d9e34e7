package root

import "testing"

// The grid goes as finely to one side of 0 as to the other.
func TestGridIsEven(t *testing.T) {
	grid := scanGrid(-Far, Far)
	for i, x := range grid {
		if grid[len(grid)-1-i] != -x {
			t.Fatalf("%v is there, and %v at the other end", x, grid[len(grid)-1-i])
		}
		if i > 0 && x > 1e-4 && x > 1.0601*grid[i-1] {
			t.Fatalf("%v comes after %v", x, grid[i-1])
		}
	}
	if len(grid) < 700 || grid[0] != -Far {
		t.Fatalf("%d points from %v", len(grid), grid[0])
	}
}

// Where a max lies on its number, what was worked out to within rounding holds on a whole
// stretch, and not only where the other side of the max makes up for that.
func TestStretchWithinRounding(t *testing.T) {
	for _, off := range []float64{0, 1e-9, -1e-9} {
		found, any := Scan(func(x float64) float64 { return 30 + off - max(30, 2*x) }, 0, Far)
		if !any {
			t.Errorf("off by %g: found %v, want a stretch", off, found)
		}
	}
	if found, any := Scan(func(x float64) float64 { return 30.001 - max(30, 2*x) }, 0, Far); any || len(found) != 1 {
		t.Errorf("found %v, %v, want 15.0005", found, any)
	}
}
