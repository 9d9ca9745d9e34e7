package driver_test

import (
	"strconv"
	"strings"
)

func slipsOfNames() []slipKind {
	// traded gives two lines each other's values.
	traded := func(of func(stated) bool, a, b string) func(string) []slip {
		return inLines(of, func(s stated) []slip {
			t, ok := s.sibling(b)
			if !ok || s.name != a || s.value == t.value {
				return nil
			}
			return []slip{{{s.valueAt, s.end, t.value}, {t.valueAt, t.end, s.value}}}
		})
	}
	return []slipKind{
		{"first-for-last", "first and last change places", traded(nil, "first", "last")},
		{"width-for-height", "width and height change places", traded(nil, "width", "height")},
		{"thickness-for-width", "the thickness is given as the width", inLines(func(s stated) bool { return s.is("width") }, func(s stated) []slip {
			if t, ok := s.sibling("thick"); ok {
				return []slip{{{s.valueAt, s.end, t.value}}}
			}
			return nil
		})},
		{"line-above", "a line gets the number of the one above", inNumbers(nil, func(f figure) []slip {
			above := figure{}
			for _, l := range lines(f.of.text) {
				if all := l.figures(); l.at < f.of.at && l.block == f.of.block && len(all) > 0 {
					above = all[0]
				}
			}
			if above.was == "" || above.was == f.was || f.at != f.of.valueAt {
				return nil
			}
			return []slip{f.to(above.was)}
		})},
	}
}

// boxes says that a line stands in something that has distances to all edges.
func boxes(s stated) bool { return s.in("region", "cutout", "field") }

func slipsOfEdges() []slipKind {
	// named puts another name in the place of a line's.
	named := func(of func(stated) bool, names map[string]string) func(string) []slip {
		return inLines(of, func(s stated) []slip {
			if with, ok := names[s.name]; ok {
				return []slip{{{s.at, s.at + len(s.name), with}}}
			}
			return nil
		})
	}
	return []slipKind{
		{"wrong-edge-of-a-row", "a row is put along another edge", whereFound(`on (spine|head)`, func(found string) []string {
			if found == "spine" {
				return []string{"foredge", "head"}
			}
			return []string{"tail", "spine"}
		})},
		{"wrong-edge-of-a-box", "a distance is given to the opposite edge", named(boxes, map[string]string{"head": "tail", "tail": "head", "spine": "foredge", "foredge": "spine"})},
		{"wrong-edge-of-a-line", "a line is taken from another edge", whereFound(`from = (spine|head)`, always("foredge", "tail"))},
		{"wrong-edge-of-an-overhang", "an overhang is given to another edge", whereFound(`\bover-(?:foredge|tail|head|spine)`, func(found string) []string {
			return []string{map[string]string{"over-foredge": "over-spine", "over-spine": "over-foredge", "over-head": "over-tail", "over-tail": "over-head"}[found], "over-foredge"}[:1+b2i(found != "over-foredge" && found != "over-spine")]
		})},
		{"wrong-corner", "a corner is named by the wrong edge", whereFound(`corner (head|tail)-foredge`, func(found string) []string {
			return []string{map[string]string{"head": "tail", "tail": "head"}[found]}
		})},
		{"opened-to-another-edge", "a cutout is opened to another edge", whereFound(`open = (foredge)`, always("spine", "head"))},
	}
}

