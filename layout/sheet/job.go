package sheet

import (
	"foredge/eval/maybe"
	"foredge/layout/geom"
)

// A Job is what is to be cut and what it may be cut from.
type Job struct {
	Parts  []Part
	Stocks []Stock
}

// A Part is a thing to cut, once or several times.
type Part struct {
	Name string
	// Width and Height are those of its outermost cut, along which the beam runs: of
	// the finished part with a kerf added. In mm.
	Width, Height float64
	Count         int
	Turns         Turns
	Grain         Grain
	// Group names the stock that it is cut from: it lies on no other.
	Group string
	// Plain says that its outermost cut is the bare rectangle, so that two of them can
	// share one (see Stock.Shared).
	Plain bool
}

// Turns says how a part may be turned on its sheet.
type Turns uint8

const (
	AsDrawn     Turns = iota
	HalfTurn          // as drawn or upside down
	QuarterTurn       // by any quarter turn
)

// Grain is the direction in which fibres run.
type Grain uint8

const (
	NoGrain     Grain = iota
	AlongWidth        // from left to right
	AlongHeight       // from top to bottom
)

// A Stock is a kind of sheet, or offcuts of one size.
type Stock struct {
	Name, Group   string
	Width, Height float64 // mm
	// Gone is the size in mm of a rectangle that is missing at a corner of an offcut;
	// both are 0 where none is.
	Gone   geom.Point
	Corner Corner
	// Count is how many there are; absent, as many as it takes.
	Count maybe.Of[int]
	// Price is that of one. Absent or 0 on a whole sheet, all sheets of the group are taken to
	// cost as their areas, and offcuts nothing.
	Price  maybe.Of[float64]
	Offcut bool // left from an earlier job
	// Margin is how far parts stay from its edges and Spacing how far from each other, in mm.
	Margin, Spacing float64
	Grain           Grain
	// Bed is the largest width and height in mm that the laser reaches; absent, it reaches
	// anything. A sheet that goes onto it only turned by a quarter lies so, but for what little may hang over, and one that
	// goes onto it in no way is sawn into pieces that do.
	Bed maybe.Of[geom.Point]
	// Knife is the width in mm of the cut of a knife, often 0, by which this stock is cut
	// by hand, from edge to edge. It takes the place of Spacing.
	Knife maybe.Of[float64]
	// Shared says that the cuts of plain parts of one kind may fall together. Their finished edges then lie
	// one kerf apart.
	Shared bool
}

// Corner is a corner of a sheet.
type Corner uint8

const (
	LeftTop Corner = iota
	RightTop
	LeftBottom
	RightBottom
)

// Options say how a job is laid.
type Options struct {
	// Effort multiplies the number of steps that are spent on looking for a better
	// result; 0 stands for 1. Below 0 the first that was constructed is taken.
	Effort float64
	// Seed begins the random numbers of the search.
	Seed uint64
	// LeastLeft is the least width and height in mm of what is told as left over; 0 stands for 50.
	LeastLeft float64
	// Progress, if it isn't nil, is called now and then, and always from the goroutine that
	// called [Lay].
	Progress func(Progress)
}

// Progress is how far a search has come.
type Progress struct {
	Group       string
	Done        float64 // of the steps of this group, from 0 to 1
	Sheets      int     // that the best result so far takes
	LeastSheets int     // fewer can't do
	Used        float64 // the share of their area that parts cover
}

// A Result says where all parts lie.
type Result struct {
	Sheets []Sheet
	Sawn   []Sawing // of each sheet that isn't left whole
	Groups []Group  // in the order in which parts name them
	// Stopped says that the context ended the search early.
	Stopped bool
}

// A Sheet is what lies on the bed at once, with what is cut from it.
type Sheet struct {
	Stock  int // which of the job's stocks
	Number int // which sheet of that, from 0; several pieces may be of one
	// Piece is what of the sheet this is. Places are from its left upper corner, as the sheet stands in
	// the job; with Quarter it lies turned by a quarter on the bed.
	Piece
	Placements []Placement
	Quarter    bool
	Used       float64 // the share of its area that parts cover
	// Left are the largest rectangles that are left of it, without overlap, measured from
	// the outermost cuts; the largest first. Of one that a knife cuts they are what its cuts leave.
	Left []geom.Box
	// Cuts are those of the knife, each from edge to edge of what it divides, in their order.
	Cuts   []Cut
	Shared []Shared
}

// A Cut is a straight cut; with a width it reaches to both sides by half of it.
type Cut struct{ From, To geom.Point }

// Shared is a line on which the cuts of two parts fall together.
type Shared struct {
	A, B int // of the sheet's placements
	Cut
}

// A Group says how well the parts of one group of stock were laid.
type Group struct {
	Name string
	// Sheets is how many it took, Area what they measure in mm², Cost what they cost.
	// Fewer sheets than LeastSheets, less than LeastArea or LeastCost isn't possible. They are bounds each for
	// itself: no one result need reach all of them.
	Sheets, LeastSheets int
	Area, LeastArea     float64
	Cost, LeastCost     maybe.Of[float64] // absent where a whole sheet has no price
	Used                float64           // the share of Area that parts cover
}

// Gap is by how much, as a share of it, the result may cost more than the least
// possible: in money if prices are known, else in area.
func (g Group) Gap() float64 {
	if cost, ok := g.Cost.Get(); ok {
		if least, _ := g.LeastCost.Get(); least > 0 {
			return max(0, cost/least-1)
		}
		if cost == 0 {
			return 0
		}
	}
	if g.LeastArea == 0 {
		return 0
	}
	return max(0, g.Area/g.LeastArea-1)
}
