package ast

// A ShapeWord is a word that opens a [Shape], with what follows it: one size or
// two with `by` between them, and for some the radius of its corners.
type ShapeWord struct {
	Word   string
	Sizes  int
	Radius bool
	Corner bool // it is the form of a corner, not of an opening
}

// ShapeWords lists the words that open a shape: forms of openings, then forms of
// corners.
func ShapeWords() [7]ShapeWord {
	return [...]ShapeWord{{"rect", 2, true, false}, {"slot", 2, false, false}, {"round", 1, false, false}, {"hex", 1, false, false},
		{"radius", 1, false, true}, {"chamfer", 1, false, true}, {"scoop", 1, false, true}}
}

// FindShape finds the word of a shape.
func FindShape(word string) (ShapeWord, bool) {
	for _, s := range ShapeWords() {
		if s.Word == word {
			return s, true
		}
	}
	return ShapeWord{}, false
}

// OtherShape finds the word of a shape for one of everyday speech, as circle is
// for round. Such a word is not read: it is told with the one to write.
func OtherShape(word string) (write string, ok bool) {
	switch word {
	case "circle", "disc", "disk", "hole", "dia", "diameter":
		return "round and the diameter, as in round 4", true
	case "square":
		return "rect with both sizes, as in rect 4 by 4", true
	case "rectangle", "box":
		return "rect, as in rect 4 by 3", true
	case "hexagon":
		return "hex and the size across its flats, as in hex 9", true
	case "oval", "oblong", "obround", "stadium", "ellipse", "slit":
		return "slot with its length and its width, as in slot 9 by 3", true
	case "rounded", "fillet":
		return "radius, as in radius 6", true
	case "bevel", "cut":
		return "chamfer, as in chamfer 4", true
	case "scallop", "scalloped", "cove", "concave":
		return "scoop, as in scoop 6", true
	}
	return "", false
}
