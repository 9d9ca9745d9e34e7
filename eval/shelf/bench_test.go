package shelf_test

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"foredge/eval/evaltest"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// shopFile is a shop's own file of patterns and materials, each with a comment,
// as large as n of them.
func shopFile(n int) string {
	var b strings.Builder
	b.WriteString("units mm\nuse bindings\nlet deep = 2.4\n")
	for i := range n {
		switch i % 4 {
		case 0:
			fmt.Fprintf(&b, "# Taken from a notebook on the bench.\npattern wire-%d {\n  pitch = %g\n  hole  = rect 4 by 4.2\n  inset = deep + %g\n}\n", i, 8+float64(i)/1000, float64(i%7)/10)
		case 1:
			fmt.Fprintf(&b, "# The same, thicker.\npattern wire-%d like wire-%d { hole = rect 4.4 by 4.6 }\n", i, i-1)
		case 2:
			fmt.Fprintf(&b, "# Rings, measured.\npattern rings-%d { gaps = 19, 19, %g, 19, 19; hole = round 5.5; inset = 2.5 }\n", i, 60+float64(i)/50)
		case 3:
			fmt.Fprintf(&b, "# From the stack by the window.\nmaterial sheet-%d { kerf = 0.1 + thick / %d; least-web = max(thick, 2); gives-off = \"smoke\" }\n", i, 50+i)
		}
	}
	return b.String()
}

const cover = `
stock board { material = %s; thick = 3; kerf = 0.2 }
panel front { width = 148; height = 210; row wire on spine like %s { count = 23 } }
panel back mirrors front
`

// BenchmarkShopFile gives what a shop file of 500 patterns and materials costs a
// build, as a multiple of what parsing its bytes costs in the same run (at most
// 1.5), with the answer checked.
func BenchmarkShopFile(b *testing.B) {
	shop := shopFile(500)
	small := "pattern wire-497 { pitch = 8.496; hole = rect 4.4 by 4.6; inset = deep }\nlet deep = 2.4\nmaterial sheet-499 { kerf = 0.1 + thick / 549 }\n" + fmt.Sprintf(cover, "sheet-499", "wire-497")
	large := "use \"shop.fore\"\n" + fmt.Sprintf(cover, "sheet-499", "wire-497")
	files := evaltest.Files{"shop.fore": shop}
	var reading, without, with time.Duration
	timed := func(sum *time.Duration, f func()) {
		start := time.Now()
		f()
		*sum += time.Since(start)
	}
	b.SetBytes(int64(len(shop)))
	for b.Loop() {
		timed(&reading, func() {
			if tree, ds := parse.File(source.New("shop.fore", []byte(shop))); len(ds) > 0 || len(tree.Stmts) != 503 {
				b.Fatalf("%d statements, %s", len(tree.Stmts), diagtest.Text(ds))
			}
		})
		timed(&without, func() { evaltest.SoundWith(b, small, evaltest.Files{}) })
		timed(&with, func() {
			s := evaltest.SoundWith(b, large, files)
			foretest.Near(b, "pitch", evaltest.Dimension(b, s, "front.wire.pitch").Value, 8.496, 1e-9)
			foretest.Near(b, "kerf", number(s.Design().Panels[0].Stock.UsualKerf), 0.1+3./549, 1e-9)
		})
	}
	b.ReportMetric(float64(with-without)/float64(reading), "x-parse")
}

// BenchmarkUnusedShelf gives what a build allocates that uses nothing of the
// shelf, by what one allocates that uses all of it: the shelf is not even read.
func BenchmarkUnusedShelf(b *testing.B) {
	plain := "pattern wire { pitch = 8.4; hole = rect 4 by 4; inset = 2.4 }\n" + fmt.Sprintf(cover, `"board"`, "wire")
	all := "use papers\nuse bindings\nuse wires\nuse boards\nuse materials\nuse fittings\n" + plain
	var unused, used time.Duration
	for b.Loop() {
		start := time.Now()
		s := evaltest.SoundWith(b, plain, nil)
		unused += time.Since(start)
		foretest.Near(b, "pitch", evaltest.Dimension(b, s, "front.wire.pitch").Value, 8.4, 1e-9)
		start = time.Now()
		evaltest.SoundWith(b, all, nil)
		used += time.Since(start)
	}
	b.ReportMetric(float64(used)/float64(unused), "used/unused")
}
