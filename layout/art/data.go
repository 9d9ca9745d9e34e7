package art

import "foredge/layout/geom"

// parseData reads path data (SVG 1.1, 8.3). at is where in it something is
// wrong, counted from 1; 0 if nothing is.
func parseData(text string) (traces []trace, at int) {
	p := &dataReader{scanner: scanner{s: text}}
	if !p.read() {
		return nil, p.at + 1
	}
	return p.traces, 0
}

type dataReader struct {
	scanner
	traces []trace
	open   bool       // the last trace can be drawn on
	pen    geom.Point // where the pen is
	start  geom.Point // where Z leads back to
	// control is the last control point, for smooth curves: of a cubic if last is
	// C, of a quadratic if it is Q.
	control geom.Point
	last    byte
}

func (p *dataReader) read() bool {
	var command byte
	for first := true; ; first = false {
		comma := p.space()
		if p.end() {
			return !comma
		}
		c := p.s[p.at]
		switch {
		case c|0x20 >= 'a' && c|0x20 <= 'z':
			if comma || first && c|0x20 != 'm' {
				return false
			}
			command = c
			p.at++
			if c|0x20 == 'z' {
				p.close()
				continue
			}
		case command|0x20 == 'z' || command == 0:
			return false // numbers without a command
		case command == 'M':
			command = 'L'
		case command == 'm':
			command = 'l'
		}
		if !p.segment(command) {
			return false
		}
	}
}

func (p *dataReader) close() {
	if p.open {
		p.traces[len(p.traces)-1].closed = true
	}
	p.open, p.pen, p.last = false, p.start, 'Z'
}

// point reads a pair of coordinates.
func (p *dataReader) point(relative bool) (geom.Point, bool) {
	x, ok := p.number()
	if !ok {
		return geom.Point{}, false
	}
	y, ok := p.number()
	if relative {
		x, y = x+p.pen.X, y+p.pen.Y
	}
	return geom.Pt(x, y), ok
}

// points reads as many pairs as there are places for them.
func (p *dataReader) points(relative bool, to ...*geom.Point) bool {
	for _, t := range to {
		var ok bool
		if *t, ok = p.point(relative); !ok {
			return false
		}
	}
	return true
}

// trace is the subpath to draw on; after a Z a new one begins.
func (p *dataReader) trace() *trace {
	if !p.open {
		p.traces = append(p.traces, trace{start: p.pen})
		p.open = true
	}
	return &p.traces[len(p.traces)-1]
}

// segment reads the arguments of a command once.
func (p *dataReader) segment(command byte) bool {
	relative, upper := command >= 'a', command&^0x20
	var c1, c2, to geom.Point
	last := upper
	switch upper {
	case 'M':
		if !p.points(relative, &to) {
			return false
		}
		p.pen, p.start, p.open = to, to, false
		p.last = 'M'
		return true
	case 'L':
		if !p.points(relative, &to) {
			return false
		}
		p.trace().line(to)
	case 'H', 'V':
		v, ok := p.number()
		if !ok {
			return false
		}
		to = p.pen
		switch {
		case upper == 'H' && relative:
			to.X += v
		case upper == 'H':
			to.X = v
		case relative:
			to.Y += v
		default:
			to.Y = v
		}
		p.trace().line(to)
	case 'C', 'S':
		if upper == 'C' && !p.points(relative, &c1) || !p.points(relative, &c2, &to) {
			return false
		}
		if upper == 'S' {
			c1 = p.reflected('C')
		}
		p.trace().cubic(c1, c2, to)
		p.control, last = c2, 'C'
	case 'Q', 'T':
		if upper == 'Q' && !p.points(relative, &c1) || !p.points(relative, &to) {
			return false
		}
		if upper == 'T' {
			c1 = p.reflected('Q')
		}
		p.trace().quadratic(c1, to)
		p.control, last = c1, 'Q'
	case 'A':
		if !p.arc(relative, &to) {
			return false
		}
	default:
		p.at--
		return false
	}
	p.pen, p.last = to, last
	return true
}

// reflected is the first control point of a smooth curve.
func (p *dataReader) reflected(after byte) geom.Point {
	if p.last != after {
		return p.pen
	}
	return p.pen.Add(p.pen.Sub(p.control))
}

func (p *dataReader) arc(relative bool, to *geom.Point) bool {
	var n [3]float64
	for i := range n {
		var ok bool
		if n[i], ok = p.number(); !ok {
			return false
		}
	}
	large, ok := p.flag()
	if !ok {
		return false
	}
	sweep, ok := p.flag()
	if !ok || !p.points(relative, to) {
		return false
	}
	p.trace().arc(n[0], n[1], n[2], large, sweep, *to)
	return true
}
