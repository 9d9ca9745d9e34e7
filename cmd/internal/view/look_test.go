package view_test

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"foredge/lang/foretest"
)

// ready is true as soon as every design of a page is drawn.
const ready = `document.querySelectorAll("article").length > 0 && [...document.querySelectorAll("article")].every((a) => a.dataset.revision)`

// strict starts a browser that fails the test where the page's scripts fail, the policy
// of the page is broken, or anybody but its own server is asked.
func strict(t *testing.T, address *string) *browser {
	return newBrowser(t, func(method string, params json.RawMessage) {
		switch method {
		case "Runtime.exceptionThrown", "Log.entryAdded":
			t.Errorf("%s: %s", method, params)
		case "Network.requestWillBeSent":
			var asked struct{ Request struct{ URL string } }
			if json.Unmarshal(params, &asked) != nil || !strings.HasPrefix(asked.Request.URL, *address+"/") && !strings.HasPrefix(asked.Request.URL, "data:") {
				t.Errorf("the page asks for %s", asked.Request.URL)
			}
		}
	})
}

// keep puts a picture of the page into the folder that FOREDGE_PICTURES names, to be
// looked at.
func keep(b *browser, name string) {
	b.t.Helper()
	if folder := os.Getenv("FOREDGE_PICTURES"); folder != "" {
		foretest.Must(b.t, os.WriteFile(filepath.Join(folder, name+".png"), b.picture(), 0o666))
	}
}

// axe is npm's axe-core as a script; it finds what keeps people from using a page.
func axe(t *testing.T) string {
	t.Helper()
	folder := os.Getenv("FOREDGE_NPM")
	if folder == "" {
		foretest.Missing(t, "npm's axe-core (FOREDGE_NPM names the node_modules that it is in)")
	}
	return foretest.Read(t, filepath.Join(folder, "axe-core", "axe.min.js"))
}

// accessible fails where axe-core finds anything in the page as it is.
func accessible(b *browser, script, what string) {
	b.t.Helper()
	b.run(`window.axe ? 0 : (`+"() => {"+script+"\n; return 0 }"+`)()`, nil)
	var found []string
	b.run(`axe.run(document, { resultTypes: ["violations"] }).then((r) => r.violations.flatMap((v) => v.nodes.map((n) => v.id + ": " + n.target + ": " + n.failureSummary)))`, &found)
	for _, f := range found {
		b.t.Errorf("%s: %s", what, f)
	}
}

// At three widths, light and dark, nothing sticks out sideways, and axe-core finds
// nothing: neither in the page as it opens nor with all shown that can be, nor with
// errors over the last good drawing.
func TestPage(t *testing.T) {
	foretest.Long(t, "six windows, each looked at three times")
	script := axe(t)
	dir := shop(t, "harbour-log.fore", "ledger-case.fore")
	path := filepath.Join(dir, "harbour-log.fore")
	text := foretest.Read(t, path)
	address := shows(t, nil, path, filepath.Join(dir, "ledger-case.fore"))
	b := strict(t, &address)
	for _, scheme := range []string{"light", "dark"} {
		for _, width := range []int{360, 800, 1600} {
			what := fmt.Sprintf("%d-%s", width, scheme)
			b.size(width, 900, scheme)
			b.open(address + "/")
			b.until("the drawings", ready)
			inside := func(what string) {
				var over int
				b.run(`document.documentElement.scrollWidth - document.documentElement.clientWidth`, &over)
				if over > 0 {
					t.Errorf("%s: the page is %d px wider than the window", what, over)
				}
				accessible(b, script, what)
				keep(b, what)
			}
			inside(what)
			b.run(`for (const d of document.querySelectorAll("details")) d.open = true;
				document.getElementById("readings").click();
				document.getElementById("lines").value = "all"; document.getElementById("lines").dispatchEvent(new Event("change"))`, nil)
			b.until("the table", `document.querySelector("tbody button")`)
			b.run(`document.querySelector("tbody button").click()`, nil)
			b.until("why", `document.querySelector(".told pre")`)
			inside(what + "-all")
			save(t, path, replaced(t, text, "count = 24", "count = 24; inset = forty"))
			b.until("the error", `document.querySelector(".stale .problems li.error .place")`)
			inside(what + "-error")
			save(t, path, text)
			b.until("the mended design", `!document.querySelector(".stale")`)
		}
	}
}

