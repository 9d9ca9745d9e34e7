package wire_test

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/opening"
	"foredge/eval/wire"
	"foredge/lang/foretest"
)

// What a wire needs across more than its own thickness where a board lies
// square across it, s = R - sqrt(R² - (T/2)²), worked out by hand from that
// rule for six sizes of loop, rounded to 0.001 mm.
func TestSquareCrossing(t *testing.T) {
	sizes := []float64{6.35, 9.525, 12.7, 14.288, 19.05, 25.4}
	for thick, row := range map[float64][]float64{
		1.5: {0.090, 0.059, 0.044, 0.039, 0.030, 0.022},
		3:   {0.377, 0.242, 0.180, 0.159, 0.119, 0.089},
		4:   {0.709, 0.440, 0.323, 0.286, 0.212, 0.158},
		6:   {2.135, 1.064, 0.753, 0.660, 0.485, 0.359},
	} {
		for i, size := range sizes {
			for _, d := range []float64{0.8, 1.2} {
				w := wire.Wire{Inside: size, Thick: d}
				what := fmt.Sprintf("across for %g mm of board in a %g mm loop of %g mm wire", thick, size, d)
				foretest.Near(t, what, w.Across(wire.Alone(thick)), d+row[i], 0.0005+1e-9)
				foretest.Near(t, "along", w.Along(wire.Alone(thick)), d, 0)
				for _, form := range opening.Forms() {
					_, across := w.Least(opening.Opening{Form: form, Along: d, Across: d}, wire.Alone(thick))
					foretest.Near(t, what+", any form", across, d+row[i], 0.0005+1e-9)
				}
			}
		}
	}
}

// A 3-4-5 and a 5-12-13 triangle: what the strips and the stack fill of the
// ring is a right triangle over its diameter.
func TestTriangles(t *testing.T) {
	w := wire.Wire{Inside: 13, Thick: 1}
	foretest.Near(t, "chord", w.Chord(5), 12, 1e-12)
	foretest.Near(t, "largest inset alone", w.LargestInset(wire.Alone(5)), 12, 1e-12)
	foretest.Near(t, "largest inset alone", w.LargestInset(wire.Alone(12)), 5, 1e-12)
	pair := wire.Book{Board: 3, Boards: 2, Leaves: 6, Reach: 2} // 12 thick
	foretest.Near(t, "largest inset", w.LargestInset(pair), 3, 1e-12)
	foretest.Near(t, "largest pair", w.LargestPair(pair), 2.5, 1e-12)
	foretest.Near(t, "thickest board", w.LargestTurning(pair, 3), 3, 1e-12)
	foretest.Near(t, "most leaves", w.LargestLeaves(pair, 3, opening.Opening{Along: 9, Across: 9}), 6, 1e-12)
	foretest.Near(t, "least ring", w.LeastInside(pair, 3), 13, 1e-12)
	foretest.Near(t, "thickest stack", wire.Wire{Inside: 10}.LargestStack(4, 4), 6, 1e-12)
	// The closed book: outer side of the wire at the inner face, 3 from the axis,
	// with R + d = 7.5; inner side at the outer face, 6 from the axis, R = 6.5.
	foretest.Near(t, "across", w.Across(pair), math.Sqrt(7.5*7.5-9)-2.5, 1e-12)
}

