package raster

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"slices"
)

// A PNG picture is read row by row, so that a large one takes a byte a pixel, two where
// it isn't opaque, and no more; the standard library's decoder holds four. What the parts of a file mean is by
// the specification (W3C, Portable Network Graphics, third edition).

// pngHead is what the chunks before the picture say.
type pngHead struct {
	w, h        int
	depth, kind int // bits of a sample; what its samples are
	interlaced  bool
	palette     []shown // what its colours are, by their number
	transparent []byte  // the chunk tRNS
	samples     int     // of a pixel
}

// Kinds of samples (11.2.1).
const (
	pngGrey      = 0
	pngColour    = 2
	pngPalette   = 3
	pngGreyAlpha = 4
	pngFull      = 6
)

var (
	errPNG     = errors.New("the PNG file is damaged")
	errPNGKind = errors.New("the PNG file is of another kind")
)

// A pngReader reads the chunks of a file.
type pngReader struct {
	data []byte // behind the magic
	name string // of the chunk under way
	body []byte // what is left of it
}

// next goes on to the next chunk (5.3): its length, name, content and sum.
func (r *pngReader) next() error {
	if len(r.data) < 12 {
		return errPNG
	}
	n := uint64(binary.BigEndian.Uint32(r.data))
	if n > uint64(len(r.data)-12) {
		return errPNG
	}
	named := r.data[4 : 8+n]
	if crc32.ChecksumIEEE(named) != binary.BigEndian.Uint32(r.data[8+n:]) {
		return errPNG
	}
	r.name, r.body, r.data = string(named[:4]), named[4:], r.data[12+n:]
	return nil
}

// Read gives the content of the chunks IDAT, one after another.
func (r *pngReader) Read(p []byte) (int, error) {
	for len(r.body) == 0 {
		if err := r.next(); err != nil {
			return 0, err
		}
		if r.name != "IDAT" {
			r.body = nil
			return 0, io.EOF
		}
	}
	n := copy(p, r.body)
	r.body = r.body[n:]
	return n, nil
}

// pngConfig reads all that stands before the picture.
func pngConfig(data []byte) (*pngHead, *pngReader, error) {
	r := &pngReader{data: data[len(pngMagic):]}
	if err := r.next(); err != nil || r.name != "IHDR" || len(r.body) != 13 {
		return nil, nil, errPNG
	}
	b := r.body
	head := &pngHead{w: int(int32(binary.BigEndian.Uint32(b))), h: int(int32(binary.BigEndian.Uint32(b[4:]))),
		depth: int(b[8]), kind: int(b[9]), interlaced: b[12] == 1}
	allowed := map[int][]int{pngGrey: {1, 2, 4, 8, 16}, pngColour: {8, 16}, pngPalette: {1, 2, 4, 8}, pngGreyAlpha: {8, 16}, pngFull: {8, 16}}[head.kind]
	if b[10] != 0 || b[11] != 0 || b[12] > 1 || !slices.Contains(allowed, head.depth) {
		return nil, nil, errPNGKind
	}
	head.samples = map[int]int{pngGrey: 1, pngColour: 3, pngPalette: 1, pngGreyAlpha: 2, pngFull: 4}[head.kind]
	var colours []byte
	for {
		if err := r.next(); err != nil {
			return nil, nil, err
		}
		switch r.name {
		case "PLTE":
			if len(r.body)%3 != 0 || len(r.body) > 3*256 {
				return nil, nil, errPNG
			}
			colours = r.body
		case "tRNS":
			head.transparent = r.body
		case "IDAT":
			return head, r, head.ready(colours)
		case "IEND":
			return nil, nil, errPNG
		}
	}
}

// ready makes levels of grey of the palette.
func (h *pngHead) ready(colours []byte) error {
	switch h.kind {
	case pngPalette:
		if len(colours) == 0 {
			return errPNG
		}
		for i := 0; i+2 < len(colours); i += 3 {
			alpha := uint32(0xff)
			if n := i / 3; n < len(h.transparent) {
				alpha = uint32(h.transparent[n])
			}
			h.palette = append(h.palette, on(uint32(colours[i])*0x101, uint32(colours[i+1])*0x101, uint32(colours[i+2])*0x101, alpha*0x101))
		}
	case pngGrey, pngColour:
		if n := len(h.transparent); n != 0 && n != 2*h.samples {
			return errPNG
		}
	default:
		h.transparent = nil
	}
	return nil
}

// A pass is the pixels of a picture that come together: all, or for interlacing every
// few of them (8.2).
type pass struct{ x, y, dx, dy int }

func (h *pngHead) passes() []pass {
	if !h.interlaced {
		return []pass{{0, 0, 1, 1}}
	}
	return []pass{{0, 0, 8, 8}, {4, 0, 8, 8}, {0, 4, 4, 8}, {2, 0, 4, 4}, {0, 2, 2, 4}, {1, 0, 2, 2}, {0, 1, 1, 2}}
}

// A planes is the levels of grey of a picture on white, and how opaque its pixels are;
// nil where all are.
type planes struct{ grey, opaque []uint8 }

// put takes a pixel.
func (p *planes) put(at int, s shown) {
	p.grey[at] = s.level
	if p.opaque == nil && s.opaque < 255 {
		p.opaque = bytes.Repeat([]byte{255}, len(p.grey))
	}
	if p.opaque != nil {
		p.opaque[at] = s.opaque
	}
}