func slipsOfSizes() []slipKind {
	return []slipKind{
		{"opened-without-a-distance", "how far a cutout lies from the edge to which it is open isn't said", whereFound(`(foredge = [-\d.]+; )[^}]*open = foredge`, always(""))},
		{"region-too-wide", "a box is given a width or height beyond the board", inNumbers(func(s stated) bool { return boxes(s) && s.is("width", "height") }, func(f figure) []slip {
			return []slip{f.shifted(f.value() * 10)}
		})},
		{"width-for-distance", "a box gets a width in place of its distance to the foredge", inNumbers(func(s stated) bool { return boxes(s) && s.is("foredge") }, func(f figure) []slip {
			wide := "400"
			if strings.Contains(f.of.text, "units in") {
				wide = "9"
			}
			return []slip{{{f.of.at, f.of.end, "width = " + wide}}}
		})},
		{"region-too-far", "a box is put beyond the board", inNumbers(func(s stated) bool { return boxes(s) && s.is("head", "tail", "spine", "foredge") }, func(f figure) []slip {
			if !strings.Contains(f.of.value, "/") {
				return []slip{f.to(f.was + "0")}
			}
			return nil
		})},
		{"overhang-too-small", "a board is made smaller than its notebook", inLines(func(s stated) bool { return s.is("over-foredge") }, func(s stated) []slip {
			_, err := strconv.ParseFloat(s.value, 64)
			if err != nil {
				return nil
			}
			return []slip{{{s.valueAt, s.end, "-" + s.value}}}
		})},
		{"pitch-doubled", "the distance over two holes is given as the pitch", inNumbers(func(s stated) bool { return s.is("pitch") }, func(f figure) []slip {
			if f.at != f.of.valueAt {
				return nil
			}
			return []slip{f.shifted(2 * f.value())}
		})},
		{"hole-wider-than-the-pitch", "the holes are as long as they stand apart", whereFound(`hole = (?:rect|slot) ([\d.]+) by`, func(found string) []string {
			v, _ := strconv.ParseFloat(found, 64)
			return []string{strconv.FormatFloat(v*4, 'f', -1, 64)}
		})},
		{"binding-of-another-form", "a binding is said to be of another form", whereFound(`form = (coil)`, always("loop", "ring"))},
		{"not-mirrored", "the back is like the front, not its mirror image", whereFound(`panel [\w-]+ (mirrors)`, always("like"))},
		{"wrong-pattern", "another pattern of the shelf is named", whereFound(`like (six-ring-70)`, always("three-ring-letter", "six-ring-a5"))},
	}
}

func slipsOfLines() []slipKind {
	line := func(s stated) (at, end int) {
		at = strings.LastIndexByte(s.text[:s.at], '\n') + 1
		end = s.end
		if i := strings.IndexByte(s.text[s.end:], '\n'); i >= 0 {
			end += i + 1
		}
		return at, end
	}
	alone := func(s stated) bool {
		at, end := line(s)
		return strings.TrimSpace(s.text[at:end]) == s.text[s.at:s.end]
	}
	return []slipKind{
		{"line-forgotten", "a line is left out", inLines(alone, func(s stated) []slip {
			at, end := line(s)
			return []slip{{{at, end, ""}}}
		})},
		{"line-twice", "a line stands there again with another number", inLines(alone, func(s stated) []slip {
			f := s.figures()
			if len(f) == 0 || len(f) > 1 {
				return nil
			}
			at, end := line(s)
			again := s.text[at:f[0].at] + strconv.FormatFloat(f[0].value()*1.1, 'g', 4, 64) + s.text[f[0].at+len(f[0].was):end]
			return []slip{{{end, end, again}}}
		})},
		{"line-below-its-braces", "a line stands below the braces that it belongs in", inLines(alone, func(s stated) []slip {
			if s.block < 0 {
				return nil
			}
			at, end := line(s)
			return []slip{{{at, end, ""}, {s.endOfBlock + 1, s.endOfBlock + 1, "\n" + s.text[s.at:s.end]}}}
		})},
		{"accuracy-forgotten", "what the caliper promises is not stated", whereFound(`  accuracy = [\d.]+\n`, always(""))},
		{"accuracy-for-resolution", "the accuracy is given as the resolution", whereFound(`(accuracy) = `, always("resolution"))},
		{"covers-forgotten", "a panel doesn't say what it covers", whereFound(`panel [\w-]+( covers [\w-]+)`, always(""))},
		{"covers-another", "a panel covers a thing that is no notebook", whereFound(`panel [\w-]+ covers ([\w-]+)`, always("front"))},
		{"without-forgotten", "what the back is to do without is not said", whereFound(`without (?:title|eye|cords|pane)`, always(""))},
		{"stock-forgotten", "a panel doesn't say what it is cut from", whereFound(`\n  stock = [\w-]+`, always(""))},
	}
}

