package exporttest

import (
	"bytes"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"strconv"
	"strings"
	"testing"

	"foredge/layout/geom"
)

// ReadSVG reads a cut file and fails the test where it finds what a cut file
// doesn't hold: other elements, a group in the wrong place, a unit other than
// 1 mm.
func ReadSVG(t testing.TB, data []byte) *File {
	t.Helper()
	f := &File{Path: "the SVG file"}
	d := xml.NewDecoder(bytes.NewReader(data))
	var stack []xml.StartElement
	ids := map[string]bool{}
	for {
		tok, err := d.Token()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			t.Fatalf("reading SVG: %v", err)
		}
		switch tok := tok.(type) {
		case xml.StartElement:
			stack = append(stack, tok.Copy())
			if tok.Name.Space != "http://www.w3.org/2000/svg" {
				t.Fatalf("element %s is of the namespace %q", tok.Name.Local, tok.Name.Space)
			}
			if id := attr(tok, "id"); id != "" {
				if ids[id] {
					t.Fatalf("the id %q is there twice", id)
				}
				ids[id] = true
			}
			f.element(t, stack)
		case xml.EndElement:
			stack = stack[:len(stack)-1]
		case xml.CharData:
			if n := len(stack); n > 0 {
				switch stack[n-1].Name.Local {
				case "title":
					f.Title += string(tok)
				case "desc":
					f.Desc += string(tok)
				}
			}
		}
	}
	if f.Width == 0 {
		t.Fatal("reading SVG: there is no svg element")
	}
	return f
}

// element takes in the element on top of the stack.
func (f *File) element(t testing.TB, stack []xml.StartElement) {
	t.Helper()
	e := stack[len(stack)-1]
	switch name, depth := e.Name.Local, len(stack); {
	case name == "svg" && depth == 1:
		f.Width, f.Height = millimetres(t, attr(e, "width")), millimetres(t, attr(e, "height"))
		if box := numbers(t, attr(e, "viewBox")); len(box) != 4 || box[0] != 0 || box[1] != 0 ||
			box[2] != f.Width || box[3] != f.Height {
			t.Fatalf("view box %v doesn't make one user unit 1 mm of %v by %v mm", box, f.Width, f.Height)
		}
	case (name == "title" || name == "desc") && depth == 2:
	case name == "g" && depth == 2:
		filled := attr(e, "fill") != "none"
		if engraved := attr(e, "id") == "engrave"; filled != engraved || engraved == (attr(e, "stroke") != "none") {
			t.Fatalf("group %q is filled with %q and stroked with %q", attr(e, "id"), attr(e, "fill"), attr(e, "stroke"))
		}
	case name == "g" && depth == 3:
	case depth == 4 && (name == "rect" || name == "circle" || name == "path" || name == "image"):
		f.Shapes = append(f.Shapes, Measured{
			ID: attr(e, "id"), Op: attr(stack[1], "id"), Part: attr(stack[2], "id"),
			Kind: name, Contours: contours(t, e),
		})
	default:
		t.Fatalf("element %s at depth %d doesn't belong in a cut file", name, depth)
	}
}

func contours(t testing.TB, e xml.StartElement) []Contour {
	t.Helper()
	get := func(name string) float64 { return number(t, attr(e, name)) }
	switch e.Name.Local {
	case "circle":
		return []Contour{{Circle: &geom.Circle{Center: geom.Pt(get("cx"), get("cy")), R: get("r")}, Closed: true}}
	case "rect", "image":
		// SVG 1.1, 9.2: from (x, y) to the right, down, to the left and back.
		x, y, w, h := get("x"), get("y"), get("width"), get("height")
		at := []geom.Point{{X: x, Y: y}, {X: x + w, Y: y}, {X: x + w, Y: y + h}, {X: x, Y: y + h}, {X: x, Y: y}}
		c := Contour{Closed: true}
		for i := range 4 {
			c.Segments = append(c.Segments, Segment{From: at[i], End: at[i+1]})
		}
		return []Contour{c}
	}
	return readPath(t, attr(e, "d"))
}

