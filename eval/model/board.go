package model

import (
	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/source"
)

// A Caliper is what is stated of the tool that read a notebook or a stock.
type Caliper struct {
	Accuracy   maybe.Of[float64] // half width of what it promises, mm
	Resolution maybe.Of[float64] // its digital step, mm
	JawFlat    maybe.Of[float64] // width of the inside jaws' flat, mm
}

// A Notebook is what was measured.
type Notebook struct {
	Thing
	Caliper Caliper
	Rows    []*Row
}

// A Panel is a board to make.
type Panel struct {
	Thing
	Covers *Notebook // nil if it covers nothing
	// Missing is what it covers where that isn't there, as its `when` doesn't hold.
	Missing *Thing
	// Overhangs says by edge whether lines say how far it reaches past that.
	Overhangs [word.Foredge + 1]bool
	// Bare are the rows of its notebook that are there and for which it has no holes, by a
	// `when` of its own.
	Bare     []Bare
	Mirrored bool                    // the spine is on the right
	Corners  [4]Corner               // in the order of [word.Corners]
	Arch     maybe.Of[relation.Expr] // how far the head edge rises to its middle
	ArchAt   source.Span
	Copies   maybe.Of[int]
	Stock    *Stock // nil where nothing says what it is cut from
	// Stocks are the names of those that used files have, where it names none of them.
	Stocks []string
	Case   *Case // in which it is drawn; nil if in none
	Quiet  Quiet
	Tabs   *Tabs // nil where it has none
	// Parts are what stands on it, in the order of the text: rows, regions,
	// cutouts, lines, lattices, fields.
	Parts []Node
}

// A Corner is the form of one corner.
type Corner struct {
	Form word.CornerForm // 0 where nothing is stated
	Size maybe.Of[relation.Expr]
	At   source.Span
}

// MaxHoles is how many holes a row may have.
const MaxHoles = 10000

// A Row is a row of holes along an edge, of a panel or of a notebook.
type Row struct {
	Thing
	Panel *Panel    // on which it stands, or nil
	Book  *Notebook // in which it stands, or nil
	Edge  word.Edge
	// Hole is the form of its holes as the row states it; nil where it doesn't.
	Hole    *Hole
	Neck    *Neck    // nil where its own lines state none
	Binding *Binding // what goes through its holes, or nil
	Covers  *Row     // the notebook's row on which it lies, or nil
	// OwnSize says that it states a size of holes whose form it has from the notebook: its ease
	// doesn't open that size.
	OwnSize bool
	// GuideStock is what a guide for it is cut from; nil where not stated.
	GuideStock *Stock
	// Declared says that it was written, not only brought along by covers.
	Declared bool
}

// Outer is what the row stands on: a panel or a notebook.
func (r *Row) Outer() *Thing {
	if r.Panel != nil {
		return &r.Panel.Thing
	}
	return &r.Book.Thing
}

// Form is the form of the row's holes, its own or that of the row on which it
// lies.
func (r *Row) Form() opening.Form {
	switch {
	case r.Hole != nil:
		return r.Hole.Form
	case r.Covers != nil && r.Covers.Hole != nil:
		return r.Covers.Hole.Form
	}
	return opening.Rect
}

// A Bare is a row of a notebook for which a panel that covers it has no holes.
type Bare struct {
	Row *Thing
	At  source.Span // the condition
}

// A Hole is the stated form of a hole or a cutout.
type Hole struct {
	Form   opening.Form
	Radius maybe.Of[relation.Expr] // of a rect's corners
	At     source.Span
	Own    bool // stated by the thing itself, not inherited
}

// A Neck is the way out of an opening to an edge.
type Neck struct {
	Wide relation.Expr
	At   source.Span
}

// A Box is where something lies on a panel.
type Box struct {
	Thing
	Panel *Panel                  // nil for one that stands at the top for others to be like
	Field *Field                  // whose members are like it, or nil
	Clear maybe.Of[relation.Expr] // distance to keep from every cut
	// ClearAt is the line that states it.
	ClearAt source.Span
}

// A Region is an area for marks.
type Region struct {
	Box
	Face  word.Side // 0 where not stated
	Marks []Mark
	// Lost are the inherited marks whose place its own took without being as many.
	Lost []Lost
}

// A Lost is an inherited mark that isn't there.
type Lost struct {
	At   source.Span
	What string // as it was written: text "Tern"
}

