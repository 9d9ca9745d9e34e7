package lattice

import (
	"math"
	"math/rand/v2"
	"testing"
)

// The plan of a small field, drawn by hand: three links in two rows, 10 long with
// bridges of 3 and ends of 4. Bridges stand at 0..4, 14..17 and 27..31.
func TestSmallField(t *testing.T) {
	f := Field{Links: 3, Rows: 2, Thick: 3, Slot: 0.5, Link: 10, Bridge: 3, End: 4}
	if f.Height() != 31 {
		t.Errorf("%v high", f.Height())
	}
	want := []Slot{
		{Column: 0, X: 0.25, From: 4, To: 27},
		{Column: 1, X: 3.75, From: 0, To: 14, Head: true}, {Column: 1, X: 3.75, From: 17, To: 31, Tail: true},
		{Column: 2, X: 7.25, From: 4, To: 27},
		{Column: 3, X: 10.75, From: 0, To: 14, Head: true}, {Column: 3, X: 10.75, From: 17, To: 31, Tail: true},
	}
	got := f.Slots()
	if len(got) != len(want) {
		t.Fatalf("%d slots: %+v", len(got), got)
	}
	for i := range want {
		if got[i] != want[i] {
			t.Errorf("slot %d is %+v, want %+v", i, got[i], want[i])
		}
	}
}

// One row: columns open through head and tail by turns, none through both.
func TestOneRow(t *testing.T) {
	f := Field{Links: 2, Rows: 1, Thick: 3, Slot: 0.5, Link: 10, Bridge: 3, End: 4}
	for i, s := range f.Slots() {
		if s.Head == s.Tail || s.Tail != (i%2 == 0) || s.To-s.From != 14 {
			t.Errorf("slot %d: %+v", i, s)
		}
	}
}

// Of any field: as many slots as counted, in order, inside it; every other place
// of a column bridged, neighbours in between, so that they run out by turns; no bridge shorter than stated.
func TestFields(t *testing.T) {
	r := rand.New(rand.NewPCG(1, 6))
	for range 500 {
		f := Field{Links: 1 + r.IntN(30), Rows: 1 + r.IntN(20), Thick: 1 + r.Float64(), Slot: 0.1 + r.Float64(), Link: 1 + 9*r.Float64(),
			Bridge: 1 + r.Float64(), End: 1 + r.Float64()}
		slots := f.Slots()
		if len(slots) != f.Count() {
			t.Fatalf("%+v: %d slots, counted %d", f, len(slots), f.Count())
		}
		columns := make([][]Slot, f.Links+1)
		for _, s := range slots {
			if s.From < 0 || s.To > f.Height()+1e-9 || s.To <= s.From || s.Head != (s.From == 0) || s.Tail != (s.To == f.Height()) || s.Head && s.Tail {
				t.Fatalf("%+v: %+v", f, s)
			}
			columns[s.Column] = append(columns[s.Column], s)
		}
		for c, column := range columns {
			if x := f.Slot/2 + float64(c)*(f.Slot+f.Thick); math.Abs(column[0].X-x) > 1e-9 {
				t.Fatalf("%+v: column %d at %v", f, c, column[0].X)
			}
			for i := 1; i < len(column); i++ {
				if d := column[i].From - column[i-1].To; math.Abs(d-f.Bridge) > 1e-9 {
					t.Fatalf("%+v: a bridge of %v in column %d", f, d, c)
				}
			}
			if c == 0 {
				continue
			}
			// At either end one of two neighbours has a bridge, and the other runs out.
			if before := columns[c-1]; len(before) > 0 && (before[0].Head == column[0].Head || before[len(before)-1].Tail == column[len(column)-1].Tail) {
				t.Fatalf("%+v: columns %d and %d end alike", f, c-1, c)
			}
			// What two neighbouring slots share, the link twists over.
			for _, a := range column {
				for _, b := range columns[c-1] {
					shared := min(a.To, b.To) - max(a.From, b.From)
					if shared > 1e-9 && math.Abs(shared-f.Link) > 1e-9 {
						t.Fatalf("%+v: a link of %v between columns %d and %d", f, shared, c-1, c)
					}
				}
			}
		}
	}
}
