package sheet_test

import (
	"context"
	"fmt"
	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
	"math"
	"math/rand/v2"
	"runtime"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/sheet"
)

func TestRandomJobs(t *testing.T) {
	sheets, least := 0, 0
	for seed := range uint64(foretest.Sample(500, 60)) {
		job := randomJob(rand.New(rand.NewPCG(seed, 16)))
		result, err := sheet.Lay(context.Background(), job, sheet.Options{Effort: 0.01, Seed: seed})
		if err != nil {
			t.Errorf("job %d: %v", seed, err)
			continue
		}
		for _, w := range check(job, result) {
			t.Errorf("job %d: %s", seed, w)
		}
		for _, g := range result.Groups {
			sheets, least = sheets+g.Sheets, least+g.LeastSheets
		}
		if t.Failed() {
			break
		}
	}
	t.Logf("%d sheets where no fewer than %d can do", sheets, least)
}

// TestSheetsBesideGEOS asks GEOS whether parts overlap, keep their distances and the margin, inside and outside.
func TestSheetsBesideGEOS(t *testing.T) {
	type one struct {
		Sheet         [2]float64     `json:"sheet"`
		Gone          [4]float64     `json:"gone"`
		Margin        float64        `json:"margin"`
		Spacing       float64        `json:"spacing"`
		Parts, Inside [][][2]float64 // corners
		Block         []int
	}
	var in []one
	for seed := range uint64(foretest.Sample(500, 0)) {
		job := randomJob(rand.New(rand.NewPCG(seed, 16)))
		result, err := sheet.Lay(context.Background(), job, sheet.Options{Effort: 0.001, Seed: seed})
		foretest.Must(t, err)
		for _, s := range result.Sheets {
			stock := (&checker{job: job}).stock(s)
			missing, _ := gone(stock)
			o := one{Sheet: [2]float64{stock.Width, stock.Height}, Gone: [4]float64{missing.Min.X, missing.Min.Y, missing.Max.X, missing.Max.Y},
				Margin: stock.Margin, Spacing: stock.Knife.Or(stock.Spacing), Block: blocksOf(len(s.Placements), s.Shared)}
			for _, p := range s.Placements {
				part := job.Parts[p.Part]
				o.Parts = append(o.Parts, corners(p, part))
				o.Inside = append(o.Inside, corners(p.Inside(stock.Width, part.Width), part))
			}
			in = append(in, o)
		}
	}
	var wrong []string
	geos.Ask(t, `
from shapely.affinity import scale
answer = []
for n, s in enumerate(data):
    w, h = s["sheet"]
    sheet = box(0, 0, w, h)
    if s["gone"][0] < s["gone"][2] and s["gone"][1] < s["gone"][3]:
        sheet = sheet.difference(box(*s["gone"]))
    inner = sheet.buffer(-s["margin"] + 1e-5, join_style=2)
    parts = [Polygon(p) for p in s["Parts"]]
    inside = [Polygon(p) for p in s["Inside"]]
    for i, p in enumerate(parts):
        if not inner.covers(p):
            answer.append(f"sheet {n}: part {i} isn't within the margin")
        over = scale(inside[i], -1, 1, origin=(w / 2, 0))
        if over.symmetric_difference(p).area > 1e-6 * p.length:
            answer.append(f"sheet {n}: part {i} is out of register")
        a = p.buffer(s["spacing"] + 1).bounds
        for j in range(i):
            b = parts[j].bounds
            if a[0] > b[2] or b[0] > a[2] or a[1] > b[3] or b[1] > a[3]: continue
            near = 0 if s["Block"][i] == s["Block"][j] else s["spacing"]
            if p.distance(parts[j]) < near - 1e-5 or p.intersection(parts[j]).area > 1e-5 * p.length:
                answer.append(f"sheet {n}: parts {i} and {j} are too near")
`, in, &wrong)
	for _, w := range wrong {
		t.Error(w)
	}
	t.Logf("%d sheets", len(in))
}

// corners are those of a part where it lies.
func corners(p sheet.Placement, part sheet.Part) (all [][2]float64) {
	for _, q := range []geom.Point{{}, geom.Pt(part.Width, 0), geom.Pt(part.Width, part.Height), geom.Pt(0, part.Height)} {
		at := p.Transform().Point(q)
		all = append(all, [2]float64{at.X, at.Y})
	}
	return all
}

// TestSameBytes lays jobs again, with one processor and with several: the results are the same to the byte.
func TestSameBytes(t *testing.T) {
	for seed := range uint64(foretest.Sample(40, 8)) {
		job := randomJob(rand.New(rand.NewPCG(seed, 18)))
		var first []byte
		for _, processors := range []int{0, 1} {
			was := runtime.GOMAXPROCS(processors)
			result, err := sheet.Lay(context.Background(), job, sheet.Options{Effort: 0.01, Seed: 5})
			runtime.GOMAXPROCS(was)
			foretest.Must(t, err)
			bytes := fmt.Appendf(nil, "%+v", result)
			if first == nil {
				first = bytes
			} else if string(first) != string(bytes) {
				t.Errorf("job %d is laid in two ways", seed)
			}
		}
	}
}

