package maybe

import "testing"

func TestOf(t *testing.T) {
	var absent Of[float64]
	for _, c := range []struct {
		name    string
		m       Of[float64]
		value   float64
		present bool
	}{
		{"the zero value", absent, 0, false},
		{"what is there", Is(3.5), 3.5, true},
		{"0 that is there", Is(0.0), 0, true},
		{"if so", If(2.0, true), 2, true},
		{"if not", If(2.0, false), 0, false},
		{"or else, there", Is(1.0).OrElse(Is(2.0)), 1, true},
		{"or else, absent", absent.OrElse(Is(2.0)), 2, true},
		{"or else, both absent", absent.OrElse(absent), 0, false},
	} {
		if v, ok := c.m.Get(); v != c.value || ok != c.present || c.m.Present() != c.present {
			t.Errorf("%s: %v, %v; want %v, %v", c.name, v, ok, c.value, c.present)
		}
		or := 7.0
		if c.present {
			or = c.value
		}
		if got := c.m.Or(7); got != or {
			t.Errorf("%s: or 7 is %v", c.name, got)
		}
	}
	if If(2, false) != (Of[int]{}) {
		t.Error("what is absent differs by what it was not")
	}
}
