package layout

import (
	"fmt"
	"strings"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout/geom"
	"foredge/layout/lettering"
	"foredge/layout/opening"
	"foredge/layout/raster"
	"foredge/layout/tour"
)

// An Op is what the laser does along or inside a shape. Operations run in the
// order of the constants.
type Op uint8

const (
	Engrave Op = iota // filled
	Mark              // a line on the surface
	Score             // part depth
	Cut               // through; openings before outlines
	Guide             // never leaves the shop: in the drawing, not in the cut file
)

// Ops lists the operations that a cut file holds, in running order.
func Ops() []Op { return []Op{Engrave, Mark, Score, Cut} }

func (o Op) String() string {
	return [...]string{"engrave", "mark", "score", "cut", "guide"}[o]
}

// opOf is the operation that a design asks for.
func opOf(o word.Operation) Op {
	return [...]Op{word.Engrave: Engrave, word.Mark: Mark, word.Score: Score, word.Cut: Cut}[o]
}

// A Palette gives each operation its colour in a drawing, as #RRGGBB.
type Palette [5]string

// DefaultPalette is made of colours that colour-blind readers can tell apart
// (Okabe and Ito, "Color Universal Design", 2008).
func DefaultPalette() Palette {
	return Palette{Engrave: "#000000", Mark: "#56B4E9", Score: "#E69F00", Cut: "#CC79A7", Guide: "#999999"}
}

// For is a palette with the colours that a laser states in place of its own.
func (p Palette) For(l *design.Laser) Palette {
	for op, c := range map[Op]maybe.Of[string]{Engrave: l.EngraveColour, Mark: l.MarkColour, Score: l.ScoreColour, Cut: l.CutColour} {
		p[op] = strings.ToUpper(c.Or(p[op]))
	}
	return p
}

// A Shape is one element of a cut file.
type Shape struct {
	// ID names it below its operation: front.wire.7, front.outline. Unique in a
	// drawing among the shapes of one operation.
	ID string
	Op Op
	// Hole says that a cut frees what is inside it, so kerf shrinks it.
	Hole   bool
	Figure geom.Figure
	// Raster, if not nil, is a picture that fills the Figure, a [geom.Rect], with
	// dots: only where it is dark is it engraved.
	Raster *raster.Image
	At     source.Span
	// notch, if not nil, makes the shape part of its panel's outline. No shape of
	// a finished drawing has one.
	notch *opening.Notch
	// Run says how the line of a cut is run.
	Run Run
	// recess is what the shape is engraved for, nil for all else.
	recess *design.Recess
	// parting says that it is a line which parts what one opening frees; its ID is that of the
	// opening with [innerLine] and a number behind it.
	parting bool
}

// innerLine stands in the IDs of lines that part an opening.
const innerLine = ".inner."

// A Run says how the line of a cut is run.
type Run uint8

const (
	Alone    Run = iota // by itself
	Together            // not: a line that the sheet has for it and its neighbours stands for it
	Parting             // as such a line, after all that lies in what it parts
	ByHand              // not: a knife cuts it
)

// Runs says whether the laser runs a shape.
func (s *Shape) Runs() bool { return s.Run != Together && s.Run != ByHand }

// A Part is one piece, or what is drawn together: a panel, a covering.
type Part struct {
	Name   string // front, case.covering, front.title.inlay
	Shapes []Shape
	Bounds geom.Box // of the part's own outline, as wanted, before kerf
	// Recesses are the part's recesses, which are to be engraved to a depth: with what
	// power, and how often, the maker knows.
	Recesses []design.Recess
	// Kerf is the full width of cut that the figures allow for, 0 while they
	// are drawn as wanted; Want is what the part asks for, if anything says it.
	Kerf float64
	Want maybe.Of[float64]
	// Moves is how far the machine moves in x and y for 1 mm of the figures; absent where
	// these are as large as what it cuts.
	Moves maybe.Of[geom.Point]
	// Usual is the kerf that is usual for its material, for advice.
	Usual maybe.Of[float64]
	// Grain is along which size of the part the grain of its material runs.
	Grain word.Grain
	Stock string        // the name of what it is cut from; "" where that is not stated
	Of    *design.Stock // the same, nil where it is not stated
	// Thick is how thick what has no stock is, where that is known, in mm.
	Thick maybe.Of[float64]
	// Copies is how many of it are to be cut, where that is stated; a design draws it
	// once, and on sheets it lies as often.
	Copies int
	// Oversize says that it may be larger than bed and sheet: the maker knows.
	Oversize bool
	// Knife says that a knife cuts it out, by its Bounds. Common is no piece but what is run
	// for several.
	Knife, Common bool
	At            source.Span
}

