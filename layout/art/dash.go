package art

import (
	"math"

	"foredge/layout/geom"
)

// A dashing is how a line is broken up: dashes and gaps by turns, in the units of
// the path.
type dashing struct {
	lengths []float64
	offset  float64
}

// dashing gives the dashes of an element, nil for a line that goes on. long is how
// long its path is by what it states itself, 0 if it doesn't; whole is how long
// it is.
func (s *state) dashing(n *node, whole, long float64) (*dashing, *Error) {
	if len(s.dashes) == 0 {
		return nil, nil
	}
	d := &dashing{}
	sum := 0.0
	for _, text := range s.dashes {
		v, err := s.length(n, "stroke-dasharray", text, diagonal)
		if err != nil {
			return nil, err
		}
		d.lengths = append(d.lengths, v)
		sum += v
	}
	if !(sum > 0) {
		return nil, nil
	}
	if len(d.lengths)%2 == 1 {
		d.lengths = append(d.lengths, d.lengths...)
	}
	if s.dashOffset != "" {
		var err *Error
		if d.offset, err = s.length(n, "stroke-dashoffset", s.dashOffset, diagonal); err != nil {
			return nil, err
		}
	}
	if long > 0 && whole > 0 {
		d.scale(whole / long)
	}
	gaps := 0.0
	for i := 1; i < len(d.lengths); i += 2 {
		gaps += d.lengths[i]
	}
	if gaps == 0 {
		return nil, nil
	}
	return d, nil
}

func (d *dashing) scale(k float64) {
	for i := range d.lengths {
		d.lengths[i] *= k
	}
	d.offset *= k
}

// sum is the length after which the dashes begin anew.
func (d *dashing) sum() float64 {
	sum := 0.0
	for _, l := range d.lengths {
		sum += l
	}
	return sum
}

// broken breaks a path of lines and arcs into dashes. ok is false if these are
// more than most.
func (d *dashing) broken(path geom.Path, most int) (out []geom.Path, ok bool) {
	sum := d.sum()
	at := math.Mod(d.offset, sum)
	if at < 0 {
		at += sum
	}
	k := 0
	for at >= d.lengths[k] && at > 0 {
		at -= d.lengths[k]
		k = (k + 1) % len(d.lengths)
	}
	left := d.lengths[k] - at // of the dash or gap in which the path begins
	var b *geom.Builder
	begin := func(x geom.Point) {
		if k%2 == 0 {
			b = geom.NewPath(x)
		}
	}
	end := func() {
		if b != nil {
			out = append(out, b.Open())
		}
		b = nil
	}
	startsOn := k%2 == 0
	begin(path.Start)
	steps := 0
	for piece := range path.Pieces() {
		long, done := piece.Length(), 0.0
		if long == 0 {
			continue
		}
		for long-done > left {
			if steps++; steps > most {
				return nil, false
			}
			if b != nil {
				b.Add(piece.Part(done/long, (done+left)/long).Segment)
			}
			done += left
			end()
			k = (k + 1) % len(d.lengths)
			left = d.lengths[k]
			begin(piece.At(done / long))
		}
		if b != nil {
			b.Add(piece.Part(done/long, 1).Segment)
		}
		left -= long - done
	}
	endsOn := b != nil
	end()
	if n := len(out); path.Closed && startsOn && endsOn && n > 1 {
		// The path's start lies in the middle of a dash.
		joined := geom.NewPath(out[n-1].Start)
		for _, s := range append(out[n-1].Segments, out[0].Segments...) {
			joined.Add(s)
		}
		out = append([]geom.Path{joined.Open()}, out[1:n-1]...)
	}
	return out, true
}
