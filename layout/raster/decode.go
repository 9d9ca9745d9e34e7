package raster

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
)

const (
	// MaxPixels is how many pixels a picture may have.
	MaxPixels = 100_000_000
	// MaxDots is how many dots an engraving may have: 200 by 200 mm of lines 0.1 mm
	// apart, which make a DXF file of some 200 MB.
	MaxDots = 4_000_000
)

// A Photo is a picture as it was read, rows from the top.
type Photo struct {
	W, H int     // as it is seen
	Grey []uint8 // 0 is dark, what is transparent on white; as it is stored, before it is turned
	// Opaque is how opaque each is, 0 for clear; nil where all are opaque.
	Opaque []uint8
	// Width and Height are its size in mm by the density in the file, 0 where the
	// file doesn't say.
	Width, Height float64

	turn turn
}

// A turn is how a picture is seen: mirrored left and right, if so, then turned
// clockwise by quarter turns.
type turn struct {
	quarters int // 0 to 3
	mirror   bool
}

// then is a turn after t.
func (t turn) then(u turn) turn {
	q := u.quarters + t.quarters
	if u.mirror {
		q = u.quarters - t.quarters
	}
	return turn{(q%4 + 4) % 4, t.mirror != u.mirror}
}

// An Error is what is wrong with a picture, in words for its maker.
type Error struct{ File, Message, Advice string }

func (e *Error) Error() string { return e.File + ": " + e.Message }

// Help is what to do about it.
func (e *Error) Help() string { return e.Advice }

// IsPicture says whether the bytes begin as a PNG or JPEG file does.
func IsPicture(data []byte) bool {
	return begins(data, pngMagic) || begins(data, jpegMagic)
}

// Foreign names the format of a picture that can't be read; "" for all else. What
// files begin with is from memory of their formats.
func Foreign(data []byte) string {
	for _, f := range []struct{ magic, name string }{
		{"GIF8", "GIF"}, {"BM", "BMP"}, {"II*\x00", "TIFF"}, {"MM\x00*", "TIFF"}, {"%PDF-", "PDF"},
	} {
		if begins(data, f.magic) {
			return f.name
		}
	}
	switch {
	case begins(data, "RIFF") && len(data) >= 12 && string(data[8:12]) == "WEBP":
		return "WebP"
	case len(data) >= 12 && string(data[4:8]) == "ftyp" && (string(data[8:11]) == "hei" || string(data[8:11]) == "mif"):
		return "HEIC"
	case len(data) >= 12 && string(data[4:12]) == "ftypavif":
		return "AVIF"
	}
	return ""
}

// How files begin (PNG, 5.2; JPEG, B.1.1.3).
const (
	pngMagic  = "\x89PNG\r\n\x1a\n"
	jpegMagic = "\xff\xd8\xff"
)

func begins(data []byte, magic string) bool {
	return len(data) >= len(magic) && string(data[:len(magic)]) == magic
}

// Decode reads a PNG or JPEG file. The name is what messages call it. The error
// is an [*Error].
func Decode(name string, data []byte) (*Photo, error) {
	switch {
	case begins(data, pngMagic):
		return decodePNG(name, data)
	case begins(data, jpegMagic):
		return decodeJPEG(name, data)
	}
	return nil, &Error{name, "it is neither a PNG nor a JPEG picture", anew}
}

const anew = "open it in an image editor and save it again as PNG"

// sized refuses a picture of no pixels or too many.
func sized(name string, w, h int) error {
	if w <= 0 || h <= 0 {
		return &Error{name, "it has no pixels", anew}
	}
	if w > MaxPixels/h {
		return &Error{name, fmt.Sprintf("it has %d by %d pixels, more than %d million", w, h, MaxPixels/1_000_000), "make it smaller in an image editor"}
	}
	return nil
}

func decodePNG(name string, data []byte) (*Photo, error) {
	head, chunks, err := pngConfig(data)
	if err != nil {
		return nil, &Error{name, wrong(err), anew}
	}
	if err := sized(name, head.w, head.h); err != nil {
		return nil, err
	}
	read, err := head.decodePNG(chunks)
	if err != nil {
		return nil, &Error{name, wrong(err), anew}
	}
	p := &Photo{W: head.w, H: head.h, Grey: read.grey, Opaque: read.opaque}
	p.measure(pngDensity(data))
	return p.Turned(upright(pngOrientation(data))), nil
}

