package raster_test

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"math"
	"slices"
	"strings"
	"testing"

	"foredge/layout/raster"
)

func encodePNG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func encodeJPEG(t testing.TB, img image.Image) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 100}); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// grey is a picture of given levels.
func grey(w int, levels ...uint8) *image.Gray {
	img := image.NewGray(image.Rect(0, 0, w, len(levels)/w))
	copy(img.Pix, levels)
	return img
}

// withDensity puts a pHYs chunk of pixels a metre behind the header.
func withDensity(data []byte, x, y uint32) []byte {
	body := binary.BigEndian.AppendUint32([]byte("pHYs"), x)
	body = append(binary.BigEndian.AppendUint32(body, y), 1)
	chunk := append(binary.BigEndian.AppendUint32(nil, 9), body...)
	chunk = binary.BigEndian.AppendUint32(chunk, crc32.ChecksumIEEE(body))
	return slices.Concat(data[:33], chunk, data[33:])
}

// withSegment puts a segment behind the start of a JPEG file.
func withSegment(data []byte, marker byte, body string) []byte {
	head := []byte{0xff, marker, byte((len(body) + 2) >> 8), byte(len(body) + 2)}
	return slices.Concat(data[:2], head, []byte(body), data[2:])
}

func decode(t testing.TB, data []byte) *raster.Photo {
	t.Helper()
	p, err := raster.Decode("sea.png", data)
	if err != nil {
		t.Fatal(err)
	}
	return p
}

func TestDecode(t *testing.T) {
	seen := image.NewNRGBA(image.Rect(0, 0, 4, 1))
	for x, c := range []color.NRGBA{{0, 0, 0, 255}, {0, 0, 0, 0}, {0, 0, 0, 128}, {255, 0, 0, 255}} {
		seen.Set(x, 0, c)
	}
	deep := image.NewGray16(image.Rect(0, 0, 2, 1))
	deep.SetGray16(1, 0, color.Gray16{Y: 0x8000})
	for name, c := range map[string]struct {
		img  image.Image
		want []uint8
	}{
		"grey": {grey(3, 0, 100, 255), []uint8{0, 100, 255}},
		// On white: what is transparent is white; red's luma is 0.299 (Rec. 601).
		"colour and opacity": {seen, []uint8{0, 255, 127, 76}},
		"16 bits":            {deep, []uint8{0, 128}},
		"two colours":        {&image.Paletted{Pix: []uint8{1, 0}, Stride: 2, Rect: image.Rect(0, 0, 2, 1), Palette: color.Palette{color.White, color.Black}}, []uint8{0, 255}},
	} {
		p := decode(t, encodePNG(t, c.img))
		if !slices.Equal(p.Grey, c.want) || p.Width != 0 {
			t.Errorf("%s: %v, want %v; %.3f mm wide", name, p.Grey, c.want, p.Width)
		}
	}
	if p := decode(t, encodeJPEG(t, grey(8, slices.Repeat([]uint8{200}, 64)...))); p.W != 8 || p.H != 8 || p.Grey[0] < 198 || p.Grey[0] > 202 {
		t.Errorf("JPEG: %d by %d of %d", p.W, p.H, p.Grey[0])
	}
}

// Sizes by density: 11811 pixels a metre is 300 to the inch.
func TestSize(t *testing.T) {
	img := grey(30, slices.Repeat([]uint8{9}, 600)...)
	jfif := func(unit byte, x, y uint16) []byte {
		b := append([]byte("JFIF\x00\x01\x02"), unit)
		b = binary.BigEndian.AppendUint16(b, x)
		b = binary.BigEndian.AppendUint16(b, y)
		return withSegment(encodeJPEG(t, img), 0xe0, string(b)+"\x00\x00")
	}
	// 72 an inch, across and down: from byte 50 on, the one for both.
	exif := "Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x03" +
		"\x01\x1a\x00\x05\x00\x00\x00\x01\x00\x00\x00\x32" + "\x01\x1b\x00\x05\x00\x00\x00\x01\x00\x00\x00\x32" +
		"\x01\x28\x00\x03\x00\x00\x00\x01\x00\x02\x00\x00" + "\x00\x00\x00\x00" + "\x00\x00\x00\x48\x00\x00\x00\x01"
	for name, c := range map[string]struct {
		data []byte
		w, h float64
	}{
		"pHYs":             {withDensity(encodePNG(t, img), 11811, 11811), 2.54, 20.0 * 25.4 / 300},
		"pHYs not square":  {withDensity(encodePNG(t, img), 10000, 5000), 3, 4},
		"JFIF an inch":     {jfif(1, 300, 300), 2.54, 20.0 * 25.4 / 300},
		"JFIF a cm":        {jfif(2, 100, 50), 3, 4},
		"JFIF shape alone": {jfif(0, 1, 2), 0, 0},
		// A camera states 72 an inch where it knows of none (Exif 2.3, tags 282 and 283).
		"Exif alone":     {withSegment(encodeJPEG(t, img), 0xe1, exif), 0, 0},
		"JFIF over Exif": {withSegment(jfif(1, 300, 300), 0xe1, exif), 2.54, 20.0 * 25.4 / 300},
	} {
		p := decode(t, c.data)
		if math.Abs(p.Width-c.w) > 1e-3 || math.Abs(p.Height-c.h) > 1e-3 {
			t.Errorf("%s: %.4f by %.4f mm, want %.4f by %.4f", name, p.Width, p.Height, c.w, c.h)
		}
	}
}

