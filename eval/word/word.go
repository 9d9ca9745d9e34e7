package word

// A Choice is one of an enumeration of words.
type Choice interface {
	~uint8
	String() string
}

// Find finds the choice that a word stands for among some.
func Find[C Choice](w string, among ...C) (C, bool) {
	for _, c := range among {
		if c.String() == w {
			return c, true
		}
	}
	return 0, false
}

// Strings are the words of some choices.
func Strings[C Choice](among ...C) []string {
	words := make([]string, len(among))
	for i, c := range among {
		words[i] = c.String()
	}
	return words
}

// An Edge is an edge of a panel.
type Edge uint8

const (
	NoEdge Edge = iota
	Head
	Tail
	Spine
	Foredge
)

// Edges are the four edges, in the order in which help names them.
func Edges() []Edge { return []Edge{Head, Tail, Spine, Foredge} }

func (e Edge) String() string { return [...]string{"", "head", "tail", "spine", "foredge"}[e] }

// Level reports whether the edge runs from spine to foredge, as head and tail
// do, and not from head to tail.
func (e Edge) Level() bool { return e == Head || e == Tail }

// Ends are the edges at which the edge begins and ends. What lies along it is
// counted from the first.
func (e Edge) Ends() (start, end Edge) {
	if e.Level() {
		return Spine, Foredge
	}
	return Head, Tail
}

// Opposite is the edge opposite this one.
func (e Edge) Opposite() Edge { return [...]Edge{NoEdge, Tail, Head, Foredge, Spine}[e] }

// A Corner is a corner of a panel.
type Corner uint8

const (
	HeadSpine Corner = iota + 1
	HeadForedge
	TailSpine
	TailForedge
)

// Corners are the four corners, in the order in which help names them.
func Corners() []Corner { return []Corner{HeadSpine, HeadForedge, TailSpine, TailForedge} }

func (c Corner) String() string {
	return [...]string{"", "head-spine", "head-foredge", "tail-spine", "tail-foredge"}[c]
}

// A CornerForm is how a corner is cut.
type CornerForm uint8

const (
	Square  CornerForm = iota + 1
	Radius             // rounded
	Chamfer            // cut off at 45 degrees
	Scoop              // hollowed out by a quarter of a circle about it
)

func (f CornerForm) String() string {
	return [...]string{"", "square", "radius", "chamfer", "scoop"}[f]
}

// CornerShapes are the forms that a size goes with.
func CornerShapes() []CornerForm { return []CornerForm{Radius, Chamfer, Scoop} }

// A Side is one of the two of a board or a curve.
type Side uint8

const (
	Outside Side = iota + 1
	Inside
)

// Sides are both.
func Sides() []Side { return []Side{Outside, Inside} }

func (s Side) String() string { return [...]string{"", "outside", "inside"}[s] }

// An Operation is what the laser does along or within an outline.
type Operation uint8

const (
	Engrave Operation = iota + 1 // fills
	Mark                         // draws a line on the surface
	Score                        // cuts a line part of the way
	Cut                          // cuts through
)

// Operations are all of them.
func Operations() []Operation { return []Operation{Engrave, Mark, Score, Cut} }

// OfLines are the operations of a line across a panel.
func OfLines() []Operation { return []Operation{Score, Mark, Cut} }

func (o Operation) String() string { return [...]string{"", "engrave", "mark", "score", "cut"}[o] }

// A Fit is how a mark takes the size of its region.
type Fit uint8

const (
	Shrink Fit = iota + 1 // no larger than the region allows
	Fill                  // as large as it allows
)

// Fits are both.
func Fits() []Fit { return []Fit{Shrink, Fill} }

func (f Fit) String() string { return [...]string{"", "shrink", "fill"}[f] }

// An Align is where a mark lies in its region.
type Align uint8

const (
	AtLeft Align = iota + 1
	AtCentre
	AtRight
	AtHead
	AtTail
	Spread // letters evenly round a circle
)

// OfText and OfArt are the ways to align lettering and artwork.
func OfText() []Align { return []Align{AtLeft, AtCentre, AtRight, Spread} }
func OfArt() []Align  { return []Align{AtLeft, AtCentre, AtRight, AtHead, AtTail} }

func (a Align) String() string {
	return [...]string{"", "left", "centre", "right", "head", "tail", "spread"}[a]
}

// A Curve is what lettering runs along.
type Curve uint8

const (
	Arc Curve = iota + 1
	Circle
)

// Curves are both.
func Curves() []Curve { return []Curve{Arc, Circle} }

func (c Curve) String() string { return [...]string{"", "arc", "circle"}[c] }

// An Answer is yes or no.
type Answer uint8

const (
	Yes Answer = iota + 1
	No
)

// Answers are both.
func Answers() []Answer { return []Answer{Yes, No} }

func (a Answer) String() string { return [...]string{"", "yes", "no"}[a] }

// A Mirror is the way in which artwork is mirrored.
type Mirror uint8

const (
	Across Mirror = iota + 1 // left and right change places
	Along                    // head and tail do
)

// Mirrors are both.
func Mirrors() []Mirror { return []Mirror{Across, Along} }

func (m Mirror) String() string { return [...]string{"", "across", "along"}[m] }

// A Shade is how the greys of a picture become dots.
type Shade uint8

const (
	Diffusion Shade = iota + 1 // an error is handed on to the neighbours
	Ordered                    // by a fixed pattern
	Levels                     // by the power of the laser
)

// Shades are all of them.
func Shades() []Shade { return []Shade{Diffusion, Ordered, Levels} }

func (s Shade) String() string { return [...]string{"", "diffusion", "ordered", "levels"}[s] }

// A Recess is how deep an inlay goes.
type Recess uint8

const (
	Engraved Recess = iota + 1
	Through
)

// Recesses are both.
func Recesses() []Recess { return []Recess{Engraved, Through} }

func (r Recess) String() string { return [...]string{"", "engrave", "through"}[r] }

// A SheetCorner is a corner of a sheet as it lies, its width from left to right.
type SheetCorner uint8

const (
	HeadLeft SheetCorner = iota + 1
	HeadRight
	TailLeft
	TailRight
)

// SheetCorners are all of them.
func SheetCorners() []SheetCorner { return []SheetCorner{HeadLeft, HeadRight, TailLeft, TailRight} }

func (c SheetCorner) String() string {
	return [...]string{"", "head-left", "head-right", "tail-left", "tail-right"}[c]
}

// A Grain is the side of a sheet along which its grain runs.
type Grain uint8

const (
	AlongWidth Grain = iota + 1
	AlongHeight
)

// Grains are both.
func Grains() []Grain { return []Grain{AlongWidth, AlongHeight} }

func (g Grain) String() string { return [...]string{"", "width", "height"}[g] }

// A Binding is what holds a book together.
type Binding uint8

const (
	Loop Binding = iota + 1 // a twin loop: two wires through each hole
	Coil                    // climbs along the edge
	Ring
)

// Bindings are all of them.
func Bindings() []Binding { return []Binding{Loop, Coil, Ring} }

func (b Binding) String() string { return [...]string{"", "loop", "coil", "ring"}[b] }

// A Bound is how a case is covered.
type Bound uint8

const (
	FullBound    Bound = iota + 1 // in one piece
	QuarterBound                  // the spine in one cloth, the sides in another
	HalfBound                     // as in quarter, with corners in the spine's cloth
)

// Bounds are all of them.
func Bounds() []Bound { return []Bound{FullBound, QuarterBound, HalfBound} }

func (b Bound) String() string { return [...]string{"", "full", "quarter", "half"}[b] }