// A Text is how a text came out in its region.
type Text struct {
	Panel, Region, Text string
	Cap                 float64 // height of its capitals
	Lines               int
	Wrapped             bool // in more lines than it came with
	// Changes are its words that are in another font, as its own lacks a letter of them.
	Changes []lettering.Change
	At      source.Span
}

// OtherFonts says which words are in another font, "" for none.
func (t Text) OtherFonts() string {
	var all []string
	for _, c := range t.Changes {
		all = append(all, fmt.Sprintf("“%s” in %q", c.Text, c.To))
	}
	return strings.Join(all, ", ")
}

// A Drawing is the parts of a design laid out side by side, in millimetres,
// X to the right and Y down from its left upper corner.
type Drawing struct {
	Title string // what it is: the design's name
	Desc  string // a sentence about it: parts, sizes, kerf
	Size  geom.Point
	Unit  unit.Unit // in which its design is written, for what is told
	Parts []Part
	// Texts are how its texts came out, for who looks before cutting.
	Texts []Text
	// Colors are the drawing colours.
	Colors Palette
	// LineWidth is how wide lines are drawn, in formats that give them a width;
	// nothing is cut by it.
	LineWidth maybe.Of[float64]
	Pace      design.Pace // how its laser runs
	// Bridges are to hold its small parts, where that is asked for.
	Bridges maybe.Of[tour.Bridges]
	// Sequence is the order in which it is run, nil where none has been looked for.
	Sequence *Sequence
	// ScaleX and ScaleY are how far the machine moves for 1 mm; the figures of a
	// drawing for the laser are divided by them, and then they are 1 again.
	ScaleX, ScaleY float64

	mostLines int // in the texts and drawings that are cut; 0 for any number, as on sheets
}

// lineWidth is how wide lines are drawn, in mm, where the laser states nothing: wide enough
// to be seen when the file is opened.
const lineWidth = 0.1

// WideLines is how wide its lines are drawn, in mm.
func (d *Drawing) WideLines() float64 { return d.LineWidth.Or(lineWidth) }

// Described says in words what the part is, for the file that it stands in: its size in
// mm, how often it is to be cut and how its grain runs, and of which stock if ofStock.
func (p *Part) Described(ofStock bool) string {
	var more []string
	if p.Copies > 1 {
		more = append(more, fmt.Sprintf("%d times", p.Copies))
	}
	if p.Stock != "" && ofStock {
		more = append(more, "of "+p.Stock)
	}
	if p.Grain != 0 {
		more = append(more, "grain along its "+p.Grain.String())
	}
	said := fmt.Sprintf("%s %s by %s", p.Name, unit.FormatNumber(p.Bounds.Width(), 2), unit.FormatNumber(p.Bounds.Height(), 2))
	if len(more) > 0 {
		said += " (" + strings.Join(more, ", ") + ")"
	}
	return said
}

// cutFrom tells what parts are cut from: their stock, or of those without how thick it is;
// "" where neither is known.
func (p *Part) cutFrom() string {
	if thick, known := p.Thick.Get(); known && p.Stock == "" {
		return unit.FormatNumber(thick, 3) + " mm stock"
	}
	return p.Stock
}

// OneStock says whether all parts are cut from one stock, as far as is stated.
func (d *Drawing) OneStock() bool {
	for _, p := range d.Parts {
		if p.cutFrom() != d.Parts[0].cutFrom() {
			return false
		}
	}
	return true
}
