//go:build unix

package batch

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"

	"foredge/cmd/internal/driver"
	"foredge/export"

	"golang.org/x/image/font/gofont/gobold"
)

// BenchmarkBatch measures the processor time that a personalised cover takes,
// files and all, and how large the heap becomes. The goals are 20 ms a cover and
// a heap that doesn't grow with the orders. With FOREDGE_LARGE set it also makes
// 10,000.
func BenchmarkBatch(b *testing.B) {
	sizes := []int{100, 1000}
	if os.Getenv("FOREDGE_LARGE") != "" {
		sizes = append(sizes, 10000)
	}
	for _, n := range sizes {
		b.Run(fmt.Sprint(n), func(b *testing.B) { benchmarkBatch(b, filepath.Join(corpus, "gift.fore"), n) })
	}
}

// BenchmarkNames is the same of a thousand covers each with a name of twelve
// letters: cut through in one size, cut through and each shrunk to a size of its
// own, and engraved in a font of the maker's.
func BenchmarkNames(b *testing.B) {
	for _, c := range []struct{ name, mark string }{
		{"cut", `cut text order.name { font = "Go Bold"; cap = 8; bridge = 1 }`},
		{"cut-shrunk", `cut text order.name { font = "Go Bold"; cap = 20; fit = shrink; bridge = 1 }`},
		{"own-font", `engrave text order.name { font = "own.ttf"; cap = 8 }`},
	} {
		b.Run(c.name, func(b *testing.B) {
			dir := b.TempDir()
			design := `units mm
orders "orders.csv" { name = text; initials = text }
panel card {
  width = 150; height = 60; thick = 3
  region title { spine = 10; foredge = 10; head = 10; tail = 10; ` + c.mark + ` }
}
`
			for name, data := range map[string][]byte{"names.fore": []byte(design), "own.ttf": gobold.TTF} {
				if err := os.WriteFile(filepath.Join(dir, name), data, 0o666); err != nil {
					b.Fatal(err)
				}
			}
			benchmarkBatch(b, filepath.Join(dir, "names.fore"), 1000)
		})
	}
}

func benchmarkBatch(b *testing.B, design string, n int) {
	var table strings.Builder
	table.WriteString("name,initials\n")
	for i := range n {
		fmt.Fprintf(&table, "%c%c%cOsterweil,%c%c\n", 'A'+i%26, 'a'+i/26%26, 'a'+i/676%26, 'A'+i%26, 'A'+i/26%26)
	}
	orders := filepath.Join(b.TempDir(), "orders.csv")
	if err := os.WriteFile(orders, []byte(table.String()), 0o666); err != nil {
		b.Fatal(err)
	}
	var cpu time.Duration
	var heap uint64
	covers := 0
	for b.Loop() {
		opts := folder(filepath.Join(b.TempDir(), "made"))
		opts.Orders, opts.Keep, opts.Encoders = orders, false, export.CutFiles(export.Options{})
		debug.FreeOSMemory()
		opts.Progress = func(done, of int) {
			if done%(of/10) == 0 {
				runtime.GC() // what is held, not what waits to be swept
				var m runtime.MemStats
				runtime.ReadMemStats(&m)
				heap = max(heap, m.HeapAlloc)
			}
		}
		before := processorTime(b)
		r := Run(context.Background(), driver.NewSession(nil), design, opts)
		cpu += processorTime(b) - before
		if r.Err != nil || r.Done != n || len(r.Bad) > 0 {
			b.Fatalf("made %d of %d: %v %v", r.Done, n, r.Err, r.Diagnostics)
		}
		covers += n
	}
	b.ReportMetric(float64(cpu.Microseconds())/1000/float64(covers), "cpu-ms/cover")
	b.ReportMetric(float64(heap)/(1<<20), "heap-MiB")
}

// processorTime is what the process has used so far, on all processors.
func processorTime(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
