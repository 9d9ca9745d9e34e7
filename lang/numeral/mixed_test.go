package numeral_test

import (
	"testing"

	"foredge/lang/numeral"
	"foredge/lang/unit"
)

func TestMixedInACell(t *testing.T) {
	inch := unit.Inch
	for text, want := range map[string]string{
		"41/8":    `"41/8" may be 4 1/8, where a blank is missing, or 5 1/8`,
		"21/2":    `"21/2" may be 2 1/2, where a blank is missing, or 10 1/2`,
		"41/8 in": `"41/8 in" may be 4 1/8, where a blank is missing, or 5 1/8`,
		"4 1/8":   "",
		"11/2":    "",
		"7/16":    "",
		"40/8":    "",
	} {
		said := ""
		if _, err := numeral.Value(text, unit.Length, inch); err != nil {
			said = err.Error()
		}
		if said != want {
			t.Errorf("%q: told %q, want %q", text, said, want)
		}
	}
	if _, err := numeral.Value("41/8", unit.Ratio, inch); err != nil {
		t.Errorf("as a ratio: %v", err)
	}
}
