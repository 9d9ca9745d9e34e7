package nest

import (
	"context"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"runtime"
	"testing"

	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/internal/geos"
	"foredge/layout/kerf"
	"foredge/layout/sheet"
)

// randomFigure is a figure of one of several forms, up to some 100 mm wide.
func randomFigure(r *rand.Rand) geom.Figure {
	w, h := 10+90*r.Float64(), 10+60*r.Float64()
	at := geom.Pt(40*r.Float64()-20, 40*r.Float64()-20)
	switch r.IntN(7) {
	case 0:
		return geom.Rect{Min: at, W: w, H: h}
	case 1:
		return geom.Circle{Center: at, R: w / 3}
	case 2: // an angle
		return geom.Polygon(at, at.Add(geom.Pt(w, 0)), at.Add(geom.Pt(w, h/3)), at.Add(geom.Pt(w/4, h/3)), at.Add(geom.Pt(w/4, h)), at.Add(geom.Pt(0, h)))
	case 3: // round corners
		f, err := geom.RoundRect(at, w, h, min(w, h)/3)
		if err != nil {
			panic(err)
		}
		return f
	case 4: // a strip with mitred ends
		c := min(w, h) / 4
		return geom.Polygon(at, at.Add(geom.Pt(w, 0)), at.Add(geom.Pt(w-c, c)), at.Add(geom.Pt(c, c)))
	case 5: // hollow corners
		c := min(w, h)
		f, err := geom.Board(w, h, [4]geom.Corner{{Kind: geom.Scoop, Size: c / 2}, {Kind: geom.Round, Size: c / 3}, {Kind: geom.Chamfer, Size: c / 4}, {Kind: geom.Scoop, Size: c / 3}})
		if err != nil {
			panic(err)
		}
		return f.Move(at)
	}
	n := 5 + r.IntN(8) // a star
	points := make([]geom.Point, n)
	for k := range points {
		sin, cos := math.Sincos(2 * math.Pi * float64(k) / float64(n))
		d := w / 2 * (0.3 + 0.7*r.Float64())
		points[k] = at.Add(geom.Pt(d*cos, d*sin))
	}
	return geom.Polygon(points...)
}

func randomJob(r *rand.Rand) (Job, []Stock) {
	choices := [][]float64{nil, {0, 180}, {0, 90, 180, 270}, {0, 30, 77.5, 190}}
	job := Job{Seed: r.Uint64(), Steps: 60_000, Spacing: float64(r.IntN(4)), Margin: float64(r.IntN(6))}
	for range 2 + r.IntN(6) {
		job.Parts = append(job.Parts, Part{Outline: randomFigure(r), Turns: choices[r.IntN(len(choices))], Copies: 1 + r.IntN(4)})
	}
	corner := geom.Rect{Min: geom.Pt(150, 0), W: 90, H: 80}
	return job, []Stock{
		{Width: 220, Height: 160, Gone: []geom.Figure{corner}, Count: 1},
		{Width: 300, Height: 200, Cost: 6},
		{Width: 160, Height: 150, Cost: 2.5, Count: 2},
	}
}

// checkSheet holds a sheet's placements against the job with the distances of package
// geom between the figures as they were given.
func checkSheet(t testing.TB, job Job, placements []sheet.Placement, width, height float64, gone []geom.Figure) {
	t.Helper()
	const tol = 2e-6
	figures := make([]geom.Figure, len(placements))
	for i, p := range placements {
		f := p.Transform().Apply(job.Parts[p.Part].Outline)
		figures[i] = f
		b := f.Bounds()
		if m := job.Margin - tol; b.Min.X < m || b.Min.Y < m || b.Max.X > width-m || b.Max.Y > height-m {
			t.Errorf("part %d lies at %v on %g by %g with margin %g", p.Part, b, width, height, job.Margin)
		}
		for _, g := range gone {
			if gap := geom.Gap(f, g); gap < job.Margin-tol || geom.Overlap(f, g) && gap == 0 && deep(f, g) {
				t.Errorf("part %d lies %g from what is gone", p.Part, gap)
			}
		}
		for j := range i {
			if gap := geom.Gap(f, figures[j]); gap < job.Spacing-tol || gap == 0 && deep(f, figures[j]) {
				t.Errorf("parts %d and %d lie %g apart, not %g", p.Part, placements[j].Part, gap, job.Spacing)
			}
		}
	}
}

// deep says whether figures overlap even if one is made a little smaller.
func deep(f, g geom.Figure) bool {
	less, err := kerf.Offset(f, -4e-6)
	return err != nil || geom.Overlap(less, g)
}

