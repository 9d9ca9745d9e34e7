package word

import (
	"strings"

	"foredge/lang/diag"
)

// An other is what words of other trades, or of everyday speech, are called here.
type other struct {
	words string // with blanks between them, in small letters
	// here is what they are called, the first that may stand in the place counts;
	// empty where there is no one word.
	here string
	// say is what to do; where it is empty the word itself is enough.
	say string
}

// others lists them, from memory and without a source. Nothing reads them as what
// they mean: they are told with the word to write. It is never written to.
var others = [...]other{
	{"left left-edge", "spine", "the bound edge is called spine; it lies at the left of a front cover, and at the right of one that mirrors it"},
	{"right right-edge", "foredge", "the edge opposite the bound one is called foredge; it lies at the right of a front cover, and at the left of one that mirrors it"},
	{"top top-edge up", "head", ""},
	{"bottom bottom-edge foot down", "tail", ""},
	{"back-edge bound-edge gutter", "spine", ""},
	{"fore-edge front-edge", "foredge", ""},
	{"top-left left-top", "head-spine", ""},
	{"top-right right-top", "head-foredge", ""},
	{"bottom-left left-bottom", "tail-spine", ""},
	{"bottom-right right-bottom", "tail-foredge", ""},
	{"thickness thk gauge-thickness depth plate-thickness", "thick", ""},
	{"length long", "height", "from head to tail it is called height, from spine to foredge width"},
	{"breadth wide", "width", ""},
	{"high tall", "height", ""},
	{"circle circular disc disk", "shape", "a circle is written shape = round 22, with its diameter"},
	{"circle circular disc disk", "hole", "a circle is written hole = round 4, with its diameter"},
	{"diameter dia radius", "shape", "the diameter stands in the form: shape = round 22"},
	{"diameter dia radius", "hole", "the diameter stands in the form: hole = round 4"},
	{"diameter dia inner-diameter inside", "ring", "ring is the inside diameter, outside the outer one"},
	{"outer-diameter od", "outside", ""},
	{"margin edge-distance offset setback distance", "inset", "inset is from the row's own edge to the near side of its holes, first and last from the ends of that edge"},
	{"margin padding border", "clear", "distances from the edges are head, tail, spine and foredge; clear is the distance from every cut"},
	{"margin overhang overlap projection square squares", "over-foredge", "how far a board reaches past what it covers is over-head, over-tail, over-spine and over-foredge"},
	{"margin", "lining", "lining is how far the lining stays inside the edges"},
	{"holes number-of-holes amount number quantity qty", "count", ""},
	{"spacing distance hole-distance centres centers step centre-to-centre", "pitch", ""},
	{"bridge land ligament rib gap-between between", "web", ""},
	{"gap space spacing distance gutter", "gap-across", "what is left between two neighbours is called gap-across and gap-down"},
	{"pitch step centre-to-centre", "pitch-across", "centre to centre it is called pitch-across and pitch-down"},
	{"throat mouth entry", "neck", "the slit that joins an opening to an edge is called neck, as in neck = 3.5"},
	{"start offset-start begin", "first", ""},
	{"qty quantity pieces number amount times", "copies", ""},
	{"tolerance precision uncertainty error", "accuracy", ""},
	{"play clearance allowance tolerance slack oversize", "ease", ""},
	{"fillet rounding rounded-corners corner-radius border-radius radius", "corners", "round corners are written corners = radius 6, one of them corner head-foredge = radius 6"},
	{"corner", "corners", "all corners are stated by corners, one by its name: corner head-foredge = radius 6"},
	{"bevel", "corners", "corners that are cut off are written corners = chamfer 4"},
	{"size dimensions format", "width", "state width and height, each in a line"},
	{"material sheet wood", "stock", ""},
	{"font-size fontsize text-size letter-height height size cap-height point-size", "cap", "cap states how high the capitals are, as in cap = 12"},
	{"letter-spacing tracking kerning", "spacing", ""},
	{"typeface font-family face", "font", ""},
	{"justify text-align alignment position", "align", ""},
	{"angle rotation turn", "rotate", ""},
	{"flip mirrored", "mirror", ""},
	{"bold italic weight font-weight style", "font", `the weight is that of the font, as in font = "Go Bold"`},
	{"burn-width cut-width beam beam-width", "kerf", ""},
	{"table work-area area", "bed", ""},
	{"guillotine board-shear hand-cut by-hand", "knife", "a stock that is cut by hand, by a guillotine or a knife, says knife = yes"},
	{"remnant remnants scrap scraps leftover leftovers rest rests remainder remainders off-cuts offcut", "offcuts", "pieces that are left of earlier sheets are called offcuts, as in offcuts = 310 by 200, 250 by 120"},
	{"sheets number-of-sheets count copies pieces number amount qty in-stock", "quantity", "how many sheets there are is called quantity, as in quantity = 3"},
	{"gap gutter distance part-spacing part-distance", "spacing", ""},
	{"border padding edge edge-distance", "margin", ""},
	{"cost costs sheet-price", "price", ""},
	{"common-cut common-cuts common-line common-line-cutting shared-edges", "shared-cuts", "edges of equal parts that are cut once for both are asked for by shared-cuts = yes"},
	{"micro-joint micro-joints micro-tab micro-tabs holding-tab holding-tabs", "bridge", ""},
	{"speed power passes frequency", "kerf", "speed and power are set at the laser; a design says how wide it cuts, kerf"},
	{"centre-align center middle centered centred", "centre", ""},
	{"justified", "spread", ""},
	{"crease half-cut kiss-cut fold", "score", "a line cut partly through, so that the board folds, is scored: op = score"},
	// Kinds.
	{"book notepad pad journal diary booklet", "notebook", ""},
	{"cover board plate front back lid", "panel", ""},
	{"hinge living-hinge lattice-hinge kerf-bend bend", "lattice", "a field of slots that lets a board bend is a lattice, a fold a line with op = score, the space between two boards of a case a gap"},
	{"fold crease score-line", "line", ""},
	{"holes hole punching", "row", ""},
	{"window notch opening cutaway", "cutout", ""},
	{"label title box textbox frame", "region", ""},
	{"grid array", "field", ""},
	{"sheet wood", "stock", ""},
	{"machine cutter", "laser", ""},
	{"ring wire coil spiral comb loop", "binding", ""},
	{"customers customer order", "orders", ""},
	{"template theme look", "style", ""},
	{"joint hinge-gap space", "gap", ""},
	// Whatever may stand there.
	{"unit", "", "the unit of a file stands at its top: units mm, or units in"},
	{"var const set define def", "", "a named value is written let board = 2.5"},
	{"include import", "", `another file is brought in by use "shop.fore"`},
	{"font-size fontsize text-size letter-height font typeface", "", `lettering is sized in the braces of its mark, as in engrave text "Tern" { cap = 12 }`},
	{"colour color fill stroke", "", "colours are those of the laser's operations, as in cut-colour; what is engraved, marked or cut is said by the mark"},
	{"diameter dia", "", "a diameter stands in the form of an opening: hole = round 4, shape = round 22"},
	{"hinge", "", "a field of slots that lets a board bend is a lattice, a fold a line with op = score, the space between two boards of a case a gap"},
	{"margin padding border", "", "distances from the edges are head, tail, spine and foredge; of a row inset, first and last"},
}

