package driver

import (
	"bytes"

	"foredge/export"
	"foredge/layout"
)

// largeFile is how many bytes a file has, at least, that is first measured and then written
// into just the room that it takes: a grey picture of dots can make 200 MB of DXF, and what
// grows as it is written takes up to three times as much. markRoom is for its mark.
const (
	largeFile = 8 << 20
	markRoom  = 4 << 10
)

// encoded is a drawing in a format.
func encoded(enc export.Encoder, d *layout.Drawing) ([]byte, error) {
	var b measured
	if err := enc.Encode(&b, d); err != nil || b.n <= largeFile {
		return b.held.Bytes(), err
	}
	b.held = bytes.Buffer{}
	whole := bytes.NewBuffer(make([]byte, 0, b.n+markRoom))
	err := enc.Encode(whole, d)
	return whole.Bytes(), err
}

// A measured buffer holds what is written, but only counts it past [largeFile].
type measured struct {
	held bytes.Buffer
	n    int
}

func (m *measured) Write(p []byte) (int, error) {
	if m.n += len(p); m.n <= largeFile {
		return m.held.Write(p)
	}
	return len(p), nil
}
