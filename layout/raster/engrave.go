package raster

import (
	"bytes"
	"encoding/base64"
	"image"
	"image/color"
	"image/png"
	"iter"
	"slices"
)

// A Shade is how grey levels are engraved.
type Shade uint8

const (
	Diffusion Shade = iota // dots; the error of each is handed on (Floyd and Steinberg, 1976)
	Ordered                // dots by a fixed pattern of 8 by 8 (Bayer, 1973)
	Levels                 // grey levels, for lasers that change their power
)

// An Image is what is engraved: dots in rows, at equal distances over its figure.
type Image struct {
	W, H  int
	Grey  []uint8 // 0 is dark; nothing but 0 and 255 unless Shade is Levels
	Shade Shade
	// Flat says that its tone has made one grey of a picture of several.
	Flat bool
}

// Blank reports an image with nothing to engrave.
func (im *Image) Blank() bool {
	return !slices.ContainsFunc(im.Grey, func(v uint8) bool { return v != 255 })
}

// Turned is an image turned clockwise by quarter turns.
func (im *Image) Turned(quarters int) *Image {
	for range quarters & 3 {
		out := *im
		out.W, out.H = im.H, im.W
		out.Grey = make([]uint8, len(im.Grey))
		for y := range im.H {
			for x := range im.W {
				out.Grey[x*out.W+out.W-1-y] = im.Grey[y*im.W+x]
			}
		}
		im = &out
	}
	return im
}

// Engrave makes a grid of w by h dots of the whole picture, as it is seen. Each dot is
// the mean of what it covers, in the tone that is asked for.
func (p *Photo) Engrave(w, h int, shade Shade, tone Tone) *Image {
	im := &Image{W: w, H: h, Grey: p.resized(p.Grey, w, h), Shade: shade}
	if tone.changes() {
		var opaque []uint8
		if p.Opaque != nil {
			opaque = p.resized(p.Opaque, w, h)
		}
		im.Flat = tone.apply(im.Grey, opaque)
	}
	switch shade {
	case Diffusion:
		im.diffuse()
	case Ordered:
		im.order()
	}
	return im
}

// resized takes the mean over the area of each dot, first along the rows, then across
// them; only two rows of means are held at a time. What it gives is as it is seen.
func (p *Photo) resized(plane []uint8, w, h int) []uint8 {
	stored, high, wide, tall := p.W, p.H, w, h
	if p.turn.quarters%2 == 1 {
		stored, high, wide, tall = p.H, p.W, h, w
	}
	along := shares(stored, wide)
	means := func(y int, to []uint8) []uint8 {
		from := plane[y*stored:]
		for x, s := range along {
			to[x] = s.mean(from)
		}
		return to
	}
	out := make([]uint8, wide*tall)
	sums, row, at := make([]int64, wide), make([]uint8, wide), -1
	for y, s := range shares(high, tall) {
		clear(sums)
		for k := s.from / s.parts; k*s.parts < s.to; k++ {
			if int(k) != at {
				row, at = means(int(k), row), int(k)
			}
			part := s.part(k)
			for x, v := range row {
				sums[x] += part * int64(v)
			}
		}
		n := s.to - s.from
		for x, sum := range sums {
			out[y*wide+x] = uint8((sum + n/2) / n)
		}
	}
	return p.turn.of(out, wide, tall)
}

// of turns a grid of w by h.
func (t turn) of(grid []uint8, w, h int) []uint8 {
	if t == (turn{}) {
		return grid
	}
	wide := w
	if t.quarters%2 == 1 {
		wide = h
	}
	out := make([]uint8, len(grid))
	for y := range h {
		for x := range w {
			u, v := x, y
			if t.mirror {
				u = w - 1 - x
			}
			switch t.quarters {
			case 1:
				u, v = h-1-v, u
			case 2:
				u, v = w-1-u, h-1-v
			case 3:
				u, v = v, w-1-u
			}
			out[v*wide+u] = grid[y*w+x]
		}
	}
	return out
}

// A span is the pixels that a dot covers: its ends in parts of a pixel, where a
// pixel has as many parts as there are dots.
type span struct{ from, to, parts int64 }

