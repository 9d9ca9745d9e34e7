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