func checkCounts(t testing.TB, job Job, sheets []Sheet) {
	t.Helper()
	counts := map[[2]int]int{}
	for _, s := range sheets {
		for _, p := range s.Placements {
			counts[[2]int{p.Part, p.Copy}]++
		}
	}
	total := 0
	for k, p := range job.Parts {
		for c := range p.Copies {
			total++
			if counts[[2]int{k, c}] != 1 {
				t.Errorf("part %d, copy %d, lies %d times", k, c, counts[[2]int{k, c}])
			}
		}
	}
	if len(counts) != total {
		t.Errorf("%d of %d lie somewhere", len(counts), total)
	}
}

func TestRandomJobs(t *testing.T) {
	for n := range foretest.Sample(500, 10) {
		r := rand.New(rand.NewPCG(uint64(n), 7))
		job, stocks := randomJob(r)
		got, err := Sheets(context.Background(), job, stocks)
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		checkCounts(t, job, got.Sheets)
		cost := 0.0
		for _, s := range got.Sheets {
			stock := stocks[s.Stock]
			cost += stock.Cost
			if stock.Count > 0 && s.Number >= stock.Count {
				t.Errorf("job %d uses number %d of stock %d", n, s.Number, s.Stock)
			}
			checkSheet(t, job, s.Placements, stock.Width, stock.Height, stock.Gone)
		}
		foretest.Near(t, "cost", got.Cost, cost, 1e-9)
		band, err := Strip(context.Background(), job, 250)
		if err != nil {
			t.Fatalf("job %d: %v", n, err)
		}
		checkSheet(t, job, band.Placements, 250, band.Length, nil)
		if t.Failed() {
			t.Fatalf("job %d", n)
		}
	}
}

// GEOS measures the same distances between fine polygons.
func TestGEOSMeasuresJobs(t *testing.T) {
	foretest.Long(t, "asks GEOS")
	type laid struct {
		Spacing, Margin, Width, Height float64
		Rings                          [][][2]float64
	}
	var all []laid
	for n := range 60 {
		r := rand.New(rand.NewPCG(uint64(n), 11))
		job, stocks := randomJob(r)
		got, err := Sheets(context.Background(), job, stocks)
		foretest.Must(t, err)
		for _, s := range got.Sheets {
			l := laid{Spacing: job.Spacing, Margin: job.Margin, Width: stocks[s.Stock].Width, Height: stocks[s.Stock].Height}
			for _, p := range s.Placements {
				f := p.Transform().Apply(job.Parts[p.Part].Outline)
				var ring [][2]float64
				for _, q := range geom.Paths(f)[0].Flatten(1e-4) {
					ring = append(ring, [2]float64{q.X, q.Y})
				}
				l.Rings = append(l.Rings, ring)
			}
			all = append(all, l)
		}
	}
	var wrong []string
	geos.Ask(t, `
answer = []
for n, l in enumerate(data):
    ps = [Polygon(r) for r in l['Rings']]
    room = box(l['Margin'], l['Margin'], l['Width'] - l['Margin'], l['Height'] - l['Margin']).buffer(2e-6)
    for i, p in enumerate(ps):
        if not room.contains(p):
            answer.append('%d: %d beyond the margin' % (n, i))
        for j in range(i):
            if p.intersection(ps[j]).area > 1e-3 or p.distance(ps[j]) < l['Spacing'] - 5e-4:
                answer.append('%d: %d and %d are %g apart' % (n, i, j, p.distance(ps[j])))
`, all, &wrong)
	for _, w := range wrong {
		t.Error(w)
	}
}

func TestSameOnOneProcessor(t *testing.T) {
	job, stocks := randomJob(rand.New(rand.NewPCG(3, 3)))
	job.Steps = foretest.Sample(300_000, 100_000)
	lay := func() (Band, Result) {
		b, err := Strip(context.Background(), job, 250)
		foretest.Must(t, err)
		s, err := Sheets(context.Background(), job, stocks)
		foretest.Must(t, err)
		return b, s
	}
	b1, s1 := lay()
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(1))
	b2, s2 := lay()
	if !reflect.DeepEqual(b1, b2) || !reflect.DeepEqual(s1, s2) {
		t.Errorf("one processor lays otherwise: %v, %v", b1, b2)
	}
}

func TestStoppedKeepsAll(t *testing.T) {
	job, stocks := randomJob(rand.New(rand.NewPCG(4, 4)))
	job.Steps = 1 << 40
	ctx, cancel := context.WithCancel(context.Background())
	calls := 0
	job.Progress = func(Progress) {
		if calls++; calls == 3 {
			cancel()
		}
	}
	got, err := Sheets(ctx, job, stocks)
	foretest.Must(t, err)
	if !got.Stopped {
		t.Error("it doesn't say that it was stopped")
	}
	checkCounts(t, job, got.Sheets)
}

