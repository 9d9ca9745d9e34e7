package eval_test

import (
	"strings"
	"testing"

	"foredge/eval"
	"foredge/eval/evaltest"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// What is wrong with an order is told at the one cell of which the line of the
// design speaks, else at the whole row.
func TestPlace(t *testing.T) {
	const design = `orders "o.csv" { name = text; wide = length; high = length }
let title = "No. " + order.name
let tall = order.high when order.name = "Ada", order.wide
let rim = 2 * order.high
panel front { width = order.wide; height = order.high + order.wide; thick = 3
  let high = rim + rim
  region r { height = high; tail = tall; engrave text title { cap <= order.high } }
}
check "order.wide" = title
`
	file, _ := parse.File(source.New("d.fore", []byte(design)))
	p := eval.Prepare(file, evaltest.Files{"o.csv": "name,wide,high\nAda,100,200\n\"Bo,120,210\n"}, nil)
	if p.Orders == nil || len(p.Orders.Rows) != 2 || p.Orders.Rows[1].Cells != nil {
		t.Fatalf("%+v", p.Orders)
	}
	at := func(text string) source.Span {
		start := strings.LastIndex(design, text)
		return source.Span{File: file.Source, Start: start, End: start + len(text)}
	}
	for _, c := range []struct {
		row      int
		at, want string
	}{
		{0, "width = order.wide", "100"}, {0, "order.high", "200"}, {0, "height = order.high + order.wide", "Ada,100,200"},
		{0, "thick = 3", "Ada,100,200"},
		{0, "text title", "Ada"}, {0, "title", "Ada"}, {0, "height = high", "200"}, {0, "tail = tall", "Ada,100,200"}, {0, "rim + rim", "200"},
		{0, "engrave text title { cap <= order.high }", "Ada,100,200"}, {0, "region r", "Ada,100,200"}, {0, `"order.wide"`, "Ada,100,200"},
		{0, `check "order.wide" = title`, "Ada"}, {1, "width = order.wide", `"Bo,120,210`},
	} {
		if got := p.Place(c.row, at(c.at)).Text(); got != c.want {
			t.Errorf("row %d, %s: at %q, want %q", c.row, c.at, got, c.want)
		}
	}
}
