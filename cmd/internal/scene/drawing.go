package scene

import (
	"cmp"
	"encoding/xml"
	"math"
	"slices"
	"strconv"
	"strings"

	"foredge/cmd/internal/driver"
	"foredge/lang/source"
	"foredge/layout"
	"foredge/layout/geom"
)

// view is one drawing as a page shows it.
func (b *builder) view(s driver.Sheet) View {
	d := s.Wanted
	v := View{ID: "outside", Title: "outside", Kind: Outside, Width: d.Size.X, Height: d.Size.Y,
		Dimensions: []Dim{}, Books: []Box{}, Operations: []string{}}
	if s.Suffix != "" {
		v.Kind, v.ID = Inside, strings.TrimPrefix(s.Suffix, "-")
		v.Title = "inside"
		if len(d.Parts) > 0 {
			v.Title += " of " + d.Parts[0].Name
		}
	}
	for i := range d.Parts {
		p := &d.Parts[i]
		v.Parts = append(v.Parts, Part{boxOf(p.Name, p.Bounds), p.Described(true) + " mm", b.place(p.At)})
	}
	m := &markup{builder: b, places: []Place{}, placed: map[source.Span]int{}}
	for op := layout.Guide + 1; op > 0; op-- { // engraving last, so that it lies on top
		if m.operation(d, op-1) {
			v.Operations = append(v.Operations, (op - 1).String())
		}
	}
	slices.Reverse(v.Operations)
	v.Drawing, v.Places = m.String(), m.places
	v.Points = points(d)
	b.placeDims(&v, d)
	return v
}

func boxOf(name string, b geom.Box) Box {
	return Box{name, tidy(b.Min.X), tidy(b.Min.Y), tidy(b.Width()), tidy(b.Height())}
}

// tidy rounds to 0.1 µm.
func tidy(mm float64) float64 { return math.Round(mm*1e4)/1e4 + 0 } // +0 turns -0 into 0

// markup is the inside of an SVG element that is being written.
type markup struct {
	strings.Builder
	*builder
	places []Place
	placed map[source.Span]int // where each stands in places
}

// operation writes all shapes of an operation, the larger first, so that none covers
// a smaller one from the pointer; it reports whether there are any.
func (m *markup) operation(d *layout.Drawing, op layout.Op) bool {
	any := false
	for i := range d.Parts {
		shapes := slices.DeleteFunc(slices.Clone(d.Parts[i].Shapes), func(s layout.Shape) bool { return s.Op != op })
		if len(shapes) == 0 {
			continue
		}
		slices.SortStableFunc(shapes, func(s, t layout.Shape) int { return cmp.Compare(extent(t.Figure), extent(s.Figure)) })
		if !any {
			m.WriteString(`<g data-operation="` + op.String() + `">`)
			any = true
		}
		m.WriteString(`<g data-part="` + strconv.Itoa(i) + `">`)
		for k := range shapes {
			m.shape(&shapes[k])
		}
		m.WriteString("</g>")
	}
	if any {
		m.WriteString("</g>")
	}
	return any
}

// extent is the area of the box round a figure, in mm².
func extent(f geom.Figure) float64 {
	b := f.Bounds()
	return b.Width() * b.Height()
}

func (m *markup) shape(s *layout.Shape) {
	switch f := s.Figure.(type) {
	case geom.Rect:
		name := "rect"
		if s.Raster != nil {
			name = "image"
		}
		m.begin(name, s)
		m.numbers("x", f.Min.X, "y", f.Min.Y, "width", f.W, "height", f.H)
		if s.Raster != nil {
			if url, err := s.Raster.DataURL(); err == nil {
				m.WriteString(` preserveAspectRatio="none" href="` + url + `"`)
			}
		}
	case geom.Circle:
		m.begin("circle", s)
		m.numbers("cx", f.Center.X, "cy", f.Center.Y, "r", f.R)
	default:
		m.begin("path", s)
		m.WriteString(` d="`)
		for _, p := range geom.Paths(s.Figure) {
			m.WriteString(p.String())
		}
		m.WriteString(`"`)
	}
	m.WriteString("/>")
}

// begin opens the element of a shape, which says its name and its place.
func (m *markup) begin(element string, s *layout.Shape) {
	m.WriteString("<" + element + ` data-name="`)
	xml.EscapeText(m, []byte(s.ID))
	m.WriteString(`"`)
	if s.Hole {
		m.WriteString(` class="hole"`)
	}
	if s.At.IsZero() {
		return
	}
	i, ok := m.placed[s.At]
	if !ok {
		i = len(m.placed)
		m.placed[s.At] = i
		m.places = append(m.places, *m.place(s.At))
	}
	m.WriteString(` data-at="` + strconv.Itoa(i) + `"`)
}

// numbers writes attributes in mm: a name, its number, and so on.
func (m *markup) numbers(pairs ...any) {
	for i := 0; i < len(pairs); i += 2 {
		m.WriteString(" " + pairs[i].(string) + `="` + strconv.FormatFloat(tidy(pairs[i+1].(float64)), 'f', -1, 64) + `"`)
	}
}

// mostPoints is to how many points a measurement can snap in one view.
const mostPoints = 20000

// points are the ends of all straight lines and arcs, and the middles and quarters
// of circles; of what is engraved only the corners of its box. Each stands there once.
func points(d *layout.Drawing) []float64 {
	all := []float64{}
	seen := map[geom.Point]bool{}
	add := func(ps ...geom.Point) {
		for _, p := range ps {
			p = geom.Pt(tidy(p.X), tidy(p.Y))
			if !seen[p] && len(all) < 2*mostPoints {
				seen[p] = true
				all = append(all, p.X, p.Y)
			}
		}
	}
	corners := func(b geom.Box) { add(b.Min, geom.Pt(b.Max.X, b.Min.Y), b.Max, geom.Pt(b.Min.X, b.Max.Y)) }
	for i := range d.Parts {
		for _, s := range d.Parts[i].Shapes {
			c, round := s.Figure.(geom.Circle)
			switch {
			case round:
				add(c.Center, c.Center.Add(geom.Pt(c.R, 0)), c.Center.Add(geom.Pt(0, c.R)), c.Center.Sub(geom.Pt(c.R, 0)), c.Center.Sub(geom.Pt(0, c.R)))
			case s.Op == layout.Engrave:
				corners(s.Figure.Bounds())
			default:
				for _, p := range geom.Paths(s.Figure) {
					add(p.Start)
					for _, segment := range p.Segments {
						add(segment.End)
					}
				}
			}
		}
	}
	return all
}
