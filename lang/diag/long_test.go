package diag

import (
	"runtime"
	"strings"
	"testing"

	"foredge/lang/source"
)

// However long a line of a file is, and what a message quotes of it, as much of it is
// shown, and it takes as much room.
func TestLongLines(t *testing.T) {
	shown := func(n int) (text string, took uint64) {
		f := source.New("orders.csv", []byte("1,"+strings.Repeat("é", n)+"\n"))
		var l List
		l.Errorf("table-too-large", source.Span{File: f, Start: 2, End: 2 + 2*n}, "this has %s", strings.Repeat("ö", n))
		l.Errorf("table-too-large", source.Span{File: f, Start: 2*n - 10, End: 2 * n}, "so has this")
		f.Position(0)
		var b strings.Builder
		var before, after runtime.MemStats
		runtime.ReadMemStats(&before)
		WriteText(&b, l, TextOptions{})
		runtime.ReadMemStats(&after)
		return b.String(), after.TotalAlloc - before.TotalAlloc
	}
	small, little := shown(10_000)
	large, much := shown(1_000_000)
	if len(large) > len(small)+10 || len(large) > 3*mostSaid {
		t.Errorf("%d bytes are shown of a line of 20 kB, %d of one of 2 MB", len(small), len(large))
	}
	if much > 2*little+1<<20 {
		t.Errorf("it takes %d bytes, of a small one %d", much, little)
	}
	for _, want := range []string{"      1,éé", "…\n", "      …éé"} {
		if !strings.Contains(large, want) {
			t.Errorf("%q isn't shown in\n%s", want, large)
		}
	}
}
