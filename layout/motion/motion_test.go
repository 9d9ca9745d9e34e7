package motion

import (
	"context"
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/maybe"
	"foredge/lang/foretest"
	"foredge/layout/geom"
	"foredge/layout/tour"
)

// laser is a machine of which all is stated.
func laser() Machine {
	m := Machine{Travel: maybe.Is(300.0), Acceleration: maybe.Is(500.0), Corner: maybe.Is(5.0)}
	m.Ops[tour.Cut] = Work{Speed: maybe.Is(10.0)}
	m.Ops[tour.Score] = Work{Speed: maybe.Is(20.0)}
	m.Ops[tour.Mark] = Work{Speed: maybe.Is(50.0)}
	m.Ops[tour.Engrave] = Work{Speed: maybe.Is(200.0), Interval: maybe.Is(0.1)}
	return m
}

func took(t *testing.T, m Machine, moves ...Move) Time {
	t.Helper()
	got, needs := m.Time(moves, maybe.Of[geom.Point]{}, maybe.Of[geom.Point]{})
	time, ok := got.Get()
	if !ok || len(needs) > 0 {
		t.Fatalf("no time: %v", needs)
	}
	return time
}

func cut(paths ...geom.Path) Move { return Move{Op: tour.Cut, Paths: paths} }

func line(length float64) geom.Path {
	return geom.NewPath(geom.Pt(0, 0)).Line(geom.Pt(length, 0)).Open()
}

// One straight cut from rest to rest; worked out by hand from L/v + v/a and 2 √(L/a).
func TestStraightCut(t *testing.T) {
	for length, want := range map[float64]float64{10: 1.02, 100: 10.02, 0.2: 0.04, 0.1: 2 * math.Sqrt(0.1/500)} {
		foretest.Near(t, fmt.Sprint(length, " mm"), took(t, laser(), cut(line(length))).Total(), want, 1e-9)
	}
	foretest.Near(t, "0.1 mm", rest(0.1, 10, 500), 0.02828, 5e-6)
}

// An area of 100 by 60 mm at 0.1 mm, 200 mm/s and 3000 mm/s² takes 380 s: n (W/v + 2 v/a).
func TestEngraving(t *testing.T) {
	m := laser()
	m.Acceleration = maybe.Is(3000.0)
	area := Move{Op: tour.Engrave, Area: geom.Box{Min: geom.Pt(20, 20), Max: geom.Pt(120, 80)}}
	foretest.Near(t, "both ways", took(t, m, area).Ops[tour.Engrave], 380, 1e-9)

	w := &m.Ops[tour.Engrave]
	w.OneWay = true
	// Each way back but the last is W + v²/a = 113.33 mm at 300 mm/s.
	foretest.Near(t, "one way", took(t, m, area).Ops[tour.Engrave], 380+599*((100+40.0/3)/300+300.0/3000), 1e-9)

	w.OneWay = false
	w.RunOut = maybe.Is(10.0) // 10 - 6.67 mm more at each end at full speed
	foretest.Near(t, "longer run-out", took(t, m, area).Ops[tour.Engrave], 380+600*2*(10-20.0/3)/200, 1e-9)

	w.RunOut = maybe.Is(0.0) // from rest at the edge of the figure
	foretest.Near(t, "no run-out", took(t, m, area).Ops[tour.Engrave],
		600*(100.0/200+200.0/3000)+599*2*math.Sqrt(0.1/3000), 1e-9)

	one := took(t, m, area)
	w.Passes = maybe.Is(3)
	three := took(t, m, area)
	foretest.Near(t, "three passes", three.Ops[tour.Engrave], 3*one.Ops[tour.Engrave], 1e-9)
	// 600 lines end on the side where they began, 60 mm below.
	foretest.Near(t, "the ways back between them", three.Travel, 2*(60.0/300+300.0/3000), 1e-9)
}

// Each line interval is what its lines to the inch come to: 25.4/dpi.
func TestLines(t *testing.T) {
	for dpi, interval := range map[float64]float64{100: 0.254, 127: 0.2, 254: 0.1, 508: 0.05} {
		r := raster{interval: interval}
		foretest.Near(t, "lines to the inch", r.lines(25.4), dpi, 0)
	}
	r := raster{interval: 0.1}
	foretest.Near(t, "lines of a hair", r.lines(0.01), 1, 0)
}

