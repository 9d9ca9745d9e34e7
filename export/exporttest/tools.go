package exporttest

import (
	"bytes"
	"image"
	"image/png"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"foredge/export"
	"foredge/lang/foretest"
	"foredge/layout"
)

// ValidateSVG has xmllint check the files against the W3C's SVG 1.1 DTD, from
// the system's catalogue of the W3C's DTDs and never from the network.
func ValidateSVG(t testing.TB, paths ...string) {
	t.Helper()
	lint := foretest.Program(t, "xmllint")
	// A document of nothing but the DTD's root tells whether the DTD is there.
	probe := exec.Command(lint, "--nonet", "--noout", "--valid", "-")
	probe.Stdin = strings.NewReader(`<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" ` +
		`"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd"><svg xmlns="http://www.w3.org/2000/svg"/>`)
	if probe.Run() != nil {
		foretest.Missing(t, "the W3C's SVG 1.1 DTD (Debian's w3c-sgml-lib)")
	}
	out, err := exec.Command(lint, append([]string{"--nonet", "--noout", "--valid"}, paths...)...).CombinedOutput()
	if err != nil {
		t.Errorf("xmllint: %v\n%s", err, foretest.Tail(out))
	}
}

// RenderSVG has librsvg draw a cut file on white, with its hairlines thickened
// to be seen, and writes the picture to pngPath.
func RenderSVG(t testing.TB, path, pngPath string, dpi int) image.Image {
	t.Helper()
	d := strconv.Itoa(dpi)
	return render(t, path, pngPath, 0.35, "-d", d, "-p", d)
}

// Picture has librsvg draw a cut file for people to look at, on white and in at
// most the given number of pixels each way, with a margin and with hairlines
// thickened to a pixel and a half.
func Picture(t testing.TB, path string, wide, high int) image.Image {
	t.Helper()
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	const margin = 12
	f := ReadSVG(t, data)
	perMM := min(float64(wide-2*margin)/f.Width, float64(high-2*margin)/f.Height)
	w, h := int(math.Round(f.Width*perMM)), int(math.Round(f.Height*perMM))
	return render(t, path, filepath.Join(t.TempDir(), "picture.png"), 1.5/perMM,
		"-w", strconv.Itoa(w), "-h", strconv.Itoa(h), "--left", strconv.Itoa(margin)+"px", "--top", strconv.Itoa(margin)+"px",
		"--page-width", strconv.Itoa(w+2*margin)+"px", "--page-height", strconv.Itoa(h+2*margin)+"px")
}

// Plain has librsvg draw an SVG file as it is, on white, in w by h pixels and
// with pixels of a 96th of an inch, as CSS has it.
func Plain(t testing.TB, path string, w, h int) image.Image {
	t.Helper()
	out := foretest.Output(t, exec.Command(foretest.Program(t, "rsvg-convert"), "-d", "96", "-p", "96",
		"-w", strconv.Itoa(w), "-h", strconv.Itoa(h), "-b", "white", path))
	img, err := png.Decode(bytes.NewReader(out))
	if err != nil {
		t.Fatalf("reading the picture of %s: %v", path, err)
	}
	return img
}

// render runs librsvg. The width of lines is in millimetres; those along the
// drawing's edge are drawn whole where the page has room.
func render(t testing.TB, path, pngPath string, lines float64, size ...string) image.Image {
	t.Helper()
	convert := foretest.Program(t, "rsvg-convert")
	style := filepath.Join(t.TempDir(), "picture.css")
	css := "#cut, #score, #mark { stroke-width: " + strconv.FormatFloat(lines, 'f', 3, 64) + "px }\nsvg { overflow: visible }\n"
	if err := os.WriteFile(style, []byte(css), 0o666); err != nil {
		t.Fatal(err)
	}
	foretest.Output(t, exec.Command(convert, append(size, "-b", "white", "-s", style, "-o", pngPath, path)...))
	f, err := os.Open(pngPath)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	img, err := png.Decode(f)
	if err != nil {
		t.Fatalf("reading the picture of %s: %v", path, err)
	}
	return img
}

// Encode encodes a drawing, twice: the same drawing must give the same bytes.
func Encode(t testing.TB, e export.Encoder, d *layout.Drawing) []byte {
	t.Helper()
	var first, second bytes.Buffer
	if err := e.Encode(&first, d); err != nil {
		t.Fatalf("%s: %v", e.Name(), err)
	}
	if err := e.Encode(&second, d); err != nil {
		t.Fatalf("%s: %v", e.Name(), err)
	}
	if !bytes.Equal(first.Bytes(), second.Bytes()) {
		t.Fatalf("%s: two encodings of one drawing differ", e.Name())
	}
	return first.Bytes()
}

// Write encodes a drawing to a file of the test's own folder, with the
// encoder's extension after the name, and returns its path.
func Write(t testing.TB, e export.Encoder, d *layout.Drawing, name string) string {
	t.Helper()
	path := filepath.Join(t.TempDir(), name+e.Extension())
	if err := os.WriteFile(path, Encode(t, e, d), 0o666); err != nil {
		t.Fatal(err)
	}
	return path
}
