package view_test

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
	"testing"
	"time"

	"foredge/lang/foretest"
)

// drawn notes the time at which the picture of each new revision was on the screen;
// after gives a promise of one.
const drawn = `window.drawn = new Map();
window.waiting = new Map();
window.after = (revision) => new Promise((done) => (window.drawn.has(revision) ? done(true) : window.waiting.set(revision, done)));
new MutationObserver(() => requestAnimationFrame(() => setTimeout(() => {
	const { revision } = document.querySelector("article").dataset;
	if (window.drawn.has(revision)) return;
	window.drawn.set(revision, Date.now());
	window.waiting.get(revision)?.(true);
	window.waiting.delete(revision);
}))).observe(document.querySelector("article"), { attributes: true, attributeFilter: ["data-revision"] })`

// idle gives how long, in ms, the page takes to show a letter that changes: what a picture
// takes at the least, on this machine at this time.
const idle = `(async () => {
	const took = [];
	for (let i = 0; i < 60; i++) {
		const from = Date.now();
		document.title = document.querySelector("h1").textContent = "Drawings " + (i % 2 ? "·" : "");
		await new Promise((done) => requestAnimationFrame(() => setTimeout(done)));
		took.push(Date.now() - from);
		await new Promise((done) => setTimeout(done, 40));
	}
	return took.sort((a, b) => a - b);
})()`

// long is a harbour log of some 300 lines.
func long(t *testing.T, text string) string {
	t.Helper()
	var more strings.Builder
	for i := 0; strings.Count(text, "\n")+strings.Count(more.String(), "\n") < 300; i++ {
		fmt.Fprintf(&more, "\npanel tern-%d covers log {\n  region title {\n    head = %d\n    height = 24\n    spine = 25\n    foredge = 20\n    mark frame\n  }\n}\n", i, 30+i)
	}
	return text + more.String()
}

// From the save of a file of 300 lines to the new picture on the screen, measured in the
// page. The times are printed, with what a letter takes that changes in the page; nothing
// is held to them here, where other tests run beside it. Over 200 saves neither server nor page keeps anything.
func TestSaves(t *testing.T) {
	foretest.Long(t, "200 saves")
	dir := shop(t, "harbour-log.fore")
	path := filepath.Join(dir, "harbour-log.fore")
	text := long(t, foretest.Read(t, path))
	save(t, path, text)
	address := shows(t, nil, path)
	b := strict(t, &address)
	b.size(1200, 900, "light")
	b.open(address + "/")
	b.until("the drawing", ready)
	b.run(drawn, nil)
	b.call("Performance.enable", nil, nil)
	saved := map[int]time.Time{}
	revision := 1
	saves := func(n int) {
		t.Helper()
		for range n {
			revision++
			next := replaced(t, text, "height   = 210.1, 210.0", fmt.Sprintf("height   = 210.1, 210.%03d", revision%90))
			if revision%10 == 0 {
				next = replaced(t, text, "count = 24", "count = twenty")
			}
			saved[revision] = time.Now()
			save(t, path, next)
			b.run(fmt.Sprintf(`window.after("%d")`, revision), nil)
		}
	}
	saves(20) // until all is warm
	before := keeps(b)
	saves(200)
	after := keeps(b)
	t.Logf("kept before and after 200 saves: %+v, %+v", before, after)
	if after.goroutines > before.goroutines+2 {
		t.Errorf("%d goroutines have become %d", before.goroutines, after.goroutines)
	}
	if after.heap > before.heap+(4<<20) {
		t.Errorf("%d KiB of memory have become %d", before.heap>>10, after.heap>>10)
	}
	if after.nodes > before.nodes*1.2 || after.listeners > before.listeners*1.2 || after.script > before.script*1.5 {
		t.Errorf("the page kept %+v and keeps %+v", before, after)
	}
	var times [][2]any
	b.run(`[...window.drawn]`, &times)
	var took []float64
	for _, pair := range times {
		var r int
		fmt.Sscan(fmt.Sprint(pair[0]), &r)
		if at, ok := saved[r]; ok && r > 21 {
			took = append(took, pair[1].(float64)-float64(at.UnixMicro())/1000)
		}
	}
	slices.Sort(took)
	if len(took) < 200 {
		t.Fatalf("only %d of 200 pictures were timed", len(took))
	}
	t.Logf("save to picture, %d lines, %d saves: median %.0f ms, 95 %% within %.0f ms, worst %.0f ms", strings.Count(text, "\n"), len(took),
		took[len(took)/2], took[len(took)*95/100], took[len(took)-1])
	var floor []float64
	b.run(idle, &floor)
	t.Logf("a letter that changes in the same browser: median %.0f ms, 95 %% within %.0f ms", floor[len(floor)/2], floor[len(floor)*95/100])
}

// kept is what server and page hold on to once nobody works.
type kept struct {
	goroutines               int
	heap                     uint64
	nodes, listeners, script float64
}

func keeps(b *browser) kept {
	b.call("HeapProfiler.collectGarbage", nil, nil)
	var m struct {
		Metrics []struct {
			Name  string
			Value float64
		}
	}
	b.call("Performance.getMetrics", nil, &m)
	var k kept
	for _, metric := range m.Metrics {
		switch metric.Name {
		case "Nodes":
			k.nodes = metric.Value
		case "JSEventListeners":
			k.listeners = metric.Value
		case "JSHeapUsedSize":
			k.script = metric.Value
		}
	}
	time.Sleep(200 * time.Millisecond)
	runtime.GC()
	runtime.GC()
	var stats runtime.MemStats
	runtime.ReadMemStats(&stats)
	k.goroutines, k.heap = runtime.NumGoroutine(), stats.HeapAlloc
	return k
}

// Streams of pages that went away are forgotten, and a server that ends leaves nothing
// running.
func TestStreamsEnd(t *testing.T) {
	before := runtime.NumGoroutine()
	t.Run("shown", func(t *testing.T) {
		dir := shop(t, "harbour-log.fore")
		address := shows(t, nil, filepath.Join(dir, "harbour-log.fore"))
		for range 200 {
			var list json.RawMessage
			streamOnce(t, address+"/events", &list)
		}
	})
	for end := time.Now().Add(5 * time.Second); runtime.NumGoroutine() > before+1; time.Sleep(20 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("%d goroutines have become %d", before, runtime.NumGoroutine())
		}
	}
}
