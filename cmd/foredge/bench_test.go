package main

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"foredge/cmd/internal/watch"
	"foredge/lang/foretest"
)

// quantile is the q-th part of durations, in milliseconds.
func quantile(all []time.Duration, q float64) float64 {
	s := slices.Sorted(slices.Values(all))
	return float64(s[int(q*float64(len(s)-1)+0.5)]) / float64(time.Millisecond)
}

// BenchmarkStart measures how long the program takes to start, say something
// and end, beside a hello in Go that was built in the same run. The goal,
// with the library linked that draws pictures, is 3.2 times.
func BenchmarkStart(b *testing.B) {
	dir := b.TempDir()
	foretest.Must(b, os.WriteFile(filepath.Join(dir, "hello.go"), []byte("package main\n\nimport \"fmt\"\n\nfunc main() { fmt.Println(\"hello\") }\n"), 0o666))
	hello, program := filepath.Join(dir, "hello"), filepath.Join(dir, "foredge")
	for target, source := range map[string]string{hello: filepath.Join(dir, "hello.go"), program: "."} {
		if out, err := exec.Command("go", "build", "-o", target, source).CombinedOutput(); err != nil {
			b.Fatalf("%v\n%s", err, out)
		}
	}
	times := map[string][]time.Duration{}
	for b.Loop() { // one after the other, so that what the machine does meanwhile hits both
		for name, args := range map[string][]string{"hello": {hello}, "foredge": {program, "version"}} {
			start := time.Now()
			out, err := exec.Command(args[0], args[1:]...).Output()
			times[name] = append(times[name], time.Since(start))
			if err != nil || !strings.HasPrefix(string(out), name) {
				b.Fatalf("%s said %q, %v", name, out, err)
			}
		}
	}
	b.ReportMetric(quantile(times["hello"], 0.5), "hello-ms")
	b.ReportMetric(quantile(times["foredge"], 0.5), "foredge-ms")
	b.ReportMetric(quantile(times["foredge"], 0.5)/quantile(times["hello"], 0.5), "ratio")
}

// longDesign is a design of about 300 lines, a number in it changed by n.
func longDesign(n int) string {
	var b strings.Builder
	b.WriteString("laser bench { kerf = 0.2 }\n")
	for i := range 27 {
		fmt.Fprintf(&b, `panel board-%d {
  width  = %d
  height = 210
  corners = radius 6
  row wire on spine {
    count = 20
    hole  = rect 4 by 4.5
    pitch = 8.5
    inset = 4
  }
}
`, i, 120+(n+i)%50)
	}
	return b.String()
}

// BenchmarkSave measures from the save of a design of 300 lines to its new
// files on the disk, without the time that watching waits for quiet. The floor
// is the file system's own: the same bytes written, forced to the disk and
// renamed without any design. The goal is 10 ms at the 95th percentile.
func BenchmarkSave(b *testing.B) {
	dir := b.TempDir()
	design, out := filepath.Join(dir, "long.fore"), filepath.Join(dir, "out")
	foretest.Must(b, os.WriteFile(design, []byte(longDesign(0)), 0o666))
	r, w := io.Pipe()
	lines := bufio.NewScanner(r)
	ctx, stop := context.WithCancel(b.Context())
	ended := make(chan int)
	go func() {
		ended <- run(ctx, &terminal{stdout: w, stderr: os.Stderr}, []string{"watch", design, "-o", out})
		w.Close()
	}()
	for lines.Scan() && !strings.HasPrefix(lines.Text(), "watching") {
	}
	var saves, floor []time.Duration
	for n := 1; b.Loop(); n++ {
		text := longDesign(n)
		start := time.Now()
		foretest.Must(b, os.WriteFile(design, []byte(text), 0o666))
		if !lines.Scan() || !strings.HasPrefix(lines.Text(), "built") {
			b.Fatalf("said %q", lines.Text())
		}
		saves = append(saves, time.Since(start)-watch.Quiet)
		for _, name := range []string{"long.svg", "long.dxf"} {
			data, err := os.ReadFile(filepath.Join(out, name))
			foretest.Must(b, err)
			start := time.Now()
			foretest.Must(b, writeAndRename(filepath.Join(dir, name), data))
			if took := time.Since(start); name == "long.svg" {
				floor = append(floor, took)
			} else {
				floor[len(floor)-1] += took
			}
		}
		if svg, _ := os.ReadFile(filepath.Join(out, "long.svg")); !strings.Contains(string(svg), fmt.Sprintf("board-0 %d by 210", 120+n%50)) {
			b.Fatal("the files are not those of the last save")
		}
	}
	stop()
	go io.Copy(io.Discard, r)
	<-ended
	b.ReportMetric(0, "ns/op")
	b.ReportMetric(quantile(saves, 0.5), "p50-ms")
	b.ReportMetric(quantile(saves, 0.95), "p95-ms")
	b.ReportMetric(quantile(floor, 0.5), "floor-p50-ms")
	b.ReportMetric(quantile(floor, 0.95), "floor-p95-ms")
}

// writeAndRename is what any program must do to put a file in place safely.
func writeAndRename(path string, data []byte) error {
	f, err := os.Create(path + ".tmp")
	if err != nil {
		return err
	}
	defer f.Close()
	if _, err := f.Write(data); err != nil {
		return err
	}
	if err := f.Sync(); err != nil {
		return err
	}
	return os.Rename(path+".tmp", path)
}