// TestStopped ends the search before it begins and on its way: what is given is whole.
func TestStopped(t *testing.T) {
	for seed := range uint64(foretest.Sample(40, 8)) {
		job := randomJob(rand.New(rand.NewPCG(seed, 19)))
		ctx, cancel := context.WithCancel(context.Background())
		reports := 0
		result, err := sheet.Lay(ctx, job, sheet.Options{Effort: 0.05, Progress: func(p sheet.Progress) {
			if p.Done < 0 || p.Done > 1 || p.Sheets < p.LeastSheets || !(p.Used > 0 && p.Used <= 1) {
				t.Errorf("job %d: %+v", seed, p)
			}
			if reports++; reports == 1 {
				cancel()
			}
		}})
		cancel()
		foretest.Must(t, err)
		for _, w := range check(job, result) {
			t.Errorf("job %d: %s", seed, w)
		}
		if !result.Stopped || reports == 0 {
			t.Errorf("job %d: stopped %t after %d reports", seed, result.Stopped, reports)
		}
	}
}

func TestErrors(t *testing.T) {
	sheets := func(s sheet.Stock) []sheet.Stock {
		s.Name, s.Group = "birch", "birch"
		return []sheet.Stock{s}
	}
	cover := sheet.Part{Name: "tide.front", Width: 210, Height: 148, Count: 2, Group: "birch"}
	for _, c := range []struct {
		name   string
		stocks []sheet.Stock
		change func(*sheet.Part)
		want   string
	}{
		{"too large", sheets(sheet.Stock{Width: 200, Height: 200}), nil, "tide.front, 210 by 148 mm, is too large for 200 by 200 mm"},
		{"only turned", sheets(sheet.Stock{Width: 160, Height: 300, Margin: 5}), nil,
			"tide.front, 210 by 148 mm, fits 150 by 290 mm only turned by a quarter, and it may not be"},
		{"across the grain", sheets(sheet.Stock{Width: 160, Height: 300, Grain: sheet.AlongHeight}),
			func(p *sheet.Part) { p.Turns, p.Grain = sheet.QuarterTurn, sheet.AlongHeight },
			"tide.front, 210 by 148 mm, fits 160 by 300 mm only turned by a quarter, and it may not be"},
		{"by the bed", sheets(sheet.Stock{Width: 600, Height: 400, Bed: maybe.Is(geom.Pt(200, 140))}), nil, "tide.front, 210 by 148 mm, is too large for 200 by 140 mm"},
		{"in the corner that is gone", sheets(sheet.Stock{Width: 220, Height: 160, Gone: geom.Pt(20, 20)}), nil, "tide.front, 210 by 148 mm, is too large for 220 by 160 mm"},
		{"no stock", sheets(sheet.Stock{Width: 600, Height: 400}), func(p *sheet.Part) { p.Group = "oak" }, `tide.front is to be cut from "oak", and there is none`},
		{"too little", sheets(sheet.Stock{Width: 220, Height: 160, Count: maybe.Is(1)}), nil, `the sheets of "birch" are too few: no room was found for tide.front`},
		{"no width", sheets(sheet.Stock{Width: 220, Height: 160}), func(p *sheet.Part) { p.Width = math.NaN() }, "tide.front: its width can't be NaN"},
		{"too many", sheets(sheet.Stock{Width: 220, Height: 160}), func(p *sheet.Part) { p.Count = 1 << 40 }, "tide.front: its count can't be 1.099511627776e+12"},
		{"no sheet", sheets(sheet.Stock{Width: 220, Height: math.Inf(1)}), nil, `the stock "birch": its height can't be +Inf`},
		{"a margin below 0", sheets(sheet.Stock{Width: 220, Height: 200, Margin: -1}), nil, `the stock "birch": its margin can't be -1`},
		{"more gone than there is", sheets(sheet.Stock{Width: 220, Height: 200, Gone: geom.Pt(230, 10)}), nil, `the stock "birch": the width of what is missing can't be 230`},
	} {
		t.Run(c.name, func(t *testing.T) {
			part := cover
			if c.change != nil {
				c.change(&part)
			}
			_, err := sheet.Lay(context.Background(), sheet.Job{Parts: []sheet.Part{part}, Stocks: c.stocks}, sheet.Options{Effort: 0.01})
			if err == nil || err.Error() != c.want {
				t.Errorf("the error is %v\nwant %s", err, c.want)
			}
		})
	}
}
