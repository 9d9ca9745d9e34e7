package design

import (
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/source"
)

// A Mark is what is put into a region: [*Lettering], [*Artwork] or [*Frame].
type Mark interface {
	// Place is the line that states the mark.
	Place() source.Span
	mark()
}

// A Lettering is text.
type Lettering struct {
	At     source.Span
	Op     word.Operation // Engrave, Mark or Cut; of an inlay how its recess is made
	Text   string
	TextAt source.Span
	Font   Font
	Spare  []Font            // in turn for what Font lacks
	Cap    maybe.Of[float64] // height of a capital letter
	Least  maybe.Of[float64] // the least that it may shrink to
	// Spacing is what is added between letters.
	Spacing float64
	Fit     word.Fit
	Align   word.Align
	Wrap    bool // its lines may be broken
	// Curve is what it runs along, nil for straight lines.
	Curve  *Curve
	Bridge maybe.Of[float64] // breadth of what holds the counters of letters cut through
	Inlay  *Inlay            // nil for what isn't laid in
}

// A Font is the font of a text.
type Font struct {
	Name string      // "" for the usual one
	Data []byte      // of a font file, nil for a built-in font
	At   source.Span // its name, or the whole line
}

// A Curve is what a text runs along.
type Curve struct {
	Form   word.Curve
	Radius maybe.Of[float64] // always there for an arc
	Inside bool              // the letters stand on the inside of it
}

// An Artwork is a drawing or a picture from a file.
type Artwork struct {
	At     source.Span
	File   string // its name
	FileAt source.Span
	Data   []byte
	// Op is the operation for all of it; 0 for artwork whose filled areas are
	// engraved and whose lines are marked. Of an inlay it is how the recess is made.
	Op     word.Operation
	Fit    word.Fit
	Align  word.Align
	Width  maybe.Of[float64] // on the board
	Turn   float64           // clockwise, in degrees
	Mirror word.Mirror
	Bridge maybe.Of[float64] // as for letters
	Dots   Dots
	Inlay  *Inlay // nil for what isn't laid in
	// Font is that of the drawing's texts, nil where none is stated.
	Font *Font
	// Parts have operations of their own, the rest that of all of it.
	Parts []ArtPart
}

// An ArtPart is what a drawing has in a colour or a layer.
type ArtPart struct {
	Name  string // of the colour, or of the layer
	Layer bool
	Op    word.Operation // 0 for what is left out
	At    source.Span
}

// Dots are how a picture is engraved.
type Dots struct {
	LineDistance maybe.Of[float64] // of its lines
	Shade        word.Shade
	Tone         Tone
}

// A Tone is how the lightness of a picture is changed.
type Tone struct {
	Brightness maybe.Of[float64] // added to it: 0.1 for a tenth of what there is
	Contrast   maybe.Of[float64] // by how much differences from the middle become larger
	Gamma      maybe.Of[float64] // the root of it that is taken
}

// A Frame is a line round its region.
type Frame struct {
	At     source.Span
	Radius float64 // of its corners
}

// An Inlay says that pieces of a stock are laid into the board: smaller than
// their recess by Ease, half of it on each side.
type Inlay struct {
	Through bool // the recess goes through the board, else it is engraved
	Ease    float64
	Stock   *Stock
}

func (l *Lettering) Place() source.Span { return l.At }
func (a *Artwork) Place() source.Span   { return a.At }
func (f *Frame) Place() source.Span     { return f.At }

func (*Lettering) mark() {}
func (*Artwork) mark()   {}
func (*Frame) mark()     {}

// CutsThrough reports whether a mark is cut through the board.
func CutsThrough(m Mark) bool {
	switch m := m.(type) {
	case *Lettering:
		return m.Op == word.Cut
	case *Artwork:
		return m.Op == word.Cut
	}
	return false
}

// InlayOf is what is laid into a mark, nil for nothing.
func InlayOf(m Mark) *Inlay {
	switch m := m.(type) {
	case *Lettering:
		return m.Inlay
	case *Artwork:
		return m.Inlay
	}
	return nil
}