// The eight ways to hold a camera, by the figure F of the Exif orientation: of
// a picture stored as abc/def, what is seen (Exif 2.3, tag 274, in words: where
// the stored row 0 and column 0 lie).
func TestOrientation(t *testing.T) {
	const a, b, c, d, e, f = 0, 50, 100, 150, 200, 250
	for o, want := range map[uint16][]uint8{
		1: {3, a, b, c, d, e, f}, // row 0 above, column 0 left
		2: {3, c, b, a, f, e, d}, // above, right
		3: {3, f, e, d, c, b, a}, // below, right
		4: {3, d, e, f, a, b, c}, // below, left
		5: {2, a, d, b, e, c, f}, // left, above
		6: {2, d, a, e, b, f, c}, // right, above
		7: {2, f, c, e, b, d, a}, // right, below
		8: {2, c, f, b, e, a, d}, // left, below
	} {
		// Pixels of 8 by 8 blocks, so that JPEG keeps them apart.
		img := image.NewGray(image.Rect(0, 0, 24, 16))
		for y := range 16 {
			for x := range 24 {
				img.Pix[y*24+x] = []uint8{a, b, c, d, e, f}[y/8*3+x/8]
			}
		}
		exif := "Exif\x00\x00MM\x00\x2a\x00\x00\x00\x08\x00\x01\x01\x12\x00\x03\x00\x00\x00\x01\x00" + string(rune(o)) + "\x00\x00"
		// In a PNG file it stands in a chunk of its own before the picture or behind it (PNG,
		// 11.3.3.5), here with the lower byte first.
		file := encodePNG(t, img)
		held := chunk("eXIf", []byte("II\x2a\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00"+string(rune(o))+"\x00\x00\x00"))
		for form, data := range map[string][]byte{
			"JPEG":           withSegment(encodeJPEG(t, img), 0xe1, exif),
			"PNG":            slices.Concat(file[:33], held, file[33:]),
			"PNG, behind it": slices.Concat(file[:len(file)-12], held, file[len(file)-12:]),
		} {
			p := decode(t, data)
			seen := p.Engrave(p.W, p.H, raster.Levels, raster.Tone{}).Grey
			w := int(want[0])
			if p.W != 8*w {
				t.Errorf("%s, %d: %d by %d", form, o, p.W, p.H)
				continue
			}
			for i, v := range want[1:] {
				if got := int(seen[(i/w*8+4)*p.W+i%w*8+4]); got < int(v)-4 || got > int(v)+4 {
					t.Errorf("%s, %d: block %d is %d, want %d", form, o, i, got, v)
				}
			}
		}
	}
}

