package compile_test

import (
	"strings"
	"testing"

	"foredge/eval/evaltest"
	"foredge/lang/diag/diagtest"
)

// What can't be silenced is named.
func TestQuietNames(t *testing.T) {
	for text, want := range map[string]string{
		"quiet = thin-wep":        "did you mean thin-web?",
		"quiet = overlap":         "overlap is not a warning that can be silenced",
		`quiet = "thin-web"`:      "is not a warning that can be silenced",
		"quiet = caution":         "write quiet = caution in the laser",
		"quiet = thin-web":        "",
		"quiet = thin-web, splay": "",
	} {
		_, ds := evaltest.Build("panel front { width = 100; height = 100; "+text+" }", evaltest.Files{})
		if got := diagtest.Text(ds); want == "" && got != "" || !strings.Contains(got, want) {
			t.Errorf("%s: %q, want %q", text, got, want)
		}
	}
}
