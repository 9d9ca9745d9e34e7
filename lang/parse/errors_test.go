package parse

import (
	"testing"

	"foredge/lang/diag/diagtest"
)

// Each wrong design gets the messages that it expects, on their lines.
func TestErrors(t *testing.T) {
	for name, src := range designs(t, wrong) {
		t.Run(name, func(t *testing.T) {
			file, diags := File(src)
			checkTree(t, file)
			diagtest.Check(t, src, diags)
		})
	}
}