// A Cutout is an opening.
type Cutout struct {
	Box
	Shape  *Hole     // nil for a plain rectangle
	Open   word.Edge // to which it is open; 0 where it is closed all round
	OpenAt source.Span
	Neck   *Neck                   // nil where it is as wide as the cutout
	Rotate maybe.Of[relation.Expr] // in degrees, clockwise about its middle
	// RotateAt is the line that states it.
	RotateAt source.Span
	Depth    maybe.Of[relation.Expr] // absent where it goes through
	DepthAt  source.Span
	Face     word.Side // of a recess; 0 where not stated
}

// Tabs are the index tabs of a set of dividers, along an edge of the panel that they
// are made from. The region is the label of each.
type Tabs struct {
	Region
	Edge word.Edge // 0 where it was told that it is none
	// Count is how many dividers there are and Places into how many the edge is
	// divided; Place is the one to be made alone, absent for the whole set.
	Count, Places, Place maybe.Of[int]
	// Extension is how far a tab stands out; Radius is that of its outer corners.
	Extension, Radius maybe.Of[relation.Expr]
}

// Set are the places of the dividers to make and how many the edge has, as far
// as that is stated: at least one.
func (t *Tabs) Set() (first, last, of int) {
	of = max(1, t.Places.Or(t.Count.Or(1)))
	if place, single := t.Place.Get(); single {
		return place, place, of
	}
	return 1, max(1, t.Count.Or(of)), of
}

// A Line is a straight score, crease or cut across a panel.
type Line struct {
	Thing
	From word.Edge      // 0 where not stated
	Op   word.Operation // 0 where not stated
}

// A Stitch is a line of holes to sew through, along an outline.
type Stitch struct {
	Thing
	Panel *Panel
	// Around is the cutout or region whose outline it follows; nil for the panel's.
	Around Node
	Hole   *Hole
	// Length is how far its holes are wished to be apart, as LengthAt states it.
	Length   maybe.Of[relation.Expr]
	LengthAt source.Span
	// Runs are the parts of the line between its sharp corners, as they follow one
	// another.
	Runs []StitchRun
}

// A StitchRun is a smooth part of a stitch line: holes stand at both of its ends,
// unless it closes.
type StitchRun struct {
	// Pieces are the sides and corners that it follows, as [design.StitchRun] counts
	// them.
	Pieces   []int
	Closed   bool
	Ends     bool           // nothing follows it, so that it has a hole at its end
	Stitches relation.VarID // how many there are
}

// A Lattice is a field of slots that lets a board bend.
type Lattice struct {
	Box
	// ShearModulus and AllowedShear are in N/mm².
	ShearModulus, AllowedShear Shear
}

// MaxMembers is how many members a field may have.
const MaxMembers = 10000

// A Field repeats a cutout or a region across and down.
type Field struct {
	Box
	// Each is what it repeats, a [*Cutout] or a [*Region]: one, or the design has
	// an error.
	Each []Node
}

// A Cell is one of a field's members, counted from 1 from spine and head.
type Cell struct {
	Field        *Field
	Across, Down int
	Var          relation.VarID // the dimension of it that is spoken of
	At           source.Span    // the line that speaks of it
}

// A Shear is a stated modulus or stress.
type Shear struct {
	Value maybe.Of[float64] // in N/mm²
	At    source.Span
}

// ShearOf gives the shear modulus and the shear stress allowed, in N/mm²: a
// lattice's own, else those of the material of its panel's stock.
func (l *Lattice) ShearOf() (modulus, allowed maybe.Of[float64]) {
	modulus, allowed = l.ShearModulus.Value, l.AllowedShear.Value
	if l.Panel == nil || l.Panel.Stock == nil || l.Panel.Stock.Material == nil {
		return modulus, allowed
	}
	m := l.Panel.Stock.Material
	return modulus.OrElse(m.ShearModulus.Value), allowed.OrElse(m.AllowedShear.Value)
}

// A Gap is a space between the panels of a case.
type Gap struct{ Thing }

// A Pattern is a row that was punched by a known machine, for rows to be like.
type Pattern struct{ Thing }

// A Case is panels and gaps side by side, as seen from outside.
type Case struct {
	Thing
	Lay   []Laid
	Bound word.Bound // 0 where not stated
	// The stocks are nil where not stated. That of the spine is also that of corners.
	CoveringStock, SpineStock, LiningStock *Stock
	Quiet                                  Quiet
}

// A Laid is a panel or a gap of a case.
type Laid struct {
	Part Node        // [*Panel] or [*Gap]
	At   source.Span // where lay names it
}

// A Binding is what holds a book together.
type Binding struct {
	Thing
	Row  *Row // in whose braces it stands, or nil
	Form word.Binding
}