// Elsewhere says what to write in place of a word of another trade, in a place
// where the words hold that are known; "" for one that means nothing elsewhere
// either, or is one of them.
func Elsewhere(w string, known func(string) bool) string {
	w = strings.ToLower(w)
	for _, o := range others {
		if o.here == "" || o.here == w || !has(o.words, w) || !known(o.here) {
			continue
		}
		if o.say != "" {
			return o.say
		}
		return called + o.here
	}
	return ofEdges(w, known)
}

// ofEdges is [Elsewhere] for a word that is made of edges, as over-top and foot-fore-edge.
func ofEdges(w string, known func(string) bool) string {
	var ours []string
	say := ""
	for rest := strings.Split(w, "-"); len(rest) > 0; {
		edge, n := otherEdge(rest)
		if n == 0 {
			ours, rest = append(ours, rest[0]), rest[1:]
			continue
		}
		ours, rest = append(ours, edge.here), rest[n:]
		if say == "" {
			say = edge.say
		}
	}
	switch here := strings.Join(ours, "-"); {
	case here == w || !known(here):
		return ""
	case say != "":
		return say
	default:
		return called + here
	}
}

// otherEdge is the edge that the first of some words name, and how many these are: two, as in
// fore-edge, go before one.
func otherEdge(parts []string) (other, int) {
	for n := min(2, len(parts)); n > 0; n-- {
		for _, o := range others {
			if _, edge := Find(o.here, Edges()...); edge && has(o.words, strings.Join(parts[:n], "-")) {
				return o, n
			}
		}
	}
	return other{}, 0
}

// called begins what [Elsewhere] says of a word that is one of ours by another name.
const called = "here it is called "

// Tell makes what [Elsewhere] says of a word the hint of a diagnostic, and where that is
// our word alone, the change of the text that it names.
func Tell(d *diag.Diagnostic, w, say string) {
	if ours, only := strings.CutPrefix(say, called); only {
		d.Meant(w, ours)
	}
	d.WithHelp("%s", say)
}

// Anywhere says what to write in place of a word of another trade for which no one
// word stands here; "" for one that means nothing elsewhere either.
func Anywhere(w string) string {
	for _, o := range others {
		if o.here == "" && has(o.words, strings.ToLower(w)) {
			return o.say
		}
	}
	return ""
}

// has reports whether a word is one of those in a text.
func has(words, w string) bool {
	for one := range strings.FieldsSeq(words) {
		if one == w {
			return true
		}
	}
	return false
}
