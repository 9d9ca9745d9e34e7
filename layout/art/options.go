package art

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode"

	"foredge/layout/lettering"
)

// LeaveOut is the operation of what isn't to be drawn at all.
const LeaveOut = -1

// Options say what a drawing can't say itself. The zero value is for a drawing
// whose texts are refused and all of which is one thing.
type Options struct {
	// Font gives the font of the drawing's texts; nil where they can't be set.
	Font func(Face) (*lettering.Font, error)
	// Colors and Layers give operations of their own, numbers above 0 or
	// [LeaveOut], to what is painted in a colour, as #rrggbb, and to groups by the
	// name that the drawing program gives them, in small letters.
	Colors, Layers map[string]int
	// Fill and Line are the operations of what is filled and of lines that have none of
	// their own.
	Fill, Line int
	// Whole are the operations whose closed lines are outlines of what is cut out, so
	// that they have to stay closed.
	Whole map[int]bool
	// Along are other operations that run along the outlines of what is filled as they do
	// along lines, so that what these have in common is drawn once.
	Along map[int]bool
}

// A Face is the font that a drawing asks for.
type Face struct {
	Family       string // as the drawing names it, "" if it doesn't
	Bold, Italic bool
}

// tags are what an element gets from its layers: an operation, and the names of all
// those that have one.
type tags struct {
	op    int
	names []string
}

// tag takes the operation of a layer into its state. It says whether the layer is
// left out, as it is by any of its names; two names with two other operations are an
// error.
func (w *walker) tag(n *node, s *state) (leftOut bool, err *Error) {
	if len(w.options.Layers) == 0 {
		return false, nil
	}
	var found []string
	first := ""
	for _, label := range n.labels {
		name, op := w.operationOf(label)
		switch {
		case op == LeaveOut:
			w.spent.found[name] = true
			return true, nil
		case op == 0:
			continue
		case first != "" && op != s.tags.op && w.mode == drawing:
			err = n.fail("take one of the two out", "it is called %q and %q, and each of these is given another operation", first, label)
			continue
		}
		found, s.tags.op, first = append(found, name), op, label
	}
	s.tags.names = slices.Concat(s.tags.names, found)
	return false, err
}

// operationOf is what the options give to one of the names of an element, and which of
// them; 0 for nothing. What leaves it out goes before others, then the name that is most
// like that of the element.
func (w *walker) operationOf(label string) (name string, op int) {
	for _, s := range layerNames(label) {
		switch given := w.options.Layers[s]; {
		case given == LeaveOut:
			return s, LeaveOut
		case op == 0:
			name, op = s, given
		}
	}
	return name, op
}

// layerNames are what a layer may be called of which an element has the name: that
// itself, and what programs make an id of, which can't have blanks and must not come
// twice. Other characters are written as _x0020_, by their number, or as _ alone, and
// one more of a name gets _1_ behind it.
func layerNames(label string) []string {
	label = strings.TrimSpace(label)
	if !strings.Contains(label, "_") {
		return []string{strings.ToLower(label)}
	}
	names := []string{label, unescaped(label)}
	if cut := regexp.MustCompile(`_[0-9]{1,4}_$`).ReplaceAllString(label, ""); cut != "" {
		names = append(names, cut, unescaped(cut))
	}
	for _, name := range names {
		names = append(names, strings.TrimSpace(strings.ReplaceAll(name, "_", " ")))
	}
	for i, name := range names {
		names[i] = strings.ToLower(name)
	}
	return names
}

// unescaped is a name whose characters stand there by their numbers, as in _x0041_.
func unescaped(s string) string {
	return regexp.MustCompile(`_x[0-9A-Fa-f]{2,6}_`).ReplaceAllStringFunc(s, func(code string) string {
		n, err := strconv.ParseInt(code[2:len(code)-1], 16, 32)
		if err != nil || !unicode.IsPrint(rune(n)) {
			return code
		}
		return string(rune(n))
	})
}

// named makes ink of white whose colour has an operation of its own.
func (w *walker) named(p paint) paint {
	if p.is(paper) && w.mode == drawing {
		if op, ok := w.options.Colors[p.color.hex()]; ok && op != LeaveOut {
			p.kind = ink
		}
	}
	return p
}

// operation is that of what is painted in a state: its colour's, or else its
// layer's; 0 for none of its own. What is drawn so is there of its layers.
func (w *walker) operation(s *state, p paint) int {
	if !p.is(ink) && !p.is(paper) || w.mode != drawing {
		return 0
	}
	op := s.tags.op
	if len(w.options.Colors) > 0 {
		name := p.color.hex()
		if own, ok := w.options.Colors[name]; ok {
			w.spent.found[name] = true
			op = own
		}
	}
	if op != LeaveOut {
		for _, name := range s.tags.names {
			w.spent.found[name] = true
		}
	}
	return op
}

// missing are the colours and layers of the options of which the drawing draws nothing.
func (w *walker) missing() []string {
	var out []string
	for _, list := range []map[string]int{w.options.Colors, w.options.Layers} {
		for name := range list {
			if !w.spent.found[name] {
				out = append(out, name)
			}
		}
	}
	slices.Sort(out)
	return out
}

// ColorName is a colour as #rrggbb, from any way in which a drawing writes it.
func ColorName(s string) (string, bool) {
	c, ok := parseColor(strings.ToLower(strings.TrimSpace(s)))
	return c.hex(), ok && c.a > 0
}