func TestFitsExactly(t *testing.T) {
	job := Job{Parts: []Part{{Outline: geom.Rect{W: 98, H: 48}, Copies: 6}}, Spacing: 2, Margin: 1, Steps: 200_000}
	got, err := Sheets(context.Background(), job, []Stock{{Width: 300, Height: 100, Cost: 1}})
	foretest.Must(t, err)
	if len(got.Sheets) != 1 {
		t.Errorf("six that fill a sheet lie on %d", len(got.Sheets))
	}
	band, err := Strip(context.Background(), job, 300)
	foretest.Must(t, err)
	foretest.Near(t, "length", band.Length, 100, 1e-6)
}

// More work closes a sheet that the start has opened, and what is cheaper is taken.
func TestFewerSheets(t *testing.T) {
	in := readInstance(t, "fu", 0)
	in.job.Steps = 3_000_000
	got, err := Sheets(context.Background(), in.job, []Stock{{Width: 38, Height: 33.5, Cost: 3}, {Width: 20, Height: 20, Cost: 1}})
	foretest.Must(t, err)
	if len(got.Sheets) != 1 || got.Cost != 3 {
		t.Errorf("%d sheets at %g", len(got.Sheets), got.Cost)
	}
	job := Job{Steps: 500_000, Parts: []Part{{Outline: geom.Circle{R: 45}, Copies: 2}}}
	got, err = Sheets(context.Background(), job, []Stock{{Width: 400, Height: 300, Cost: 6}, {Width: 100, Height: 200, Cost: 2}})
	foretest.Must(t, err)
	if len(got.Sheets) != 1 || got.Cost != 2 {
		t.Errorf("%d sheets at %g", len(got.Sheets), got.Cost)
	}
}

// A part of several outlines keeps them together; others may lie between them, not on them.
func TestPartOfIslands(t *testing.T) {
	two := geom.Outline(append(geom.Paths(geom.Rect{W: 10, H: 40}), geom.Paths(geom.Rect{Min: geom.Pt(30, 0), W: 10, H: 40})...))
	job := Job{Steps: 100_000, Spacing: 1, Parts: []Part{{Outline: two, Copies: 2}, {Outline: geom.Rect{W: 17, H: 38}, Copies: 2}}}
	got, err := Strip(context.Background(), job, 41)
	foretest.Must(t, err)
	checkSheet(t, job, got.Placements, 41, got.Length, nil)
	foretest.Near(t, "length", got.Length, 81, 1e-6)
}

func TestRefused(t *testing.T) {
	ctx := context.Background()
	square := geom.Rect{W: 10, H: 10}
	var part *PartError
	var short *ShortError
	if _, err := Strip(ctx, Job{}, 100); !errors.Is(err, ErrEmpty) {
		t.Error(err)
	}
	if _, err := Strip(ctx, Job{Parts: []Part{{Outline: square, Copies: 1}}}, 9); !errors.Is(err, ErrTooLarge) || !errors.As(err, &part) {
		t.Error(err)
	}
	open := geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(1, 0)).Line(geom.Pt(1, 1)).Open()
	if _, err := Strip(ctx, Job{Parts: []Part{{Outline: open, Copies: 1}}}, 9); !errors.Is(err, kerf.ErrOpen) {
		t.Error(err)
	}
	if _, err := Strip(ctx, Job{Parts: []Part{{Copies: 1}}}, 9); !errors.As(err, &part) {
		t.Error(err)
	}
	if _, err := Strip(ctx, Job{Parts: []Part{{Outline: square, Copies: 1 << 40}}}, 9); !errors.Is(err, ErrTooMany) {
		t.Error(err)
	}
	if _, err := Strip(ctx, Job{Spacing: math.NaN(), Parts: []Part{{Outline: square, Copies: 1}}}, 90); err == nil {
		t.Error("a spacing that is no number is taken")
	}
	tangled := geom.Polygon(geom.Pt(0, 0), geom.Pt(5, 5), geom.Pt(5, 0), geom.Pt(0, 5))
	if _, err := Strip(ctx, Job{Parts: []Part{{Outline: tangled, Copies: 1}}}, 9); !errors.Is(err, kerf.ErrTangled) {
		t.Error(err)
	}
	if _, err := Sheets(ctx, Job{Parts: []Part{{Outline: square, Copies: 5}}}, []Stock{{Width: 20, Height: 20, Count: 1}}); !errors.As(err, &short) || short.Missing != 1 {
		t.Error(err)
	}
}