// mostJPEG is how many bytes the library may take for a JPEG picture: as many as 100
// million pixels of the usual kind.
const mostJPEG = 200 << 20

// mostScanned is how many blocks of 8 by 8 pixels all passes over a JPEG picture may
// come to: a few bits can stand for all of a pass, so that a small file could ask for
// any number. Usual ones have at most some twelve passes.
const mostScanned = 50_000_000

func decodeJPEG(name string, data []byte) (*Photo, error) {
	c, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return nil, &Error{name, wrong(err), anew}
	}
	if err := sized(name, c.Width, c.Height); err != nil {
		return nil, err
	}
	if jpegRoom(data) > mostJPEG {
		return nil, &Error{name, fmt.Sprintf("a JPEG picture of this kind with %d by %d pixels takes too much memory", c.Width, c.Height),
			"open it in an image editor and save it as PNG, or smaller"}
	}
	if scans := bytes.Count(data, []byte("\xff\xda")); scans > 1 && scans*(c.Width*c.Height/64+1) > mostScanned {
		return nil, &Error{name, fmt.Sprintf("it is a JPEG picture in %d passes over %d by %d pixels, which takes too long to read", scans, c.Width, c.Height),
			"open it in an image editor and save it as PNG"}
	}
	img, err := jpeg.Decode(bytes.NewReader(data))
	if err != nil {
		return nil, &Error{name, wrong(err), anew}
	}
	b := img.Bounds()
	p := &Photo{W: b.Dx(), H: b.Dy(), Grey: grey(img)}
	p.measure(jpegDensity(data))
	return p.Turned(upright(jpegOrientation(data))), nil
}

// measure takes the size from pixels a mm.
func (p *Photo) measure(x, y float64) {
	if x > 0 && y > 0 {
		p.Width, p.Height = float64(p.W)/x, float64(p.H)/y
	}
}

func wrong(err error) string {
	var unsupported jpeg.UnsupportedError
	if errors.Is(err, errPNGKind) || errors.As(err, &unsupported) {
		return "it is a kind of PNG or JPEG that can't be read"
	}
	return "it is damaged or incomplete"
}

// grey takes the lightness of each pixel of a JPEG picture, in the room in which the
// library has it where it can.
func grey(img image.Image) []uint8 {
	b := img.Bounds()
	w, h := b.Dx(), b.Dy()
	packed := func(pix []uint8, stride int) []uint8 {
		for y := range h {
			copy(pix[y*w:(y+1)*w], pix[y*stride:])
		}
		return pix[:w*h]
	}
	switch img := img.(type) {
	case *image.Gray:
		return packed(img.Pix, img.Stride)
	case *image.YCbCr:
		return packed(img.Y, img.YStride)
	}
	out := make([]uint8, w*h)
	for i := range out {
		r, g, bl, _ := img.At(b.Min.X+i%w, b.Min.Y+i/w).RGBA()
		out[i] = onWhite(r, g, bl, 0xffff)
	}
	return out
}

// jpegRoom is how many bytes the library takes for a JPEG picture: one for each sample,
// and four more for each where all of the file's scans add to all samples (ISO/IEC
// 10918-1, B.2.2 and table B.1).
func jpegRoom(data []byte) int64 {
	room := int64(0)
	segments(data, func(marker byte, b []byte) bool {
		if marker < 0xc0 || marker > 0xc2 || len(b) < 6 || len(b) < 6+3*int(b[5]) {
			return true
		}
		pixels := int64(binary.BigEndian.Uint16(b[1:])) * int64(binary.BigEndian.Uint16(b[3:]))
		n, most, sum := int(b[5]), int64(1), int64(0)
		for i := range n {
			size := int64(b[7+3*i]>>4) * int64(b[7+3*i]&15)
			most, sum = max(most, size), sum+size
		}
		if n == 4 {
			sum += 4 * most // two planes more for the colours, and what they become
		}
		if room = pixels * sum / most; marker == 0xc2 {
			room *= 5
		}
		return false
	})
	return room
}

