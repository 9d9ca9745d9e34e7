package raster_test

import (
	"bytes"
	"image"
	"testing"

	"foredge/layout/raster"
)

// A cache reads a picture once, by its bytes, and forgets the one used longest ago when
// it holds too much; what can't be read is told by the name that it has each time.
func TestCache(t *testing.T) {
	c := raster.Cache{Most: 200_000}
	read := func(data []byte) *raster.Photo {
		p, err := c.Decode("tern.png", data)
		if err != nil {
			t.Fatal(err)
		}
		return p
	}
	small := encodePNG(t, grey(2, 0, 255))
	first := read(small)
	if read(bytes.Clone(small)) != first {
		t.Error("the same bytes are read twice")
	}
	big := func(side int) []byte { return encodePNG(t, image.NewGray(image.Rect(0, 0, side, side))) }
	read(big(300)) // 90,000 bytes
	if read(small) != first {
		t.Error("it is forgotten though there is room")
	}
	for side := range 3 {
		read(big(301 + side))
	}
	if read(small) == first {
		t.Error("nothing is forgotten")
	}
	for _, name := range []string{"gull.png", "tern.png"} {
		if _, err := c.Decode(name, small[:30]); err == nil || err.(*raster.Error).File != name {
			t.Errorf("%s: %v", name, err)
		}
	}
}
