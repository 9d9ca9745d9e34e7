package model

import (
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/lang/unit"
)

func compare(ask Ask, left, right relation.Expr) Condition {
	return Condition{Ask: ask, Left: Side{Kind: unit.Length, Expr: left}, Right: Side{Kind: unit.Length, Expr: right}}
}

// A comparison holds where only rounding is against it.
func TestComparisons(t *testing.T) {
	names := map[Ask]string{Equal: "=", NotEqual: "!=", Less: "<", AtMost: "<=", More: ">", AtLeast: ">="}
	for _, c := range []struct {
		left  float64 // against 3
		holds []Ask
	}{
		{2, []Ask{NotEqual, Less, AtMost}},
		{3 - 2e-6, []Ask{NotEqual, Less, AtMost}},
		{3 - 5e-7, []Ask{Equal, AtMost, AtLeast}},
		{3, []Ask{Equal, AtMost, AtLeast}},
		{3 + 5e-7, []Ask{Equal, AtMost, AtLeast}},
		{3 + 2e-6, []Ask{NotEqual, More, AtLeast}},
		{4, []Ask{NotEqual, More, AtLeast}},
		{math.NaN(), nil},
	} {
		holds := map[Ask]bool{}
		for _, ask := range c.holds {
			holds[ask] = true
		}
		for ask, name := range names {
			if got := compare(ask, relation.V(0), relation.C(3)).Holds([]float64{c.left}); got != holds[ask] {
				t.Errorf("%v %s 3: %v", c.left, name, got)
			}
		}
	}
}

func TestTexts(t *testing.T) {
	text := func(s string) Side { return Side{Kind: unit.Text, Text: s} }
	for _, c := range []struct {
		ask         Ask
		left, right string
		want        bool
	}{
		{Equal, "Ada", "Ada", true}, {Equal, "Ada", "ada", false}, {NotEqual, "Ada", "", true}, {NotEqual, "", "", false},
	} {
		cond := Condition{Ask: c.ask, Left: text(c.left), Right: text(c.right)}
		if got := cond.Holds(nil); got != c.want || !cond.Known() {
			t.Errorf("%q against %q: %v (known: %v)", c.left, c.right, got, cond.Known())
		}
	}
}

func TestParts(t *testing.T) {
	yes, no := compare(Equal, relation.C(1), relation.C(1)), compare(Equal, relation.C(1), relation.C(2))
	open := compare(Equal, relation.V(0), relation.C(2))
	for _, c := range []struct {
		name         string
		ask          Ask
		parts        []Condition
		holds, known bool
	}{
		{"yes and yes", All, []Condition{yes, yes}, true, true},
		{"yes and no", All, []Condition{yes, no}, false, true},
		{"no and yes", All, []Condition{no, yes}, false, true},
		{"no or yes", Any, []Condition{no, yes}, true, true},
		{"yes or no", Any, []Condition{yes, no}, true, true},
		{"no or no", Any, []Condition{no, no}, false, true},
		{"not yes", None, []Condition{yes}, false, true},
		{"not no", None, []Condition{no}, true, true},
		{"yes and a dimension", All, []Condition{yes, open}, true, false},
		{"not a dimension", None, []Condition{open}, false, false},
	} {
		cond := Condition{Ask: c.ask, Parts: c.parts}
		if got := cond.Holds([]float64{2}); got != c.holds || cond.Known() != c.known {
			t.Errorf("%s: %v (known: %v), want %v (%v)", c.name, got, cond.Known(), c.holds, c.known)
		}
	}
}
