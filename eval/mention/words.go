package mention

import (
	"slices"

	"foredge/eval/kind"
	"foredge/eval/word"
	"foredge/lang/ast"
)

// A stater is what has a property or option: a thing, or a mark of a region.
type stater uint8

const (
	ofThing stater = iota
	ofMark
)

// most is the word for as many as there is room for.
const most = "most"

// isWord reports whether a name that stands alone as the value of a property or option
// is a word of the language there, whatever else is called so.
func isWord(of stater, prop, name string) bool {
	return slices.Contains(words(of, prop), name) || prop == "quiet"
}

// words are those that may stand alone as the value of a property or option.
func words(of stater, prop string) []string {
	switch prop {
	case "font":
		return word.Strings(word.LineFonts()...)
	case "along":
		return slices.Concat(word.Strings(word.Curves()...), word.Strings(word.Edges()...))
	}
	if of == ofMark {
		return wordsOfMark(prop)
	}
	switch prop {
	case "corners", "corner":
		return []string{word.Square.String()}
	case "face":
		return word.Strings(word.Sides()...)
	case "from", "open":
		return word.Strings(word.Edges()...)
	case "op":
		return word.Strings(word.OfLines()...)
	case "form":
		return word.Strings(word.Bindings()...)
	case "bound":
		return word.Strings(word.Bounds()...)
	case "one-way", "knife", "shared-cuts":
		return word.Strings(word.Answers()...)
	}
	return nil
}

func wordsOfMark(option string) []string {
	switch option {
	case "fit":
		return word.Strings(word.Fits()...)
	case "align":
		return slices.Concat(word.Strings(word.OfText()...), word.Strings(word.OfArt()...))
	case "wrap":
		return word.Strings(word.Answers()...)
	case "side":
		return word.Strings(word.Sides()...)
	case "mirror":
		return word.Strings(word.Mirrors()...)
	case "shade":
		return word.Strings(word.Shades()...)
	case "recess":
		return word.Strings(word.Recesses()...)
	}
	// as, and the colours and names of parts of a drawing
	return append(word.Strings(word.Operations()...), "none")
}

// namesThing reports whether the value of a property or option is the name of a thing.
func namesThing(prop string) bool {
	return slices.Contains([]string{kind.Stock.String(), "guide-stock", "covering-stock", "spine-stock", "lining-stock",
		kind.Material.String(), kind.Binding.String(), "lay", "around"}, prop)
}

// leftWord is the word on the left of an option, "" if that is none.
func leftWord(e ast.Expr) string {
	switch e := e.(type) {
	case *ast.Name:
		return e.Dotted()
	case *ast.Indexed:
		return e.Word.Name
	}
	return ""
}
