package eval_test

import (
	"strings"
	"sync"
	"testing"

	"foredge/eval"
	"foredge/eval/evaltest"
	"foredge/lang/foretest"
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

// Of things that share a name each order has the one that is there; several may be
// built at once.
func TestBuildOfWhatVaries(t *testing.T) {
	const design = `use "shop.fore"
orders "o.csv" { name = text; wide = length }
panel front when order.wide < least { width = order.wide; height = 100 }
panel front when order.wide >= least { width = order.wide + 10; height = 200
  region title { width = 50; height = 20; head = 5; engrave text order.name } }
panel back mirrors front
`
	file, _ := parse.File(source.New("d.fore", []byte(design)))
	files := evaltest.Files{"o.csv": "name,wide\nAda,90\nBo,120\nCy,many\nDi,80\n", "shop.fore": "let least = 100\n"}
	p := eval.Prepare(file, files, nil)
	if diags := p.Diagnostics(); len(diags) > 0 {
		t.Fatal(diags[0].Message)
	}
	wants := []map[string]float64{
		{"back.width": 90, "back.height": 100}, {"back.width": 130, "back.title.head": 5}, nil, {"back.width": 80, "front.height": 100},
	}
	var all sync.WaitGroup
	for row, want := range wants {
		all.Go(func() {
			m, diags := p.Build(row)
			if wrong := diags.HasErrors(); wrong != (want == nil) {
				t.Errorf("order %d: %v", row, diags)
				return
			}
			if want == nil {
				if len(diags) != 1 {
					t.Errorf("order %d is told %d things of one cell", row, len(diags))
				}
				return
			}
			s, _ := m.Solve()
			got := map[string]float64{}
			for _, d := range s.Dimensions() {
				got[d.Name] = d.Value
			}
			for name, v := range want {
				foretest.Near(t, name, got[name], v, 1e-6)
			}
			if _, there := got["back.title.head"]; there != (row == 1) {
				t.Errorf("order %d has a title: %v", row, there)
			}
		})
	}
	all.Wait()
}
