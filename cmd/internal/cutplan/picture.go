package cutplan

import (
	"fmt"
	"strings"

	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
)

// Of so many parts at the most the pictures show what is engraved, marked and scored, and
// what is cut; of more there are none: for a page that a telephone can open.
const (
	mostInDetail = 300
	mostPictured = 2000
)

// A picture is a side of a sheet as SVG, in full and with what is cut alone. One that won't
// be shown any more is let go: plans are as large as there are orders.
type picture struct{ detail, plain string }

// A depth is how much pictures show.
type depth int

const (
	inDetail depth = iota
	plainly
	notAtAll
)

// depth is how much pictures show of the parts so far.
func (p *Plan) depth() depth {
	switch {
	case p.Parts > mostPictured:
		return notAtAll
	case p.Parts > mostInDetail:
		return plainly
	}
	return inDetail
}

// draw draws a sheet that was added, and lets go of what isn't shown any more.
func (p *Plan) draw(s *Sheet, laid *layout.Sheet) {
	if now := p.depth(); now != p.drawn {
		p.drawn = now
		for i := range p.Sheets {
			for _, x := range []*picture{&p.Sheets[i].outer, &p.Sheets[i].inside} {
				if x.detail = ""; now == notAtAll {
					x.plain = ""
				}
			}
		}
	}
	if p.drawn == notAtAll {
		return
	}
	places := map[string]int{}
	for _, r := range s.Parts {
		places[r.Name] = r.Place
	}
	one := func(d *layout.Drawing, under, over string) (x picture) {
		if d == nil {
			return x
		}
		if x.plain = under + drawn(d, places, true, d == laid.Inside) + over; p.drawn == inDetail {
			x.detail = under + drawn(d, places, false, d == laid.Inside) + over
		}
		return x
	}
	s.outer, s.inside = one(laid.Outer, s.gone(), s.cutNumbers()), one(laid.Inside, s.turnedOver().gone(), "")
}

// gone draws the corner that is gone of a sheet.
func (s *Sheet) gone() string {
	var w writer
	if s.Gone != (geom.Box{}) {
		w.put("<rect class=\"gone\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n", mm(s.Gone.Min.X), mm(s.Gone.Min.Y), mm(s.Gone.Width()), mm(s.Gone.Height()))
	}
	return w.String()
}

// turnedOver is a sheet as it lies with its inner side up, where no knife goes.
func (s *Sheet) turnedOver() *Sheet {
	t := *s
	t.Gone, t.Knife = layout.TurnedOver(s.Gone, s.Size.X), nil
	t.Hangs, t.HangsLeft = s.Hangs.TurnedOver(), false
	return &t
}

// cutNumbers writes beside each cut of a knife which it is.
func (s *Sheet) cutNumbers() string {
	var w writer
	for i, c := range s.Knife {
		at := c.From.Lerp(c.To, 0.5)
		w.put("<text class=\"number-on cut-on\" transform=\"translate(%s %s) scale(%s)\"><title>cut %d of the knife</title>%d</text>\n", mm(at.X), mm(at.Y), mm(largestName), i+1, i+1)
	}
	return w.String()
}

// html shows a picture, if there is one, with what it is in words.
func (x *picture) html(w *writer, size geom.Point, alt, caption string) {
	inner := x.detail
	if inner == "" {
		inner = x.plain
	}
	w.put("<figure>\n")
	if inner != "" {
		w.put("<svg role=\"img\" aria-label=\"%s\" viewBox=\"%s %s %s %s\">\n", alt, mm(-1), mm(-1), mm(size.X+2), mm(size.Y+2))
		w.put("<rect class=\"board\" x=\"0\" y=\"0\" width=\"%s\" height=\"%s\"/>\n", mm(size.X), mm(size.Y))
		w.WriteString(inner)
		w.put("</svg>\n")
	}
	w.put("<figcaption>%s</figcaption>\n</figure>\n", caption)
}

// drawn are the parts of a sheet with the numbers of their places.
func drawn(d *layout.Drawing, places map[string]int, plain, inside bool) string {
	var w writer
	for i := range d.Parts {
		drawPart(&w, &d.Parts[i], plain && !d.Parts[i].Common, inside)
	}
	for i := range d.Parts {
		part := &d.Parts[i]
		if part.Common {
			continue
		}
		box := part.Footprint()
		number := fmt.Sprint(places[part.Name])
		high := min(0.5*box.Height(), 1.4*box.Width()/float64(len(number)), largestNumber)
		c := box.Center()
		w.put("<text class=\"number-on\" transform=\"translate(%s %s) scale(%s)\"><title>%s</title>%s</text>\n", mm(c.X), mm(c.Y), mm(high), part.Name, number)
		if small := min(0.2*box.Height(), 1.5*box.Width()/float64(len(part.Name)), largestName); small >= smallestName {
			w.put("<text class=\"number-on name-on\" aria-hidden=\"true\" transform=\"translate(%s %s) scale(%s)\">%s</text>\n", mm(c.X), mm(c.Y+0.5*high+small), mm(small), part.Name)
		}
	}
	return w.String()
}

// largestNumber is how high in mm the number of a part stands at the most.
const largestNumber = 28

// largestName and smallestName are how high in mm its name stands below the number; where it
// would be smaller only the list beside the picture has it.
const (
	largestName  = 9
	smallestName = 3
)

// drawPart draws what is done to a part, one path for each way; with edges also where those
// of its board and openings lie, of an inside, on which nothing is cut.
func drawPart(w *writer, p *layout.Part, plain, edges bool) {
	paths := map[string]*strings.Builder{}
	for _, s := range p.Shapes {
		class := "line"
		switch {
		case s.Op == layout.Cut:
			class = "cut"
		case s.Op == layout.Guide && edges:
			class = "edge"
		case plain, s.Op == layout.Guide:
			continue
		case s.Op == layout.Engrave:
			class = "fill"
		}
		b := paths[class]
		if b == nil {
			b = &strings.Builder{}
			paths[class] = b
		}
		for _, path := range geom.Paths(s.Figure) {
			b.WriteString(path.String())
		}
	}
	for _, class := range []string{"fill", "line", "edge", "cut"} {
		if b := paths[class]; b != nil {
			w.put("<path class=\"%s\" d=\"%s\"/>\n", class, b.String())
		}
	}
}

// mm writes a length in a picture.
func mm(x float64) string { return unit.FormatNumber(x, 2) }
