package art

import (
	"math"
	"strconv"
	"strings"

	"golang.org/x/image/colornames"
)

// A paintKind is what a fill or a stroke does.
type paintKind uint8

const (
	nothing paintKind = iota
	ink
	paper  // white: takes away
	server // a gradient or a pattern, until it is looked up
)

// A paint is what a fill or a stroke is painted with.
type paint struct {
	kind  paintKind
	color color
	ref   string // of a server, the name of its element
	// or is what is taken where nothing has that name.
	or *paint
}

func (p paint) is(k paintKind) bool { return p.kind == k }

// A color is red, green and blue from 0 to 1, and how opaque it is.
type color struct{ r, g, b, a float64 }

func black() color { return color{a: 1} }

// over is the colour that is seen where c lies on what lies below it.
func (c color) over(below color) color {
	a := c.a + below.a*(1-c.a)
	if a <= 0 {
		return color{}
	}
	mix := func(x, y float64) float64 { return (x*c.a + y*below.a*(1-c.a)) / a }
	return color{mix(c.r, below.r), mix(c.g, below.g), mix(c.b, below.b), a}
}

// faded is the colour at a share of its opacity.
func (c color) faded(share float64) color {
	c.a *= max(0, min(share, 1))
	return c
}

// luminance is how light the colour is (SVG 1.1, 14.4), of a black ground.
func (c color) luminance() float64 { return (0.2125*c.r + 0.7154*c.g + 0.0721*c.b) * c.a }

// differs says whether two colours can be told apart beside one another: by a
// tenth in red, green or blue (common practice, no source).
func (c color) differs(d color) bool {
	return max(math.Abs(c.r-d.r), math.Abs(c.g-d.g), math.Abs(c.b-d.b)) > 0.1
}

// hex writes the colour as #rrggbb.
func (c color) hex() string {
	text := "#"
	for _, v := range [3]float64{c.r, c.g, c.b} {
		n := strconv.FormatInt(int64(math.Round(255*max(0, min(v, 1)))), 16)
		if len(n) < 2 {
			n = "0" + n
		}
		text += n
	}
	return text
}

// painted is what a colour does: white takes away, what is clear does nothing.
func painted(c color) paint {
	switch {
	case c.a <= 0:
		return paint{}
	case c.r >= 1 && c.g >= 1 && c.b >= 1:
		return paint{kind: paper, color: c}
	}
	return paint{kind: ink, color: c}
}

// parsePaint reads a colour, none, or a reference to a gradient or pattern.
func parsePaint(s string, current paint) (paint, bool) {
	s = strings.TrimSpace(s)
	low := strings.ToLower(s)
	switch {
	case low == "none":
		return paint{}, true
	case low == "currentcolor":
		return current, true
	case strings.HasPrefix(low, "url("):
		ref, rest, ok := reference(s)
		if !ok {
			return paint{}, false
		}
		p := paint{kind: server, ref: ref}
		if rest != "" {
			other, ok := parsePaint(rest, current)
			if !ok {
				return paint{}, false
			}
			p.or = &other
		}
		return p, true
	}
	// A colour of another space may stand behind the plain one (SVG 1.1, 11.2).
	if i := strings.Index(low, "icc-color("); i > 0 {
		low = strings.TrimSpace(low[:i])
	}
	c, ok := parseColor(low)
	return painted(c), ok
}

// reference reads url(#name), in quotes or not. What stands behind it comes back.
func reference(s string) (name, rest string, ok bool) {
	inner, rest, ok := strings.Cut(s, ")")
	if !ok || len(inner) < 4 || !strings.EqualFold(inner[:4], "url(") {
		return "", "", false
	}
	name = strings.Trim(strings.TrimSpace(inner[4:]), `"'`)
	name = strings.TrimSpace(name)
	return name, strings.TrimSpace(rest), name != ""
}

