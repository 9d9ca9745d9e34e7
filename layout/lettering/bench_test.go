package lettering

import (
	"strings"
	"testing"

	"foredge/layout/kerf"

	"golang.org/x/image/font/gofont/gobold"
)

func BenchmarkParse(b *testing.B) {
	for b.Loop() {
		if _, err := Parse("Go Bold", gobold.TTF); err != nil {
			b.Fatal(err)
		}
	}
}

// A title in a font just read: what a build pays once.
func BenchmarkFirstTitle(b *testing.B) {
	for b.Loop() {
		f, err := Parse("Go Bold", gobold.TTF)
		if err != nil {
			b.Fatal(err)
		}
		if _, _, err := fit(f, "Harbour Log", 103.2, 24, 0, Shrink, Center); err != nil {
			b.Fatal(err)
		}
	}
}

func BenchmarkTitle(b *testing.B) {
	for _, name := range []string{"Go Bold", "Go Bold Italic"} {
		f := load(b, name)
		b.Run(name, func(b *testing.B) {
			for b.Loop() {
				if o, _, err := fit(f, "Harbour Log", 103.2, 24, 0, Shrink, Center); err != nil || len(o) < 11 {
					b.Fatal(err)
				}
			}
		})
	}
}

// 2,000 letters laid out and then offset as openings.
func BenchmarkOffset2000Glyphs(b *testing.B) {
	f := load(b, "Go Bold")
	l, err := f.Text(strings.Repeat("HarbourLog", 200), 10)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := kerf.Offset(l.Outline, -0.1); err != nil {
			b.Fatal(err)
		}
	}
}

// A title cut through, with bridges.
func BenchmarkStencil(b *testing.B) {
	f := load(b, "Go Bold")
	l, err := f.Text("Boog & Qp8", 12)
	if err != nil {
		b.Fatal(err)
	}
	for b.Loop() {
		if _, err := Stencil(l.Outline, 1.2, 0); err != nil {
			b.Fatal(err)
		}
	}
}

// A line round a circle as large as its box.
func BenchmarkCircle(b *testing.B) {
	f := load(b, "Go Regular")
	for b.Loop() {
		if _, err := Fit(f, "Saltmarsh Covers", 80, 80, Style{Curve: Circle}); err != nil {
			b.Fatal(err)
		}
	}
}