// pngDensity gives pixels a mm by the pHYs chunk (PNG, 11.3.5.3), 0 without.
func pngDensity(data []byte) (x, y float64) {
	for at := 8; at+12 <= len(data); {
		n := int(binary.BigEndian.Uint32(data[at:]))
		name := string(data[at+4 : at+8])
		if n < 0 || n > len(data)-at-12 || name == "IDAT" {
			return 0, 0
		}
		if body := data[at+8 : at+8+n]; name == "pHYs" && n == 9 && body[8] == 1 {
			return float64(binary.BigEndian.Uint32(body)) / 1000, float64(binary.BigEndian.Uint32(body[4:])) / 1000
		}
		at += 12 + n
	}
	return 0, 0
}

// segments yields the segments before the picture itself of a JPEG file.
func segments(data []byte, yield func(marker byte, body []byte) bool) {
	for at := 2; at+4 <= len(data) && data[at] == 0xff; {
		marker := data[at+1]
		n := int(binary.BigEndian.Uint16(data[at+2:]))
		if marker == 0xda || n < 2 || n > len(data)-at-2 {
			return
		}
		if !yield(marker, data[at+4:at+2+n]) {
			return
		}
		at += 2 + n
	}
}

// jpegDensity gives pixels a mm by the JFIF header (JFIF 1.02), 0 without.
func jpegDensity(data []byte) (x, y float64) {
	segments(data, func(marker byte, b []byte) bool {
		if marker != 0xe0 || len(b) < 12 || string(b[:5]) != "JFIF\x00" {
			return true
		}
		perMM := map[byte]float64{1: 1 / 25.4, 2: 0.1}[b[7]]
		x = float64(binary.BigEndian.Uint16(b[8:])) * perMM
		y = float64(binary.BigEndian.Uint16(b[10:])) * perMM
		return false
	})
	return x, y
}

// jpegOrientation is how a camera was held by a JPEG file, 1 to 8; 1 where the file
// doesn't say.
func jpegOrientation(data []byte) int {
	found := 1
	segments(data, func(marker byte, b []byte) bool {
		if marker != 0xe1 || len(b) < 6 || string(b[:6]) != "Exif\x00\x00" {
			return true
		}
		found = orientation(b[6:])
		return false
	})
	return found
}

// pngOrientation is the same of a PNG file, whose chunk eXIf may stand before its picture
// or behind it (PNG, 11.3.3.5).
func pngOrientation(data []byte) int {
	r := &pngReader{data: data[len(pngMagic):]}
	for r.next() == nil && r.name != "IEND" {
		if r.name == "eXIf" {
			return orientation(r.body)
		}
	}
	return 1
}

// orientation is how a camera was held by what it says of a picture, 1 to 8 (Exif 2.3, tag
// 274); 1 where it doesn't say.
func orientation(b []byte) int {
	if len(b) < 8 {
		return 1
	}
	var order binary.ByteOrder = binary.BigEndian
	if b[0] == 'I' {
		order = binary.LittleEndian
	}
	at := int64(order.Uint32(b[4:]))
	if at+2 > int64(len(b)) {
		return 1
	}
	n := int64(order.Uint16(b[at:]))
	for i := int64(0); i < n && at+2+12*(i+1) <= int64(len(b)); i++ {
		entry := b[at+2+12*i:]
		if order.Uint16(entry) != 274 {
			continue
		}
		if v := int(order.Uint16(entry[8:])); 1 <= v && v <= 8 {
			return v
		}
		return 1
	}
	return 1
}

// upright undoes the camera's orientation.
func upright(o int) (quarters int, mirror bool) {
	t := [9]turn{2: {0, true}, 3: {2, false}, 4: {2, true}, 5: {3, true}, 6: {1, false}, 7: {1, true}, 8: {3, false}}[o]
	return t.quarters, t.mirror
}

// Turned is the picture mirrored left and right, if asked, then turned
// clockwise by quarter turns.
func (p *Photo) Turned(quarters int, mirror bool) *Photo {
	out := *p
	out.turn = p.turn.then(turn{quarters, mirror})
	if quarters%2 != 0 {
		out.W, out.H, out.Width, out.Height = p.H, p.W, p.Height, p.Width
	}
	return &out
}