func TestWrongPictures(t *testing.T) {
	good := encodePNG(t, grey(2, 0, 1, 2, 3))
	huge := bytes.Clone(good)
	binary.BigEndian.PutUint32(huge[16:], 50000)
	binary.BigEndian.PutUint32(huge[20:], 50000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	// The height and width of a JPEG follow the length and the precision of its
	// frame header (ISO/IEC 10918-1, B.2.2).
	flat := func(w, h byte) []byte {
		data := encodeJPEG(t, grey(8, make([]uint8, 64)...))
		at := bytes.Index(data, []byte("\xff\xc0")) + 5
		copy(data[at:], []byte{0, h, 0, w})
		return data
	}
	// Of a progressive one (marker 0xc2) all of it is held, four bytes a sample.
	progressive := encodeJPEG(t, grey(8, make([]uint8, 64)...))
	at := bytes.Index(progressive, []byte("\xff\xc0"))
	copy(progressive[at:], []byte{0xff, 0xc2, 0, 11, 8, 9000 >> 8, 9000 & 255, 9000 >> 8, 9000 & 255})
	for name, c := range map[string]struct {
		data []byte
		want string
	}{
		"progressive": {progressive, "9000 by 9000 pixels takes too much memory"},
		"no width":    {flat(0, 8), "it has no pixels"},
		"no height":   {flat(8, 0), "it has no pixels"},
		"nothing":     {nil, "neither a PNG nor a JPEG"},
		"other":       {[]byte("GIF89a"), "neither a PNG nor a JPEG"},
		"breaks off":  {good[:40], "damaged or incomplete"},
		"huge":        {huge, "50000 by 50000 pixels, more than 100 million"},
		"JPEG start":  {[]byte("\xff\xd8\xff\xe0"), "damaged or incomplete"},
	} {
		_, err := raster.Decode("sea.png", c.data)
		bad, ok := err.(*raster.Error)
		if !ok || !strings.HasPrefix(err.Error(), "sea.png: ") || !strings.Contains(err.Error(), c.want) || bad.Help() == "" {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Pictures of other formats are named, with the letters that their descriptions
// begin them with (from memory); text and drawings are none.
func TestForeign(t *testing.T) {
	for data, want := range map[string]string{
		"GIF89a\x01\x00": "GIF", "BM\x36\x00": "BMP", "II*\x00\x08": "TIFF", "MM\x00*\x00": "TIFF", "%PDF-1.7\n": "PDF",
		"RIFF\x24\x00\x00\x00WEBPVP8 ": "WebP", "RIFF\x24\x00\x00\x00WAVEfmt ": "", "\x00\x00\x00\x18ftypheic": "HEIC",
		"\x00\x00\x00\x1cftypavif": "AVIF", "<svg/>": "", "": "", "RIFF": "", pngStart: "", "\xff\xd8\xff\xe0": "",
	} {
		if got := raster.Foreign([]byte(data)); got != want {
			t.Errorf("%q is %q, want %q", data, got, want)
		}
	}
}

const pngStart = "\x89PNG\r\n\x1a\n"

// Each dot is the mean of what it covers, by hand.
func TestResized(t *testing.T) {
	p := &raster.Photo{W: 4, H: 2, Grey: []uint8{0, 100, 200, 250, 40, 60, 0, 50}}
	for _, c := range []struct {
		w, h int
		want []uint8
	}{
		{4, 2, p.Grey},
		{2, 1, []uint8{50, 125}},
		{1, 1, []uint8{88}}, // the rows' means 138 and 38, rounded one after another
		{8, 2, []uint8{0, 0, 100, 100, 200, 200, 250, 250, 40, 40, 60, 60, 0, 0, 50, 50}},
		{3, 2, []uint8{25, 150, 238, 45, 30, 38}}, // 0·¾+100·¼, 100·½+200·½, 200·¼+250·¾
	} {
		if got := p.Engrave(c.w, c.h, raster.Levels, raster.Tone{}).Grey; !slices.Equal(got, c.want) {
			t.Errorf("%d by %d: %v, want %v", c.w, c.h, got, c.want)
		}
	}
}

// Of a flat grey, dots keep the share of dark to half a percent, and lie apart.
func TestDotsKeepTheTone(t *testing.T) {
	for _, shade := range []raster.Shade{raster.Diffusion, raster.Ordered} {
		for _, level := range []uint8{0, 1, 30, 64, 128, 200, 254, 255} {
			p := &raster.Photo{W: 128, H: 128, Grey: slices.Repeat([]uint8{level}, 128*128)}
			im := p.Engrave(128, 128, shade, raster.Tone{})
			dark := 0
			for _, v := range im.Grey {
				if v == 0 {
					dark++
				} else if v != 255 {
					t.Fatalf("a dot is %d", v)
				}
			}
			got, want := float64(dark)/(128*128), 1-float64(level)/255
			// A pattern has 65 tones only.
			if allowed := map[raster.Shade]float64{raster.Diffusion: 0.005, raster.Ordered: 0.5/64 + 1e-9}[shade]; math.Abs(got-want) > allowed {
				t.Errorf("shade %d of %d: %.4f is dark, want %.4f", shade, level, got, want)
			}
		}
	}
}

// To whom the error of a dot is handed on: 7/16 to the next one in the row, and
// 3/16, 5/16 and 1/16 to those of the next row, from the one just passed on (R. W.
// Floyd and L. Steinberg, An adaptive algorithm for spatial grey scale, 1976).
// Every second row runs backwards. A dark dot of 112 has an error of 112; each of
// the four just turns light with its share, and doesn't with one less. The others
// are as light as makes them light without an error.
func TestDiffusionHandsOn(t *testing.T) {
	const w, h, level = 5, 4, 112
	type place struct{ x, y int }
	for _, from := range []place{{2, 0}, {2, 1}} {
		ahead := 1
		if from.y == 1 {
			ahead = -1
		}
		shares := map[place]int{
			{from.x + ahead, from.y}: level * 7 / 16, {from.x - ahead, from.y + 1}: level * 3 / 16,
			{from.x, from.y + 1}: level * 5 / 16, {from.x + ahead, from.y + 1}: level * 1 / 16,
		}
		for to, share := range shares {
			for _, short := range []int{0, 1} {
				p := &raster.Photo{W: w, H: h, Grey: slices.Repeat([]uint8{255}, w*h)}
				p.Grey[from.y*w+from.x] = level
				for other, s := range shares {
					p.Grey[other.y*w+other.x] = uint8(255 - s)
				}
				p.Grey[to.y*w+to.x] = uint8(128 - share - short)
				im := p.Engrave(w, h, raster.Diffusion, raster.Tone{})
				if im.Grey[from.y*w+from.x] != 0 {
					t.Fatal("the dot that has the error is light")
				}
				if light := im.Grey[to.y*w+to.x] == 255; light != (short == 0) {
					t.Errorf("from %v to %v, %d/16 less %d: light is %v", from, to, share*16/level, short, light)
				}
			}
		}
	}
}

// The order in which the dots of a pattern come is Bayer's (B. E. Bayer, 1973,
// figure of 8 by 8).
func TestOrderedIsBayers(t *testing.T) {
	want := [8][8]int{
		{0, 32, 8, 40, 2, 34, 10, 42}, {48, 16, 56, 24, 50, 18, 58, 26},
		{12, 44, 4, 36, 14, 46, 6, 38}, {60, 28, 52, 20, 62, 30, 54, 22},
		{3, 35, 11, 43, 1, 33, 9, 41}, {51, 19, 59, 27, 49, 17, 57, 25},
		{15, 47, 7, 39, 13, 45, 5, 37}, {63, 31, 55, 23, 61, 29, 53, 21},
	}
	// A dot turns white at the first level above its place in the order.
	for y := range 8 {
		for x := range 8 {
			for level := range 256 {
				p := &raster.Photo{W: 8, H: 8, Grey: slices.Repeat([]uint8{uint8(level)}, 64)}
				if p.Engrave(8, 8, raster.Ordered, raster.Tone{}).Grey[y*8+x] == 255 {
					if got := int(float64(level) * 64 / 255); got != want[y][x] {
						t.Errorf("dot %d, %d comes at %d, want %d", x, y, got, want[y][x])
					}
					break
				}
			}
		}
	}
}

func TestRuns(t *testing.T) {
	im := &raster.Image{W: 6, H: 3, Shade: raster.Ordered, Grey: []uint8{
		0, 0, 255, 0, 255, 255,
		255, 255, 255, 255, 255, 255,
		255, 0, 0, 0, 0, 0,
	}}
	want := []raster.Run{{Row: 0, From: 0, To: 2}, {Row: 0, From: 3, To: 4}, {Row: 2, From: 1, To: 6}}
	if got := slices.Collect(im.Runs()); !slices.Equal(got, want) {
		t.Errorf("%v, want %v", got, want)
	}
}

// What is carried in a file is the dots again.
func TestDataURL(t *testing.T) {
	for _, shade := range []raster.Shade{raster.Diffusion, raster.Levels} {
		p := &raster.Photo{W: 9, H: 2, Grey: []uint8{0, 9, 80, 120, 130, 140, 200, 240, 255, 255, 240, 200, 140, 130, 120, 80, 9, 0}}
		im := p.Engrave(9, 2, shade, raster.Tone{})
		url, err := im.DataURL()
		if err != nil {
			t.Fatal(err)
		}
		data, ok := strings.CutPrefix(url, "data:image/png;base64,")
		raw, err := base64.StdEncoding.DecodeString(data)
		if !ok || err != nil {
			t.Fatalf("%.40s: %v", url, err)
		}
		if back := decode(t, raw); !slices.Equal(back.Grey, im.Grey) {
			t.Errorf("%v, want %v", back.Grey, im.Grey)
		}
	}
}

// Whatever a file holds, it is a picture or an error in words.
func FuzzDecode(f *testing.F) {
	f.Add(withDensity(encodePNG(f, grey(2, 0, 1, 2, 3)), 1000, 1000))
	f.Add(withSegment(encodeJPEG(f, grey(2, 0, 1, 2, 3)), 0xe1, "Exif\x00\x00II\x2a\x00\x08\x00\x00\x00\x01\x00\x12\x01\x03\x00\x01\x00\x00\x00\x06\x00\x00\x00"))
	f.Add([]byte("\xff\xd8\xff\xe1\x00\x04"))
	f.Fuzz(func(t *testing.T, data []byte) {
		p, err := raster.Decode("a", data)
		if err != nil {
			if bad, ok := err.(*raster.Error); !ok || bad.Message == "" {
				t.Fatalf("%#v", err)
			}
			return
		}
		if len(p.Grey) != p.W*p.H || p.Width < 0 || math.IsNaN(p.Width) {
			t.Fatalf("%d by %d with %d pixels, %v mm", p.W, p.H, len(p.Grey), p.Width)
		}
		p.Engrave(3, 2, raster.Diffusion, raster.Tone{}).Runs()(func(raster.Run) bool { return true })
	})
}

func BenchmarkEngrave(b *testing.B) {
	p := &raster.Photo{W: 2000, H: 1500, Grey: make([]uint8, 2000*1500)}
	for i := range p.Grey {
		p.Grey[i] = uint8(i * 7 / 2000)
	}
	for b.Loop() {
		p.Engrave(1000, 750, raster.Diffusion, raster.Tone{})
	}
}

// passes is a grey JPEG picture of n passes, of which all but the first are a few bits:
// each ends the band of very many blocks at once (ISO/IEC 10918-1, G.1.2.2).
func passes(side, n int) []byte {
	segment := func(marker byte, body ...byte) []byte {
		return append([]byte{0xff, marker, byte((len(body) + 2) >> 8), byte(len(body) + 2)}, body...)
	}
	blocks := ((side + 7) / 8) * ((side + 7) / 8)
	out := []byte{0xff, 0xd8}
	out = append(out, segment(0xdb, append([]byte{0}, bytes.Repeat([]byte{16}, 64)...)...)...)
	out = append(out, segment(0xc2, 8, byte(side>>8), byte(side), byte(side>>8), byte(side), 1, 1, 0x11, 0)...)
	one := append([]byte{1}, make([]byte, 15)...)
	out = append(out, segment(0xc4, append(append([]byte{0}, one...), 0)...)...)
	out = append(out, segment(0xc4, append(append([]byte{0x10}, one...), 0xe0)...)...)
	out = append(out, segment(0xda, 1, 1, 0, 0, 0, 0)...)
	out = append(out, make([]byte, (blocks+7)/8)...) // each block a bit, 0
	for range n - 1 {
		out = append(out, segment(0xda, 1, 1, 0, 1, 63, 0)...)
		bits := uint16(blocks-1<<14) << 1 // 0, then by how many more than 2^14 the run is longer
		out = append(out, byte(bits>>8), byte(bits)|1)
	}
	return append(out, 0xff, 0xd9)
}

// Passes over a JPEG picture are counted before they are read.
func TestJPEGPasses(t *testing.T) {
	const side = 1100 // 19,044 blocks
	decode(t, passes(side, 10))
	for _, n := range []int{3000, 6000, 12000} {
		if _, err := raster.Decode("sea.jpg", passes(side, n)); err == nil || !strings.Contains(err.Error(), "passes over 1100 by 1100 pixels, which takes too long to read") {
			t.Errorf("%d passes: %v", n, err)
		}
	}
}
