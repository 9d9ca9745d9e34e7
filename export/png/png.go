package png

import (
	"image/color"
	"image/png"
	"io"
	"math"

	"github.com/tdewolff/canvas"
	"github.com/tdewolff/canvas/renderers/rasterizer"

	"foredge/export/internal/order"
	"foredge/layout"
	"foredge/layout/geom"
)

const (
	// margin is the white round the drawing, and stroke how thick lines are, in mm.
	margin = 4
	stroke = 0.35
	// usual is how many pixels a millimetre takes, and most how many pixels a
	// picture may be wide or high.
	usual = 6
	most  = 6000
)

// An Encoder writes pictures.
type Encoder struct{}

// Name is the format's name.
func (Encoder) Name() string { return "png" }

// Extension is how the names of its files end.
func (Encoder) Extension() string { return ".png" }

// Purpose is what its files are for.
func (Encoder) Purpose() string { return "to look at" }

// Picture says that its files are to look at, not to cut from.
func (Encoder) Picture() bool { return true }

// Encode writes the picture of a drawing. The same drawing gives the same
// bytes. The error is w's or names the shape that can't be drawn.
func (Encoder) Encode(w io.Writer, d *layout.Drawing) error {
	groups, err := order.Running(d)
	if err != nil {
		return err
	}
	width, height := d.Size.X+2*margin, d.Size.Y+2*margin
	dots := math.Min(usual, most/math.Max(width, height))
	// However long and thin, a picture has a few pixels each way.
	width, height = math.Max(width, 4/dots), math.Max(height, 4/dots)
	c := canvas.New(width, height)
	ctx := canvas.NewContext(c)
	ctx.SetFillColor(canvas.White)
	ctx.DrawPath(0, 0, canvas.Rectangle(width, height))
	ctx.SetStrokeWidth(stroke)
	for _, g := range groups {
		ink := color.RGBA{g.Color.R, g.Color.G, g.Color.B, 255}
		ctx.SetFillColor(canvas.Transparent)
		ctx.SetStrokeColor(ink)
		if g.Op == layout.Engrave {
			ctx.SetFillColor(ink)
			ctx.SetStrokeColor(canvas.Transparent)
		}
		for _, p := range g.Parts {
			for _, s := range p.Shapes {
				if s.Raster != nil {
					at, im := s.Figure.Bounds(), s.Raster
					ctx.Push()
					ctx.ComposeView(canvas.Identity.Translate(at.Min.X+margin, height-margin-at.Max.Y).
						Scale(at.Width()/float64(im.W), at.Height()/float64(im.H)))
					ctx.DrawImage(0, 0, im.Picture(), canvas.DPMM(1))
					ctx.Pop()
					continue
				}
				ctx.DrawPath(0, 0, outline(s.Figure, height-margin))
			}
		}
	}
	img := rasterizer.Draw(c, canvas.DPMM(dots), canvas.LinearColorSpace{})
	return png.Encode(w, img)
}

// flat is how far in mm the lines that are drawn lie from arcs and curves: the
// library would lose parts of a line along many short arcs, such as an outline
// moved by the kerf has.
const flat = 3e-3

// outline is a figure as the library's path, whose Y runs up from the foot of
// the picture.
func outline(f geom.Figure, top float64) *canvas.Path {
	out := &canvas.Path{}
	for _, path := range geom.Paths(f) {
		points := path.Flatten(flat)
		if n := len(points); path.Closed && n > 1 && points[0].Distance(points[n-1]) < geom.Tol {
			points = points[:n-1]
		}
		for i, p := range points {
			if x, y := p.X+margin, top-p.Y; i == 0 {
				out.MoveTo(x, y)
			} else {
				out.LineTo(x, y)
			}
		}
		if path.Closed {
			out.Close()
		}
	}
	return out
}
