package advise

import (
	_ "embed"
	"strings"
)

//go:embed safety.txt
var safety string

// Safety is the whole of what the caution says in a line, one line after another,
// of 100 characters at most. Its facts stand in the ledger of package shelf.
func Safety() []string { return strings.Split(strings.TrimSpace(safety), "\n") }
