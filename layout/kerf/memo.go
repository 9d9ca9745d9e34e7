package kerf

import (
	"errors"
	"math"

	"foredge/layout/geom"
)

// A Memo offsets many figures and works out what is equal among them once: equal
// letters of a text, members of a field, copies of a part. What it gives is what
// [Offset] gives, but for rounding far below the resolution of files, and without that
// as long as there is little to work out. The zero value is ready for use, by one
// goroutine.
type Memo struct {
	young, old map[likeness][]known
	size       int // pieces of the young ones
	seen       int // pieces so far
}

// little is how many pieces are each worked out by itself before a memo looks for
// equal ones.
const little = 20_000

// A likeness is what equal groups of rings have in common wherever they lie.
type likeness struct {
	by, wide, high float64
	rings, pieces  int
	asked          asked
}

// asked is what was asked of rings.
type asked uint8

const (
	ofGroup asked = iota // what offsets rings that may come to meet
	ofWhole              // what offsets an outline as it came, its rings not yet turned
	losses               // what is lost of rings that may come to meet
)

// A known group of rings is one that was offset where it lay.
type known struct {
	rings []ring
	out   geom.Outline
	err   error
}

// mostKnown is how many pieces the young ones of a memo have before they become the
// old ones: some 10 MB.
const mostKnown = 50_000

// Offset is the function [Offset].
func (m *Memo) Offset(f geom.Figure, d float64) (geom.Figure, error) { return offset(f, d, m) }

// mostRings is how many rings an outline may have to be known as a whole: a letter,
// or a word. Of longer texts the letters are known.
const mostRings = 16

// outline offsets an outline.
func (m *Memo) outline(o geom.Outline, d float64) (geom.Outline, error) {
	if m == nil || len(o) == 0 || len(o) > mostRings {
		return offsetRings(o, d, m)
	}
	rings := make([]ring, len(o))
	for i, p := range o {
		rings[i] = make(ring, 0, len(p.Segments))
		for piece := range p.Pieces() {
			rings[i] = append(rings[i], piece)
		}
	}
	return m.find(rings, d, ofWhole, func() (geom.Outline, error) { return offsetRings(o, d, m) })
}

// group offsets rings that may come to meet.
func (m *Memo) group(rings []ring, d float64) (geom.Outline, error) {
	if m == nil {
		return offsetGroup(rings, d)
	}
	return m.find(rings, d, ofGroup, func() (geom.Outline, error) { return offsetGroup(rings, d) })
}

// find gives what work gives of rings, or of ones like them.
func (m *Memo) find(rings []ring, d float64, what asked, work func() (geom.Outline, error)) (geom.Outline, error) {
	for _, r := range rings {
		if len(r) == 0 {
			return work()
		}
	}
	key, n := likenessOf(rings, d)
	key.asked = what
	if m.seen += n; m.seen <= little {
		return work()
	}
	for _, of := range []map[likeness][]known{m.young, m.old} {
		for _, k := range of[key] {
			if by, ok := shifted(k.rings, rings); ok {
				return k.moved(by)
			}
		}
	}
	k := known{rings: rings}
	k.out, k.err = work()
	if m.size > mostKnown || m.young == nil {
		m.young, m.old, m.size = map[likeness][]known{}, m.young, 0
	}
	m.young[key] = append(m.young[key], k)
	m.size += 2 * n
	return k.out, k.err
}

func likenessOf(rings []ring, d float64) (key likeness, pieces int) {
	b := geom.EmptyBox()
	for _, r := range rings {
		for _, p := range r {
			b = b.Union(geom.Box{Min: p.From, Max: p.From})
		}
		pieces += len(r)
	}
	round := func(v float64) float64 { return math.Round(v * 1e6) }
	return likeness{by: d, wide: round(b.Width()), high: round(b.Height()), rings: len(rings), pieces: pieces}, pieces
}

// moved is what is known, by so much aside.
func (k known) moved(by geom.Point) (geom.Outline, error) {
	if k.err != nil {
		var gone VanishError
		if errors.As(k.err, &gone) {
			gone.Bounds = geom.Box{Min: gone.Bounds.Min.Add(by), Max: gone.Bounds.Max.Add(by)}
			return nil, gone
		}
		var loss Loss
		if errors.As(k.err, &loss) {
			loss.At = loss.At.Add(by)
			return nil, loss
		}
		return nil, k.err
	}
	return geom.Shift(by).Outline(k.out), nil
}

// shifted says by how much rings lie aside of others that are equal to them, to a
// millionth of a thousandth of a millimetre; ok is false if they differ.
func shifted(a, b []ring) (by geom.Point, ok bool) {
	const same = 1e-9
	by = b[0][0].From.Sub(a[0][0].From)
	near := func(p, q geom.Point) bool {
		return math.Abs(p.X+by.X-q.X) < same && math.Abs(p.Y+by.Y-q.Y) < same
	}
	for i := range a {
		if len(a[i]) != len(b[i]) {
			return by, false
		}
		for k := range a[i] {
			p, q := &a[i][k], &b[i][k]
			if p.Kind != q.Kind || p.Clockwise != q.Clockwise || !near(p.From, q.From) || !near(p.End, q.End) ||
				p.Kind == geom.ArcTo && !near(p.Center, q.Center) || p.Kind == geom.CubicTo && !(near(p.C1, q.C1) && near(p.C2, q.C2)) {
				return by, false
			}
		}
	}
	return by, true
}
