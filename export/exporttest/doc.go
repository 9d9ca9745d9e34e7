// Package exporttest measures cut files back for tests: readers of SVG and DXF
// that share nothing with the encoders, outside programs that check the files,
// and drawings to try encoders on.
//
// Start from [ReadSVG], [ReadDXF] and [Compare]. [ReadSVG] reads what
// the SVG 1.1 recommendation says, by encoding/xml. DXF files are read by two
// independent libraries: ezdxf, which also audits them, and dxf-parser.
//
// A check that needs an outside program skips the test where that is not
// installed, but fails it if the environment variable CI is true: there nothing
// may go unchecked.
//
// The package is for tests only: no command may import it, and it knows the
// formats from their descriptions, never from the encoders.
package exporttest
