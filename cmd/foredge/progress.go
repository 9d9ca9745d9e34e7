package main

import (
	"fmt"
	"io"
	"strings"
)

// A bar shows on a terminal how far long work has come; elsewhere it is silent.
type bar struct {
	w     io.Writer // nil where nothing is shown
	what  string
	width func() int // of the terminal now, in columns
	shown int        // per cent, -1 before the first
}

func (t *terminal) bar(what string) *bar {
	b := &bar{what: what, width: t.width, shown: -1}
	if t.tty {
		b.w = t.stderr
	}
	return b
}

// show is told how many of how many steps are done.
func (b *bar) show(done, of int) {
	if b.w == nil || of == 0 {
		return
	}
	percent := 100 * done / of
	if percent == b.shown {
		return
	}
	b.shown = percent
	// What a longer line or a typed key has left behind it is wiped away.
	fmt.Fprintf(b.w, "\r%s\x1b[K", b.line(percent, b.width()))
}

// line is as much as there is room for. The last column stays free: a terminal
// might go on to the next line.
func (b *bar) line(percent, width int) string {
	const widest, narrowest = 40, 5
	number := fmt.Sprintf("%3d %%", percent)
	room := width - 1 - len(b.what) - len(" [] ") - len(number)
	switch wide := min(widest, room); {
	case wide >= narrowest:
		full := wide * percent / 100
		return fmt.Sprintf("%s [%s%s] %s", b.what, strings.Repeat("#", full), strings.Repeat(".", wide-full), number)
	case width > len(b.what)+1+len(number):
		return b.what + " " + number
	case width > len(number):
		return number
	}
	return ""
}

// clear takes the bar away.
func (b *bar) clear() {
	if b.w != nil && b.shown >= 0 {
		fmt.Fprint(b.w, "\r\x1b[K")
		b.shown = -1
	}
}
