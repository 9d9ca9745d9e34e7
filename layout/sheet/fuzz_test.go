package sheet_test

import (
	"context"
	"errors"
	"testing"

	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// FuzzLay lays whatever job: it is refused with an error of the package's own, or what is laid keeps all rules.
func FuzzLay(f *testing.F) {
	f.Add(300.0, 200.0, 5.0, 2.0, 40.0, 30.0, 90.0, 60.0, 7, 33.0, 20.0, 5, uint8(0), uint8(0))
	f.Add(300.0, 200.0, 0.0, 0.0, 295.0, 30.0, 300.0, 200.0, 1, 5.0, 170.0, 3, uint8(0xff), uint8(3))
	f.Add(300.0, 200.0, 5.0, 0.5, 295.0, 195.0, 90.0, 60.0, 2, 4.0, 4.0, 30, uint8(0x1d), uint8(2))
	f.Add(300.0, 200.0, 5.0, 0.5, 30.0, 95.0, 90.0, 60.0, 2, 4.0, 4.0, 30, uint8(0x0d), uint8(6))
	f.Add(100.0, 100.0, 51.0, 1.0, 0.0, 0.0, 1.0, 1.0, 1, 1.0, 1.0, 1, uint8(1), uint8(1))
	f.Add(190.5, 1942.0, 23.555555555555557, 22.714285714285715, 62.14285714285714, 509.28571428571433, 19.6984126984127, 138.13333333333333, 168,
		29.200000000000003, 12.288888888888888, 74, uint8(0xbf), uint8(0xa7)) // less is gone of a sawn piece than half the knife's cut
	f.Add(1577.0, 497.0, 11.25, 61.111111111111114, 1000.0, 241.0, 18.80952380952381, 5.777777777777778, 242, 63.625, 120.0, 191,
		uint8(0x79), uint8(0x47)) // the knife's cut takes all that is there of a sawn piece
	f.Fuzz(func(t *testing.T, w, h, margin, spacing, goneW, goneH, w1, h1 float64, n1 int, w2, h2 float64, n2 int, ways, corner uint8) {
		if n1 > 300 || n2 > 300 {
			t.Skip("the search is bounded, but the checker compares all pairs")
		}
		stock := sheet.Stock{Name: "birch", Width: w, Height: h, Margin: margin, Spacing: spacing, Shared: ways&1 != 0,
			Grain: sheet.Grain(ways >> 1 & 3 % 3), Gone: geom.Pt(goneW, goneH), Corner: sheet.Corner(corner & 3)}
		if ways&8 != 0 {
			stock.Knife = maybe.Is(spacing)
		}
		if ways&16 != 0 {
			stock.Bed = maybe.Is(geom.Pt(h, w))
		}
		if corner&4 != 0 { // it is sawn
			stock.Bed = maybe.Is(geom.Pt(0.4*w, 0.7*h))
		}
		turns := sheet.Turns(ways >> 5 % 3)
		job := sheet.Job{
			Stocks: []sheet.Stock{stock},
			Parts: []sheet.Part{{Name: "gull", Width: w1, Height: h1, Count: n1, Turns: turns, Plain: true},
				{Name: "tern", Width: w2, Height: h2, Count: n2, Turns: sheet.QuarterTurn, Grain: sheet.AlongWidth}},
		}
		for i := range job.Parts {
			job.Parts[i].Group = stock.Group
		}
		result, err := sheet.Lay(context.Background(), job, sheet.Options{Effort: 1e-4})
		if err != nil {
			var fit *sheet.FitError
			var short *sheet.ShortError
			var input *sheet.InputError
			if !errors.As(err, &fit) && !errors.As(err, &short) && !errors.As(err, &input) || err.Error() == "" {
				t.Errorf("the error is %v", err)
			}
			return
		}
		if testing.Verbose() {
			for _, s := range result.Sheets {
				t.Logf("%+v", s)
			}
		}
		for _, wrong := range check(job, result) {
			t.Error(wrong)
		}
	})
}
