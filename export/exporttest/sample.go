package exporttest

import (
	"fmt"
	"math"

	"foredge/layout"
	"foredge/layout/geom"
)

// HarbourLog is a drawing of the size and make of a measured notebook's covers:
// copies pairs of a front with 24 holes, rounded corners and a title in
// outlines, and a back that mirrors it. A pair has 61 shapes.
func HarbourLog(copies int) *layout.Drawing {
	const w, h, gap = 148.2, 210.0667, 10
	d := &layout.Drawing{
		Title:  "harbour-log",
		Desc:   fmt.Sprintf("%d covers of 148.2 by 210.0667 mm, drawn as wanted", 2*copies),
		Size:   geom.Pt(float64(copies)*2*(w+gap)-gap, h),
		Colors: layout.DefaultPalette(),
	}
	for i := range copies {
		x := float64(i) * 2 * (w + gap)
		suffix := ""
		if i > 0 {
			suffix = fmt.Sprint("-", i+1)
		}
		d.Parts = append(d.Parts, cover("front"+suffix, x, w, h, true), cover("back"+suffix, x+w+gap, w, h, false))
	}
	return d
}

func cover(name string, x, w, h float64, front bool) layout.Part {
	p := layout.Part{Name: name, Bounds: geom.Box{Min: geom.Pt(x, 0), Max: geom.Pt(x+w, h)}}
	add := func(id string, op layout.Op, hole bool, f geom.Figure) {
		p.Shapes = append(p.Shapes, layout.Shape{ID: name + "." + id, Op: op, Hole: hole, Figure: f})
	}
	const r = 6
	if front {
		add("outline", layout.Cut, false, geom.NewPath(geom.Pt(x, 0)).
			Line(geom.Pt(x+w-r, 0)).Arc(geom.Pt(x+w, r), geom.Pt(x+w-r, r), true).
			Line(geom.Pt(x+w, h-r)).Arc(geom.Pt(x+w-r, h), geom.Pt(x+w-r, h-r), true).
			Line(geom.Pt(x, h)).Close())
		for i, letter := range word(geom.Pt(x+25, 60), 11) {
			add(fmt.Sprint("title.", i+1), layout.Engrave, false, letter)
		}
	} else {
		add("outline", layout.Cut, false, geom.NewPath(geom.Pt(x+w, 0)).
			Line(geom.Pt(x+w, h)).
			Line(geom.Pt(x+r, h)).Arc(geom.Pt(x, h-r), geom.Pt(x+r, h-r), true).
			Line(geom.Pt(x, r)).Arc(geom.Pt(x+r, 0), geom.Pt(x+r, r), true).Close())
	}
	for i := range 24 {
		center := geom.Pt(x+6.125, 7.63+8.468*float64(i))
		if !front {
			center.X = 2*x + w - center.X
		}
		add(fmt.Sprint("wire.", i+1), layout.Cut, true, geom.Rect{Min: center.Sub(geom.Pt(2.175, 2.16)), W: 4.35, H: 4.32})
	}
	return p
}

// word is a row of letters, half of them with a counter, of cubic curves.
func word(at geom.Point, letters int) []geom.Figure {
	var list []geom.Figure
	for i := range letters {
		c := at.Add(geom.Pt(9*float64(i), 0))
		letter := geom.Outline{bowl(c, 4, 7, true)}
		if i%2 == 0 {
			letter = append(letter, bowl(c, 2.2, 4.8, false))
		}
		list = append(list, letter)
	}
	return list
}

// bowl is an oval of four cubics whose handles make it rather square.
func bowl(c geom.Point, rx, ry float64, clockwise bool) geom.Path {
	const k = 0.62
	at := func(x, y float64) geom.Point { return c.Add(geom.Pt(x*rx, y*ry)) }
	p := geom.NewPath(at(1, 0)).
		Cubic(at(1, k), at(k, 1), at(0, 1)).
		Cubic(at(-k, 1), at(-1, k), at(-1, 0)).
		Cubic(at(-1, -k), at(-k, -1), at(0, -1)).
		Cubic(at(k, -1), at(1, -k), at(1, 0)).Close()
	if !clockwise {
		return p.Reverse()
	}
	return p
}