// Corners: a square is four lines from rest to rest where the head must stop, and less
// where it needn't.
func TestCorners(t *testing.T) {
	square := cut(geom.Polygon(geom.Pt(0, 0), geom.Pt(20, 0), geom.Pt(20, 20), geom.Pt(0, 20)))
	m := laser()
	m.Corner = maybe.Of[float64]{}
	foretest.Near(t, "nothing stated", took(t, m, square).Total(), 4*rest(20, 10, 500), 1e-9)
	m.Corner = maybe.Is(0.0)
	foretest.Near(t, "0 stated", took(t, m, square).Total(), 4*rest(20, 10, 500), 1e-9)
	// With 5 mm/s at a right angle each corner saves: of slowing down by the last 5 mm/s
	// 0.01 s, less 0.025 mm run at 10 mm/s in place of at 2.5 on average; both before and
	// after it.
	m.Corner = maybe.Is(5.0)
	foretest.Near(t, "5 mm/s", took(t, m, square).Total(), 4*rest(20, 10, 500)-3*2*(0.01-0.025/10), 1e-9)
	m.Corner = maybe.Is(50.0)
	foretest.Near(t, "faster than the cut", took(t, m, square).Total(), 80.0/10+10.0/500, 1e-9)

	m.Corner = maybe.Is(5.0)
	c := m.cornering(500)
	east := geom.Pt(1, 0)
	at := func(degrees float64) geom.Point {
		sin, cos := math.Sincos(degrees * math.Pi / 180)
		return geom.Pt(cos, sin)
	}
	foretest.Near(t, "90 degrees", c.speed(east, at(90)), 5, 1e-12)
	foretest.Near(t, "60 degrees", c.speed(east, at(60)), 5*math.Sqrt2, 1e-12)
	foretest.Near(t, "back", c.speed(east, at(180)), 5/math.Sqrt2, 1e-12)
	if v := c.speed(east, at(0.01)); !math.IsInf(v, 1) {
		t.Errorf("straight on: %v", v)
	}
	m.Corner, m.Deviation = maybe.Of[float64]{}, maybe.Is(0.05)
	c = m.cornering(500)
	// A circle of radius r that touches both sides of a right angle passes its corner at
	// r (√2 - 1).
	foretest.Near(t, "by the deviation", c.speed(east, at(90)), math.Sqrt(500*0.05/(math.Sqrt2-1)), 1e-9)
	foretest.Near(t, "back, by the deviation", c.speed(east, at(180)), 0, 1e-3)
}

// On an arc the acceleration holds the head: a circle of 0.1 mm is run at √(a r).
func TestArcs(t *testing.T) {
	m := laser()
	m.Ops[tour.Cut].Speed = maybe.Is(100.0)
	circle := geom.Paths(geom.Circle{R: 0.1})[0]
	most := math.Sqrt(500 * 0.1)
	foretest.Near(t, "small circle", took(t, m, cut(circle)).Total(), rest(2*math.Pi*0.1, most, 500), 1e-9)
	large := geom.Paths(geom.Circle{R: 100})[0]
	foretest.Near(t, "large circle", took(t, m, cut(large)).Total(), rest(2*math.Pi*100, 100, 500), 1e-9)
	// A free curve that is nearly a circle takes nearly as long.
	const k = 0.5522847498
	curve := geom.NewPath(geom.Pt(10, 0)).Cubic(geom.Pt(10, 10*k), geom.Pt(10*k, 10), geom.Pt(0, 10)).
		Cubic(geom.Pt(-10*k, 10), geom.Pt(-10, 10*k), geom.Pt(-10, 0)).Open()
	foretest.Near(t, "free curve", took(t, m, cut(curve)).Total(), rest(math.Pi*10, math.Sqrt(500*10), 500), 0.01)
}

// winding is a path of many short lines and arcs with soft and sharp turns.
func winding(n int, seed uint64) geom.Path {
	r := rand.New(rand.NewPCG(seed, 9))
	b := geom.NewPath(geom.Pt(0, 0))
	angle := 0.0
	for k := range n {
		length := 0.05 + 0.4*r.Float64()
		switch {
		case k%97 == 0:
			angle += math.Pi * (r.Float64() - 0.5) // a sharp one
		case k%1500 > 1000: // straight on for a while
		default:
			angle += 0.4 * (r.Float64() - 0.5)
		}
		sin, cos := math.Sincos(angle)
		to := b.At().Add(geom.Pt(length*cos, length*sin))
		if k%11 == 0 { // a half circle to there
			b.Arc(to, b.At().Lerp(to, 0.5), k%2 == 0)
		} else {
			b.Line(to)
		}
	}
	return b.Open()
}

