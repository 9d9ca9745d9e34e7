package design

import (
	"slices"

	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Design is a solved design.
type Design struct {
	Name   string // of the file, without its ending
	Unit   unit.Unit
	At     source.Span
	Panels []Panel // those of the built file, in its order
	Cases  []Case
	// Notebooks are those of the built file that have rows on which no panel's lies.
	Notebooks []Notebook
	Laser     Laser
	// Declared are the stocks of the built file, whether anything is cut from them or not.
	Declared []*Stock
	// Shared says that its file declares no panel: it is there for others to use.
	Shared bool
}

// Stocks lists what the design is cut from, each stock once, in the order in
// which it is met.
func (d *Design) Stocks() []*Stock {
	var all []*Stock
	d.EachStock(func(s *Stock) {
		if !slices.ContainsFunc(all, func(o *Stock) bool { return o.At == s.At }) {
			all = append(all, s)
		}
	})
	return all
}

// EachStock gives each mention of a stock that something is cut from, of which several may be
// of one stock.
func (d *Design) EachStock(do func(*Stock)) {
	add := func(s *Stock) {
		if s != nil {
			do(s)
		}
	}
	for i := range d.Panels {
		add(d.Panels[i].Stock)
		for k := range d.Panels[i].Rows {
			add(d.Panels[i].Rows[k].GuideStock)
		}
		for _, r := range d.Panels[i].Regions {
			for _, m := range r.Marks {
				if in := InlayOf(m); in != nil {
					add(in.Stock)
				}
			}
		}
	}
	for i := range d.Cases {
		add(d.Cases[i].CoveringStock)
		add(d.Cases[i].SpineStock)
		add(d.Cases[i].LiningStock)
	}
	for i := range d.Notebooks {
		for k := range d.Notebooks[i].Rows {
			add(d.Notebooks[i].Rows[k].GuideStock)
		}
	}
}

// A Panel is a board to make. Distances in it are from its named edges, as
// seen from the outside with the title upright.
type Panel struct {
	Name          string
	At            source.Span
	Mirrored      bool // the spine is on the right
	Width, Height float64
	Thick         maybe.Of[float64]
	Corners       [4]Corner // in the order of [word.Corners]
	Tab           *Tab      // nil where no index tab stands out
	Arch          *Arch     // nil where the head edge is straight
	Rows          []Row
	Regions       []Region
	Cutouts       []Cutout
	Recesses      []Recess
	Lines         []Line
	Lattices      []Lattice
	Stitches      []Stitch
	Copies        int
	Stock         *Stock // nil where nothing says what it is cut from
	InCase        bool   // it is drawn in a case
	Quiet         Quiet
	// Overhangs past what it covers; 0 where it covers nothing.
	OverHead, OverTail, OverSpine, OverForedge float64
}

// A Corner is one corner of a panel.
type Corner struct {
	Form word.CornerForm // Square where the size is 0
	Size float64         // the radius, or what a chamfer takes off each edge
	At   source.Span
}

// A Notebook is a thing that isn't made, but whose rows a guide may show.
type Notebook struct {
	Name string
	At   source.Span
	// Width and Height are absent where nothing tells them.
	Width, Height maybe.Of[float64]
	Rows          []Row
}

// A Tab is the index tab of a divider: all of an edge but the tab is set back by
// the extension, so that the panel's size goes over the tab.
type Tab struct {
	Edge      word.Edge
	From, To  float64 // along the edge, from head or spine
	Extension float64
	Radius    float64 // of the outer corners
	At        source.Span
}

// An Arch is the head edge of a panel as an arc of a circle, from corner to
// corner: its middle lies at the panel's height, its ends lower by the rise.
type Arch struct {
	Rise float64
	At   source.Span
}

// A Row is a row of holes along an edge.
type Row struct {
	Name    string
	At      source.Span
	HoleAt  source.Span // the line that gives the form of its holes, else the row
	Edge    word.Edge
	Opening opening.Opening
	Inset   float64 // from the edge to the near side of the holes
	Neck    *Neck   // nil where the holes are closed all round
	// Centers are the distances of the holes' centres from the starting edge:
	// the head, or the spine for a row along head or tail.
	Centers []float64
	// Measured says that the row lies on one of a notebook.
	Measured bool
	// LargestInset is how far in from the edge its wire lets the holes lie, so that
	// the cover turns; absent where that can't be told.
	LargestInset maybe.Of[float64]
	// GuideStock is what a guide for it is cut from; nil where not stated.
	GuideStock *Stock
}

// A Neck joins an opening with an edge of its panel, so that the opening is a
// notch in the panel's outline.
type Neck struct {
	Edge word.Edge
	Wide float64 // along the edge
	At   source.Span
	// Stated says that a line gives its width, which is else that of the opening.
	Stated bool
}

// A Stitch is a line of holes to sew through, along an outline.
type Stitch struct {
	Name    string
	At      source.Span
	HoleAt  source.Span // the line that gives the form of its holes, else the stitch
	Opening opening.Opening
	Inset   float64 // from the outline to the middle of the holes
	// Around is what it follows in place of the panel's edge, or nil. Of a region it
	// lies inside, of a cutout outside.
	Around *Around
	Runs   []StitchRun
}

// Count is how many holes there are.
func (s *Stitch) Count() (n int) {
	for _, r := range s.Runs {
		n += r.Stitches
		if r.Ends {
			n++
		}
	}
	return n
}

// An Around is the outline of a cutout, or of a region where it is no Opening.
type Around struct {
	Cutout
	Region bool
}

// A StitchRun is a smooth part of a stitch line. Of four sides the pieces are head 0,
// foredge 2, tail 4 and spine 6, with the corner after each between them; of a hexagon
// they are its six sides, of a circle its two halves.
type StitchRun struct {
	Pieces   []int
	Closed   bool // it runs all round, from the middle of its first piece
	Ends     bool // no other begins where it ends
	Stitches int
}

// A Box is where something lies on a panel.
type Box struct {
	Name                       string
	At                         source.Span
	Width, Height              float64
	Head, Tail, Spine, Foredge float64
	Clear                      *Clear // nil where no distance is asked for
}

// A Clear is the distance that a box asks to be kept from every cut.
type Clear struct {
	Distance float64
	At       source.Span
}

// A Region is an area for marks.
type Region struct {
	Box
	Inside bool // on the panel's inner face
	Marks  []Mark
}

// A Cutout is an opening. Along is its width and Across its height.
type Cutout struct {
	Box
	Opening opening.Opening
	Neck    *Neck   // nil where it is closed all round
	Rotate  float64 // clockwise about the middle of its box, in degrees
}

// A Recess is what a cutout with a depth is: engraved, so that it doesn't go through.
type Recess struct {
	Cutout
	Depth   float64 // mm
	DepthAt source.Span
	Inside  bool // on the panel's inner face
}

// A Line is a straight score, crease or cut across the panel, parallel to an
// edge.
type Line struct {
	Name     string
	At       source.Span
	From     word.Edge // from which Distance is measured
	Distance float64
	Op       word.Operation // Score, Mark or Cut
}

// A Lattice is a field of slots parallel to the spine that lets the board bend.
type Lattice struct {
	Box
	Turn      float64           // of the whole bend, in degrees
	Bend      float64           // inside radius
	Links     int               // across the bend, between Links + 1 columns of slots
	Clearance float64           // width of a slot
	Kerf      maybe.Of[float64] // to which slots are opened if they aren't wider
	Rows      int               // of links along the bend
	Link      float64           // length over which a link twists
	Bridge    float64           // between slots that follow one another
	End       float64           // of the bridges at head and tail
	// Shear is what the material bears; absent unless both numbers are stated.
	Shear maybe.Of[Shear]
}

// TorsionFactor is tau * l / (G * t * θ) for a bar of square section t twisted by
// θ over the length l: 0.1406 / 0.208 from the usual tables of torsion (S. Timoshenko
// and J. N. Goodier, Theory of Elasticity, 1951; from memory), to the digits of the
// model of lattices that package compile names.
const TorsionFactor = 0.676125

// LongestLink is how long a link may be, in thicknesses of its board, before the
// bend splays: Patrick Fenner's advice of 2011.
const LongestLink = 4

// A Shear is the shear modulus of a material and the shear stress that it is
// allowed, in N/mm².
type Shear struct{ Modulus, Allowed float64 }

// A Case is panels and gaps side by side, as seen from outside.
type Case struct {
	Name          string
	At            source.Span
	Width, Height float64
	TurnIn        maybe.Of[float64] // absent where nothing wraps round it
	// Mitre is how far from a board's corner the covering is cut off, at 45
	// degrees.
	Mitre maybe.Of[float64]
	// Lining is how far inside the edges of what is laid the lining stays; absent
	// where there is none.
	Lining maybe.Of[float64]
	// Bound is absent, or says what a case in quarter or half is covered with.
	Bound maybe.Of[Bound]
	// CoveringStock, SpineStock and LiningStock are what those are cut from; nil
	// where not stated.
	CoveringStock, SpineStock, LiningStock *Stock
	Quiet                                  Quiet
	Parts                                  []CasePart
}

// A Bound is a case whose spine is in one cloth and whose sides are in another. All
// is in mm, before anything is turned in.
type Bound struct {
	// SpineReach is how much of the spine's cloth shows on each board, CornerReach
	// how much of a corner's shows along each of its two edges: absent without
	// corners.
	SpineReach  float64
	CornerReach maybe.Of[float64]
	// Overlap is how far cloth goes on under a side.
	Overlap float64
}

// A CasePart is a panel or a gap of a case.
type CasePart struct {
	Name  string
	Width float64
	// Board is the panel, one of Design.Panels or of a used file; nil for a gap. Of one that
	// this design doesn't cut, what stays open is NaN.
	Board *Panel
	Cut   bool        // this design cuts the board
	At    source.Span // where lay names it
	Of    source.Span // where it is declared
}

// A Stock is what panels are cut from.
type Stock struct {
	Name string
	// Declared is the name that its declaration gives it: Name is that of another where it is
	// like that and says nothing of its own.
	Declared string
	// Plain is the name without what tells it from others that share that, of which orders
	// choose one.
	Plain string
	// Chosen says that orders or named values choose it, so Plain alone doesn't say what it is.
	Chosen bool
	// CalledAt is where the stock is declared by whose name it goes.
	CalledAt source.Span
	// Wood is the name of the stock whose sheets and offcuts its parts are cut from: its own, or
	// that of what it is like.
	Wood     string
	At       source.Span
	Material Material
	Allow    string // why a material that must not be cut is cut, "" where it isn't
	Grain    word.Grain
	// Greys is how dark it was measured, 0 to 1, at equal steps from the bare board to
	// where all of it is engraved: two values or more, each larger than the one before
	// it; nil where it wasn't.
	Greys       []float64
	Quiet       Quiet
	Size        maybe.Of[Size]    // of a sheet
	Quantity    maybe.Of[int]     // of sheets
	Price       maybe.Of[float64] // of one
	Pace        Pace              // of cutting and scoring it
	Offcuts     []Offcut
	Margin      maybe.Of[float64] // that parts leave free at a sheet's edges
	Spacing     maybe.Of[float64] // between what is cut of two parts
	Lines       Lines             // that state some of these
	Way         Way               // in which parts are cut out of it
	Kerf        maybe.Of[float64]
	Thick       maybe.Of[float64]
	UsualKerf   maybe.Of[float64] // in a sheet of this material and thickness
	ThickOver   maybe.Of[float64] // by how much a sheet may be thicker than stated
	ThickUnder  maybe.Of[float64] // and thinner
	LeastWeb    maybe.Of[float64] // the least that may be left between cuts, above 0
	LeastEdge   maybe.Of[float64] // and between an opening and the board's edge, above 0
	LeastDetail maybe.Of[float64] // and of a detail, above 0
	LeastRadius maybe.Of[float64] // the least radius of an opening's corners, above 0
	// Movement is by how much of its size a sheet moves across its grain between a
	// dry and a damp room: 0.01 for 1 %.
	Movement maybe.Of[float64]
}

// Lines are the places at which a stock states what there is of it and how parts lie on it,
// each empty where it doesn't.
type Lines struct {
	Quantity, Margin, Spacing source.Span
	Offcuts                   []source.Span // one for each
}

// A Material is what a stock is made of.
type Material struct {
	Name   string // as the stock writes it, "" where nothing says it
	AsName string // as it would be written as a name: glass-fibre
	At     source.Span
	// Known says that the design names one of its materials. Of words that don't,
	// Quoted is the material that they would name without quotes, and OnShelf what
	// the shelf calls what the design doesn't know; each "" if there is none.
	Known           bool
	Quoted, OnShelf string
	// GivesOff is what it gives off when cut, Burns how it burns, Never why it must
	// not be cut and Ask why workshops differ over it. Where the shelf says one of
	// these two for what the material is called, Meant is the one that it may be by
	// these Words. All are "" where nothing is said.
	GivesOff, Burns, Never, Ask string
	Meant, Words                string
}

// A Size is a width and a height.
type Size struct{ Width, Height float64 }

// An Offcut is a sheet that is left of an earlier one, with what is gone of it at a
// corner; Gone is 0 by 0 where all of it is there.
type Offcut struct {
	Size, Gone Size
	Corner     word.SheetCorner
}

// A Way is how parts are cut out of a sheet.
type Way struct {
	// Knife says that it is cut by hand, from edge to edge.
	Knife Asked
	// Shared says that straight edges of equal parts are cut once for both.
	Shared Asked
	// Bridge is how broad the bridges are that hold parts whose longer side is below
	// BridgeBelow, in mm, at BridgeAt.
	Bridge, BridgeBelow maybe.Of[float64]
	BridgeAt            source.Span
}

// An Asked is what may be asked for, with the line that asks for it.
type Asked struct {
	Yes bool
	At  source.Span
}

// A Laser is the machine.
type Laser struct {
	At   source.Span
	Bed  maybe.Of[Size]
	Kerf maybe.Of[float64]
	// LineWidth is how wide lines are drawn in files that give them a width.
	LineWidth maybe.Of[float64]
	// ScaleX and ScaleY are how far the machine must be told to move for 1 mm.
	ScaleX, ScaleY float64
	Pace           Pace
	Shop           Shop
	// Colours are the drawing colours as #RRGGBB, by the operation.
	EngraveColour, MarkColour, ScoreColour, CutColour maybe.Of[string]
	Quiet                                             Quiet
}

// A Pace is how a laser runs, as far as the maker states it; a stock's cut and score
// speeds and passes win over the laser's.
type Pace struct {
	Engrave, Mark, Score, Cut maybe.Of[float64] // the speed of each, mm/s
	Passes                    maybe.Of[int]     // how often what is cut is run
	Travel                    maybe.Of[float64] // with the beam off, mm/s
	Acceleration              maybe.Of[float64] // mm/s²
	Corner                    maybe.Of[float64] // at which it goes round a right angle, mm/s
	EngraveDistance, RunOut   maybe.Of[float64] // of engraved lines, mm
	OneWay                    maybe.Of[bool]    // all engraved lines run in the same direction
	HeatSpread                maybe.Of[float64] // mm within which one cut heats another
}

// A Shop is what a shop reckons with, as far as the maker states it.
type Shop struct {
	Rate          maybe.Of[float64] // money for a minute, of the laser or of labour
	Labour        maybe.Of[float64] // minutes for each cover
	Waste, Profit maybe.Of[float64] // shares that come on top, of the wood and of all
}

// A Quiet lists what is not to be told of a thing, by its code.
type Quiet []diag.Code

// Has reports whether a warning is silenced.
func (q Quiet) Has(code diag.Code) bool { return slices.Contains(q, code) }
