package sheet

import (
	"cmp"
	"context"
	"math"
	"slices"

	"foredge/layout/geom"
)

// A Band is how parts lie on a strip.
type Band struct {
	Placements []Placement
	// Length is how much of the strip is used, and no band is shorter than Least. In mm.
	Length, Least float64
	Stopped       bool // the context ended the search early
}

// Strip lays parts on a strip so wide in mm, with a spacing between them, that as little of
// its length is used as can be found. The strip's width lies across, along X, and
// its length runs down, along Y, from the strip's left upper corner. Grain and
// group of the parts don't count.
func Strip(ctx context.Context, parts []Part, width, spacing float64, opts Options) (*Band, error) {
	gap := whole(spacing)
	room := whole(width) + gap
	s := stripSearch{room: room, r: random(opts.Seed)}
	stock := Stock{Width: width, Height: math.Inf(1)}
	for i, p := range parts {
		if err := checkPart(p); err != nil {
			return nil, err
		}
		z := sizeOn(p, stock, gap)
		if z.w > room && z.tw > room {
			return nil, &FitError{Part: p.Name, Width: p.Width, Height: p.Height, Room: geom.Pt(width, math.Inf(1))}
		}
		s.sizes = append(s.sizes, z)
		for range p.Count {
			s.seq = append(s.seq, run{kind: i, count: 1})
		}
	}
	if len(s.seq) == 0 {
		return &Band{}, nil
	}
	s.look(ctx, opts)
	band := &Band{Length: float64(s.top-gap) / unitsPerMM, Least: float64(s.least-gap) / unitsPerMM, Stopped: ctx.Err() != nil}
	copies := make([]int, len(parts))
	for _, at := range s.spots {
		band.Placements = append(band.Placements, placed(parts[at.kind], at, 0, at.kind, copies[at.kind]))
		copies[at.kind]++
	}
	sortPlacements(band.Placements)
	return band, nil
}

// stripSteps is what is spent on a strip with effort 1: some three seconds.
const stripSteps = 350e6

type stripSearch struct {
	room  int64
	sizes []size
	seq   []run
	r     random

	least, top int64
	spots      []spot
}

// bound is a length that no band goes below: by area, and by the longest of the parts.
func (s *stripSearch) bound() int64 {
	var area, longest int64
	for _, q := range s.seq {
		z := s.sizes[q.kind]
		w, h := z.w, z.h
		if h == never {
			w, h = z.tw, z.th
		}
		area += (w / unit) * (h / unit)
		least := h
		if z.w > s.room {
			least = z.th
		} else if z.tw <= s.room {
			least = min(z.h, z.th)
		}
		longest = max(longest, least)
	}
	// Rounded down to units on both ways, so that it stays a bound.
	return max(longest, area/(s.room/unit+1)*unit)
}

// sortings are the sequences that a search begins with: the largest first, in several senses.
var sortings = []func(z size) int64{
	func(z size) int64 { return min(z.w, z.tw) / unit * (min(z.h, z.th) / unit) },
	func(z size) int64 { return max(min(z.w, z.tw), min(z.h, z.th)) },
	func(z size) int64 { return min(z.w, z.tw) + min(z.h, z.th) },
	func(z size) int64 { return min(z.w, z.tw) },
	func(z size) int64 { return min(z.h, z.th) },
}

func sortRuns(runs []run, sizes []size, key func(size) int64) {
	slices.SortStableFunc(runs, func(a, b run) int {
		return cmp.Or(cmp.Compare(key(sizes[b.kind]), key(sizes[a.kind])), cmp.Compare(a.kind, b.kind))
	})
}

// tolerance is within what share of the smallest side sizes count as matching, in percent.
const tolerance = 30

// look searches: first for the part that matches best, then briefly taking the first that has room.
func (s *stripSearch) look(ctx context.Context, opts Options) {
	s.least, s.top = s.bound(), math.MaxInt64
	smallest := never
	for _, q := range s.seq {
		z := s.sizes[q.kind]
		smallest = min(smallest, z.w, z.h, z.tw, z.th)
	}
	budget := int64(stripSteps * effort(opts))
	for pass, share := range []int64{90, 10} {
		t := &trial{sizes: s.sizes, fl: floor{w: s.room, h: never, aim: s.least, tol: smallest * tolerance / 100}}
		t.inTurn = pass == 1
		cost := int64(math.MaxInt64)
		var seq []run
		for _, key := range sortings {
			t.seq = slices.Clone(s.seq)
			sortRuns(t.seq, s.sizes, key)
			t.first()
			s.keep(t)
			if c := t.cost(); c < cost {
				cost, seq = c, t.seq
			}
		}
		t.seq = seq
		t.first()
		tries := 0
		t.anneal(&s.r, budget*share/100, func() bool {
			s.keep(t)
			tries++
			return s.top > s.least && (tries%64 != 0 || ctx.Err() == nil)
		})
		if s.top <= s.least || ctx.Err() != nil {
			return
		}
	}
}

// keep takes over what a trial has laid, if it is the shortest so far.
func (s *stripSearch) keep(t *trial) {
	if t.left == 0 && t.top < s.top {
		s.top, s.spots = t.top, slices.Clone(t.spots)
	}
}