// A path of 10,000 short pieces takes as long as a head that is moved in small steps of
// time, and looks itself how far ahead it must brake.
func TestAgainstSimulation(t *testing.T) {
	for _, c := range []struct {
		speed, a, corner float64
	}{{20, 500, 5}, {60, 1000, 8}, {150, 3000, 2}} {
		m := laser()
		m.Ops[tour.Cut].Speed = maybe.Is(c.speed)
		m.Acceleration, m.Corner = maybe.Is(c.a), maybe.Is(c.corner)
		path := winding(foretest.Sample(10_000, 1500), 1)
		got := took(t, m, cut(path)).Total()
		want := simulate(path, c.speed, c.a, c.corner, 1e-5)
		t.Logf("%d pieces at %g mm/s: %.3f s, simulated %.3f s (%.4f %%)", len(path.Segments), c.speed, got, want, 100*(got/want-1))
		if math.Abs(got/want-1) > 0.005 {
			t.Errorf("%g mm/s: %.4f s, simulated %.4f s", c.speed, got, want)
		}
	}
}

// simulate moves a head along a path, dt by dt. It speeds up whenever it may; what it
// may is the piece's own speed and that from which all limits ahead can still be met.
func simulate(path geom.Path, speed, a, corner, dt float64) float64 {
	type limit struct{ at, v float64 } // at a length along the path
	var limits []limit
	var caps []limit // up to which length a piece's speed holds
	along := 0.0
	var before *geom.Piece
	for p := range path.Pieces() {
		most := speed
		if p.Kind == geom.ArcTo {
			most = math.Min(speed, math.Sqrt(a*p.From.Distance(p.Center)))
		}
		if before != nil {
			u, w := before.Tangent(1), p.Tangent(0)
			angle := math.Abs(math.Atan2(u.Cross(w), u.Dot(w)))
			v := math.Inf(1)
			if angle > 1e-3 {
				v = corner * math.Sqrt2 / (2 * math.Sin(angle/2))
			}
			limits = append(limits, limit{along, math.Min(v, most)})
		}
		along += p.Length()
		caps = append(caps, limit{along, most})
		before = &p
	}
	limits = append(limits, limit{along, 0})
	var at, v, time float64
	k, next := 0, 0
	for at < along {
		for caps[k].at <= at && k < len(caps)-1 {
			k++
		}
		for limits[next].at <= at && next < len(limits)-1 {
			next++
		}
		may := math.Min(v+a*dt, caps[k].v)
		for j := next; j < len(limits) && limits[j].at-at <= may*may/(2*a)+may*dt; j++ {
			may = math.Min(may, math.Sqrt(limits[j].v*limits[j].v+2*a*math.Max(limits[j].at-at, 0)))
		}
		v = math.Max(may, a*dt/2)
		at += v * dt
		time += dt
	}
	return time
}

// A longer path never takes less, nor a faster machine more; no time is below length/v.
func TestOrdered(t *testing.T) {
	for seed := range foretest.Sample(100, 20) {
		path := winding(200, uint64(seed))
		m := laser()
		all := took(t, m, cut(path)).Total()
		part := path
		part.Segments = path.Segments[:150]
		if less := took(t, m, cut(part)).Total(); less > all {
			t.Errorf("seed %d: a part takes %v, all of it %v", seed, less, all)
		}
		if least := geom.Length(path) / 10; all < least {
			t.Errorf("seed %d: %v is below length/speed, %v", seed, all, least)
		}
		faster := m
		faster.Acceleration = maybe.Is(1000.0)
		if f := took(t, faster, cut(path)).Total(); f > all {
			t.Errorf("seed %d: with more acceleration %v, with less %v", seed, f, all)
		}
		foretest.Near(t, "the other way round", took(t, m, cut(path.Reverse())).Total(), all, 1e-9*all)
	}
}

// A line cut into short ones takes as long as the line.
func TestPieces(t *testing.T) {
	b := geom.NewPath(geom.Pt(0, 0))
	for k := range 1000 {
		b.Line(geom.Pt(float64(k+1)*0.1, 0))
	}
	m := laser()
	m.Corner = maybe.Of[float64]{}
	foretest.Near(t, "1000 pieces", took(t, m, cut(b.Open())).Total(), 10.02, 1e-9)
}

