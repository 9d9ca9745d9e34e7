package plan

import (
	"math"
	"slices"
	"testing"

	"foredge/eval/relation"
)

func TestWhole(t *testing.T) {
	for _, test := range []struct {
		value, u float64
		want     float64
		ok       bool
	}{
		{23, 0, 23, true},
		{23 + 1e-7, 0, 23, true},
		{23.01, 0, 23, false},
		{23.01, 0.004, 23, true},  // within three standard uncertainties
		{23.01, 0.003, 23, false}, // not within them
		{23.3, 1, 23, false},      // however uncertain, a fifth is too far
		{-1, 0, -1, false},
		{MostCount, 0, MostCount, true},
		{MostCount + 1, 0, MostCount + 1, false},
	} {
		if n, ok := Whole(test.value, test.u); n != test.want || ok != test.ok {
			t.Errorf("%g with uncertainty %g is %g, %t; want %g, %t", test.value, test.u, n, ok, test.want, test.ok)
		}
	}
}

// What can't be computed or speaks of a dimension that there isn't is broken and
// filed nowhere; all else is filed by its dimensions, and divided by benches.
func TestOf(t *testing.T) {
	v, c := relation.V, relation.C
	p := Of(&relation.System{
		Vars:    []relation.Var{{Name: "width"}, {Name: "height"}, {Name: "log.width", Bench: 1}},
		Benches: []relation.Bench{{Name: "log"}},
		Relations: []relation.Relation{
			{Left: v(0), Right: relation.Add(v(1), c(5))},
			{Sign: relation.GE, Left: v(1), Right: c(10)},
			{Left: relation.Mul(v(0), v(1)), Right: c(600)},
			{Left: relation.Div(v(0), c(0)), Right: c(1)},
			{Left: v(0), Right: v(7)},
			{Left: v(0), Right: c(math.Inf(1))},
			{Left: v(2), Right: v(0), Bench: 1},
		},
	})
	if !slices.Equal(p.Broken, []bool{false, false, false, true, true, true, false}) {
		t.Errorf("broken: %v", p.Broken)
	}
	if !slices.Equal(p.Linear[:3], []bool{true, true, false}) {
		t.Errorf("linear: %v", p.Linear)
	}
	if !slices.Equal(p.Equations.Of(0), []int32{0, 2, 6}) || !slices.Equal(p.Equations.Of(1), []int32{0, 2}) || !slices.Equal(p.Limits.Of(1), []int32{1}) {
		t.Errorf("of width %v, of height %v, limits of height %v", p.Equations.Of(0), p.Equations.Of(1), p.Limits.Of(1))
	}
	s := p.BenchScopes[0]
	s.Sort()
	if !slices.Equal(s.Relations, []int32{6}) || !slices.Equal(s.Vars, []relation.VarID{0, 2}) {
		t.Errorf("the bench's scope is %v", s)
	}
	if !slices.Equal(p.Sound(4), []relation.VarID{0}) {
		t.Errorf("sound in the last: %v", p.Sound(4))
	}
}
