//go:build !js

package main

import (
	"fmt"
	"maps"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/browsertest"
	"foredge/lang/foretest"
)

// contrasts lists what is shown with less contrast than level AA of WCAG 2.2 asks for
// (1.4.3: 4.5 to 1 for text), by its formula for relative luminance.
const contrasts = `(() => {
	const channels = (color) => color.match(/[\d.]+/g).map(Number);
	const luminance = (color) => {
		const [r, g, b] = channels(color).slice(0, 3).map((c) => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
		return 0.2126 * r + 0.7152 * g + 0.0722 * b;
	};
	const ground = (e) => {
		for (; e; e = e.parentElement) {
			const color = getComputedStyle(e).backgroundColor;
			if ((channels(color)[3] ?? 1) === 1) return color;
		}
		return "rgb(255, 255, 255)";
	};
	const faint = [];
	let seen = 0;
	for (const e of document.body.querySelectorAll("*")) {
		const own = [...e.childNodes].some((n) => n.nodeType === Node.TEXT_NODE && n.data.trim() !== "") || e.value;
		if (!own || e.closest("svg, .under, noscript, script") || e.checkVisibility?.() === false) continue;
		seen++;
		const [a, b] = [luminance(getComputedStyle(e).color), luminance(ground(e))].sort((x, y) => y - x);
		const ratio = (a + 0.05) / (b + 0.05);
		if (ratio < 4.5) faint.push(e.tagName + " " + e.textContent.trim().slice(0, 40) + ": " + ratio.toFixed(2));
	}
	if (seen < 30) faint.push("only " + seen + " texts are there");
	return faint;
})()`

// The page at two widths, light and dark: nothing sticks out sideways, axe-core finds
// nothing, and texts keep their contrast.
func TestPictures(t *testing.T) {
	p := show(t)
	axe := browsertest.Axe(t)
	for _, scheme := range []string{"light", "dark"} {
		for _, width := range []int{360, 1280} {
			p.Size(width, 900, scheme)
			for _, what := range []string{"right", "wrong"} {
				p.choose("harbour-log.fore")
				if what == "wrong" {
					p.after(typed("count = 24", "count = 24; wep = 4\n    pitch = 9,2") + typed("head = 40", "head = 190"))
				}
				var over int
				p.Run(`document.documentElement.scrollWidth - document.documentElement.clientWidth`, &over)
				if over > 0 {
					t.Errorf("%d px wide, the page is %d px wider than the window", width, over)
				}
				p.Accessible(axe, fmt.Sprintf("%s, %d px wide", scheme, width))
				var faint []string
				p.Run(contrasts, &faint)
				for _, what := range faint {
					t.Errorf("%s, %d px wide: too little contrast: %s", scheme, width, what)
				}
				p.Keep(fmt.Sprintf("%s-%d-%s", what, width, scheme))
				if what == "wrong" {
					p.after(`document.getElementById("restore").click()`)
				}
			}
		}
	}
	p.silent()
}

// typed is a script that types one text in place of another into the editor.
func typed(was, is string) string {
	return fmt.Sprintf(`{ const t = document.getElementById("text"); const at = t.value.indexOf(%[1]q);
		t.focus(); t.setSelectionRange(at, at + %[1]q.length); document.execCommand("insertText", false, %[2]q); }`, was, is)
}

