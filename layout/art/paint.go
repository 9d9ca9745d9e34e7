package art

import (
	"strconv"
	"strings"
)

// A paint is what a fill or a stroke does.
type paint uint8

const (
	nothing paint = iota
	ink
	paper // white: takes away
	server
)

// colorNames are the names of colours but white (CSS Color 4, 6.1).
const colorNames = ` aliceblue antiquewhite aqua aquamarine azure beige bisque black blanchedalmond blue blueviolet
brown burlywood cadetblue chartreuse chocolate coral cornflowerblue cornsilk crimson cyan darkblue darkcyan
darkgoldenrod darkgray darkgreen darkgrey darkkhaki darkmagenta darkolivegreen darkorange darkorchid darkred
darksalmon darkseagreen darkslateblue darkslategray darkslategrey darkturquoise darkviolet deeppink deepskyblue
dimgray dimgrey dodgerblue firebrick floralwhite forestgreen fuchsia gainsboro ghostwhite gold goldenrod gray
green greenyellow grey honeydew hotpink indianred indigo ivory khaki lavender lavenderblush lawngreen
lemonchiffon lightblue lightcoral lightcyan lightgoldenrodyellow lightgray lightgreen lightgrey lightpink
lightsalmon lightseagreen lightskyblue lightslategray lightslategrey lightsteelblue lightyellow lime limegreen
linen magenta maroon mediumaquamarine mediumblue mediumorchid mediumpurple mediumseagreen mediumslateblue
mediumspringgreen mediumturquoise mediumvioletred midnightblue mintcream mistyrose moccasin navajowhite navy
oldlace olive olivedrab orange orangered orchid palegoldenrod palegreen paleturquoise palevioletred papayawhip
peachpuff peru pink plum powderblue purple rebeccapurple red rosybrown royalblue saddlebrown salmon sandybrown
seagreen seashell sienna silver skyblue slateblue slategray slategrey snow springgreen steelblue tan teal
thistle tomato turquoise violet wheat whitesmoke yellow yellowgreen `

// parsePaint reads a colour, none, or a reference to a gradient or pattern.
func parsePaint(s string, current paint) (paint, bool) {
	s = strings.ToLower(strings.TrimSpace(s))
	switch {
	case s == "none" || s == "transparent":
		return nothing, true
	case s == "currentcolor":
		return current, true
	case s == "white":
		return paper, true
	case strings.HasPrefix(s, "url("):
		return server, true
	case strings.HasPrefix(s, "#"):
		return hexPaint(s[1:])
	case strings.HasPrefix(s, "rgb"):
		return rgbPaint(s)
	}
	for _, name := range strings.Fields(colorNames) {
		if s == name {
			return ink, true
		}
	}
	return nothing, false
}

func hexPaint(s string) (paint, bool) {
	if n := len(s); n != 3 && n != 6 && n != 4 && n != 8 {
		return nothing, false
	}
	if _, err := strconv.ParseUint(s, 16, 64); err != nil {
		return nothing, false
	}
	switch opaque := len(s) / 4 * 3; {
	case len(s) == 4 && s[3] == '0', len(s) == 8 && s[6:] == "00":
		return nothing, true
	case len(s)%4 == 0 && strings.Trim(s[:opaque], "f") == "", len(s)%3 == 0 && strings.Trim(s, "f") == "":
		return paper, true
	}
	return ink, true
}

func rgbPaint(s string) (paint, bool) {
	_, inner, ok := strings.Cut(s, "(")
	inner, closed := strings.CutSuffix(inner, ")")
	if !ok || !closed {
		return nothing, false
	}
	parts := strings.FieldsFunc(inner, func(c rune) bool { return c == ',' || c == ' ' || c == '/' })
	if len(parts) != 3 && len(parts) != 4 {
		return nothing, false
	}
	white := true
	for i, p := range parts {
		l, ok := parseLength(p)
		if !ok || l.unit != "" && l.unit != "%" {
			return nothing, false
		}
		if i == 3 {
			if l.v <= 0 {
				return nothing, true
			}
			continue
		}
		white = white && (l.unit == "" && l.v >= 255 || l.unit == "%" && l.v >= 100)
	}
	if white {
		return paper, true
	}
	return ink, true
}