// parseColor reads a colour (CSS Color 4, 4 to 8), written in small letters.
func parseColor(s string) (color, bool) {
	switch {
	case s == "transparent":
		return color{}, true
	case s == "rebeccapurple":
		return color{0x66 / 255.0, 0x33 / 255.0, 0x99 / 255.0, 1}, true
	case strings.HasPrefix(s, "#"):
		return hexColor(s[1:])
	}
	if name, inner, ok := strings.Cut(s, "("); ok {
		inner, closed := strings.CutSuffix(inner, ")")
		if !closed {
			return color{}, false
		}
		parts := strings.FieldsFunc(inner, func(c rune) bool { return c == ',' || c == ' ' || c == '/' || c == '\t' || c == '\n' })
		if len(parts) != 3 && len(parts) != 4 {
			return color{}, false
		}
		switch strings.TrimSpace(name) {
		case "rgb", "rgba":
			return rgbColor(parts)
		case "hsl", "hsla":
			return hueColor(parts, hsl)
		case "hwb":
			return hueColor(parts, hwb)
		}
		return color{}, false
	}
	if c, ok := colornames.Map[s]; ok {
		return color{float64(c.R) / 255, float64(c.G) / 255, float64(c.B) / 255, 1}, true
	}
	return color{}, false
}

func hexColor(s string) (color, bool) {
	if len(s) == 3 || len(s) == 4 {
		twice := ""
		for _, c := range s {
			twice += string(c) + string(c)
		}
		s = twice
	}
	if len(s) == 6 {
		s += "ff"
	}
	v, err := strconv.ParseUint(s, 16, 64)
	if len(s) != 8 || err != nil {
		return color{}, false
	}
	part := func(shift int) float64 { return float64(v>>shift&255) / 255 }
	return color{part(24), part(16), part(8), part(0)}, true
}

// share reads a number of so many, or a percentage, as a share from 0 to 1.
func share(s string, of float64) (float64, bool) {
	if s == "none" {
		return 0, true
	}
	l, ok := parseLength(s)
	switch {
	case ok && l.unit == "":
		return max(0, min(l.v/of, 1)), true
	case ok && l.unit == "%":
		return max(0, min(l.v/100, 1)), true
	}
	return 0, false
}

// alpha is how opaque a function of three or four parts says that a colour is.
func alpha(parts []string) (float64, bool) {
	if len(parts) < 4 {
		return 1, true
	}
	return share(parts[3], 1)
}

func rgbColor(parts []string) (color, bool) {
	var v [3]float64
	for i := range v {
		var ok bool
		if v[i], ok = share(parts[i], 255); !ok {
			return color{}, false
		}
	}
	a, ok := alpha(parts)
	return color{v[0], v[1], v[2], a}, ok
}

// hueColor reads a hue in degrees and two shares.
func hueColor(parts []string, mix func(h, x, y float64) color) (color, bool) {
	h, ok := angle(parts[0])
	x, okX := share(parts[1], 100)
	y, okY := share(parts[2], 100)
	a, okA := alpha(parts)
	c := mix(h, x, y)
	c.a = a
	return c, ok && okX && okY && okA
}

// angle reads an angle in degrees; one without a unit is in degrees too.
func angle(s string) (float64, bool) {
	l, ok := parseLength(s)
	if !ok {
		return 0, false
	}
	per := map[string]float64{"": 1, "deg": 1, "grad": 0.9, "rad": 180 / math.Pi, "turn": 360}
	k, ok := per[l.unit]
	return l.v * k, ok
}

// hsl is a colour of a hue in degrees, saturation and lightness (CSS Color 4, 7.1).
func hsl(h, s, l float64) color {
	h = math.Mod(math.Mod(h, 360)+360, 360)
	f := func(n float64) float64 {
		k := math.Mod(n+h/30, 12)
		v := l - s*min(l, 1-l)*max(-1, min(k-3, 9-k, 1))
		return math.Round(v*1e9) / 1e9 // white is white
	}
	return color{f(0), f(8), f(4), 1}
}

// hwb is a colour of a hue with white and black in it (CSS Color 4, 8.1).
func hwb(h, w, b float64) color {
	if w+b >= 1 {
		g := w / (w + b)
		return color{g, g, g, 1}
	}
	c := hsl(h, 1, 0.5)
	mix := func(v float64) float64 { return v*(1-w-b) + w }
	return color{mix(c.r), mix(c.g), mix(c.b), 1}
}