// A bindery's specification gives the loop as the book's thickness + 3/16 in,
// and another the far side of the hole as 1/4 in from the edge (3/8 in for
// books above 7/16 in), so that with holes of 4 mm (6 mm two to the inch) the
// near side lies at 2.35 mm (3.525 mm). Loops of that rule must hold their
// books, and turn them right round.
func TestLoopRuleOfBinderies(t *testing.T) {
	for _, inch := range []float64{1. / 4, 5. / 16, 3. / 8, 7. / 16, 1. / 2, 9. / 16, 5. / 8, 3. / 4, 7. / 8, 1} {
		w := wire.Wire{Inside: inch * 25.4, Thick: 1}
		bulk := w.Inside - 3.0/16*25.4
		inset := 6.35 - 4
		if bulk > 7.0/16*25.4 {
			inset = 9.525 - 6
		}
		c := wire.Case{Wire: w, Inset: inset, Hole: opening.Opening{Along: 4, Across: 4},
			Book: wire.Book{Board: 0.3, Boards: 2, Leaves: bulk - 0.6, Reach: inset}}
		a := wire.Check(c)
		if !a.Closes || !a.Turns || !a.Passes {
			t.Errorf("a loop of %g in for %.3f mm: closes %v, turns %v, passes %v", inch, bulk, a.Closes, a.Turns, a.Passes)
		}
		if most := c.LargestLeaves(); most+0.6 < bulk || most+0.6 >= w.Inside {
			t.Errorf("a loop of %g in takes %.3f mm", inch, most)
		}
	}
}

// A straight round bar of diameter d through a plate of thickness T at the
// angle λ from the normal needs T tan λ + d / cos λ along (the section of an
// oblique cylinder is an ellipse of half axis r / cos λ). A coil that is wide
// beside the board comes to that.
func TestCoilIsNearlyStraight(t *testing.T) {
	for _, pitch := range []float64{20, 60, 150} {
		w := wire.Wire{Inside: 100, Thick: 1.75, Pitch: pitch}
		lead := math.Atan(pitch / (math.Pi * 101.75))
		foretest.Near(t, "lead", w.Lead(), lead*180/math.Pi, 1e-12)
		straight := 2*math.Tan(lead) + 1.75/math.Cos(lead)
		foretest.Near(t, "along", w.Along(wire.Alone(2)), straight, 0.002)
		foretest.Near(t, "across", w.Across(wire.Alone(2)), 1.75+50-math.Sqrt(2500-1), 1e-12)
	}
	w := wire.Wire{Inside: 12, Thick: 1.75, Pitch: 6.35}
	// atan(6.35 / (π 13.75)) by hand: 0.147001, 8.3626 degrees.
	foretest.Near(t, "lead", w.Lead(), 8.3626, 0.0005)
	foretest.Near(t, "step", w.Step(180), 3.175, 1e-12)
}

// A twin loop whose two wires lie d apart in a round hole needs its corners:
// the least circle round two wires side by side, with nothing of a board
// between, has the diameter of both.
func TestTwinLoopInRoundHole(t *testing.T) {
	w := wire.Wire{Inside: 200, Thick: 1, Over: 3}
	along, across := w.Least(opening.Opening{Form: opening.Round, Along: 1, Across: 1}, wire.Alone(0))
	foretest.Near(t, "diameter", along, 3, 0.001)
	foretest.Near(t, "diameter", across, along, 0)
	// Across a thick board the wires also move by s, and the circle is that of a
	// 2 by s rectangle of centres, with a wire round it.
	w.Inside = 20
	board := wire.Alone(6)
	s := w.Across(board) - 1
	along, _ = w.Least(opening.Opening{Form: opening.Round}, board)
	if most := math.Hypot(2, s) + 1; along > most+0.001 || along < 3 {
		t.Errorf("%.4f, must lie between 3 and %.4f", along, most)
	}
}