// readPath reads path data of absolute M, L, A, C and Z (SVG 1.1, 8.3).
func readPath(t testing.TB, data string) []Contour {
	t.Helper()
	var list []Contour
	var at geom.Point
	for data != "" {
		command := data[0]
		end := strings.IndexAny(data[1:], "MLACZ") + 1
		if end == 0 {
			end = len(data)
		}
		n := numbers(t, data[1:end])
		data = data[end:]
		if want := map[byte]int{'M': 2, 'L': 2, 'A': 7, 'C': 6, 'Z': 0}; len(n) != want[command] {
			t.Fatalf("path command %q has %d numbers", command, len(n))
		}
		if command == 'M' {
			at = geom.Pt(n[0], n[1])
			list = append(list, Contour{Segments: nil})
			list[len(list)-1].Segments = []Segment{{From: at, End: at}} // the pen is down here
			continue
		}
		if len(list) == 0 {
			t.Fatalf("path data starts with %q", command)
		}
		c := &list[len(list)-1]
		if c.Closed {
			t.Fatalf("path command %q after Z", command)
		}
		s := Segment{From: at}
		switch command {
		case 'L':
			s.End = geom.Pt(n[0], n[1])
		case 'C':
			s.Kind, s.C1, s.C2, s.End = geom.CubicTo, geom.Pt(n[0], n[1]), geom.Pt(n[2], n[3]), geom.Pt(n[4], n[5])
		case 'A':
			if n[0] != n[1] || n[2] != 0 {
				t.Fatalf("an arc has radii %v and %v and is turned by %v", n[0], n[1], n[2])
			}
			s = svgArc(at, geom.Pt(n[5], n[6]), n[0], n[3] != 0, n[4] != 0)
		case 'Z':
			c.Closed = true
			s.End = c.Segments[0].From
			if s.End == at {
				continue
			}
		}
		c.Segments = append(c.Segments, s)
		at = s.End
	}
	for i := range list {
		list[i].Segments = list[i].Segments[1:]
	}
	return list
}

// svgArc finds an arc's centre as SVG 1.1, F.6.5 and F.6.6 say, for equal radii.
func svgArc(from, end geom.Point, r float64, large, sweep bool) Segment {
	half := from.Sub(end).Mul(0.5)
	d := half.Norm()
	r = math.Max(r, d)
	k := math.Sqrt(math.Max(0, r*r-d*d)) / d
	if large == sweep {
		k = -k
	}
	turned := geom.Pt(k*half.Y, -k*half.X)
	center := turned.Add(from.Add(end).Mul(0.5))
	a, b := from.Sub(center), end.Sub(center)
	angle := math.Atan2(a.X*b.Y-a.Y*b.X, a.X*b.X+a.Y*b.Y)
	if sweep && angle < 0 {
		angle += 2 * math.Pi
	}
	if !sweep && angle > 0 {
		angle -= 2 * math.Pi
	}
	return Segment{Kind: geom.ArcTo, From: from, End: end, Center: center, R: r, Sweep: angle}
}

func attr(e xml.StartElement, name string) string {
	for _, a := range e.Attr {
		if a.Name.Local == name {
			return a.Value
		}
	}
	return ""
}

func millimetres(t testing.TB, s string) float64 {
	t.Helper()
	if !strings.HasSuffix(s, "mm") {
		t.Fatalf("%q is not in mm", s)
	}
	return number(t, strings.TrimSuffix(s, "mm"))
}

func number(t testing.TB, s string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(s, 64)
	if err != nil || strings.ContainsAny(s, "eEnN") || s == "-0" {
		t.Fatalf("%q is not a plain number", s)
	}
	return v
}

func numbers(t testing.TB, s string) []float64 {
	t.Helper()
	var list []float64
	for _, field := range strings.Fields(s) {
		list = append(list, number(t, field))
	}
	return list
}
