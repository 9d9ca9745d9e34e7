package motion

import (
	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/tour"
)

// A Move is what is run in one go: of an engraving its area, else paths one after
// another.
type Move struct {
	Op    tour.Op
	Paths []geom.Path
	Area  geom.Box
	// Interval is the distance of the area's lines, where it has its own.
	Interval maybe.Of[float64]
}

// Moves are the moves of a plan for some items.
func Moves(items []tour.Item, plan *tour.Plan) []Move {
	all := make([]Move, len(plan.Runs))
	for k, r := range plan.Runs {
		it := &items[r.Item]
		all[k] = Move{Op: it.Op, Paths: r.Paths}
		if it.Op == tour.Engrave {
			all[k].Area = it.Figure.Bounds()
		}
	}
	return all
}

// A Time is how long a job takes, in seconds.
type Time struct {
	Ops    [tour.Cut + 1]float64 // by operation, over all passes
	Travel float64               // with the beam off
}

// Total is the time of all together.
func (t Time) Total() float64 {
	sum := t.Travel
	for _, op := range t.Ops {
		sum += op
	}
	return sum
}

// Time is how long moves take one after another, from a place and to one where they are
// stated. Moves of one operation that follow one another are repeated together for each
// of its passes. Without what the needs name there is no time.
func (m Machine) Time(moves []Move, from, to maybe.Of[geom.Point]) (maybe.Of[Time], []Need) {
	var used [tour.Cut + 1]bool
	lined := true // what is engraved has a distance of lines of its own
	legs := 0     // as many as there are, less one, are joined with the beam off
	for i := range moves {
		used[moves[i].Op] = true
		_, own := positive(moves[i].Interval)
		lined = lined && (own || moves[i].Op != tour.Engrave)
		legs += max(len(moves[i].Paths), 1)
		if p, ok := m.Ops[moves[i].Op].Passes.Get(); ok && p > 1 {
			legs++
		}
	}
	if from.Present() || to.Present() {
		legs++
	}
	if needs := m.needs(used, legs > 1, lined); len(needs) > 0 {
		return maybe.Of[Time]{}, needs
	}
	w := worker{m: &m}
	w.a, _ = positive(m.Acceleration)
	w.travel, _ = positive(m.Travel)
	w.corners = m.cornering(w.a)
	w.at, w.placed = from.Get()
	for len(moves) > 0 {
		op, n := moves[0].Op, 1
		for n < len(moves) && moves[n].Op == op {
			n++
		}
		w.passes(moves[:n], max(m.Ops[op].Passes.Or(1), 1))
		moves = moves[n:]
	}
	if p, ok := to.Get(); ok {
		w.goTo(p)
	}
	return maybe.Is(w.sum), nil
}

// A worker runs moves.
type worker struct {
	m         *Machine
	a, travel float64
	corners   cornering
	at        geom.Point // where the head stands
	placed    bool       // it stands somewhere
	sum       Time
}

// passes runs moves of one operation some times. From the second time on each pass
// takes the same, so their number doesn't matter for the work.
func (w *worker) passes(moves []Move, n int) {
	op := moves[0].Op
	w.run(moves)
	if n == 1 {
		return
	}
	before := w.sum
	w.run(moves)
	w.sum.Travel += (w.sum.Travel - before.Travel) * float64(n-2)
	w.sum.Ops[op] += (w.sum.Ops[op] - before.Ops[op]) * float64(n-2)
}

func (w *worker) run(moves []Move) {
	for i := range moves {
		mv := &moves[i]
		work := &w.m.Ops[mv.Op]
		if mv.Op == tour.Engrave {
			r := w.m.raster(work, mv.Interval)
			from, to := r.ends(mv.Area)
			w.goTo(from)
			w.sum.Ops[mv.Op] += r.time(mv.Area.Width(), mv.Area.Height())
			w.at = to
			continue
		}
		speed, _ := positive(work.Speed)
		for _, p := range mv.Paths {
			w.goTo(p.Start)
			w.sum.Ops[mv.Op] += chain(w.corners.stretches(p, speed), w.a)
			w.at = p.End()
		}
	}
}

// goTo moves with the beam off.
func (w *worker) goTo(p geom.Point) {
	if w.placed {
		w.sum.Travel += rest(w.at.Distance(p), w.travel, w.a)
	}
	w.at, w.placed = p, true
}
