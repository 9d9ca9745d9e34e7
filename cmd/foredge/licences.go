package main

import (
	_ "embed"
	"fmt"
	"io"

	"foredge/layout/lettering"
)

// licences holds the notices of every module that is compiled in, each with
// the names of those it is of. TestLicences makes it and holds it against what
// the program is built from.
//
//go:embed licences.txt
var licences string

// writeLicences tells whose work the program holds, and on what terms.
func writeLicences(w io.Writer) {
	fmt.Fprintf(w, "%s\n%s", lettering.Acknowledgement(), licences)
}
