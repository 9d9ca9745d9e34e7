package dim

import (
	"foredge/eval/word"
	"foredge/lang/unit"
)

// A Name names a dimension. The zero value names none.
type Name uint8

const (
	None Name = iota
	Width
	Height
	Thick

	Head // distances from a panel's edges
	Tail
	Spine
	Foredge

	Count // of a row
	HoleAlong
	HoleAcross
	First
	Last
	Inset
	Web
	Pitch
	Run
	Ease
	Wire

	OverHead // how far a panel reaches past what it covers
	OverTail
	OverSpine
	OverForedge

	TurnIn // of a case
	Mitre
	Lining
	SpineReach // of a case that is bound in quarter or half
	CornerReach
	Overlap
	SpineWidth
	SideWidth

	At // of a line across a panel

	Radius // of a lattice
	Clearance
	Bend
	Bridge
	End
	Link
	Turn
	Links
	Rows

	Across // of a field: how many across and down, and how far apart
	Down
	GapAcross
	GapDown
	PitchAcross
	PitchDown

	Ring // of a binding
	Outside
	Pair

	// Gap is one of the gaps that a row lists; which, its number says.
	Gap

	// Number is how many names there are.
	Number
)

func (n Name) String() string {
	return [Number]string{
		Width: "width", Height: "height", Thick: "thick",
		Head: "head", Tail: "tail", Spine: "spine", Foredge: "foredge",
		Count: "count", HoleAlong: "hole.along", HoleAcross: "hole.across", First: "first", Last: "last",
		Inset: "inset", Web: "web", Pitch: "pitch", Run: "run", Ease: "ease", Wire: "wire",
		OverHead: "over-head", OverTail: "over-tail", OverSpine: "over-spine", OverForedge: "over-foredge",
		TurnIn: "turn-in", Mitre: "mitre", Lining: "lining", At: "at",
		SpineReach: "spine-reach", CornerReach: "corner-reach", Overlap: "overlap", SpineWidth: "spine-width", SideWidth: "side-width",
		Radius: "radius", Clearance: "clearance", Bend: "bend", Bridge: "bridge", End: "end", Link: "link",
		Turn: "turn", Links: "links", Rows: "rows",
		Across: "across", Down: "down", GapAcross: "gap-across", GapDown: "gap-down",
		PitchAcross: "pitch-across", PitchDown: "pitch-down",
		Ring: "ring", Outside: "outside", Pair: "pair", Gap: "gap",
	}[n]
}

// Kind is the kind of value of the dimension.
func (n Name) Kind() unit.Kind {
	switch n {
	case Count, Links, Rows, Across, Down:
		return unit.Count
	case Turn:
		return unit.Angle
	}
	return unit.Length
}

// Signed reports whether the dimension may be negative. A link of a lattice may,
// so that one which comes out shorter than nothing is reported as such.
func (n Name) Signed() bool {
	switch n {
	case Ease, OverHead, OverTail, OverSpine, OverForedge, Link:
		return true
	}
	return false
}

// OfBox reports whether it says how large something is or where it lies: a size
// or the distance from an edge.
func (n Name) OfBox() bool {
	switch n {
	case Width, Height, Head, Tail, Spine, Foredge:
		return true
	}
	return false
}

// OfCover reports whether only what covers a notebook has it.
func (n Name) OfCover() bool {
	switch n {
	case Ease, OverHead, OverTail, OverSpine, OverForedge:
		return true
	}
	return false
}

// Length is the size of a panel along one of its edges.
func Length(e word.Edge) Name {
	if e.Level() {
		return Width
	}
	return Height
}

// From is the distance of a box from an edge.
func From(e word.Edge) Name {
	return [...]Name{None, Head, Tail, Spine, Foredge}[e]
}

// Over is how far a panel reaches past what it covers at an edge.
func Over(e word.Edge) Name {
	return [...]Name{None, OverHead, OverTail, OverSpine, OverForedge}[e]
}
