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
func ShapeWords() [6]ShapeWord {
	return [...]ShapeWord{{"rect", 2, true, false}, {"slot", 2, false, false}, {"round", 1, false, false}, {"hex", 1, false, false},
		{"radius", 1, false, true}, {"chamfer", 1, false, true}}
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
