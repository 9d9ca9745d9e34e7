package lettering

import "foredge/layout/geom"

// A Crowd says that letters run into one another along a curve which don't when the line is straight.
type Crowd struct {
	First, Second string // two of them
	// Space is what must be added between letters that none touch, in mm; 0 where the height of
	// capitals doesn't do.
	Space float64
}

// mayTouch is how far letters along a curve may run into one another, by the height of capitals:
// arms that just touch, as those of K and E, read well (common practice, no source).
const mayTouch = 0.05

// crowd tells of the first letters that run farther into one another; nil where none do. Heads that
// are turned to the centre stand closer than their baseline has them.
func (t *text) crowd(k float64, b bow) *Crowd {
	i, j, found := t.crowded(k, b, mayTouch)
	if !found {
		return nil
	}
	sign := func(i int) string { return string(t.came[0][t.lines[0].signs[i].at]) }
	c := &Crowd{First: sign(i), Second: sign(j)}
	const steps = 40
	for n := 1; n <= steps; n++ {
		wider := b
		wider.space += float64(n) / steps * k * t.font.cap
		if _, _, still := t.crowded(k, wider, 0); !still {
			c.Space = wider.space
			break
		}
	}
	return c
}

// crowded are two signs that run into one another by more than a share of the height of capitals. Of
// letters that hang together it says nothing.
func (t *text) crowded(k float64, b bow, share float64) (i, j int, found bool) {
	signs := t.lines[0].signs
	bent := make([]geom.Outline, len(signs))
	boxes := make([]geom.Box, len(signs))
	middle := t.middle(k, b)
	for i, s := range signs {
		if boxes[i] = geom.EmptyBox(); !s.joins {
			bent[i] = t.turned(s, k, b, middle).outline
			boxes[i] = bent[i].Bounds()
		}
	}
	away := share * k * t.font.cap / b.r
	if t.Inside {
		away = -away
	}
	straight := func(i int) *geom.Boundary {
		s := signs[i]
		return geom.NewBoundary(s.glyph.at(place{k: k, shift: s.pen.Mul(k).Add(geom.Pt(float64(s.spaces)*b.space, 0))}).outline)
	}
	for i := range signs {
		// An accent may lie between two letters.
		for next := 1; next <= 2 && next < len(signs); next++ {
			j := (i + next) % len(signs)
			if !boxes[i].Meets(boxes[j]) {
				continue
			}
			a := geom.NewBoundary(bent[i])
			if a.Meets(geom.NewBoundary(bent[j])) && a.Meets(geom.NewBoundary(geom.Turn(geom.Point{}, away).Outline(bent[j]))) &&
				!straight(i).Meets(straight(j)) {
				return i, j, true
			}
		}
	}
	return 0, 0, false
}
