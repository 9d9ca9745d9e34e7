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
					at, dot := s.Figure.Bounds(), s.Raster.Interval
					ctx.DrawImage(at.Min.X+margin, height-margin-at.Max.Y, s.Raster.Picture(), canvas.DPMM(1/dot))
					continue
				}
				ctx.DrawPath(0, 0, outline(s.Figure, height-margin))
			}
		}
	}
	img := rasterizer.Draw(c, canvas.DPMM(dots), canvas.LinearColorSpace{})
	return png.Encode(w, img)
}

// outline is a figure as the library's path, whose Y runs up from the foot of
// the picture.
func outline(f geom.Figure, top float64) *canvas.Path {
	out := &canvas.Path{}
	at := func(p geom.Point) (x, y float64) { return p.X + margin, top - p.Y }
	for _, path := range geom.Paths(f) {
		x, y := at(path.Start)
		out.MoveTo(x, y)
		for piece := range path.SplitArcs(math.Pi / 2).Pieces() {
			x, y := at(piece.End)
			switch piece.Kind {
			case geom.ArcTo:
				r := piece.From.Distance(piece.Center)
				// Clockwise as seen stays clockwise: both axes are seen the same way.
				out.ArcTo(r, r, 0, false, !piece.Clockwise, x, y)
			case geom.CubicTo:
				ax, ay := at(piece.C1)
				bx, by := at(piece.C2)
				out.CubeTo(ax, ay, bx, by, x, y)
			default:
				out.LineTo(x, y)
			}
		}
		if path.Closed {
			out.Close()
		}
	}
	return out
}
