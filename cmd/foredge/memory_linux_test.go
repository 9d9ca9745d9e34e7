// The race detector takes several times the memory of what it watches.

//go:build !race

package main

import (
	"compress/zlib"
	"encoding/binary"
	"hash/crc32"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"syscall"
	"testing"

	"foredge/lang/foretest"
)

// mostMiB is how much of the machine's memory a build may take, and mostDotsMiB one of the
// most dots that there may be, whose DXF file alone has some 200 MiB.
const mostMiB, mostDotsMiB = 256, 288

// A text of 40 KB that is wrapped, a picture of 100 million pixels in colours, with
// transparency, and one of a single grey pixel that is enlarged to four million dots are
// built in bounded memory.
func TestBuildsInBoundedMemory(t *testing.T) {
	dir := t.TempDir()
	side := foretest.Sample(10_000, 2_000)
	foretest.Must(t,
		os.WriteFile(filepath.Join(dir, "long.fore"), []byte("laser bench { kerf = 0 }\npanel p { width = 1000; height = 1000; thick = 3\n"+
			"region r { head = 5; tail = 5; spine = 5; foredge = 5; engrave text \""+strings.Repeat("tern ", 8000)+"\" { cap = 3; wrap = yes } } }\n"), 0o666),
		os.WriteFile(filepath.Join(dir, "sea.fore"), []byte("laser bench { kerf = 0 }\npanel p { width = 200; height = 200; thick = 3\n"+
			"region r { head = 5; tail = 5; spine = 5; foredge = 5; engrave art \"sea.png\" { line-distance = 0.2; rotate = 90 deg; gamma = 1.2 } } }\n"), 0o666),
		largePNG(filepath.Join(dir, "sea.png"), side, side),
		os.WriteFile(filepath.Join(dir, "dot.fore"), []byte("laser bench { kerf = 0 }\npanel p { width = 210; height = 210; thick = 3\n"+
			"region r { head = 5; tail = 5; spine = 5; foredge = 5; engrave art \"dot.png\" { brightness = -50 % } } }\n"), 0o666),
		largePNG(filepath.Join(dir, "dot.png"), 1, 1))
	foredge := program(t)
	for design, most := range map[string]int64{"long.fore": mostMiB, "sea.fore": mostMiB, "dot.fore": mostDotsMiB} {
		cmd, errs := child(t, foredge, "", []string{"build", design}, func(c *exec.Cmd) { c.Dir = dir })
		if o := ended(cmd, errs); o.status != 0 {
			t.Fatalf("%s: %+v", design, o)
		}
		usage := cmd.ProcessState.SysUsage().(*syscall.Rusage)
		t.Logf("%s: %d MiB, %v", design, usage.Maxrss>>10, cmd.ProcessState.UserTime())
		if usage.Maxrss>>10 > most {
			t.Errorf("%s takes %d MiB, more than %d", design, usage.Maxrss>>10, most)
		}
	}
}

// largePNG writes a picture of w by h pixels, four bytes each, row by row: a grey that
// grows darker to the right.
func largePNG(path string, w, h int) error {
	f, err := os.Create(path)
	if err != nil {
		return err
	}
	defer f.Close()
	chunk := func(name string, body []byte) error {
		named := append([]byte(name), body...)
		out := append(binary.BigEndian.AppendUint32(nil, uint32(len(body))), named...)
		_, err := f.Write(binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(named)))
		return err
	}
	if _, err := f.WriteString("\x89PNG\r\n\x1a\n"); err != nil {
		return err
	}
	head := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, uint32(w)), uint32(h))
	if err := chunk("IHDR", append(head, 8, 6, 0, 0, 0)); err != nil {
		return err
	}
	row := make([]byte, 1+4*w)
	for x := range w {
		v := byte(255 - 255*x/w)
		copy(row[1+4*x:], []byte{v, v, v, 255})
	}
	z, err := zlib.NewWriterLevel(chunked(func(b []byte) error { return chunk("IDAT", b) }), zlib.BestSpeed)
	if err != nil {
		return err
	}
	for range h {
		if _, err := z.Write(row); err != nil {
			return err
		}
	}
	if err := z.Close(); err != nil {
		return err
	}
	return chunk("IEND", nil)
}

// chunked writes each piece by itself.
type chunked func([]byte) error

func (c chunked) Write(b []byte) (int, error) { return len(b), c(b) }
