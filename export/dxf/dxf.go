package dxf

import (
	"io"

	"foredge/export/internal/order"
	"foredge/export/internal/text"
	"foredge/layout"
	"foredge/layout/geom"
)

// A Version is a release of the format.
type Version uint8

const (
	AC1015 Version = iota // of the year 2000
	R12                   // AC1009, of 1992
)

// Tolerance is how far the arcs that stand for a curve may lie from it, in
// millimetres: half a micrometre, with the rounding still within one.
const Tolerance = 0.0005

// Encoder writes DXF. Its zero value writes AC1015 in millimetres.
type Encoder struct {
	Version Version
	// Inches writes coordinates in inches; the header says so.
	Inches bool
}

// Name is the name of the format.
func (Encoder) Name() string { return "dxf" }

// Extension is how the names of its files end.
func (Encoder) Extension() string { return ".dxf" }

// Purpose is what its files are for.
func (Encoder) Purpose() string { return "to cut from" }

// Picture says that its files are to look at, not to cut from.
func (Encoder) Picture() bool { return false }

// Encode writes the drawing. Lengths are written to 0.1 µm, in inches to a
// millionth. The error is w's, or names the shape that can't be drawn; then
// what was written is not a whole file.
func (e Encoder) Encode(w io.Writer, d *layout.Drawing) error {
	groups, err := order.Running(d)
	if err != nil {
		return err
	}
	f := &file{
		Writer:   text.NewWriter(w),
		version:  e.Version,
		unit:     millimetres,
		height:   d.Size.Y,
		next:     firstEntity,
		colors:   layerColors(d.Colors),
		extents:  extents(groups),
		entities: countEntities(groups),
	}
	if e.Inches {
		f.unit = inches
	}
	f.header()
	if f.version == R12 {
		f.tablesR12()
	} else {
		f.tables()
		f.blocks()
	}
	f.section("ENTITIES")
	for _, g := range groups {
		f.onLayer = "\n8\n" + layerName(g.Op) + "\n"
		for _, p := range g.Parts {
			for i := range p.Shapes {
				f.shape(&p.Shapes[i])
			}
		}
	}
	f.endSection()
	if f.version != R12 {
		f.objects()
	}
	f.tags("0", "EOF")
	return f.Close()
}

// A unit is what one unit of the drawing's coordinates is.
type unit struct {
	perMM       float64
	decimals    int
	insunits    string // $INSUNITS
	measurement string // $MEASUREMENT
	paper       string // the unit of a layout's paper
}

var (
	millimetres = unit{1, text.Millimetres, "4", "1", "1"}
	inches      = unit{1 / 25.4, text.Inches, "1", "0", "0"}
)

// A file is one encoding under way.
type file struct {
	*text.Writer
	version  Version
	unit     unit
	height   float64 // of the drawing in mm: Y runs up from there
	onLayer  string  // the groups that put an entity on the layer of its operation
	next     uint64  // handle of the next entity
	entities int
	colors   [4]int
	extents  geom.Box // in mm, Y down
}

// tags writes group codes and values in turn, each on its line.
func (f *file) tags(pairs ...string) {
	for _, s := range pairs {
		f.Text(s)
		f.Byte('\n')
	}
}

// length writes a length given in millimetres.
func (f *file) length(mm float64) {
	f.Number(mm*f.unit.perMM, f.unit.decimals)
}

// point writes a place of the drawing, each coordinate after what is to stand
// before it.
func (f *file) point(beforeX, beforeY string, p geom.Point) {
	f.Text(beforeX)
	f.length(p.X)
	f.Text(beforeY)
	f.length(f.height - p.Y)
}

// pointTags writes the two groups of a place.
func (f *file) pointTags(codeX, codeY string, p geom.Point) {
	f.point(codeX+"\n", "\n"+codeY+"\n", p)
	f.Byte('\n')
}

func (f *file) section(name string) { f.tags("0", "SECTION", "2", name) }
func (f *file) endSection()         { f.tags("0", "ENDSEC") }

// extents is the box of all that is drawn.
func extents(groups []order.Group) geom.Box {
	b := geom.EmptyBox()
	for _, g := range groups {
		for _, p := range g.Parts {
			for _, s := range p.Shapes {
				b = b.Union(s.Figure.Bounds())
			}
		}
	}
	return b
}

// countEntities tells how many handles the entities take.
func countEntities(groups []order.Group) int {
	n := 0
	for _, g := range groups {
		for _, p := range g.Parts {
			for _, s := range p.Shapes {
				if s.Raster != nil {
					for range s.Raster.Runs() {
						n++
					}
				} else {
					n += len(s.Contours())
				}
			}
		}
	}
	return n
}
