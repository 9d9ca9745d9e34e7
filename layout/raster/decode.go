package raster

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
)

const (
	// MaxPixels is how many pixels a picture may have.
	MaxPixels = 25_000_000
	// MaxDots is how many dots an engraving may have: 200 by 200 mm of lines 0.1 mm
	// apart, which make a DXF file of some 200 MB.
	MaxDots = 4_000_000
)

// A Photo is a picture as it was read, rows from the top.
type Photo struct {
	W, H int
	Grey []uint8 // 0 is dark
	// Width and Height are its size in mm by the density in the file, 0 where the
	// file doesn't say.
	Width, Height float64
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
	const anew = "open it in an image editor and save it again as PNG"
	config, decode, density := png.DecodeConfig, png.Decode, pngDensity
	switch {
	case begins(data, pngMagic):
	case begins(data, jpegMagic):
		config, decode, density = jpeg.DecodeConfig, jpeg.Decode, jpegDensity
	default:
		return nil, &Error{name, "it is neither a PNG nor a JPEG picture", anew}
	}
	c, err := config(bytes.NewReader(data))
	if err != nil {
		return nil, &Error{name, wrong(err), anew}
	}
	if c.Width <= 0 || c.Height <= 0 {
		return nil, &Error{name, "it has no pixels", anew}
	}
	if c.Width > MaxPixels/c.Height {
		return nil, &Error{name, fmt.Sprintf("it has %d by %d pixels, more than %d million", c.Width, c.Height, MaxPixels/1_000_000), "make it smaller in an image editor"}
	}
	img, err := decode(bytes.NewReader(data))
	if err != nil {
		return nil, &Error{name, wrong(err), anew}
	}
	p := grey(img)
	if x, y := density(data); x > 0 && y > 0 {
		p.Width, p.Height = float64(p.W)/x, float64(p.H)/y
	}
	if begins(data, jpegMagic) {
		p = p.upright(orientation(data))
	}
	return p, nil
}

func wrong(err error) string {
	var unsupportedPNG png.UnsupportedError
	var unsupportedJPEG jpeg.UnsupportedError
	if errors.As(err, &unsupportedPNG) || errors.As(err, &unsupportedJPEG) {
		return "it is a kind of PNG or JPEG that can't be read"
	}
	return "it is damaged or incomplete"
}

// grey takes the lightness of each pixel on white (the luma of Rec. 601, as
// JPEG has it).
func grey(img image.Image) *Photo {
	b := img.Bounds()
	p := &Photo{W: b.Dx(), H: b.Dy(), Grey: make([]uint8, b.Dx()*b.Dy())}
	for y := range p.H {
		row := p.Grey[y*p.W : (y+1)*p.W]
		switch img := img.(type) {
		case *image.Gray:
			copy(row, img.Pix[y*img.Stride:])
		case *image.YCbCr:
			copy(row, img.Y[y*img.YStride:])
		default:
			for x := range row {
				r, g, bl, a := img.At(b.Min.X+x, b.Min.Y+y).RGBA()
				white := 0xffff - a // colours come multiplied by their opacity
				row[x] = uint8((299*(r+white) + 587*(g+white) + 114*(bl+white) + 500) / 1000 >> 8)
			}
		}
	}
	return p
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

// orientation is how a camera was held, 1 to 8 (Exif 2.3, tag 274); 1 where the
// file doesn't say.
func orientation(data []byte) int {
	found := 1
	segments(data, func(marker byte, b []byte) bool {
		if marker != 0xe1 || len(b) < 14 || string(b[:6]) != "Exif\x00\x00" {
			return true
		}
		b = b[6:]
		var order binary.ByteOrder = binary.BigEndian
		if b[0] == 'I' {
			order = binary.LittleEndian
		}
		at := int64(order.Uint32(b[4:]))
		if at+2 > int64(len(b)) {
			return false
		}
		n := int64(order.Uint16(b[at:]))
		for i := int64(0); i < n && at+2+12*(i+1) <= int64(len(b)); i++ {
			entry := b[at+2+12*i:]
			if order.Uint16(entry) == 274 {
				if v := int(order.Uint16(entry[8:])); 1 <= v && v <= 8 {
					found = v
				}
				return false
			}
		}
		return false
	})
	return found
}

// upright undoes the camera's orientation.
func (p *Photo) upright(o int) *Photo {
	switch o {
	case 2:
		return p.Turned(0, true)
	case 3:
		return p.Turned(2, false)
	case 4:
		return p.Turned(2, true)
	case 5:
		return p.Turned(3, true)
	case 6:
		return p.Turned(1, false)
	case 7:
		return p.Turned(1, true)
	case 8:
		return p.Turned(3, false)
	}
	return p
}

// Turned is the picture mirrored left and right, if asked, then turned
// clockwise by quarter turns.
func (p *Photo) Turned(quarters int, mirror bool) *Photo {
	quarters = (quarters%4 + 4) % 4
	if quarters == 0 && !mirror {
		return p
	}
	out := &Photo{W: p.W, H: p.H, Width: p.Width, Height: p.Height, Grey: make([]uint8, len(p.Grey))}
	if quarters%2 == 1 {
		out.W, out.H, out.Width, out.Height = p.H, p.W, p.Height, p.Width
	}
	for y := range p.H {
		for x := range p.W {
			u, v := x, y
			if mirror {
				u = p.W - 1 - x
			}
			switch quarters {
			case 1:
				u, v = p.H-1-v, u
			case 2:
				u, v = p.W-1-u, p.H-1-v
			case 3:
				u, v = v, p.W-1-u
			}
			out.Grey[v*out.W+u] = p.Grey[y*p.W+x]
		}
	}
	return out
}
