package export_test

import (
	"bytes"
	"fmt"
	"image"
	"image/draw"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/export/exporttest"
	"foredge/lang/foretest"
	"foredge/layout/art"
	"foredge/layout/lettering"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goitalic"
	"golang.org/x/image/font/gofont/goregular"
)

// Drawings as people save them are read at first try as librsvg shows them, but
// for one pixel along edges, at 10 pixels a mm; the others are refused, with how
// to mend them.
func TestSavedDrawings(t *testing.T) {
	all := savedDrawings()
	if len(all) < 120 {
		t.Errorf("only %d drawings", len(all))
	}
	foretest.Program(t, "rsvg-convert")
	fontsFor(t)
	equal, refused := 0, 0
	for i, d := range all {
		t.Run(strings.ReplaceAll(d.name, " ", "-"), func(t *testing.T) {
			p, err := savedOptions().Parse("saved.svg", d.file(uint64(i)))
			if bad, ok := err.(*art.Error); ok && d.refused && bad.Advice != "" && bad.Where.Line > 0 {
				refused++
				return
			}
			foretest.Must(t, err)
			if d.refused {
				t.Fatal("read, though nothing can be drawn as it is")
			}
			dir := t.TempDir()
			theirs := foretest.Write(t, filepath.Join(dir, "theirs.svg"), string(d.plain(uint64(i))))
			ours := foretest.Write(t, filepath.Join(dir, "ours.svg"), inBlack(p))
			// Drawn twice as large, as librsvg's curves have corners of some hundredths of a mm.
			want, got := halved(exporttest.Plain(t, theirs, 800, 600)), halved(exporttest.Plain(t, ours, 800, 600))
			if off, ink := offEdges(want, got); len(off) > 0 || ink < 100 {
				t.Errorf("%d pixels are off, the first at %v; %d are inked\n%s", len(off), first(off), ink, d.file(uint64(i)))
				return
			}
			equal++
		})
	}
	t.Logf("%d of %d are equal to librsvg's picture, %d refused", equal, len(all), refused)
	if equal < 110 || equal+refused < len(all) {
		t.Errorf("%d of %d are equal to librsvg's picture, %d refused with what to do", equal, len(all), refused)
	}
}

func first(list []image.Point) image.Point {
	if len(list) == 0 {
		return image.Point{}
	}
	return list[0]
}

// savedOptions give the drawings' texts the fonts that librsvg gets.
func savedOptions() art.Options {
	return art.Options{Font: func(f art.Face) (*lettering.Font, error) {
		name := "Go Regular"
		switch {
		case f.Bold:
			name = "Go Bold"
		case f.Italic:
			name = "Go Italic"
		}
		return lettering.Load(name)
	}}
}

// fontsFor lets librsvg find the Go fonts, and no others.
func fontsFor(t *testing.T) {
	dir := t.TempDir()
	for name, data := range map[string][]byte{"regular": goregular.TTF, "bold": gobold.TTF, "italic": goitalic.TTF} {
		foretest.Must(t, os.WriteFile(filepath.Join(dir, name+".ttf"), data, 0o666))
	}
	conf := foretest.Write(t, filepath.Join(dir, "fonts.conf"),
		`<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig><dir>`+dir+`</dir><cachedir>`+dir+`</cachedir></fontconfig>`)
	t.Setenv("FONTCONFIG_FILE", conf)
}

// inBlack is a picture as a plain file: its areas filled, its lines as wide as in
// the drawing.
func inBlack(p *art.Picture) string {
	var b bytes.Buffer
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" width="%gmm" height="%gmm" viewBox="0 0 %g %g"><path d="`, p.Size.X, p.Size.Y, p.Size.X, p.Size.Y)
	for _, c := range p.Fill {
		b.WriteString(c.Path.String())
	}
	b.WriteString(`"/>`)
	for _, l := range p.Lines {
		fmt.Fprintf(&b, `<path fill="none" stroke="#000" stroke-width="%g" d="%s"/>`, l.Width, l.Path)
	}
	b.WriteString(`</svg>`)
	return b.String()
}

// halved is a picture half as large, in the darkness of what isn't white: each
// pixel is the mean of four.
func halved(img image.Image) *image.Gray {
	b := img.Bounds()
	flat := image.NewRGBA(b)
	draw.Draw(flat, b, img, b.Min, draw.Src)
	out := image.NewGray(image.Rect(0, 0, b.Dx()/2, b.Dy()/2))
	for y := range b.Dy() / 2 {
		for x := range b.Dx() / 2 {
			sum := 0
			for k := range 4 {
				p := flat.Pix[(2*y+k/2)*flat.Stride+4*(2*x+k%2):]
				sum += int(min(p[0], p[1], p[2]))
			}
			out.Pix[y*out.Stride+x] = uint8(sum / 4)
		}
	}
	return out
}

// offEdges are the pixels that are inked in one picture and have no inked one
// beside them in the other, or blank and no blank one. Inked is what differs from
// white by a quarter. ink counts those of the first.
func offEdges(a, b *image.Gray) (off []image.Point, ink int) {
	inked := func(img *image.Gray) func(x, y int) bool {
		return func(x, y int) bool { return img.Pix[y*img.Stride+x] < 192 }
	}
	w, h := a.Bounds().Dx(), a.Bounds().Dy()
	if b.Bounds().Dx() != w || b.Bounds().Dy() != h {
		return []image.Point{{}}, 0
	}
	one, other := inked(a), inked(b)
	near := func(there func(x, y int) bool, x, y int, want bool) bool {
		for dy := -1; dy <= 1; dy++ {
			for dx := -1; dx <= 1; dx++ {
				if u, v := x+dx, y+dy; u >= 0 && v >= 0 && u < w && v < h && there(u, v) == want {
					return true
				}
			}
		}
		return false
	}
	for y := range h {
		for x := range w {
			if one(x, y) {
				ink++
			}
			if !near(other, x, y, one(x, y)) || !near(one, x, y, other(x, y)) {
				off = append(off, image.Pt(x, y))
			}
		}
	}
	return off, ink
}

// The comparison sees what is two pixels off.
func TestOffEdges(t *testing.T) {
	square := func(x int) *image.Gray {
		img := image.NewGray(image.Rect(0, 0, 20, 20))
		for i := range img.Pix {
			img.Pix[i] = 255
		}
		for y := 5; y < 10; y++ {
			for k := x; k < x+5; k++ {
				img.Pix[y*20+k] = 0
			}
		}
		return img
	}
	for shift, want := range map[int]bool{0: false, 1: false, 2: true, 9: true} {
		if off, ink := offEdges(square(5), square(5+shift)); ink != 25 || len(off) > 0 != want {
			t.Errorf("shifted by %d: %d off, %d inked", shift, len(off), ink)
		}
	}
}

// The same drawings without librsvg: each is read, or refused with its line and
// with what to do.
func TestSavedDrawingsAreRead(t *testing.T) {
	for i, d := range savedDrawings() {
		p, err := savedOptions().Parse("saved.svg", d.file(uint64(i)))
		bad, refused := err.(*art.Error)
		switch {
		case d.refused != refused:
			t.Errorf("%s: refused is %v: %v", d.name, refused, err)
		case refused && (bad.Advice == "" || bad.Where.Line == 0):
			t.Errorf("%s: nothing tells what to do about %q", d.name, err)
		case !refused && p.Bounds().Empty():
			t.Errorf("%s: nothing is drawn", d.name)
		}
	}
}