// shares divides n pixels among m dots.
func shares(n, m int) []span {
	out := make([]span, m)
	for i := range out {
		out[i] = span{int64(i) * int64(n), int64(i+1) * int64(n), int64(m)}
	}
	return out
}

// part is how much of pixel k it covers, in parts.
func (s span) part(k int64) int64 { return min(s.to, (k+1)*s.parts) - max(s.from, k*s.parts) }

func (s span) mean(pix []uint8) uint8 {
	sum := int64(0)
	for k := s.from / s.parts; k*s.parts < s.to; k++ {
		sum += s.part(k) * int64(pix[k])
	}
	n := s.to - s.from
	return uint8((sum + n/2) / n)
}

// diffuse makes dots by error diffusion, every second row backwards so that no
// worms run one way. Errors are in sixteenths.
func (im *Image) diffuse() {
	here, below := make([]int, im.W+2), make([]int, im.W+2)
	for y := range im.H {
		clear(below)
		from, to, step := 0, im.W, 1
		if y%2 == 1 {
			from, to, step = im.W-1, -1, -1
		}
		for x := from; x != to; x += step {
			dot := &im.Grey[y*im.W+x]
			v := 16*int(*dot) + here[x+1]
			*dot = 0
			if v >= 16*128 {
				*dot = 255
			}
			left := v - 16*int(*dot)
			e7, e3, e5 := left*7/16, left*3/16, left*5/16
			here[x+1+step] += e7
			below[x+1-step] += e3
			below[x+1] += e5
			below[x+1+step] += left - e7 - e3 - e5
		}
		here, below = below, here
	}
}

// order makes dots by comparing with a pattern.
func (im *Image) order() {
	for y := range im.H {
		for x := range im.W {
			dot := &im.Grey[y*im.W+x]
			if int(*dot)*64 >= (threshold(x, y)*2+1)*255/2 {
				*dot = 255
			} else {
				*dot = 0
			}
		}
	}
}

// threshold is the place in the order of 64 in which the dots of a pattern of 8
// by 8 come, by interleaving the bits of x ^ y and y.
func threshold(x, y int) int {
	v := 0
	for bit := range 3 {
		a, b := (x^y)>>bit&1, y>>bit&1
		v |= (a<<1 | b) << (2 * (2 - bit))
	}
	return v
}

// A Run is dark dots side by side in a row: From to To, without To.
type Run struct{ Row, From, To int }

// Runs are the dark runs, row by row: of a grey picture half as many as it has dots, so
// they aren't listed. Grey levels become dots first.
func (im *Image) Runs() iter.Seq[Run] {
	if im.Shade == Levels {
		dots := &Image{W: im.W, H: im.H, Grey: bytes.Clone(im.Grey)}
		dots.diffuse()
		im = dots
	}
	return func(yield func(Run) bool) {
		for y := range im.H {
			row := im.Grey[y*im.W : (y+1)*im.W]
			for x := 0; x < im.W; x++ {
				if row[x] >= 128 {
					continue
				}
				from := x
				for x < im.W && row[x] < 128 {
					x++
				}
				if !yield(Run{y, from, x}) {
					return
				}
			}
		}
	}
}

// Picture is the image to look at: black dots, or levels of grey.
func (im *Image) Picture() image.Image {
	box := image.Rect(0, 0, im.W, im.H)
	if im.Shade == Levels {
		return &image.Gray{Pix: im.Grey, Stride: im.W, Rect: box}
	}
	// Dots alone: two colours take an eighth of the room.
	out := image.NewPaletted(box, color.Palette{color.Black, color.White})
	for i, v := range im.Grey {
		out.Pix[i] = v >> 7
	}
	return out
}

// DataURL is the image as a PNG file in an address, for files that carry it.
func (im *Image) DataURL() (string, error) {
	var b bytes.Buffer
	e := png.Encoder{CompressionLevel: png.BestCompression}
	if err := e.Encode(&b, im.Picture()); err != nil {
		return "", err
	}
	return "data:image/png;base64," + base64.StdEncoding.EncodeToString(b.Bytes()), nil
}
