package model

import (
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/relation"
	"foredge/lang/source"
)

// A Mark is what is put into a region: [*Lettering], [*Artwork] or [*Frame]. Each
// is the mark of the finished design, but for the numbers that are still
// expressions.
type Mark interface{ mark() }

// A Lettering is text.
type Lettering struct {
	Known                               design.Lettering
	Cap, Least, Spacing, Bridge, Radius maybe.Of[relation.Expr]
	Inlay                               *Inlay
	// Each are the texts of a field's members as they are read, row after row; nil
	// where all have the same.
	Each []MemberText
}

// A MemberText is the text of one of a field's members.
type MemberText struct {
	Text string
	At   source.Span
}

// An Artwork is a drawing or a picture.
type Artwork struct {
	Known                             design.Artwork
	Width, Turn, LineDistance, Bridge maybe.Of[relation.Expr]
	Brightness, Contrast, Gamma       maybe.Of[relation.Expr]
	Inlay                             *Inlay
}

// A Frame is a line round its region.
type Frame struct {
	Known  design.Frame
	Radius maybe.Of[relation.Expr]
}

// An Inlay says that pieces of a stock are laid into the board.
type Inlay struct {
	Through bool
	Stock   *Stock
	Ease    maybe.Of[relation.Expr]
}

func (*Lettering) mark() {}
func (*Artwork) mark()   {}
func (*Frame) mark()     {}
