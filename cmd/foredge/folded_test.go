package main

import (
	"fmt"
	"strings"
	"testing"

	"foredge/lang/diag"
	"foredge/lang/source"
)

// Of n orders with the same wrong as many lines are told for any n; others between them
// stay, and so do a few of a kind.
func TestFolded(t *testing.T) {
	size := func(n int) (lines int, text string) {
		var rows strings.Builder
		for i := range n {
			fmt.Fprintf(&rows, "row %d\n", i)
		}
		f := source.New("orders.csv", []byte(rows.String()))
		var l diag.List
		for i := range n {
			_, at := f.Line(i + 1)
			span := source.Span{File: f, Start: at, End: at + 3}
			if i%100 == 50 {
				l.Errorf("count", span, "order %d: half of something", i)
			} else {
				l.Warnf("odd-text", span, "order %d: %q is odd", i, fmt.Sprint("Ada", i))
			}
		}
		var b strings.Builder
		diag.WriteText(&b, folded(l), diag.TextOptions{})
		return strings.Count(b.String(), "\n"), b.String()
	}
	small, text := size(500)
	if !strings.Contains(text, "the same is told of 475 more, in lines 21 to 50, 52 to 150, 152 to 250") {
		t.Error(text)
	}
	if strings.Count(text, "half of something") != 5 {
		t.Error("others are left out")
	}
	large, _ := size(2000)
	if large > small+20*4 {
		t.Errorf("%d lines of 500 orders, %d of 2000", small, large)
	}
}
