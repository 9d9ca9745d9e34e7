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
	shown int // per cent, -1 before the first
}

func (t *terminal) bar(what string) *bar {
	b := &bar{what: what, shown: -1}
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
	const wide = 40
	full := wide * percent / 100
	fmt.Fprintf(b.w, "\r%s [%s%s] %3d %%", b.what, strings.Repeat("#", full), strings.Repeat(".", wide-full), percent)
}

// clear takes the bar away.
func (b *bar) clear() {
	if b.w != nil && b.shown >= 0 {
		fmt.Fprint(b.w, "\r\x1b[K")
		b.shown = -1
	}
}