// Both wires of a twin loop in a hexagonal hole: two circles side by side along
// the row, of the diameter d and over apart at their outsides, touch the slanted
// flats, which stand at 30 degrees to the line across. The flats are then
// 2 (a cos 30° + r) apart, a being half the distance of the centres; one wire
// needs no more than itself across.
func TestTwinLoopInHexagon(t *testing.T) {
	hex := opening.Opening{Form: opening.Hex}
	w := wire.Wire{Inside: 200, Thick: 1, Over: 3}
	along, across := w.Least(hex, wire.Alone(0))
	foretest.Near(t, "across the flats", across, 2*(math.Sqrt(3)/2+0.5), 0.001)
	foretest.Near(t, "across the corners", along, across/math.Cos(math.Pi/6), 1e-9)
	for _, c := range []struct {
		across float64
		passes bool
	}{{across, true}, {across - 0.001, false}} {
		hex.Across = c.across
		if w.Passes(hex.Regular(), wire.Alone(0)) != c.passes {
			t.Errorf("%g across the flats: passes %v", c.across, !c.passes)
		}
	}
	// A single wire in thicker and thicker board, until the hole is far larger
	// than the wire: the line that it fills across goes from flat to flat.
	w.Over, w.Inside = 0, 20
	for _, thick := range []float64{0, 3, 10, 19} {
		along, across = w.Least(hex, wire.Alone(thick))
		foretest.Near(t, "across the flats", across, w.Across(wire.Alone(thick)), 1e-12)
		foretest.Near(t, "across the corners", along, across/math.Cos(math.Pi/6), 1e-9)
	}
}

func TestCheckSaysWhatLimits(t *testing.T) {
	c := wire.Case{Wire: wire.Wire{Inside: 9.5, Thick: 0.9}, Inset: 3, Hole: opening.Opening{Along: 4, Across: 4},
		Book: wire.Book{Board: 2, Boards: 2, Leaves: 3, Reach: 3}}
	is := func(a wire.Answer, limit wire.Limit, closes, turns, passes bool) {
		t.Helper()
		if a.Limit != limit || a.Closes != closes || a.Turns != turns || a.Passes != passes {
			t.Errorf("limit %d, closes %v, turns %v, passes %v; want %d, %v, %v, %v", a.Limit, a.Closes, a.Turns, a.Passes,
				limit, closes, turns, passes)
		}
	}
	a := wire.Check(c)
	is(a, wire.Turning, true, true, true)
	foretest.Near(t, "thickest", a.LargestBoard, (math.Sqrt(9.5*9.5-36)-3)/2, 1e-9)
	foretest.Near(t, "margin", a.Margin, a.LargestBoard-2, 1e-12)
	c.Book.Board = 3 // S = 9, chord 3.04
	is(wire.Check(c), wire.Turning, true, false, true)
	c.Book.Board, c.Inset, c.Hole.Across = 2, 2, 1
	c.Book.Reach = 2
	a = wire.Check(c)
	is(a, wire.Opening, true, true, false)
	c.Book.Board = a.LargestBoard
	is(wire.Check(c), wire.Opening, true, true, true)
	foretest.Near(t, "across at the limit", wire.Check(c).Across, 1, 1e-6)
	c.Book.Board, c.Hole.Across = 2, 1.5
	c.Book.Leaves = c.LargestLeaves()
	is(wire.Check(c), wire.Opening, true, true, true)
	foretest.Near(t, "across with the most leaves", wire.Check(c).Across, 1.5, 1e-6)
	c.Hole.Along = 0.8
	if most := c.LargestLeaves(); !math.IsNaN(most) {
		t.Errorf("a hole narrower than the wire takes %g mm of leaves", most)
	}
	if a = wire.Check(c); a.Passes || !math.IsNaN(a.LargestBoard) || !math.IsInf(a.Margin, -1) || a.Limit != wire.Opening {
		t.Errorf("a hole narrower than the wire: %+v", a)
	}
	c.Book.Leaves = 9.6
	if a = wire.Check(c); a.Closes || a.Limit != wire.Closing || !math.IsInf(a.Across, 1) || !math.IsNaN(a.Chord) {
		t.Errorf("leaves thicker than the loop: %+v", a)
	}
}