// decodePNG reads a picture whose chunks come from r.
func (h *pngHead) decodePNG(r *pngReader) (*planes, error) {
	z, err := zlib.NewReader(r)
	if err != nil {
		return nil, err
	}
	out := &planes{grey: make([]uint8, h.w*h.h)}
	pixel := max(1, h.depth*h.samples/8) // bytes from one pixel to the next, for filters
	for _, p := range h.passes() {
		w := (h.w - p.x + p.dx - 1) / p.dx
		if w <= 0 {
			continue
		}
		row := make([]byte, 1+(w*h.depth*h.samples+7)/8)
		above := make([]byte, len(row))
		for y := p.y; y < h.h; y += p.dy {
			if _, err := io.ReadFull(z, row); err != nil {
				return nil, err
			}
			if err := unfilter(row[0], row[1:], above[1:], pixel); err != nil {
				return nil, err
			}
			for x := range w {
				pixel, err := h.pixel(row[1:], x)
				if err != nil {
					return nil, err
				}
				out.put(y*h.w+p.x+x*p.dx, pixel)
			}
			row, above = above, row
		}
	}
	if n, err := z.Read(make([]byte, 1)); n != 0 || err != io.EOF { // its own sum is then right
		return nil, errPNG
	}
	return out, nil
}

// unfilter undoes what makes a row smaller (9.2).
func unfilter(filter byte, row, above []byte, pixel int) error {
	switch filter {
	case 0:
	case 1:
		for i := pixel; i < len(row); i++ {
			row[i] += row[i-pixel]
		}
	case 2:
		for i := range row {
			row[i] += above[i]
		}
	case 3:
		for i := range row {
			left := 0
			if i >= pixel {
				left = int(row[i-pixel])
			}
			row[i] += byte((left + int(above[i])) / 2)
		}
	case 4:
		for i := range row {
			left, corner := 0, 0
			if i >= pixel {
				left, corner = int(row[i-pixel]), int(above[i-pixel])
			}
			row[i] += paeth(left, int(above[i]), corner)
		}
	default:
		return errPNG
	}
	return nil
}

// paeth is that of three bytes which is nearest to a + b - c (9.4).
func paeth(a, b, c int) byte {
	p := a + b - c
	pa, pb, pc := abs(p-a), abs(p-b), abs(p-c)
	switch {
	case pa <= pb && pa <= pc:
		return byte(a)
	case pb <= pc:
		return byte(b)
	}
	return byte(c)
}

// A shown is a pixel: its level of grey on white, and how opaque it is.
type shown struct{ level, opaque uint8 }

// pixel is the x-th pixel of a row.
func (h *pngHead) pixel(row []byte, x int) (shown, error) {
	switch {
	case h.kind == pngPalette:
		n := h.sample(row, x)
		if int(n) >= len(h.palette) {
			return shown{}, errPNG
		}
		return h.palette[n], nil
	case h.kind == pngGrey:
		raw := h.sample(row, x)
		if len(h.transparent) == 2 && raw == uint32(binary.BigEndian.Uint16(h.transparent)) {
			return shown{255, 0}, nil
		}
		// To 8 bits: of fewer ones evenly from 0 to 255, of 16 the higher half.
		if h.depth == 16 {
			return shown{uint8(raw >> 8), 255}, nil
		}
		return shown{uint8(raw * 255 / (1<<h.depth - 1)), 255}, nil
	}
	at := x * h.samples
	v := [4]uint32{}
	for i := range h.samples {
		v[i] = h.sample(row, at+i)
	}
	if t := h.transparent; len(t) == 6 && h.kind == pngColour {
		clear := true
		for i := range 3 {
			clear = clear && v[i] == uint32(binary.BigEndian.Uint16(t[2*i:]))
		}
		if clear {
			return shown{255, 0}, nil
		}
	}
	if h.depth == 8 {
		for i := range v {
			v[i] *= 0x101
		}
	}
	switch h.kind {
	case pngGreyAlpha:
		return on(v[0], v[0], v[0], v[1]), nil
	case pngFull:
		return on(v[0], v[1], v[2], v[3]), nil
	}
	return on(v[0], v[1], v[2], 0xffff), nil
}

// on is a colour of 16 bits a channel at an opacity, on white.
func on(r, g, b, alpha uint32) shown { return shown{onWhite(r, g, b, alpha), uint8(alpha >> 8)} }

// sample is the n-th sample of a row.
func (h *pngHead) sample(row []byte, n int) uint32 {
	switch h.depth {
	case 8:
		return uint32(row[n])
	case 16:
		return uint32(binary.BigEndian.Uint16(row[2*n:]))
	}
	perByte := 8 / h.depth
	shift := 8 - h.depth*(n%perByte+1)
	return uint32(row[n/perByte]>>shift) & (1<<h.depth - 1)
}

// onWhite is the level of a colour of 16 bits a channel at an opacity on white, by the
// luma of Rec. 601, as JPEG has it.
func onWhite(r, g, b, alpha uint32) uint8 {
	white := 0xffff - alpha
	on := func(v uint32) uint32 { return v*alpha/0xffff + white }
	return uint8((299*on(r) + 587*on(g) + 114*on(b) + 500) / 1000 >> 8)
}

func abs(v int) int {
	if v < 0 {
		return -v
	}
	return v
}
