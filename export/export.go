package export

import (
	"fmt"
	"io"
	"strings"

	"foredge/export/dxf"
	"foredge/export/svg"
	"foredge/layout"
)

// An Encoder writes drawings in one format.
type Encoder interface {
	// Name is the format's name: svg.
	Name() string
	// Extension is how the names of its files end: .svg.
	Extension() string
	// Purpose is what its files are for, as a maker is told: to cut from.
	Purpose() string
	// Picture says that its files are to look at, not to cut from.
	Picture() bool
	// Encode writes one whole file. The error is w's or names the shape that
	// can't be drawn; after one, what was written is not a whole file.
	Encode(w io.Writer, d *layout.Drawing) error
}

// Options are the choices that a maker has about formats. The zero value is
// what a design gets when nothing is asked for.
type Options struct {
	DXF dxf.Encoder
}

// CutFiles returns the encoders of the formats that a laser cuts from.
func CutFiles(o Options) []Encoder {
	return []Encoder{svg.Encoder{}, o.DXF}
}

// Encoders returns an encoder of each format, in the order in which a person
// is told of them: cut files, then pictures.
func Encoders(o Options) []Encoder {
	return append(CutFiles(o), pictures()...)
}

// Lookup finds the encoder for a format's name or file extension, with or
// without its dot, in any case. The error lists the formats there are.
func Lookup(name string, o Options) (Encoder, error) {
	var known []string
	for _, e := range Encoders(o) {
		if strings.EqualFold(strings.TrimPrefix(name, "."), e.Name()) || strings.EqualFold(name, e.Extension()) {
			return e, nil
		}
		known = append(known, e.Name())
	}
	return nil, fmt.Errorf("%q is not a format that can be written: choose from %s", name, strings.Join(known, ", "))
}
