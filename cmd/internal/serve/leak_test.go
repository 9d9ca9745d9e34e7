package serve_test

import (
	"math/rand/v2"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"foredge/lang/foretest"
)

// inUse is how much memory is in use, in bytes, once all that can be freed is.
func inUse() uint64 {
	var m runtime.MemStats
	for range 3 {
		runtime.GC()
	}
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}

// After 10,000 edits, most of them overtaken by the next before they are checked, and as
// many looks, there are as many goroutines as after the first hundred, and no more memory
// is in use; once the text is closed and the editor gone, nothing of it is left.
func TestEditsLeaveNothing(t *testing.T) {
	const mostMore = 2 << 20 // what the heap may be larger, in bytes: two texts' worth of trees and solutions
	path := filepath.Join(t.TempDir(), "gull.fore")
	_, text := example(t, "harbour-log.fore")
	first := text
	before, atFirst := runtime.NumGoroutine(), inUse()
	e := open(t, "utf-32")
	e.edit(path, text)
	rnd := rand.New(rand.NewPCG(15, 10_000))
	version := 1
	edit := func(n int) {
		for i := range n {
			version++
			if rnd.IntN(20) == 0 || len(text) < 100 {
				e.change(path, version, map[string]any{"text": first})
				text = first
			} else {
				ed := randomEdit(rnd, text)
				e.change(path, version, map[string]any{"range": map[string]any{"start": position(text, ed.from), "end": position(text, ed.to)}, "text": ed.text})
				text = text[:ed.from] + ed.text + text[ed.to:]
			}
			if i%8 == 0 {
				e.ask("textDocument/hover", map[string]any{"textDocument": map[string]any{"uri": uri(path)}, "position": position(text, rnd.IntN(len(text)))})
				e.ask("textDocument/inlayHint", map[string]any{"textDocument": map[string]any{"uri": uri(path)}, "range": map[string]any{"start": position(text, 0), "end": position(text, len(text))}})
			}
			for len(e.told) > 500 { // nobody else reads it
				<-e.told
			}
		}
		version++
		e.change(path, version, map[string]any{"text": first})
		text = first
		e.versioned(path, version)
	}
	edit(100)
	running, used := settled(runtime.NumGoroutine()), inUse()
	edit(foretest.Sample(10_000, 400))
	if n := settled(running); n > running {
		t.Errorf("%d goroutines, %d after the first edits", n, running)
	}
	later := inUse()
	if later > used+mostMore {
		t.Errorf("%d bytes in use, %d after the first edits", later, used)
	}
	e.say("textDocument/didClose", map[string]any{"textDocument": map[string]any{"uri": uri(path)}})
	e.leave()
	if n := settled(before); n > before {
		t.Errorf("%d goroutines are left, %d before", n, before)
	}
	left := inUse()
	t.Logf("in use: %d bytes at first, %d after 100 edits, %d after %d, %d at the end", atFirst, used, later, version, left)
	if left > used+mostMore {
		t.Errorf("%d bytes are left", left)
	}
}

// settled waits until no more goroutines run than wanted, a second at the most, and gives
// how many do.
func settled(wanted int) int {
	for range 100 {
		if runtime.NumGoroutine() <= wanted {
			break
		}
		time.Sleep(10 * time.Millisecond)
	}
	return runtime.NumGoroutine()
}
