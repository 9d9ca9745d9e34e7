package art_test

import (
	"strings"
	"testing"

	"foredge/layout/art"
)

// Lines are joined where two of their ends, and no third, lie within 0.01 mm: by
// hand, in the order and from the start of the first of each.
func TestJoined(t *testing.T) {
	for name, c := range map[string]struct{ data, want string }{
		"apart":                {"M0 0H5M6 0H9", "M0 0L5 0, M6 0L9 0"},
		"end to start":         {"M0 0H5M5 0V5", "M0 0L5 0L5 5"},
		"end to end":           {"M0 0H5M5 5V0", "M0 0L5 0L5 5"},
		"start to start":       {"M5 0H0M5 0V5", "M5 5L5 0L0 0"},
		"the first in between": {"M5 0V5M5 5H0M0 0H5", "M0 0L5 0L5 5L0 5"},
		"a square":             {"M0 0H5M5 0V5M5 5H0M0 5V0", "M0 0L5 0L5 5L0 5Z"},
		"a square in disorder": {"M0 0H5M5 5H0M0 5V0M5 5V0", "M0 0L5 0L5 5L0 5Z"},
		"comes back":           {"M0 0H5V5L0.005 0", "M0 0L5 0L5 5Z"},
		"hardly comes back":    {"M0 0H5V5L0.02 0", "M0 0L5 0L5 5L0.02 0"},
		"there and back":       {"M0 0H5M5 0H0", "M0 0L5 0"}, // one line, drawn twice
		"three ends":           {"M0 0H5M5 0V5M5 0H9", "M0 0L5 0, M5 0L5 5, M5 0L9 0"},
		"near enough":          {"M0 0H5M5.009 0V5", "M0 0L5.009 0L5.009 5"},
		"not near enough":      {"M0 0H5M5.011 0V5", "M0 0L5 0, M5.011 0L5.011 5"},
		"beside a closed one":  {"M0 0H5M5 0V5H9Z", "M0 0L5 0, M5 0L5 5L9 5Z"},
		// An arc keeps its circle: a little line leads on.
		"an arc": {"M0 9A5 5 0 0 1 10 9M10 9.005V15", "M0 9A5 5 0 0 1 5 4A5 5 0 0 1 10 9L10 9.005L10 15"},
	} {
		p, err := art.Parse("a.svg", []byte(`<svg xmlns="http://www.w3.org/2000/svg" width="20mm" height="20mm" viewBox="0 0 20 20"><path fill="none" stroke="black" d="`+c.data+`"/></svg>`))
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		var got []string
		for _, l := range art.Joined(p.Lines, 0.01) {
			got = append(got, l.Path.String())
		}
		if g := strings.Join(got, ", "); g != c.want {
			t.Errorf("%s: %s, want %s", name, g, c.want)
		}
	}
}
