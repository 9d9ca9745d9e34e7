package layout

import (
	"context"

	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/tour"
)

// A Sequence is the order in which a laser runs a drawing, and where it enters each cut.
type Sequence struct {
	// Items are what it runs; Shapes says of each which shape of the drawing it is.
	Items  []tour.Item
	Shapes []ShapeAt
	Plan   *tour.Plan
}

// A ShapeAt is a place among the shapes of a drawing.
type ShapeAt struct{ Part, Shape int }

// stepsEach is how many steps the search for an order takes for each contour: little
// beside what drawing it takes.
const stepsEach = 25

// Sequenced gives the drawing with the order in which it is run. Closed cuts are entered
// where two of their lines meet, and circles where they start, so that what is in a file
// has the lines of its figure and no more. Effort is how many times the usual steps are
// spent on it. What no laser reaches, as it is larger than [tour.Order] takes, is run as it
// is listed.
func (d *Drawing) Sequenced(ctx context.Context, effort float64) *Drawing {
	return d.sequenced(ctx, effort, nil)
}

// Sequenced is what [Drawing.Sequenced] gives. The order of cuts that many drawings share is
// looked for only once.
func (d *Drawer) Sequenced(ctx context.Context, drawing *Drawing, effort float64) *Drawing {
	return drawing.sequenced(ctx, effort, &d.orders)
}

func (d *Drawing) sequenced(ctx context.Context, effort float64, kept *tour.Cache) *Drawing {
	s := &Sequence{}
	s.list(d)
	var err error
	s.Plan, err = kept.Order(ctx, s.Items, tour.Options{Corners: true, Spread: d.Pace.HeatSpread, Bridges: d.bridges(), Steps: maybe.Is(stepsEach * effort)})
	if err != nil {
		s.Plan = s.asListed()
	}
	out := *d
	out.Sequence = s
	return &out
}

func (s *Sequence) asListed() *tour.Plan {
	plan := &tour.Plan{}
	for i, it := range s.Items {
		for c, p := range geom.Paths(it.Figure) {
			if len(p.Segments) > 0 {
				plan.Runs = append(plan.Runs, tour.Run{Item: i, Contour: c, Paths: []geom.Path{p}})
			}
		}
	}
	return plan
}

// list takes the shapes operation by operation and part by part, openings before
// outlines: the order that the search begins with.
func (s *Sequence) list(d *Drawing) {
	for _, op := range Ops() {
		for k := range d.Parts {
			for _, outlines := range []bool{false, true} {
				for i := range d.Parts[k].Shapes {
					sh := &d.Parts[k].Shapes[i]
					if sh.Op == op && sh.Runs() && (op == Cut && !sh.Hole) == outlines {
						s.Items = append(s.Items, tour.Item{Op: tour.Op(op), Part: k, Figure: sh.Figure, Parting: sh.Run == Parting})
						s.Shapes = append(s.Shapes, ShapeAt{k, i})
					}
				}
			}
		}
	}
}