// Figures is a drawing with every form of figure and operation, small and
// large, and with names and texts that a file must escape.
func Figures() *layout.Drawing {
	d := &layout.Drawing{
		Title:  `every <figure> & "form"`,
		Desc:   "Zeichnung für Prüfungen: ½ mm, 日誌",
		Size:   geom.Pt(1200, 900),
		Colors: layout.DefaultPalette(),
	}
	plain := layout.Part{Name: "plate"}
	add := func(p *layout.Part, id string, op layout.Op, hole bool, f geom.Figure) {
		p.Shapes = append(p.Shapes, layout.Shape{ID: p.Name + "." + id, Op: op, Hole: hole, Figure: f})
	}
	line := func(x1, y1, x2, y2 float64) geom.Figure {
		return geom.NewPath(geom.Pt(x1, y1)).Line(geom.Pt(x2, y2)).Open()
	}
	// Out of running order on purpose: outline first, cut before engrave.
	add(&plain, "outline", layout.Cut, false, geom.Rect{Min: geom.Pt(0, 0), W: 1200, H: 900})
	add(&plain, "tiny", layout.Cut, true, geom.Circle{Center: geom.Pt(10.00004, 10), R: 0.05})
	add(&plain, "pin", layout.Cut, true, geom.Rect{Min: geom.Pt(12.34567, 9.87654), W: 0.1, H: 0.02})
	add(&plain, "large", layout.Cut, true, geom.Circle{Center: geom.Pt(600, 450), R: 400})
	add(&plain, "slot.1", layout.Cut, true, geom.Slot(geom.Pt(30, 20), 20, 4))
	add(&plain, "slot.2", layout.Cut, true, geom.Slot(geom.Pt(30, 40), 4, 20.333333))
	add(&plain, "guide", layout.Guide, false, line(0, 0, 1200, 900))
	add(&plain, "fold", layout.Score, false, line(50, 0, 50, 900))
	add(&plain, "half", layout.Score, false, arc(geom.Pt(80, 60), 20, -math.Pi/2, math.Pi))
	add(&plain, "long", layout.Score, false, arc(geom.Pt(130, 60), 20, 0.3, 5.5))
	add(&plain, "back", layout.Score, false, arc(geom.Pt(180, 60), 20, 0.3, -5.5))
	add(&plain, "flat", layout.Score, false, arc(geom.Pt(500, 5000), 4900, -math.Pi/2-0.02, 0.04))
	add(&plain, "wave", layout.Mark, false, geom.NewPath(geom.Pt(70, 100)).
		Cubic(geom.Pt(90, 60), geom.Pt(90, 140), geom.Pt(110, 100)).
		Line(geom.Pt(120, 100)).
		Arc(geom.Pt(130, 110), geom.Pt(120, 110), true).
		Arc(geom.Pt(140, 120), geom.Pt(140, 110), false).Open())
	add(&plain, "single", layout.Mark, false, geom.NewPath(geom.Pt(150, 100)).
		Cubic(geom.Pt(160, 80), geom.Pt(200, 80), geom.Pt(170, 130)).Open())
	add(&plain, "letters", layout.Engrave, false, geom.Outline{
		bowl(geom.Pt(230, 60), 20, 30, true), bowl(geom.Pt(230, 60), 12, 20, false), bowl(geom.Pt(230, 60), 5, 8, true),
	})
	add(&plain, "spot", layout.Engrave, false, geom.Circle{Center: geom.Pt(290, 60), R: 5})
	add(&plain, "blank", layout.Engrave, false, geom.Outline{})

	odd := layout.Part{Name: "übung-3.日誌 a_b:c"}
	add(&odd, "outline", layout.Cut, false, geom.NewPath(geom.Pt(300, 100)).
		Arc(geom.Pt(400, 100), geom.Pt(350, 100), true).
		Arc(geom.Pt(300, 100), geom.Pt(350, 100), true).Close())
	add(&odd, "keyhole", layout.Cut, true, keyhole(geom.Pt(350, 100), 10, 2))
	add(&odd, "letter", layout.Cut, true, geom.Outline{
		bowl(geom.Pt(330, 100), 6, 9, true), bowl(geom.Pt(330, 100), 3, 5, false),
	})
	// A part and a shape of another that share a name.
	same := layout.Part{Name: "case"}
	same.Shapes = []layout.Shape{{ID: "case.lid", Op: layout.Cut, Figure: geom.Rect{Min: geom.Pt(420, 80), W: 30, H: 40}}}
	lid := layout.Part{Name: "case.lid"}
	add(&lid, "outline", layout.Cut, false, geom.Rect{Min: geom.Pt(460, 80), W: 30, H: 40})
	d.Parts = []layout.Part{plain, odd, same, lid}
	return d
}

// arc is an open arc that starts at an angle and turns by sweep, clockwise if
// that is positive, both in radians.
func arc(c geom.Point, r, start, sweep float64) geom.Figure {
	at := func(angle float64) geom.Point {
		sin, cos := math.Sincos(angle)
		return c.Add(geom.Pt(r*cos, r*sin))
	}
	return geom.NewPath(at(start)).Arc(at(start+sweep), c, sweep > 0).Open()
}

// keyhole is a closed path with an arc of more than half a circle that turns
// anticlockwise.
func keyhole(c geom.Point, r, half float64) geom.Figure {
	y := math.Sqrt(r*r - half*half)
	return geom.NewPath(c.Add(geom.Pt(half, y))).
		Arc(c.Add(geom.Pt(-half, y)), c, false).
		Line(c.Add(geom.Pt(-half, 2*r))).
		Line(c.Add(geom.Pt(half, 2*r))).Close()
}
