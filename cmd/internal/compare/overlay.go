package compare

import (
	"bytes"
	"fmt"
	"html"
	"math"
	"strings"

	"foredge/eval/word"
	"foredge/export/png"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/lettering"
)

// What of an overlay is drawn how: in colours that colour-blind readers can tell apart
// (Okabe and Ito, "Color Universal Design", 2008), and the old dashed.
const (
	oldColor, newColor, sameColor = "#D55E00", "#0072B2", "#767676"

	dash, gap   = 1.2, 1.0 // mm
	overlayRoom = 8.0      // between parts and round them, in mm
	overlayLine = 0.35     // mm
	flat        = 0.01     // how far chords lie from the curves that they stand for, in mm
)

// A stroke is a line of an overlay.
type stroke struct {
	of     Change // Gone for the old, New for the new, "" for what is the same
	points []geom.Point
	closed bool
}

// An overlay is two drawings on each other: each part of the new one beside the other,
// on it the old one at the same left upper corner, below them the parts that are gone.
type overlay struct {
	strokes []stroke
	size    geom.Point
}

func (d *Difference) overlay() *overlay {
	o := &overlay{}
	differs := map[key]bool{}
	for _, s := range d.Shapes {
		differs[key{s.Part, s.Op, s.Name}] = true
	}
	was := map[string]part{}
	for _, p := range d.Old.parts {
		was[p.name] = p
	}
	at := geom.Pt(overlayRoom, overlayRoom)
	lay := func(old, now *part) {
		size := geom.Point{}
		for _, p := range []*part{old, now} {
			if p == nil {
				continue
			}
			size = geom.Pt(math.Max(size.X, p.size.Width()), math.Max(size.Y, p.size.Height()))
			for _, s := range p.shapes {
				k := key{p.name, s.Op, s.ID}
				of := New
				switch {
				case !differs[k] && p == old && now != nil, s.Op == layout.Guide: // once is enough
					continue
				case !differs[k]:
					of = ""
				case p == old:
					of = Gone
				}
				o.add(s.Figure.Move(at), of)
			}
		}
		o.size = geom.Pt(math.Max(o.size.X, at.X+size.X+overlayRoom), math.Max(o.size.Y, at.Y+size.Y+overlayRoom))
		at.X += size.X + overlayRoom
	}
	for i := range d.New.parts {
		now := &d.New.parts[i]
		old, there := was[now.name]
		delete(was, now.name)
		if there {
			lay(&old, now)
		} else {
			lay(nil, now)
		}
	}
	at = geom.Pt(overlayRoom, o.size.Y)
	for i := range d.Old.parts {
		if old := &d.Old.parts[i]; len(was) > 0 {
			if _, gone := was[old.name]; gone {
				lay(old, nil)
			}
		}
	}
	o.legend()
	return o
}

// legend says below all what is drawn how, in letters of lines, so that it looks the same
// wherever it is shown.
func (o *overlay) legend() {
	const room, high, sample, words = 42.0, 4.0, 9.0, 28.0 // of one of them, in mm
	font, err := lettering.Load(word.Stroke.String())
	if err != nil {
		return // can't be: it is built in
	}
	y := o.size.Y + high/2
	for i, l := range []struct {
		of   Change
		text string
	}{{Gone, "old, dashed"}, {New, "new"}, {"", "the same"}} {
		x := overlayRoom + room*float64(i)
		o.strokes = append(o.strokes, stroke{l.of, []geom.Point{geom.Pt(x, y), geom.Pt(x+sample, y)}, false})
		text, err := lettering.Fit(font, l.text, words, high, lettering.Style{Cap: 2.6})
		if err != nil {
			continue
		}
		box := text.Outline.Bounds()
		for _, p := range geom.Paths(text.Outline.Move(geom.Pt(x+sample+2-box.Min.X, y-high/2))) {
			o.strokes = append(o.strokes, stroke{"", p.Flatten(flat), p.Closed})
		}
	}
	o.size = geom.Pt(math.Max(o.size.X, overlayRoom+3*room), o.size.Y+high+overlayRoom)
}

func (o *overlay) add(f geom.Figure, of Change) {
	for _, p := range geom.Paths(f) {
		o.strokes = append(o.strokes, stroke{of, p.Flatten(flat), p.Closed})
	}
}

