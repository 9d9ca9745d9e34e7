package parse

import (
	"testing"

	"foredge/lang/source"
)

// What is missing from a line that says nothing of what it names.
func TestNoSign(t *testing.T) {
	for line, want := range map[string]string{
		"w.gap 1 = 8":                         "a gap of another thing is spoken of as w.gap.1",
		"corner.corner head-spine = radius 3": "a corner is stated in the braces of its panel",
		"ease.x 3":                            "= is missing between ease.x and 3",
		"ease.x wide":                         "= is missing between ease.x and wide",
		`ease.x "wide"`:                       `= is missing between ease.x and "wide"`,
		"ease.x (3)":                          "= is missing between ease.x and (",
		"thick (3 + 1)":                       "= is missing between thick and (3 + 1)",
		"ease.x":                              "nothing is said about ease.x",
		"148 exact = width":                   "exact stands behind what was read, on the right of =",
		"148 ± 0.1 = width":                   "± stands behind what was read, on the right of =",
		"width exact":                         "= is missing between width and exact",
		"max(a, b)":                           "nothing is said about max(a, b)",
		"a.width, b.width":                    "a list can stand only on the right of =",
	} {
		_, diags := File(source.New("t.fore", []byte("panel p {\n"+line+"\n}\n")))
		if len(diags) != 1 || diags[0].Message != want || diags[0].Help == "" {
			t.Errorf("%s:", line)
			for _, d := range diags {
				t.Errorf("\ttold %s (%s), want %s", d.Message, d.Help, want)
			}
		}
	}
}
