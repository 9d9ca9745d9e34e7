package raster_test

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"math/rand/v2"
	"testing"

	"foredge/layout/raster"
)

// chunk is one chunk of a PNG file (PNG, 5.3).
func chunk(name string, body []byte) []byte {
	named := append([]byte(name), body...)
	out := binary.BigEndian.AppendUint32(nil, uint32(len(body)))
	return binary.BigEndian.AppendUint32(append(out, named...), crc32.ChecksumIEEE(named))
}

// randomPNG is a PNG file of any kind of samples, written here: rows of random bytes
// behind random filters, in one pass or seven.
func randomPNG(r *rand.Rand) []byte {
	kinds := []struct {
		kind, samples int
		depths        []int
	}{{0, 1, []int{1, 2, 4, 8, 16}}, {2, 3, []int{8, 16}}, {3, 1, []int{1, 2, 4, 8}}, {4, 2, []int{8, 16}}, {6, 4, []int{8, 16}}}
	k := kinds[r.IntN(len(kinds))]
	depth := k.depths[r.IntN(len(k.depths))]
	w, h, laced := 1+r.IntN(20), 1+r.IntN(20), r.IntN(2)
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(w)), uint32(h))
	file := append([]byte(pngStart), chunk("IHDR", append(head, byte(depth), byte(k.kind), 0, 0, byte(laced)))...)
	random := func(n int) []byte {
		b := make([]byte, n)
		for i := range b {
			b[i] = byte(r.IntN(256))
		}
		return b
	}
	if k.kind == 3 {
		file = append(file, chunk("PLTE", random(3<<depth))...)
		if r.IntN(2) == 0 {
			file = append(file, chunk("tRNS", random(1+r.IntN(1<<depth)))...)
		}
	} else if (k.kind == 0 || k.kind == 2) && r.IntN(2) == 0 {
		clear := make([]byte, 2*k.samples)
		for i := range k.samples {
			binary.BigEndian.PutUint16(clear[2*i:], uint16(r.IntN(min(4, 1<<depth))))
		}
		file = append(file, chunk("tRNS", clear)...)
	}
	type pass struct{ x, y, dx, dy int }
	passes := []pass{{0, 0, 1, 1}}
	if laced == 1 { // PNG, 8.2
		passes = []pass{{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}}
	}
	var rows bytes.Buffer
	z := zlib.NewWriter(&rows)
	for _, p := range passes {
		wide := (w - p.x + p.dx - 1) / p.dx
		for y := p.y; wide > 0 && y < h; y += p.dy {
			z.Write([]byte{byte(r.IntN(5))})
			z.Write(random((wide*depth*k.samples + 7) / 8))
		}
	}
	z.Close()
	data := rows.Bytes()
	for len(data) > 0 {
		n := min(len(data), 1+r.IntN(len(data)))
		file, data = append(file, chunk("IDAT", data[:n])...), data[n:]
	}
	return append(file, chunk("IEND", nil)...)
}

// Pictures of all kinds come out as the standard library's decoder reads them, each
// pixel on white by the luma of Rec. 601; cut off or changed ones are refused.
func TestPNGAgainstTheStandardLibrary(t *testing.T) {
	r := rand.New(rand.NewPCG(14, 7))
	for n := range 2000 {
		data := randomPNG(r)
		want, err := png.Decode(bytes.NewReader(data))
		got, wrong := raster.Decode("sea.png", data)
		if err != nil || wrong != nil {
			t.Fatalf("%d: the library says %v, we %v", n, err, wrong)
		}
		b := want.Bounds()
		if got.W != b.Dx() || got.H != b.Dy() {
			t.Fatalf("%d: %d by %d, want %v", n, got.W, got.H, b)
		}
		for i, level := range got.Grey {
			if w := lightness(want, i%got.W, i/got.W); int(level)-w > 1 || w-int(level) > 1 {
				t.Fatalf("%d: %T, pixel %d is %d, want %d", n, want, i, level, w)
			}
		}
		at := 8 + r.IntN(len(data)-8)
		if _, err := raster.Decode("sea.png", data[:at]); err == nil && at < len(data)-12 {
			t.Errorf("%d: cut off at %d of %d it is read", n, at, len(data))
		}
		broken := bytes.Clone(data)
		broken[at] ^= 1 << r.IntN(8)
		if _, err := raster.Decode("sea.png", broken); err == nil && at < len(data)-12 {
			t.Errorf("%d: changed at %d of %d it is read", n, at, len(data))
		}
	}
}

// lightness is a pixel's on white, 0 to 255, as Rec. 601 weighs its colours.
func lightness(img image.Image, x, y int) int {
	r, g, b, a := img.At(x, y).RGBA()
	white := float64(0xffff - a)
	return int((0.299*(float64(r)+white) + 0.587*(float64(g)+white) + 0.114*(float64(b)+white)) / 257)
}
