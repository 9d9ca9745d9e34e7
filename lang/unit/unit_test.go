package unit

import (
	"math"
	"slices"
	"strings"
	"testing"
)

// The sizes of units are those of CSS Values and Units Module Level 4 (W3C),
// sections 6.2 "Absolute lengths" (1 in = 2.54 cm, 1 pt = 1/72 in) and 7.1
// "Angle units"; the inch of exactly 25.4 mm is that of the International Yard
// and Pound agreement of 1959. They stand here as those papers put them, as so
// many of one unit in so many of another.
func TestSizes(t *testing.T) {
	for _, c := range []struct {
		many float64
		of   string
		make float64
		in   string
	}{
		{10, "mm", 1, "cm"},
		{100, "cm", 1, "m"},
		{2.54, "cm", 1, "in"},
		{72, "pt", 1, "in"},
		{18, "pt", 6.35, "mm"}, // a quarter of an inch
		{100, "%", 1, ""},
		{360, "deg", 360, ""}, // a full turn
	} {
		from := size(t, c.of)
		to := 1.0
		if c.in != "" {
			to = size(t, c.in)
		}
		if got, want := c.many*from, c.make*to; math.Abs(got-want) > 1e-12*want {
			t.Errorf("%g %s are %g, and %g %s are %g", c.many, c.of, got, c.make, c.in, want)
		}
	}
}

func size(t *testing.T, name string) float64 {
	t.Helper()
	u, ok := Lookup(name)
	if !ok || u.Name != name {
		t.Fatalf("%q is no unit", name)
	}
	return u.Size
}

func TestKindsOfUnits(t *testing.T) {
	want := map[string]Kind{"mm": Length, "cm": Length, "m": Length, "in": Length, "pt": Length, "deg": Angle, "%": Ratio}
	for _, name := range Names() {
		if u, _ := Lookup(name); u.Kind != want[name] {
			t.Errorf("%s is of kind %v, want %v", name, u.Kind, want[name])
		}
		if u, _ := Lookup(name); u.Imperial() != (name == "in") {
			t.Errorf("%s is imperial: %v", name, u.Imperial())
		}
		delete(want, name)
	}
	if len(want) > 0 {
		t.Errorf("these units are missing: %v", want)
	}
}

// Other spellings tell what was meant, and are no units themselves.
func TestMeant(t *testing.T) {
	for spelling, want := range map[string]string{
		"inches": "in", "Inch": "in", "″": "in", "millimeter": "mm", "mms": "mm", "centimetres": "cm", "meters": "m",
		"points": "pt", "degrees": "deg", "º": "deg", "°": "deg", "percent": "%", "mm": "", "furlong": "", "": "", " ": "",
	} {
		u, ok := Meant(spelling)
		if u.Name != want || ok != (want != "") {
			t.Errorf("by %q is meant %q (%v), want %q", spelling, u.Name, ok, want)
		}
	}
	seen := map[string]string{}
	for _, u := range units {
		for _, spelling := range strings.Fields(u.others) {
			if slices.Contains(Names(), spelling) || seen[spelling] != "" {
				t.Errorf("%s stands for %s, and for something else too", spelling, u.Name)
			}
			seen[spelling] = u.Name
		}
	}
}

func TestFormat(t *testing.T) {
	for _, c := range []struct {
		mm   float64
		in   Unit
		want string
	}{
		{12.5, MM, "12.5 mm"}, {1. / 3, MM, "0.3333 mm"}, {100, MM, "100 mm"}, {-0.00001, MM, "0 mm"},
		{130.175, Inch, "5.125 in"}, {1, Inch, "0.03937 in"}, {math.Inf(1), MM, "+Inf mm"},
	} {
		if got := FormatLength(c.mm, c.in); got != c.want {
			t.Errorf("%g mm are written %q, want %q", c.mm, got, c.want)
		}
	}
	for in, want := range map[Unit]string{MM: "64516 mm²", Inch: "100 in²"} {
		if got := Format(64516, Area, in); got != want {
			t.Errorf("an area of 64516 mm² is written %q, want %q", got, want)
		}
	}
	for _, c := range []struct {
		x      float64
		digits int
		want   string
	}{{1200, 0, "1200"}, {-0.4, 0, "0"}, {-2.5, 1, "-2.5"}, {0.05, 1, "0.1"}, {math.NaN(), 2, "NaN"}} {
		if got := FormatNumber(c.x, c.digits); got != c.want {
			t.Errorf("%g with %d digits is written %q, want %q", c.x, c.digits, got, c.want)
		}
	}
}

func TestKindsInWords(t *testing.T) {
	for kind, want := range map[Kind]string{
		None: "nothing", Bare: "a plain number", Length: "a length", Angle: "an angle", Count: "a count", Ratio: "a ratio",
		Text: "text", Money: "money", Truth: "a condition",
	} {
		if got := kind.WithArticle(); got != want {
			t.Errorf("kind %d is %q, want %q", kind, got, want)
		}
	}
}
