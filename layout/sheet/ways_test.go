package sheet_test

import (
	"context"
	"errors"
	"math"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// lay lays a job and checks the result.
func lay(t *testing.T, job sheet.Job, effort float64) *sheet.Result {
	t.Helper()
	result, err := sheet.Lay(context.Background(), job, sheet.Options{Effort: effort})
	foretest.Must(t, err)
	for _, w := range check(job, result) {
		t.Error(w)
	}
	return result
}

// used counts the sheets of each stock.
func used(job sheet.Job, result *sheet.Result) []int {
	n := make([]int, len(job.Stocks))
	for _, s := range result.Sheets {
		n[s.Stock]++
	}
	return n
}

func same(t *testing.T, what string, got []int, want ...int) {
	t.Helper()
	if len(got) != len(want) {
		t.Fatalf("%s: %v, want %v", what, got, want)
	}
	for i := range got {
		if got[i] != want[i] {
			t.Errorf("%s: %v, want %v", what, got, want)
			return
		}
	}
}

func TestWhatCostsLeastIsUsed(t *testing.T) {
	log := sheet.Part{Name: "log", Width: 100, Height: 100}
	whole := sheet.Stock{Name: "birch", Width: 400, Height: 300, Price: maybe.Is(12.0)}
	half := sheet.Stock{Name: "half", Width: 200, Height: 300, Price: maybe.Is(7.0)}
	offcut := sheet.Stock{Name: "offcut", Width: 110, Height: 210, Offcut: true, Count: maybe.Is(3)}
	corner := sheet.Stock{Name: "corner", Width: 200, Height: 200, Gone: geom.Pt(100, 100), Corner: sheet.LeftBottom, Offcut: true, Count: maybe.Is(1)}
	for _, c := range []struct {
		name   string
		count  int
		stocks []sheet.Stock
		want   []int
	}{
		{"a half is cheaper", 6, []sheet.Stock{whole, half}, []int{0, 1}},
		{"two halves are dearer", 12, []sheet.Stock{whole, half}, []int{1, 0}},
		{"a whole and a half", 18, []sheet.Stock{whole, half}, []int{1, 1}},
		{"offcuts alone", 6, []sheet.Stock{whole, half, offcut}, []int{0, 0, 3}},
		{"no more of them than it takes", 4, []sheet.Stock{whole, half, offcut}, []int{0, 0, 2}},
		{"offcuts so that a half will do", 12, []sheet.Stock{whole, half, offcut}, []int{0, 1, 3}},
		{"the corner that is gone", 3, []sheet.Stock{whole, corner}, []int{0, 1}},
		{"all of it", 15, []sheet.Stock{whole, corner}, []int{1, 1}},
	} {
		t.Run(c.name, func(t *testing.T) {
			p := log
			p.Count = c.count
			job := sheet.Job{Parts: []sheet.Part{p}, Stocks: c.stocks}
			result := lay(t, job, 0.1)
			same(t, "sheets of each stock", used(job, result), c.want...)
			if g := result.Groups[0]; g.Gap() != 0 {
				t.Errorf("the gap is %g: %+v", g.Gap(), g)
			}
		})
	}
	t.Run("offcuts that have a price are left where they are dearer", func(t *testing.T) {
		dear := offcut
		dear.Price = maybe.Is(13.0)
		p := log
		p.Count = 2
		job := sheet.Job{Parts: []sheet.Part{p}, Stocks: []sheet.Stock{whole, half, dear}}
		same(t, "sheets of each stock", used(job, lay(t, job, 0.1)), 0, 1, 0)
	})
	t.Run("without prices by area", func(t *testing.T) {
		p := log
		p.Count = 6
		a, b := whole, half
		a.Price, b.Price = maybe.Of[float64]{}, maybe.Of[float64]{}
		job := sheet.Job{Parts: []sheet.Part{p}, Stocks: []sheet.Stock{a, b}}
		result := lay(t, job, 0.1)
		same(t, "sheets of each stock", used(job, result), 0, 1)
		if g := result.Groups[0]; g.Cost.Present() || g.LeastArea != 60000 || g.Area != 60000 {
			t.Errorf("%+v", g)
		}
	})
}

// TestRows lays what fills rows exactly: all equal parts stand in line.
func TestRows(t *testing.T) {
	job := sheet.Job{
		Parts: []sheet.Part{
			{Name: "tern", Width: 70, Height: 50, Count: 12, Turns: sheet.QuarterTurn},
			{Name: "gull", Width: 33, Height: 80, Count: 9, Turns: sheet.QuarterTurn},
			{Name: "buoy", Width: 25, Height: 25, Count: 20, Turns: sheet.QuarterTurn},
		},
		Stocks: []sheet.Stock{{Name: "birch", Width: 460, Height: 400, Margin: 5, Spacing: 2}},
	}
	result := lay(t, job, 0.2)
	if len(result.Sheets) != 1 {
		t.Fatalf("%d sheets", len(result.Sheets))
	}
	s := result.Sheets[0]
	c := &checker{job: job, result: result}
	beside := 0
	for i, p := range s.Placements {
		a := c.box(p)
		for j, q := range s.Placements {
			b := c.box(q)
			if i != j && p.Part == q.Part && p.Turn == q.Turn &&
				(math.Abs(a.Min.Y-b.Min.Y) < eps && math.Abs(a.Max.X+2-b.Min.X) < eps || math.Abs(a.Min.X-b.Min.X) < eps && math.Abs(a.Max.Y+2-b.Min.Y) < eps) {
				beside++
				break
			}
		}
	}
	if beside < 30 {
		t.Errorf("%d of 41 parts have an equal one beside or below them", beside)
	}
	// What is left is a strip of the sheet, as wide or as high as it.
	if l := s.Left[0]; l.Width() < 460-eps && l.Height() < 400-eps {
		t.Errorf("%v is left", l)
	}
}

func TestSharedCuts(t *testing.T) {
	stock := sheet.Stock{Name: "birch", Width: 310, Height: 210, Margin: 5, Spacing: 4, Shared: true}
	part := sheet.Part{Name: "log", Width: 60, Height: 50, Count: 20, Plain: true}
	job := sheet.Job{Parts: []sheet.Part{part}, Stocks: []sheet.Stock{stock}}
	result := lay(t, job, 0.1) // five by four: only without spacing
	if len(result.Sheets) != 1 {
		t.Fatalf("%d sheets", len(result.Sheets))
	}
	if got, want := len(result.Sheets[0].Shared), 4*4+3*5; got != want {
		t.Errorf("%d cuts are shared, want %d", got, want)
	}
	t.Run("by all that are equal, however many and however called", func(t *testing.T) {
		for _, c := range []struct {
			count, want int
			spared      float64
		}{{2, 1, 60}, {3, 2, 120}, {5, 5, 280}, {7, 8, 450}, {11, 15, 830}, {13, 18, 990}} {
			some := job
			one, other := part, part
			one.Count, other.Count, other.Name, other.Width = c.count-1, 1, "tide", math.Nextafter(60, 61)
			some.Parts = []sheet.Part{one, other}
			result, spared := lay(t, some, 0.1), 0.0
			for _, s := range result.Sheets[0].Shared {
				spared += s.From.Distance(s.To)
			}
			if n := len(result.Sheets[0].Shared); n != c.want || math.Abs(spared-c.spared) > eps || len(result.Sheets) != 1 {
				t.Errorf("%d parts share %d cuts of %g mm, want %d of %g", c.count, n, spared, c.want, c.spared)
			}
		}
	})
	t.Run("by two kinds, one of which must stand one above the other for it", func(t *testing.T) {
		two := job
		two.Stocks = []sheet.Stock{{Name: "birch", Width: 300, Height: 200, Margin: 5, Spacing: 10, Shared: true}}
		two.Parts = []sheet.Part{{Name: "log", Width: 100.2, Height: 90.2, Count: 4, Plain: true}, {Name: "tide", Width: 60.2, Height: 80.2, Count: 2, Plain: true}}
		if result := lay(t, two, 0.1); len(result.Sheets) != 1 || len(result.Sheets[0].Shared) != 5 {
			t.Errorf("%d sheets, %d shared cuts", len(result.Sheets), len(result.Sheets[0].Shared))
		}
	})
	t.Run("by many", func(t *testing.T) {
		many := job
		many.Parts = []sheet.Part{{Name: "chip", Width: 10, Height: 8, Count: 690, Plain: true}}
		result := lay(t, many, 0.1) // 28 side by side and 25 one above the other, but for 10
		if got, want := len(result.Sheets[0].Shared), 27*25+24*28-2*10; len(result.Sheets) != 1 || got != want {
			t.Errorf("%d sheets, %d shared cuts, want %d", len(result.Sheets), got, want)
		}
	})
	t.Run("only by plain parts", func(t *testing.T) {
		round := job
		round.Parts = []sheet.Part{part}
		round.Parts[0].Plain = false
		result := lay(t, round, 0.1)
		if len(result.Sheets) == 1 || len(result.Sheets[0].Shared) > 0 {
			t.Errorf("%d sheets, %d shared cuts", len(result.Sheets), len(result.Sheets[0].Shared))
		}
	})
	t.Run("only of one kind, turned alike", func(t *testing.T) {
		both := job
		both.Parts = []sheet.Part{part, {Name: "tide", Width: 60, Height: 50, Count: 7, Plain: true, Turns: sheet.QuarterTurn}}
		lay(t, both, 0.1)
	})
	t.Run("not where the stock doesn't say so", func(t *testing.T) {
		no := job
		no.Stocks = []sheet.Stock{stock}
		no.Stocks[0].Shared = false
		if result := lay(t, no, 0.1); len(result.Sheets) != 2 {
			t.Errorf("%d sheets", len(result.Sheets))
		}
	})
}

func TestKnife(t *testing.T) {
	// Five rectangles in a whirl fill the board and no straight cut parts them.
	board := sheet.Stock{Name: "board", Width: 90, Height: 90}
	parts := []sheet.Part{
		{Name: "a", Width: 60, Height: 30, Count: 1}, {Name: "b", Width: 30, Height: 60, Count: 1}, {Name: "c", Width: 60, Height: 30, Count: 1},
		{Name: "d", Width: 30, Height: 60, Count: 1}, {Name: "e", Width: 30, Height: 30, Count: 1},
	}
	laser := sheet.Job{Parts: parts, Stocks: []sheet.Stock{board}}
	if n := len(lay(t, laser, 0.1).Sheets); n != 1 {
		t.Errorf("the laser takes %d boards", n)
	}
	board.Knife = maybe.Is(0.0)
	knife := sheet.Job{Parts: parts, Stocks: []sheet.Stock{board}}
	if n := len(lay(t, knife, 0.1).Sheets); n != 2 {
		t.Errorf("the knife takes %d boards", n)
	}
	t.Run("nine of a board", func(t *testing.T) {
		job := sheet.Job{Parts: []sheet.Part{{Name: "log", Width: 30, Height: 30, Count: 9}}, Stocks: []sheet.Stock{board}}
		result := lay(t, job, 0.1)
		if len(result.Sheets) != 1 {
			t.Errorf("%d boards", len(result.Sheets))
		}
	})
	t.Run("a cut has its width", func(t *testing.T) {
		wide := board
		wide.Knife = maybe.Is(0.5)
		job := sheet.Job{Parts: []sheet.Part{{Name: "log", Width: 30, Height: 30, Count: 9}}, Stocks: []sheet.Stock{wide}}
		if result := lay(t, job, 0.1); len(result.Sheets) < 2 {
			t.Errorf("%d boards", len(result.Sheets))
		}
		job.Stocks[0].Width, job.Stocks[0].Height = 91, 91
		if result := lay(t, job, 0.1); len(result.Sheets) != 1 {
			t.Errorf("%d boards", len(result.Sheets))
		}
	})
	t.Run("a corner is gone", func(t *testing.T) {
		for corner := range sheet.Corner(4) {
			l := board
			l.Gone, l.Corner, l.Margin = geom.Pt(40, 50), corner, 2
			job := sheet.Job{Parts: []sheet.Part{{Name: "log", Width: 22, Height: 18, Count: 4}}, Stocks: []sheet.Stock{l}}
			if result := lay(t, job, 0.1); len(result.Sheets) != 1 {
				t.Errorf("corner %d: %d boards", corner, len(result.Sheets))
			}
		}
	})
}

// TestBed lays parts of a sheet that is larger than the bed within its reach, turned if that reaches more.
func TestBed(t *testing.T) {
	job := sheet.Job{
		Parts:  []sheet.Part{{Name: "log", Width: 100, Height: 100, Count: 15}},
		Stocks: []sheet.Stock{{Name: "birch", Width: 900, Height: 300, Bed: maybe.Is(geom.Pt(300, 500))}},
	}
	if n := len(lay(t, job, 0.1).Sheets); n != 1 {
		t.Errorf("%d sheets", n)
	}
}

func TestNothing(t *testing.T) {
	result := lay(t, sheet.Job{}, 1)
	if len(result.Sheets)+len(result.Groups) > 0 {
		t.Errorf("%+v", result)
	}
}

// TestKnifeOnTheSheet: each line of a wide cut lies on the piece that it divides, which lay has checked; what would
// need another isn't laid. With a cut of 3 the line lies 1.5 before and behind a part.
func TestKnifeOnTheSheet(t *testing.T) {
	for _, c := range []struct {
		name           string
		margin, w, h   float64 // of the part, on sheets of 200 by 100
		sheets, copies int     // of 0 none can lie
	}{
		{"a margin less than half the cut", 1, 60, 97, 1, 3}, // 1.5 + 3 * 60 + 2 * 3 + 1.5 < 200
		{"less than that at the far edge", 1, 60, 97.4, 0, 1},
		{"nothing at the far edge", 0, 60, 100, 1, 3},
		{"less than half the cut at the far edge", 0, 60, 98.8, 0, 1},
		{"half the cut at the far edge", 0, 60, 98.5, 1, 3},
		{"less at the right", 0, 199, 20, 0, 1},
		{"less below the third row", 0, 60, 31, 1, 9},        // 3 * 31 + 2 * 3 = 99: the third row would leave 1
		{"less than half between parts", 0, 98.4, 100, 2, 2}, // 2 * 98.4 + 3 = 199.8
	} {
		job := sheet.Job{Parts: []sheet.Part{{Name: "log", Width: c.w, Height: c.h, Count: c.copies}},
			Stocks: []sheet.Stock{{Name: "board", Width: 200, Height: 100, Margin: c.margin, Knife: maybe.Is(3.0)}}}
		if c.sheets == 0 {
			var none *sheet.FitError
			if _, err := sheet.Lay(t.Context(), job, sheet.Options{}); !errors.As(err, &none) {
				t.Errorf("%s: %v", c.name, err)
			}
			continue
		}
		if n := len(lay(t, job, 0.1).Sheets); n != c.sheets && c.copies != 9 {
			t.Errorf("%s: %d sheets", c.name, n)
		} else if c.copies == 9 && n < 2 {
			t.Errorf("%s: all on one", c.name)
		}
	}
	// Beside a corner that is gone, each of both cuts is tried.
	for corner := range sheet.Corner(4) {
		for _, margin := range []float64{0, 1, 5} {
			job := sheet.Job{Parts: []sheet.Part{{Name: "log", Width: 80, Height: 20, Count: 1}, {Name: "rail", Width: 20, Height: 80, Count: 1}},
				Stocks: []sheet.Stock{{Name: "board", Width: 120, Height: 110, Gone: geom.Pt(30, 40), Corner: corner, Margin: margin, Knife: maybe.Is(3.0)}}}
			lay(t, job, 0.1)
		}
	}
}
