package model

import (
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/source"
)

// A Stock is what panels are cut from.
type Stock struct {
	Thing
	Like       *Stock      // what it is like, if that is there
	Same       bool        // it says nothing of its own, so it is that under another name
	Supplied   bool        // a line of its own says how many sheets or which offcuts there are
	Called     string      // its name, or that of a stock which isn't there and which it is under another
	CalledAt   source.Span // where that is declared
	Chosen     bool        // that stands under a `when`, so its name alone doesn't say what it is
	Wood       string      // the name of the stock whose sheets and offcuts its parts are cut from, but for those of Like
	WoodChosen bool        // that stands under a `when`
	Caliper    Caliper
	MadeOf     string // the material's name as it is written, "" where nothing says it
	MaterialAt source.Span
	Material   *Material // nil where the design doesn't know it
	Quoted     string    // the material of the design that its words would name without quotes, "" if none
	Shelf      Shelf     // what the shelf says of a material that isn't the shelf's own
	Allow      string    // why a material that must not be cut is cut
	Grain      word.Grain
	Greys      []float64 // how dark it was measured, at equal steps of what is engraved
	Size       maybe.Of[Size]
	Quantity   maybe.Of[int]     // of sheets
	Price      maybe.Of[float64] // of one
	Offcuts    []Offcut
	Margin     maybe.Of[float64] // that parts leave free at its edges, in mm
	Spacing    maybe.Of[float64] // between what is cut of two, in mm
	Lines      design.Lines      // that state some of these
	Way        design.Way        // in which parts are cut out of it
	Kerf       Kerf
	Pace       design.Pace // of cutting and scoring it
	Speeds     []Speed     // of these, as they are stated
	Quiet      Quiet
	// Sheet is what its material says of a sheet of this thickness.
	Sheet Sheet
}

// A Size is a width and a height, in mm.
type Size struct{ Width, Height float64 }

// An Offcut is a sheet that is left of an earlier one, with what is gone of it at a
// corner; Gone is 0 by 0 where all of it is there.
type Offcut struct {
	Size, Gone Size
	Corner     word.SheetCorner
}

// A Kerf is the full width of cut, in mm.
type Kerf struct {
	Width  maybe.Of[float64]
	Within maybe.Of[float64] // half width within which it is known
	At     source.Span       // the line that states it
}

// A Speed is one that is stated, in mm/s.
type Speed struct {
	Name  string // cut-speed
	Value float64
	At    source.Span
}

// A Material is what stocks are made of.
type Material struct {
	Thing
	GivesOff, Burns            string // what the cut gives off, and how it burns; "" where nothing is said
	Never, Ask                 string // why it must not be cut, and why workshops differ over it
	ShearModulus, AllowedShear Shear
}

// A Shelf is what the shipped shelf says of the words for a material: the one
// that they name, and, of all that they speak of, the first that must not be cut
// and why; else the first over which workshops differ, what that gives off and how it
// burns. All are "" where there is none.
type Shelf struct {
	Name          string
	Banned, Never string
	Asked, Ask    string
	GivesOff      string
	Burns         string
	Words         string // of the text, that speak of Banned or Asked
}

// A Sheet is what a material says of its sheets, in mm but for Movement; it may speak of how thick they are.
type Sheet struct {
	Kerf, ThickOver, ThickUnder                   maybe.Of[relation.Expr]
	LeastWeb, LeastEdge, LeastDetail, LeastRadius maybe.Of[relation.Expr]
	// Movement is by how much of its size it moves across its grain.
	Movement maybe.Of[relation.Expr]
}

// A Laser is the machine.
type Laser struct {
	Thing
	Bed            maybe.Of[Size]
	Kerf           Kerf
	LineWidth      maybe.Of[float64] // of lines in files that give them one, in mm
	ScaleX, ScaleY maybe.Of[float64]
	Pace           design.Pace
	Speeds         []Speed // of these, as they are stated
	Shop           design.Shop
	// Colours are the drawing colours as #RRGGBB, by operation.
	Colours map[word.Operation]string
	Quiet   Quiet
}
