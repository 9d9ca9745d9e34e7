package view_test

import (
	"encoding/json"
	"fmt"
	"path/filepath"
	"strings"
	"sync"
	"testing"

	"foredge/cmd/internal/browsertest"
	"foredge/lang/foretest"
)

// ready is true as soon as every design of a page is drawn.
const ready = `document.querySelectorAll("article").length > 0 && [...document.querySelectorAll("article")].every((a) => a.dataset.revision)`

// strict starts a browser that fails the test where the page's scripts fail, the policy
// of the page is broken, or anybody but its own server is asked.
func strict(t *testing.T, address *string) *browsertest.Browser {
	return browsertest.Start(t, func(_, method string, params json.RawMessage) {
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

// At three widths, light and dark, nothing sticks out sideways, and axe-core finds
// nothing: neither in the page as it opens nor with all shown that can be, nor with
// errors over the last good drawing.
func TestPage(t *testing.T) {
	foretest.Long(t, "six windows, each looked at three times")
	script := browsertest.Axe(t)
	dir := shop(t, "harbour-log.fore", "ledger-case.fore")
	path := filepath.Join(dir, "harbour-log.fore")
	text := foretest.Read(t, path)
	address := shows(t, nil, path, filepath.Join(dir, "ledger-case.fore"))
	b := strict(t, &address)
	for _, scheme := range []string{"light", "dark"} {
		for _, width := range []int{360, 800, 1600} {
			what := fmt.Sprintf("%d-%s", width, scheme)
			b.Size(width, 900, scheme)
			b.Open(address + "/")
			b.Until("the drawings", ready)
			inside := func(what string) {
				var over int
				b.Run(`document.documentElement.scrollWidth - document.documentElement.clientWidth`, &over)
				if over > 0 {
					t.Errorf("%s: the page is %d px wider than the window", what, over)
				}
				b.Accessible(script, what)
				b.Keep(what)
			}
			inside(what)
			b.Run(`for (const d of document.querySelectorAll("details")) d.open = true;
				document.getElementById("readings").click();
				document.getElementById("lines").value = "all"; document.getElementById("lines").dispatchEvent(new Event("change"))`, nil)
			b.Until("the table", `document.querySelector("tbody button")`)
			b.Run(`document.querySelector("tbody button").click()`, nil)
			b.Until("why", `document.querySelector(".told pre")`)
			inside(what + "-all")
			save(t, path, replaced(t, text, "count = 24", "count = 24; inset = forty"))
			b.Until("the error", `document.querySelector(".stale .problems li.error .place")`)
			inside(what + "-error")
			save(t, path, text)
			b.Until("the mended design", `!document.querySelector(".stale")`)
		}
	}
}

// On a narrow page no figure lies on another or on a hole, and the drawing is in sight below
// what is told of it, with all switches open.
func TestNarrowPage(t *testing.T) {
	dir := shop(t, "harbour-log.fore")
	path := filepath.Join(dir, "harbour-log.fore")
	shopFile := filepath.Join(dir, "shop.fore")
	save(t, shopFile, replaced(t, foretest.Read(t, shopFile), "thick = 3", "thick = 4")) // which the wire hardly holds
	address := shows(t, nil, path)
	b := strict(t, &address)
	for _, width := range []int{360, 390, 800} {
		b.Size(width, 900, "light")
		b.Open(address + "/")
		b.Until("the drawing", ready)
		for _, lines := range []string{"board", "all"} {
			b.Run(fmt.Sprintf(`{ const l = document.getElementById("lines"); l.value = %q; l.dispatchEvent(new Event("change")) }`, lines), nil)
			b.Until("the figures", `document.querySelectorAll(".lines text").length > 2`)
			b.Keep(fmt.Sprintf("narrow-%d-%s", width, lines))
			var laid struct {
				Labels int
				Over   []string
			}
			b.Run(`(() => {
				const box = (e) => { const r = e.getBoundingClientRect(); return { text: e.textContent || e.dataset.name, x: r.x, y: r.y, right: r.right, down: r.bottom } };
				const labels = [...document.querySelectorAll(".lines text")].map(box);
				const holes = [...document.querySelectorAll('.shapes [data-name*=".wire."]')].map(box);
				const over = (a, b) => Math.min(a.right, b.right) - Math.max(a.x, b.x) > 3 && Math.min(a.down, b.down) - Math.max(a.y, b.y) > 3;
				return { labels: labels.length, over: labels.flatMap((a, i) => labels.slice(i + 1).concat(holes).filter((b) => over(a, b)).map((b) => a.text + " over " + b.text)) };
			})()`, &laid)
			if laid.Labels < 3 || lines == "board" && len(laid.Over) > 0 {
				t.Errorf("%d px, %s: %d figures, %q", width, lines, laid.Labels, laid.Over)
			}
			for _, what := range laid.Over {
				if !strings.Contains(what, ".wire.") { // within a board a figure may lie on a hole
					t.Errorf("%d px, %s: %s", width, lines, what)
				}
			}
		}
		var top, warnings float64
		b.Run(`document.querySelectorAll(".problems li").length`, &warnings)
		b.Run(`(document.getElementById("tools").open = true, document.querySelector("svg.drawing").getBoundingClientRect().top)`, &top)
		b.Keep(fmt.Sprintf("narrow-%d-tools", width))
		if warnings == 0 || width < 480 && top > 560 {
			t.Errorf("%d px: with %.0f warnings the drawing begins at %.0f", width, warnings, top)
		}
	}
}

// What a maker does at the page, by the keyboard alone and by the pointer.
func TestAtThePage(t *testing.T) {
	dir := shop(t, "harbour-log.fore", "harbour-gift.fore", "orders.csv", "gull.svg")
	path := filepath.Join(dir, "harbour-log.fore")
	address := shows(t, nil, path, filepath.Join(dir, "harbour-gift.fore"))
	b := strict(t, &address)
	b.Size(1000, 900, "light")
	b.Open(address + "/")
	b.Until("the drawing", ready)
	told := func() (text string) {
		b.Run(`document.querySelector(".told").innerText`, &text)
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
		b.Run(fmt.Sprintf(`document.activeElement.matches(%q)`, selector), &yes)
		return yes
	}

	// By the keyboard: to the drawing, and in it from thing to thing.
	tabs := 0
	for ; tabs < 40 && !focused("svg.drawing"); tabs++ {
		b.Key("Tab")
	}
	if tabs == 40 {
		t.Fatal("the drawing can't be reached by the keyboard")
	}
	b.Key("ArrowRight")
	says("the first thing to the right", "front.height", "210.0623 mm ± 0.05 mm", "harbour-log.fore:6:1")
	b.Key("ArrowRight", "ArrowRight")
	says("what lies to the right of it", "front.")
	var tip string
	b.Run(`document.querySelector(".tip:not([hidden])").innerText`, &tip)
	if !strings.Contains(tip, "of harbour-log.fore") {
		t.Errorf("shown beside it: %q", tip)
	}
	b.Key("Escape")
	says("let go", "Point at a line")

	// By the pointer: a hole, then a dimension, and where that comes from.
	middle := func(selector string) (x, y float64) {
		var at struct{ X, Y float64 }
		b.Run(fmt.Sprintf(`(() => { const r = document.querySelector(%q).getBoundingClientRect(); return { x: r.x + r.width / 2, y: r.y + r.height / 2 } })()`, selector), &at)
		return at.X, at.Y
	}
	x, y := middle(`[data-name="front.wire.3"]`)
	b.Mouse(x, y, true)
	says("a hole", "front.wire.3", "cut, 4.35 mm by 4.32 mm", "harbour-log.fore:13:3")
	x, y = middle(`[data-value] .wide`)
	b.Mouse(x, y, false)
	b.Run(`document.querySelector(".tip:not([hidden])").innerText`, &tip)
	if !strings.Contains(tip, "148.2 mm ± 0.035 mm (derived)") || !strings.Contains(tip, "line 6 of harbour-log.fore") {
		t.Errorf("pointed at, the dimension says %q", tip)
	}
	b.Mouse(x, y, true)
	b.Until("why", `document.querySelector(".told pre")`)
	says("a dimension", "front.width", "log.width = 148.2 mm (u 0.0173 mm)  reading: width  (harbour-log.fore:8:3)")
	b.Keep("clicked")

	// Operations can be put away.
	b.Run(`document.querySelector('input[name="engrave"]').click()`, nil)
	var engraved, cut int
	count := func(op string) (n int) {
		b.Run(fmt.Sprintf(`[...document.querySelectorAll('[data-operation=%q] [data-name]')].filter((e) => e.getClientRects().length > 0).length`, op), &n)
		return n
	}
	if engraved, cut = count("engrave"), count("cut"); engraved != 0 || cut == 0 {
		t.Errorf("without what is engraved: %d engraved, %d cut", engraved, cut)
	}
	b.Run(`document.querySelector('input[name="engrave"]').click()`, nil)
	if count("engrave") == 0 {
		t.Error("what is engraved doesn't come back")
	}

	// The other face of the other design.
	b.Run(`document.querySelectorAll("article")[1].querySelector('.faces button:last-child').click()`, nil)
	var title string
	b.Run(`document.querySelectorAll("article")[1].querySelector("svg.drawing").getAttribute("aria-label")`, &title)
	if !strings.Contains(title, "harbour-gift.fore, inside of") {
		t.Errorf("the other face is %q", title)
	}
	b.Keep("inside")

	// Measuring, by the keyboard: from a point a millimetre to the right.
	b.Run(`document.querySelector('[value="measure"]').click(); document.querySelector("svg.drawing").focus()`, nil)
	b.Key("ArrowLeft", "ArrowUp", "Enter")
	for range 10 {
		b.Key("Shift+ArrowRight")
	}
	b.Key("Enter")
	says("measured by keys", "measured: 1 mm (1 mm across, 0 mm down)")
	b.Keep("measured")
	x, y = middle(`[data-name="front.wire.3"]`)
	var k float64
	b.Run(`(() => { const r = document.querySelector('[data-name="front.wire.3"]'); return r.getBoundingClientRect().width / r.getBBox().width })()`, &k)
	b.Key("Escape")
	b.Mouse(x-2.16*k, y-2.17*k, true)
	b.Mouse(x+2.16*k, y-2.17*k, true)
	says("from corner to corner of a hole", "measured: 4.35 mm (4.35 mm across, 0 mm down)")
	b.Key("Escape")
}

// A page of another origin is given nothing by the server, whatever it tries.
func TestPagesOfOthers(t *testing.T) {
	dir := shop(t, "harbour-log.fore")
	address := shows(t, nil, filepath.Join(dir, "harbour-log.fore"))
	var mu sync.Mutex
	asked, answered := map[string]string{}, map[string]int{} // by the request
	b := browsertest.Start(t, func(_, method string, params json.RawMessage) {
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
	b.Call("Page.setBypassCSP", map[string]any{"enabled": true}, nil)
	b.Open(other + "/")
	b.Until("the drawing", ready)
	var got []string
	b.Run(fmt.Sprintf(`(async () => {
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