// What a maker does at the page, without its server: mends an error by its hint, edits a
// file that the design uses, lays the text out, takes it back; and the compiler is started
// anew if it ends.
func TestAtThePage(t *testing.T) {
	p := show(t)
	p.server.Close()
	says := func(what, id, want string) {
		t.Helper()
		if got := p.text(id); !strings.Contains(got, want) {
			t.Errorf("%s: %s says %q, want %q", what, id, got, want)
		}
	}
	p.after(typed("count = 24", "count = 24; wep = 4.45"))
	says("a wrong name", "state", "1 error")
	says("a wrong name", "notes", "did you mean web?")
	says("a wrong name", "stale", "last drawing without errors")
	if n := len(p.offered()); n != 0 {
		t.Errorf("%d files are offered of a wrong design", n)
	}
	var marked []string
	p.Run(`[document.querySelector(".under mark.error").textContent, document.querySelector(".gutter .error").textContent]`, &marked)
	if strings.Join(marked, " ") != "wep 14" {
		t.Errorf("marked: %q", marked)
	}

	// By keys alone: to the button of the hint, and press it.
	p.Run(`document.getElementById("text").focus()`, nil)
	var steps []string
	for range 12 {
		var at string
		p.Run(`document.activeElement.textContent.trim().slice(0, 20)`, &at)
		steps = append(steps, at)
		if at == "Write web for wep" {
			break
		}
		p.Key("Tab")
	}
	p.Key("Enter")
	p.Until("the mended text", `document.getElementById("text").value.includes("count = 24; web = 4.45")`)
	p.Until("the mended design", `!document.getElementById("notes").innerText.includes("wep")`)
	if last := steps[len(steps)-1]; last != "Write web for wep" {
		t.Errorf("the keys come to %q", steps)
	}
	p.after(`document.getElementById("restore").click()`)
	says("taken back", "state", "no errors")

	// To the place of an error far down.
	p.after(typed("# Harbour log", "# 🐦 Harbour log") + typed("fit = shrink", "fit = shrnk"))
	p.Run(`document.querySelector("#notes li.error button.place").click()`, nil)
	var chosen string
	p.Run(`(() => { const t = document.getElementById("text"); return document.activeElement === t ? t.value.slice(t.selectionStart, t.selectionEnd) : "" })()`, &chosen)
	if chosen != "shrnk" {
		t.Errorf("the button of the place chooses %q", chosen)
	}
	p.Keep("place")
	p.after(`document.getElementById("restore").click()`)

	// The file that it uses.
	p.Run(`{ const list = document.getElementById("texts"); list.value = "examples/shop.fore"; list.dispatchEvent(new Event("change")) }`, nil)
	p.after(typed("kerf", "kerb"))
	says("another file", "notes", "line ")
	says("another file", "notes", "did you mean kerf?")
	p.after(`document.getElementById("restore").click()`)
	says("taken back", "state", "no errors")

	p.choose("harbour-log.fore")
	before := p.offered()
	p.after(typed("    count = 24\n", "count =24\n"))
	p.after(`document.getElementById("lay-out").click()`)
	var text string
	p.Run(`document.getElementById("text").value`, &text)
	if want := foretest.Read(t, filepath.Join(foretest.Root(t), "examples", "harbour-log.fore")); text != want {
		t.Errorf("laid out it differs from what it was%s", foretest.Difference([]byte(want), []byte(text)))
	}

	p.mu.Lock()
	worker := p.workers[0]
	p.mu.Unlock()
	p.CallIn(worker, "Runtime.evaluate", map[string]any{"expression": "postMessage({ ended: true })"}, nil)
	p.after(typed("count = 24", "count = 23"))
	if maps.Equal(p.offered(), before) {
		t.Error("the text is built as it was before")
	}
	p.after(typed("count = 23", "count = 24"))
	if !maps.Equal(p.offered(), before) {
		t.Errorf("a new compiler builds %s", p.text("notes"))
	}
	p.silent()
}

// Each thing that can be used is come to by keys alone, and left by them.
func TestKeyboard(t *testing.T) {
	p := show(t)
	p.Run(`document.activeElement.blur()`, nil)
	want := []string{"designs", "open", "open-folder", "texts", "lay-out", "save", "text", "caution", "actual", "Save harbour-log.svg", "Save harbour-log.dxf",
		"Sizes and places", "The language", "Licences"}
	var got []string
	for range 30 {
		p.Key("Tab")
		var at string
		p.Run(`document.activeElement === document.body ? "" : document.activeElement.id || document.activeElement.textContent.trim()`, &at)
		if at == "" || len(got) > 0 && at == got[0] {
			break
		}
		got = append(got, at)
	}
	if !slices.Equal(got, want) {
		t.Errorf("the keys come to %q, want %q", got, want)
	}
}