// What a maker does at the page, by the keyboard alone and by the pointer.
func TestAtThePage(t *testing.T) {
	dir := shop(t, "harbour-log.fore", "harbour-gift.fore", "orders.csv", "gull.svg")
	path := filepath.Join(dir, "harbour-log.fore")
	address := shows(t, nil, path, filepath.Join(dir, "harbour-gift.fore"))
	b := strict(t, &address)
	b.size(1000, 900, "light")
	b.open(address + "/")
	b.until("the drawing", ready)
	told := func() (text string) {
		b.run(`document.querySelector(".told").innerText`, &text)
		return text
	}
	says := func(what string, wanted ...string) {
		t.Helper()
		text := told()
		for _, want := range wanted {
			if !strings.Contains(text, want) {
				t.Errorf("%s: the page says %q, want %q", what, text, want)
			}
		}
	}
	focused := func(selector string) (yes bool) {
		b.run(fmt.Sprintf(`document.activeElement.matches(%q)`, selector), &yes)
		return yes
	}

	// By the keyboard: to the drawing, and in it from thing to thing.
	tabs := 0
	for ; tabs < 40 && !focused("svg.drawing"); tabs++ {
		b.key("Tab")
	}
	if tabs == 40 {
		t.Fatal("the drawing can't be reached by the keyboard")
	}
	b.key("ArrowRight")
	says("the first thing to the right", "front.height", "210.0623 mm ± 0.05 mm", "harbour-log.fore:6:1")
	b.key("ArrowRight", "ArrowRight")
	says("what lies to the right of it", "front.")
	var tip string
	b.run(`document.querySelector(".tip:not([hidden])").innerText`, &tip)
	if !strings.Contains(tip, "of harbour-log.fore") {
		t.Errorf("shown beside it: %q", tip)
	}
	b.key("Escape")
	says("let go", "Point at a line")

	// By the pointer: a hole, then a dimension, and where that comes from.
	middle := func(selector string) (x, y float64) {
		var at struct{ X, Y float64 }
		b.run(fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(); return { x: r.x + r.width / 2, y: r.y + r.height / 2 } })()`, selector), &at)
		return at.X, at.Y
	}
	x, y := middle(`[data-name="front.wire.3"]`)
	b.mouse(x, y, true)
	says("a hole", "front.wire.3", "cut, 4.35 mm by 4.32 mm", "harbour-log.fore:13:3")
	x, y = middle(`[data-value] .wide`)
	b.mouse(x, y, false)
	b.run(`document.querySelector(".tip:not([hidden])").innerText`, &tip)
	if !strings.Contains(tip, "148.2 mm ± 0.035 mm (derived)") || !strings.Contains(tip, "line 6 of harbour-log.fore") {
		t.Errorf("pointed at, the dimension says %q", tip)
	}
	b.mouse(x, y, true)
	b.until("why", `document.querySelector(".told pre")`)
	says("a dimension", "front.width", "log.width = 148.2 mm (u 0.0173 mm)  reading: width  (harbour-log.fore:8:3)")
	keep(b, "clicked")

	// Operations can be put away.
	b.run(`document.querySelector('input[name="engrave"]').click()`, nil)
	var engraved, cut int
	count := func(op string) (n int) {
		b.run(fmt.Sprintf(`[...document.querySelectorAll('[data-operation=%q] [data-name]')].filter((e) => e.getClientRects().length > 0).length`, op), &n)
		return n
	}
	if engraved, cut = count("engrave"), count("cut"); engraved != 0 || cut == 0 {
		t.Errorf("without what is engraved: %d engraved, %d cut", engraved, cut)
	}
	b.run(`document.querySelector('input[name="engrave"]').click()`, nil)
	if count("engrave") == 0 {
		t.Error("what is engraved doesn't come back")
	}

	// The other face of the other design.
	b.run(`document.querySelectorAll("article")[1].querySelector('.faces button:last-child').click()`, nil)
	var title string
	b.run(`document.querySelectorAll("article")[1].querySelector("svg.drawing").getAttribute("aria-label")`, &title)
	if !strings.Contains(title, "harbour-gift.fore, inside of") {
		t.Errorf("the other face is %q", title)
	}
	keep(b, "inside")

	// Measuring, by the keyboard: from a point a millimetre to the right.
	b.run(`document.querySelector('[value="measure"]').click(); document.querySelector("svg.drawing").focus()`, nil)
	b.key("ArrowLeft", "ArrowUp", "Enter")
	for range 10 {
		b.key("Shift+ArrowRight")
	}
	b.key("Enter")
	says("measured by keys", "measured: 1 mm (1 mm across, 0 mm down)")
	keep(b, "measured")
	x, y = middle(`[data-name="front.wire.3"]`)
	var k float64
	b.run(`(() => { const r = document.querySelector('[data-name="front.wire.3"]'); return r.getBoundingClientRect().width / r.getBBox().width })()`, &k)
	b.key("Escape")
	b.mouse(x-2.16*k, y-2.17*k, true)
	b.mouse(x+2.16*k, y-2.17*k, true)
	says("from corner to corner of a hole", "measured: 4.35 mm (4.35 mm across, 0 mm down)")
	b.key("Escape")
}

// A page of another origin is given nothing by the server, whatever it tries.
func TestPagesOfOthers(t *testing.T) {
	dir := shop(t, "harbour-log.fore")
	address := shows(t, nil, filepath.Join(dir, "harbour-log.fore"))
	var mu sync.Mutex
	asked, answered := map[string]string{}, map[string]int{} // by the request
	b := newBrowser(t, func(method string, params json.RawMessage) {
		var m struct {
			RequestID  string
			Request    struct{ URL string }
			StatusCode int
		}
		foretest.Must(t, json.Unmarshal(params, &m))
		mu.Lock()
		defer mu.Unlock()
		switch method {
		case "Network.requestWillBeSent":
			asked[m.RequestID] = m.Request.URL
		case "Network.responseReceivedExtraInfo":
			answered[m.RequestID] = m.StatusCode
		}
	})
	other := shows(t, nil, filepath.Join(dir, "harbour-log.fore")) // another port is another origin
	b.call("Page.setBypassCSP", map[string]any{"enabled": true}, nil)
	b.open(other + "/")
	b.until("the drawing", ready)
	var got []string
	b.run(fmt.Sprintf(`(async () => {
		const got = [];
		const tries = [["cors", {}], ["no-cors", { mode: "no-cors" }], ["post", { method: "POST", body: "{}", mode: "no-cors" }]];
		for (const [name, how] of tries) {
			for (const path of ["/", "/designs/0", "/open"]) {
				try {
					const r = await fetch(%[1]q + path, how);
					got.push(name + path + ": " + r.type + " " + (await r.text()).length);
				} catch { got.push(name + path + ": nothing"); }
			}
		}
		await new Promise((done) => {
			const s = Object.assign(document.createElement("script"), { src: %[1]q + "/page.js", onload: () => { got.push("script"); done(); }, onerror: done });
			document.head.append(s);
		});
		await new Promise((done) => {
			const e = new EventSource(%[1]q + "/events");
			e.onmessage = e.onopen = () => { got.push("events"); done(); };
			e.onerror = () => { e.close(); done(); };
		});
		const frame = Object.assign(document.createElement("iframe"), { src: %[1]q + "/" });
		await new Promise((done) => { frame.onload = done; document.body.append(frame); });
		return got;
	})()`, address), &got)
	for _, g := range got {
		if !strings.HasSuffix(g, ": nothing") && !strings.HasSuffix(g, "opaque 0") {
			t.Errorf("a page of another origin got %s", g)
		}
	}
	mu.Lock()
	defer mu.Unlock()
	tried := 0
	for id, status := range answered {
		if url := asked[id]; strings.HasPrefix(url, address+"/") {
			if tried++; status != 403 {
				t.Errorf("%s answered %d to a page of another origin", url, status)
			}
		}
	}
	if tried < 10 {
		t.Errorf("only %d answers were seen: %v, %v", tried, asked, answered)
	}
}
