package lettering

import (
	"encoding/binary"
	"math"
	"slices"
	"sync"

	"foredge/layout/geom"
)

// Stencil is the outline of the text with bridges, as [Stencil] makes them, but
// letter by letter: upright in each letter where a line runs round a circle, and
// worked out once for all equal letters of a font. Where the text isn't as large
// as was asked for, its bridges may be broader than the width by a hundredth, so
// that letters of nearly one size count as equal.
func (b Block) Stencil(width, cut float64) (geom.Outline, error) {
	if len(b.parts) == 0 {
		return nil, nil
	}
	for _, p := range b.parts {
		if slices.ContainsFunc(p.glyphs, func(g placed) bool { return g.bend.r != 0 }) {
			return Stencil(b.Outline, width, cut) // no two bent letters are equal
		}
	}
	s := stenciller{font: b.font, width: width, cut: cut, k: b.parts[0].glyphs[0].k}
	s.unit = s.k
	if !b.asked {
		const steps = 64 // to twice the size
		s.unit = math.Exp2(math.Floor(math.Log2(s.k)*steps) / steps)
	}
	all := make([]body, len(b.parts))
	for i, p := range b.parts {
		own, err := s.part(p.glyphs)
		if err != nil {
			return nil, err
		}
		all[i] = own.moved(s.back(p.glyphs[0]))
	}
	all, err := hold(all, func(group []int) (body, error) {
		var parts [][]placed
		for _, i := range group {
			parts = append(parts, b.parts[i].glyphs)
		}
		together, err := s.parts(parts)
		return together.moved(s.back(parts[0][0])), err
	})
	if err != nil {
		return nil, err
	}
	return join(all, nil).outline, nil
}

// A stenciller makes bodies of glyphs as they are when the first of them is
// upright at the origin and a font unit is unit mm, at most the k of the text.
type stenciller struct {
	font                *Font
	width, cut, k, unit float64
}

// back leads from there to where the glyph stands in its text.
func (s stenciller) back(first placed) geom.Similarity {
	return geom.Scale(s.k / s.unit).Then(geom.Turn(geom.Point{}, first.turn)).Then(geom.Shift(first.shift))
}

// near is where a glyph stands from the first, to a millionth of a mm and of a
// radian: what rounding has left is no difference.
func (s stenciller) near(first, g placed) place {
	const fine = 1e-6
	d := geom.Turn(geom.Point{}, -first.turn).Point(g.shift.Sub(first.shift)).Mul(s.unit / s.k)
	round := func(v float64) float64 { return math.Round(v/fine) * fine }
	return place{k: s.unit, turn: round(math.Remainder(g.turn-first.turn, 2*math.Pi)), shift: geom.Pt(round(d.X), round(d.Y))}
}

// part is a body of glyphs that are connected.
func (s stenciller) part(glyphs []placed) (body, error) {
	return s.font.held.get(s.key([][]placed{glyphs}), func() (body, error) {
		moved := make([]placed, len(glyphs))
		for i, g := range glyphs {
			raw, err := s.font.glyph(g.id) // it was drawn before
			if err != nil {
				return body{}, err
			}
			moved[i] = raw.at(s.near(glyphs[0], g))
		}
		return stencil(outlineOf(unite(moved)), s.width, s.cut)
	})
}

// parts is the body of parts that stand too near to one another.
func (s stenciller) parts(parts [][]placed) (body, error) {
	return s.font.held.get(s.key(parts), func() (body, error) {
		var together geom.Outline
		for _, glyphs := range parts {
			own, err := s.part(glyphs)
			if err != nil {
				return body{}, err
			}
			at := s.near(parts[0][0], glyphs[0])
			at.k = 1
			together = append(together, at.similarity().Outline(own.outline)...)
		}
		return widen(together, s.width, s.cut)
	})
}

// key tells bodies of a font apart.
func (s stenciller) key(parts [][]placed) string {
	var key []byte
	add := func(v float64) { key = binary.LittleEndian.AppendUint64(key, math.Float64bits(v)) }
	add(s.width)
	add(s.cut)
	add(s.unit)
	for _, glyphs := range parts {
		key = binary.AppendUvarint(key, uint64(len(glyphs)))
		for _, g := range glyphs {
			at := s.near(parts[0][0], g)
			key = binary.AppendUvarint(key, uint64(g.id))
			add(at.turn)
			add(at.shift.X)
			add(at.shift.Y)
		}
	}
	return string(key)
}

// A memo keeps bodies that were worked out, the last used of them; what it gives
// is the same whether it was kept or not. Several goroutines may use it.
type memo struct {
	mu         sync.Mutex
	young, old map[string]kept
	size       int // segments of the young ones
}

type kept struct {
	body body
	err  error
}

// most is how many segments the young bodies of a memo have before they become
// the old ones: some 5 MB.
const most = 50_000

func (m *memo) get(key string, work func() (body, error)) (body, error) {
	m.mu.Lock()
	k, ok := m.young[key]
	if !ok {
		if k, ok = m.old[key]; ok {
			m.keep(key, k)
		}
	}
	m.mu.Unlock()
	if !ok {
		k.body, k.err = work()
		m.mu.Lock()
		m.keep(key, k)
		m.mu.Unlock()
	}
	return k.body, k.err
}

func (m *memo) keep(key string, k kept) {
	if m.size > most || m.young == nil {
		m.old, m.young, m.size = m.young, map[string]kept{}, 0
	}
	m.young[key] = k
	for _, p := range slices.Concat(k.body.outline, k.body.grown) {
		m.size += 1 + len(p.Segments)
	}
}