func slipsOfSigns() []slipKind {
	return []slipKind{
		{"brace-missing", "a closing brace is left out", whereFound(`\n *(\})`, always(""))},
		{"brace-too-many", "a closing brace stands there twice", whereFound(`\n *(\})`, always("} }"))},
		{"quote-missing", "a text isn't closed", whereFound(`text "[^"]*(")`, always(""))},
		{"equals-missing", "an equals sign is left out", whereFound(`\n +[\w-]+ *(=) `, always(""))},
		{"by-missing", "`by` is left out between two sizes", whereFound(`(?:rect|slot) [\d.]+ (by) `, always("", "x"))},
		{"semicolon-missing", "a semicolon is left out", whereFound(`\d(;) `, always(""))},
		{"limit-reversed", "at least is written as at most", whereFound(`>=`, always("<="))},
		{"wish-for-a-must", "a size is wished for that must hold", whereFound(`\n +()(?:width|height|inset|first|pitch|over-foredge|head|ease) = `, always("prefer "))},
	}
}

func slipsOfWords() []slipKind {
	trade := map[string]string{
		"width": "breadth", "height": "length", "thick": "thickness", "inset": "margin", "pitch": "spacing", "first": "start",
		"last": "end", "web": "gap", "run": "length", "count": "number", "hole": "diameter", "accuracy": "tolerance",
		"ease": "clearance", "over-foredge": "overhang", "corners": "corner-radius", "head": "top", "tail": "bottom",
		"spine": "left", "foredge": "right", "units": "unit",
	}
	forms := map[string]string{"round": "circle", "rect": "square", "slot": "oval", "region": "area", "cutout": "window",
		"panel": "board", "row": "holes", "binding": "wire", "engrave": "burn", "case": "cover", "units": "unit", "mirrors": "mirror"}
	return []slipKind{
		{"word-of-another-trade", "a dimension is called as in another trade", inLines(nil, func(s stated) []slip {
			if with, ok := trade[s.name]; ok {
				return []slip{{{s.at, s.at + len(s.name), with}}}
			}
			return nil
		})},
		{"form-of-another-trade", "a form, kind or verb is called as in another trade", whereFound(`\b(round|rect|slot|region|cutout|panel|row|binding|engrave|case|units|mirrors) `, func(found string) []string {
			return []string{forms[found]}
		})},
		{"word-misspelt", "two letters of a word change places", inLines(nil, func(s stated) []slip {
			if len(s.name) < 4 || strings.Contains(s.name, " ") {
				return nil
			}
			i := len(s.name) / 2
			if s.name[i-1] == s.name[i] {
				return nil
			}
			return []slip{{{s.at + i - 1, s.at + i + 1, s.name[i:i+1] + s.name[i-1:i]}}}
		})},
		{"name-misspelt", "a name that is used is misspelt", whereFound(`(?:covers|mirrors|stock =|material =|without) \w+(\w)\b`, always("", "q"))},
		{"name-in-capitals", "a name that is used begins with a capital", whereFound(`(?:covers|mirrors|stock =|without) (\w)`, func(found string) []string { return []string{strings.ToUpper(found)} })},
		{"column-misspelt", "a column of the orders is misspelt", whereFound(`order\.\w+(\w)\b`, always("", "q"))},
		{"column-of-another-name", "a column is declared by another name than the table has", whereFound(`\n  (number|name|size|copies) = `, func(found string) []string {
			return []string{map[string]string{"number": "no", "name": "customer", "size": "window", "copies": "quantity"}[found]}
		})},
	}
}