func BenchmarkCheck(b *testing.B) {
	ring := wire.Case{Wire: wire.Wire{Inside: 9.5, Thick: 0.9}, Inset: 3, Hole: opening.Opening{Along: 4, Across: 4},
		Book: wire.Book{Board: 2, Boards: 2, Leaves: 3, Reach: 3}}
	coil := ring
	coil.Wire = wire.Wire{Inside: 12, Thick: 1.75, Pitch: 6.35}
	coil.Hole = opening.Opening{Form: opening.Slot, Along: 4.365, Across: 5.5}
	for _, c := range []struct {
		name string
		c    wire.Case
	}{{"ring", ring}, {"coil in oval holes", coil}} {
		b.Run(c.name, func(b *testing.B) {
			for b.Loop() {
				if a := wire.Check(c.c); !(a.LargestBoard > 0) {
					b.Fatal(a)
				}
			}
		})
	}
}

// FuzzCheck holds what must be true of any answer: a cover that turns closes,
// one that is not too thick turns and lets its wire through, and thinner boards,
// holes nearer to the edge and larger rings never do worse.
func FuzzCheck(f *testing.F) {
	f.Add(9.5, 0.9, 0.0, 0.0, 2.0, 2, 3.0, 3.0, 3.0, uint8(0), 4.0, 4.0, 0.0)
	f.Add(18.0, 2.08, 0.0, 8.4, 3.0, 2, 6.0, 3.5, 3.5, uint8(2), 4.6, 6.0, 0.0)
	f.Add(12.0, 1.0, 2.5, 0.0, 2.0, 1, 0.0, 0.0, 5.0, uint8(1), 4.0, 4.0, 0.0)
	f.Add(12.0, 1.0, 0.0, 5.0, 2.0, 2, 1.0, 3.0, 3.0, uint8(3), 5.0, 4.5, 0.0)
	f.Add(10.0, 0.0, 0.0, 0.0, 0.0, 1, 0.0, 0.0, 0.0, uint8(1), 0.0, 0.0, 0.0)
	f.Fuzz(func(t *testing.T, inside, thick, over, pitch, board float64, boards int, leaves, reach, inset float64,
		form uint8, along, across, radius float64) {
		for _, x := range []float64{inside, thick, over, pitch, board, leaves, reach, inset, along, across, radius} {
			if !(x >= 0 && x < 1e4) {
				return
			}
		}
		c := wire.Case{Wire: wire.Wire{Inside: inside, Thick: thick, Over: over, Pitch: pitch}, Inset: inset,
			Book: wire.Book{Board: board, Boards: boards % 3, Leaves: leaves, Reach: reach},
			Hole: opening.Opening{Form: opening.Form(form) % opening.Form(len(opening.Forms())), Along: along, Across: across, Radius: radius}}
		a := wire.Check(c)
		if a.Turns && !a.Closes {
			t.Errorf("%+v turns but doesn't close: %+v", c, a)
		}
		if a.Margin > 1e-3 && !(a.Turns && a.Passes) {
			t.Errorf("%+v could be thicker but doesn't turn or pass: %+v", c, a)
		}
		if a.Margin < -1e-3 && a.Turns && a.Passes {
			t.Errorf("%+v is too thick but turns and passes: %+v", c, a)
		}
		if most := c.Wire.LargestInset(c.Book); a.Turns && !(most >= inset-1e-6) || !a.Turns && most > inset+1e-6 {
			t.Errorf("%+v: the largest inset tells another story: %+v", c, a)
		}
		full := c
		full.Book.Leaves = c.LargestLeaves()
		if b := wire.Check(full); !math.IsNaN(full.Book.Leaves) && !(b.Turns && b.Passes) {
			t.Errorf("%+v doesn't turn or pass with the most leaves: %+v", full, b)
		}
		if full.Book.Leaves < leaves-1e-3 && a.Turns && a.Passes {
			t.Errorf("%+v has more than the most leaves, %g, but turns and passes: %+v", c, full.Book.Leaves, a)
		}
		larger := c
		larger.Wire.Inside += 1
		if b := wire.Check(larger); a.Turns && !b.Turns || a.Closes && !b.Closes {
			t.Errorf("%+v turns, but not in a larger ring", c)
		}
	})
}
