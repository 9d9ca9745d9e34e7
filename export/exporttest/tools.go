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
	"foredge/layout"
)

// Missing says that a check can't be made because what it needs isn't
// installed: a failure where the environment variable CI is true, else a skip.
func Missing(t testing.TB, what string) {
	t.Helper()
	if os.Getenv("CI") == "true" {
		t.Fatalf("%s is not installed, and CI leaves nothing unchecked", what)
	}
	t.Skipf("needs %s: not installed here, so this is not checked", what)
}

// program finds an outside program.
func program(t testing.TB, name string) string {
	t.Helper()
	path, err := exec.LookPath(name)
	if err != nil {
		Missing(t, name)
	}
	return path
}

// Python finds a Python that has the modules asked for: the one in the path, or
// the system's own, for which Debian packages them.
func Python(t testing.TB, modules ...string) string {
	t.Helper()
	for _, name := range []string{"python3", "/usr/bin/python3"} {
		path, err := exec.LookPath(name)
		if err != nil {
			continue
		}
		if exec.Command(path, "-c", "import "+strings.Join(modules, ", ")).Run() == nil {
			return path
		}
	}
	Missing(t, "Python with "+strings.Join(modules, ", "))
	return ""
}

// output runs a program and fails the test if it fails.
func output(t testing.TB, cmd *exec.Cmd) []byte {
	t.Helper()
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%s: %v\n%s", filepath.Base(cmd.Path), err, tail(errs.Bytes()))
	}
	return out
}

// tail is the end of what a program said, where the reason stands.
func tail(b []byte) []byte {
	const most = 4000
	if len(b) > most {
		b = b[len(b)-most:]
	}
	return b
}

// ValidateSVG has xmllint check the files against the W3C's SVG 1.1 DTD, from
// the system's catalogue of the W3C's DTDs and never from the network.
func ValidateSVG(t testing.TB, paths ...string) {
	t.Helper()
	lint := program(t, "xmllint")
	// A document of nothing but the DTD's root tells whether the DTD is there.
	probe := exec.Command(lint, "--nonet", "--noout", "--valid", "-")
	probe.Stdin = strings.NewReader(`<!DOCTYPE svg PUBLIC "-//W3C//DTD SVG 1.1//EN" ` +
		`"http://www.w3.org/Graphics/SVG/1.1/DTD/svg11.dtd"><svg xmlns="http://www.w3.org/2000/svg"/>`)
	if probe.Run() != nil {
		Missing(t, "the W3C's SVG 1.1 DTD (Debian's w3c-sgml-lib)")
	}
	out, err := exec.Command(lint, append([]string{"--nonet", "--noout", "--valid"}, paths...)...).CombinedOutput()
	if err != nil {
		t.Errorf("xmllint: %v\n%s", err, tail(out))
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
	out := output(t, exec.Command(program(t, "rsvg-convert"), "-d", "96", "-p", "96",
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
	convert := program(t, "rsvg-convert")
	style := filepath.Join(t.TempDir(), "picture.css")
	css := "#cut, #score, #mark { stroke-width: " + strconv.FormatFloat(lines, 'f', 3, 64) + "px }\nsvg { overflow: visible }\n"
	if err := os.WriteFile(style, []byte(css), 0o666); err != nil {
		t.Fatal(err)
	}
	output(t, exec.Command(convert, append(size, "-b", "white", "-s", style, "-o", pngPath, path)...))
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
