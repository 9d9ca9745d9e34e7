package unit

// A Kind is what sort of value something is.
type Kind uint8

const (
	None   Kind = iota
	Bare        // a number whose place has yet to say what it is
	Length      // millimetres
	Angle       // degrees
	Count       // a whole number
	Ratio       // a plain factor
	Text
	Money
	Truth // the outcome of a condition
	Form  // of an opening or a corner
	Area  // square millimetres: what a product of two lengths is told as
)

func (k Kind) String() string {
	return [...]string{"nothing", "plain number", "length", "angle", "count", "ratio", "text",
		"money", "condition", "form", "area"}[k]
}

// WithArticle gives the kind as in "a length", "an angle".
func (k Kind) WithArticle() string {
	switch k {
	case Angle, Area:
		return "an " + k.String()
	case Text, Money, None:
		return k.String()
	}
	return "a " + k.String()
}
