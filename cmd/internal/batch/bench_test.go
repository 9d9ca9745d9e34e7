package batch

import (
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"runtime/debug"
	"strings"
	"syscall"
	"testing"
	"time"
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
		b.Run(fmt.Sprint(n), func(b *testing.B) {
			var table strings.Builder
			table.WriteString("name,initials\n")
			for i := range n {
				fmt.Fprintf(&table, "Ada Quill-%c%c Osterweil,%c%c\n", 'A'+i%26, 'a'+i/26%26, 'A'+i%26, 'A'+i/26%26)
			}
			var cpu time.Duration
			var heap uint64
			covers := 0
			for b.Loop() {
				opts := folder(filepath.Join(b.TempDir(), "cut"))
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
				r := runGift(b, []byte(table.String()), opts)
				cpu += processorTime(b) - before
				if len(r.Made) != n || len(r.Bad) > 0 {
					b.Fatalf("made %d of %d", len(r.Made), n)
				}
				covers += n
			}
			b.ReportMetric(float64(cpu.Microseconds())/1000/float64(covers), "cpu-ms/cover")
			b.ReportMetric(float64(heap)/(1<<20), "heap-MiB")
		})
	}
}

// processorTime is what the process has used so far, on all processors.
func processorTime(b *testing.B) time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		b.Fatal(err)
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
