package spell

import (
	"testing"
)

func TestName(t *testing.T) {
	for words, want := range map[string]string{
		"Glass fibre": "glass-fibre", "  Hart-PVC, white/grey ": "hart-pvc-white-grey", "oak": "oak",
		"Würfel 3": "würfel-3", "-": "", "": "",
	} {
		if got := Name(words); got != want {
			t.Errorf("%q as a name is %q, want %q", words, got, want)
		}
	}
}