// What is missing is named, and only for what is done.
func TestNeeds(t *testing.T) {
	area := Move{Op: tour.Engrave, Area: geom.Box{Max: geom.Pt(1, 1)}}
	for _, c := range []struct {
		name  string
		m     Machine
		moves []Move
		want  string
	}{
		{"nothing to do", Machine{}, nil, "[]"},
		{"one cut", Machine{}, []Move{cut(line(1))}, "[speed of cut acceleration]"},
		{"two", Machine{}, []Move{cut(line(1)), cut(line(2))}, "[speed of cut acceleration travel speed]"},
		{"engraved", Machine{}, []Move{area}, "[speed of engrave line interval of engrave acceleration]"},
		{"all", laser(), []Move{area, cut(line(1))}, "[]"},
		{"a speed of 0", Machine{Acceleration: maybe.Is(1.0), Ops: [4]Work{tour.Cut: {Speed: maybe.Is(0.0)}}}, []Move{cut(line(1))}, "[speed of cut]"},
		{"not a number", Machine{Acceleration: maybe.Is(math.NaN()), Ops: [4]Work{tour.Cut: {Speed: maybe.Is(1.0)}}}, []Move{cut(line(1))}, "[acceleration]"},
	} {
		got, needs := c.m.Time(c.moves, maybe.Of[geom.Point]{}, maybe.Of[geom.Point]{})
		if s := fmt.Sprint(needs); s != c.want || got.Present() != (c.want == "[]") {
			t.Errorf("%s: %s, want %s; time %v", c.name, s, c.want, got.Present())
		}
	}
	m := laser()
	m.Travel = maybe.Of[float64]{}
	m.Ops[tour.Engrave].OneWay = true
	if _, needs := m.Time([]Move{area}, maybe.Of[geom.Point]{}, maybe.Of[geom.Point]{}); fmt.Sprint(needs) != "[travel speed]" {
		t.Errorf("one way without a speed of travel: %v", needs)
	}
}

// A job adds up: operations, passes, the ways between, there and back.
func TestJob(t *testing.T) {
	m := laser()
	m.Ops[tour.Cut].Passes = maybe.Is(3)
	moves := []Move{
		{Op: tour.Mark, Paths: []geom.Path{line(50)}},
		cut(line(10)), cut(line(20).Move(geom.Pt(0, 5)).(geom.Path)),
	}
	got, _ := m.Time(moves, maybe.Is(geom.Pt(0, 10)), maybe.Is(geom.Pt(0, 0)))
	time, _ := got.Get()
	foretest.Near(t, "mark", time.Ops[tour.Mark], 50.0/50+50.0/500, 1e-9)
	foretest.Near(t, "cut", time.Ops[tour.Cut], 3*(rest(10, 10, 500)+rest(20, 10, 500)), 1e-9)
	way := func(x0, y0, x1, y1 float64) float64 { return rest(math.Hypot(x1-x0, y1-y0), 300, 500) }
	foretest.Near(t, "travel", time.Travel, way(0, 10, 0, 0)+way(50, 0, 0, 0)+
		3*way(10, 0, 0, 5)+2*way(20, 5, 0, 0)+way(20, 5, 0, 0), 1e-9)
	foretest.Near(t, "total", time.Total(), time.Ops[tour.Mark]+time.Ops[tour.Cut]+time.Travel, 1e-12)
}

// The moves of a plan are its runs.
func TestMoves(t *testing.T) {
	items := []tour.Item{
		{Op: tour.Cut, Figure: geom.Rect{W: 30, H: 20}},
		{Op: tour.Engrave, Figure: geom.Rect{Min: geom.Pt(5, 5), W: 10, H: 4}},
	}
	plan, err := tour.Order(context.Background(), items, tour.Options{})
	foretest.Must(t, err)
	moves := Moves(items, plan)
	if len(moves) != 2 || moves[0].Op != tour.Engrave || moves[0].Area != items[1].Figure.Bounds() || len(moves[1].Paths) != 1 {
		t.Errorf("moves %+v", moves)
	}
}

func BenchmarkTime(b *testing.B) {
	m, path := laser(), winding(10_000, 1)
	for b.Loop() {
		m.Time([]Move{cut(path)}, maybe.Of[geom.Point]{}, maybe.Of[geom.Point]{})
	}
}
