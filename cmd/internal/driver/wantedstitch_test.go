package driver_test

import (
	"fmt"
	"math"

	"foredge/eval/design"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// stitch describes the holes of a line of stitches a second time: the line is walked
// here in small steps, whose lengths are added up.
func (b *wanter) stitch(p *design.Panel, s *design.Stitch, at func(spine, head float64) geom.Point) {
	name := p.Name + "." + s.Name
	d, x, y := b.dim(name+".inset"), 0.0, 0.0
	w, h, corners := b.dim(p.Name+".width"), b.dim(p.Name+".height"), p.Corners
	if s.Around != nil {
		of := p.Name + "." + s.Around.Name
		x, y, w, h = b.dim(of+".spine"), b.dim(of+".head"), b.dim(of+".width"), b.dim(of+".height")
		corners = [4]design.Corner{}
		if !s.Around.Region {
			d = -d
			for i := range corners {
				corners[i] = design.Corner{Form: word.Radius, Size: s.Around.Opening.Radius}
				if s.Around.Opening.Form == opening.Round {
					corners[i].Size = w / 2
				}
			}
		}
	}
	pieces := walked(w, h, d, corners)
	if s.Around != nil && s.Around.Opening.Form == opening.Round && !s.Around.Region {
		// Its two halves are what a square with round corners has from the middle of its spine on.
		upper := append(append([]geom.Point{}, pieces[7]...), pieces[1]...)
		pieces[1] = append(append([]geom.Point{}, pieces[3]...), pieces[5]...)
		pieces[0] = upper
	}
	size := b.dim(name+".hole.along") - b.kerf(p)
	n := 0
	for _, r := range s.Runs {
		var line []geom.Point
		for _, k := range r.Pieces {
			line = append(line, pieces[k]...)
		}
		first := 0.0
		if r.Closed {
			first = long(pieces[r.Pieces[0]]) / 2
			line = append(line, line...)
		}
		step := long(line) / float64(r.Stitches)
		if r.Closed {
			step /= 2
		}
		holes := r.Stitches
		if r.Ends {
			holes++
		}
		for k := range holes {
			n++
			c := walk(line, first+step*float64(k))
			b.shapes[fmt.Sprintf("cut.%s.%d", name, n)] = openingAt(at(x+c.X, y+c.Y), size, size, opening.Opening{Form: opening.Round}, 0)
		}
	}
}

// walked are head, foredge, tail and spine at an inset, each with the round corner after
// it, in small steps. Where a chamfer or a scoop is the line isn't walked.
func walked(w, h, d float64, corners [4]design.Corner) (pieces [8][]geom.Point) {
	taken := func(c design.Corner) float64 {
		switch {
		case c.Size == 0:
			return d
		case c.Form == word.Radius:
			return c.Size
		case c.Form == word.Chamfer:
			return c.Size + d*math.Tan(math.Pi/8)
		}
		return math.Sqrt(c.Size*c.Size + 2*c.Size*d)
	}
	hs, hf, ts, tf := taken(corners[0]), taken(corners[1]), taken(corners[2]), taken(corners[3])
	pieces[0] = []geom.Point{{X: hs, Y: d}, {X: w - hf, Y: d}}
	pieces[2] = []geom.Point{{X: w - d, Y: hf}, {X: w - d, Y: h - tf}}
	pieces[4] = []geom.Point{{X: w - tf, Y: h - d}, {X: ts, Y: h - d}}
	pieces[6] = []geom.Point{{X: d, Y: h - ts}, {X: d, Y: hs}}
	middles := [4]geom.Point{{X: w - hf, Y: hf}, {X: w - tf, Y: h - tf}, {X: ts, Y: h - ts}, {X: hs, Y: hs}}
	for i, k := range [4]int{1, 3, 2, 0} {
		const steps = 20000
		for j := 0; corners[k].Form == word.Radius && j <= steps; j++ {
			sin, cos := math.Sincos(math.Pi / 2 * (float64(i-1) + float64(j)/steps))
			r := taken(corners[k]) - d
			pieces[2*i+1] = append(pieces[2*i+1], middles[i].Add(geom.Pt(cos, sin).Mul(r)))
		}
	}
	return pieces
}

func long(line []geom.Point) (sum float64) {
	for i := 1; i < len(line); i++ {
		sum += line[i].Sub(line[i-1]).Norm()
	}
	return sum
}

// walk is the place so far along a line.
func walk(line []geom.Point, far float64) geom.Point {
	for i := 1; i < len(line); i++ {
		step := line[i].Sub(line[i-1]).Norm()
		if far <= step && step > 0 {
			return line[i-1].Lerp(line[i], far/step)
		}
		far -= step
	}
	return line[len(line)-1]
}