// color is that of a stroke.
func (s stroke) color() string {
	switch s.of {
	case Gone:
		return oldColor
	case New:
		return newColor
	}
	return sameColor
}

// inOrder are the strokes as they are drawn: what is the same below, the old on top, so
// that its dashes let the new be seen.
func (o *overlay) inOrder() (all []stroke) {
	for _, of := range []Change{"", New, Gone} {
		for _, s := range o.strokes {
			if s.of == of {
				all = append(all, s)
			}
		}
	}
	return all
}

// SVG is the overlay as a picture to look at. No laser takes it for a cut file: it has no
// operations, and it says what it is.
func (d *Difference) SVG() []byte {
	o := d.overlay()
	var b bytes.Buffer
	fmt.Fprintf(&b, "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n<svg xmlns=\"http://www.w3.org/2000/svg\" version=\"1.1\" width=\"%smm\" height=\"%smm\" viewBox=\"0 0 %s %s\">\n",
		mm(o.size.X), mm(o.size.Y), mm(o.size.X), mm(o.size.Y))
	fmt.Fprintf(&b, "<title>%s -> %s, to look at, not to cut</title>\n<rect width=\"100%%\" height=\"100%%\" fill=\"#FFFFFF\"/>\n<g fill=\"none\" stroke-width=\"%s\">\n",
		html.EscapeString(d.Old.Name), html.EscapeString(d.New.Name), mm(overlayLine))
	for _, s := range o.inOrder() {
		dashes := ""
		if s.of == Gone {
			dashes = fmt.Sprintf(" stroke-dasharray=\"%s %s\"", mm(dash), mm(gap))
		}
		fmt.Fprintf(&b, "<path stroke=\"%s\"%s d=\"%s\"/>\n", s.color(), dashes, s.data())
	}
	b.WriteString("</g>\n</svg>\n")
	return b.Bytes()
}

// data is a stroke as SVG path data.
func (s stroke) data() string {
	var b strings.Builder
	for i, p := range s.points {
		letter := "L"
		if i == 0 {
			letter = "M"
		}
		b.WriteString(letter + mm(p.X) + " " + mm(p.Y))
	}
	if s.closed {
		b.WriteString("Z")
	}
	return b.String()
}

// mm writes a length to a micrometre.
func mm(x float64) string {
	text := fmt.Sprintf("%.3f", x)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// PNG is the overlay as dots. The error names the line that can't be drawn.
func (d *Difference) PNG() ([]byte, error) {
	o := d.overlay()
	p := layout.Part{Name: "overlay"}
	ops := map[Change]layout.Op{"": layout.Mark, New: layout.Score, Gone: layout.Cut} // drawn one after the other
	for _, s := range o.strokes {
		lines := [][]geom.Point{s.points}
		if s.of == Gone {
			lines = s.dashes()
		}
		for _, line := range lines {
			b := geom.NewPath(line[0])
			for _, to := range line[1:] {
				b.Line(to)
			}
			p.Shapes = append(p.Shapes, layout.Shape{ID: fmt.Sprint(len(p.Shapes)), Op: ops[s.of], Figure: b.Open()})
		}
	}
	p.Bounds = geom.Box{Max: o.size}
	drawing := &layout.Drawing{Title: "overlay", Size: o.size, Parts: []layout.Part{p},
		Colors: layout.Palette{layout.Engrave: sameColor, layout.Mark: sameColor, layout.Score: newColor, layout.Cut: oldColor, layout.Guide: sameColor}, ScaleX: 1, ScaleY: 1}
	var b bytes.Buffer
	err := png.Encoder{}.Encode(&b, drawing)
	return b.Bytes(), err
}

// dashes cuts a stroke into dashes.
func (s stroke) dashes() (all [][]geom.Point) {
	drawn, left := true, dash
	line := []geom.Point{s.points[0]}
	for i := 1; i < len(s.points); i++ {
		from, to := s.points[i-1], s.points[i]
		for from.Distance(to) > left {
			from = from.Lerp(to, left/from.Distance(to))
			if drawn {
				all = append(all, append(line, from))
			}
			if drawn, left = !drawn, gap; drawn {
				left = dash
			}
			line = []geom.Point{from}
		}
		left -= from.Distance(to)
		line = append(line, to)
	}
	if drawn && len(line) > 1 {
		all = append(all, line)
	}
	return all
}
