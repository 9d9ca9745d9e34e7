package relation

import (
	"math"
	"testing"

	"foredge/lang/unit"
)

// What a relation says is made from its expressions, in the unit of the design.
func TestSay(t *testing.T) {
	s := &System{Vars: []Var{
		{Name: "wire.pitch", Kind: unit.Length}, {Name: "wire.web", Kind: unit.Length}, {Name: "wire.count", Kind: unit.Count},
		{Name: "fold.turn", Kind: unit.Angle},
	}}
	pitch, web, count, turn := V(0), V(1), V(2), V(3)
	for _, c := range []struct {
		r    Relation
		in   unit.Unit
		want string
	}{
		{Relation{Left: pitch, Right: Add(web, C(4))}, unit.MM, "wire.pitch = wire.web + 4 mm"},
		{Relation{Left: pitch, Right: Add(web, C(12.7))}, unit.Inch, "wire.pitch = wire.web + 0.5 in"},
		{Relation{Left: pitch, Right: Mul(Minus(count, C(1)), web)}, unit.MM, "wire.pitch = (wire.count - 1) * wire.web"},
		{Relation{Left: pitch, Right: Minus(web, Minus(pitch, C(2)))}, unit.MM, "wire.pitch = wire.web - (wire.pitch - 2 mm)"},
		{Relation{Left: pitch, Right: Div(web, Mul(C(2), count))}, unit.MM, "wire.pitch = wire.web / (2 * wire.count)"},
		{Relation{Left: pitch, Right: Div(Div(web, C(2)), count)}, unit.MM, "wire.pitch = (wire.web / 2) / wire.count"},
		{Relation{Left: web, Right: Neg(pitch)}, unit.MM, "wire.web = -wire.pitch"},
		{Relation{Sign: GE, Left: pitch, Right: op(Max, web, C(3))}, unit.MM, "wire.pitch >= max(wire.web, 3 mm)"},
		{Relation{Sign: LE, Left: turn, Right: C(180)}, unit.MM, "fold.turn <= 180 deg"},
		{Relation{Left: Div(pitch, web), Right: op(Cos, Minus(C(45), Div(turn, count)))}, unit.MM,
			"wire.pitch / wire.web = cos(45 deg - fold.turn / wire.count)"},
		{Relation{Sign: GE, Left: count, Right: Div(turn, Degrees(45))}, unit.MM, "wire.count >= fold.turn / 45 deg"},
		{Relation{Left: count, Right: op(Max, Div(turn, C(45)), C(2))}, unit.MM, "wire.count = max(fold.turn / 45, 2 deg)"},
		{Relation{Left: pitch, Right: Div(web, Mul(Div(C(math.Pi), Degrees(180)), turn))}, unit.MM,
			"wire.pitch = wire.web / ((pi / 180 deg) * fold.turn)"},
		{Relation{Left: pitch, Right: op(Sqrt, Mul(C(2), web, web))}, unit.Inch, "wire.pitch = sqrt(2 * wire.web * wire.web)"},
		{Relation{Left: Mul(op(Sqrt, Mul(web, web)), op(Max, Div(pitch, web), C(1))), Right: C(25.4)}, unit.Inch,
			"sqrt(wire.web * wire.web) * max(wire.pitch / wire.web, 1) = 1 in"},
		{Relation{Left: pitch, Right: web, Why: "they are one"}, unit.MM, "wire.pitch = wire.web (they are one)"},
		{Relation{Left: pitch, Right: web, Words: "pitch = web"}, unit.MM, "pitch = web"},
		{Relation{Left: pitch, Right: Add(web, web, web, web, web, web, web, web, C(1))}, unit.MM,
			"wire.pitch = wire.web + wire.web + wire.web + ... + 1 mm"},
	} {
		if got := s.Say(&c.r, c.in); got != c.want {
			t.Errorf("got  %s\nwant %s", got, c.want)
		}
	}
}
