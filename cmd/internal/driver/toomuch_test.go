package driver_test

import (
	"fmt"
	"strings"
	"testing"

	"foredge/lang/diag"
)

// TestTooMuchDrawn: where far more would be drawn than a laser ever cuts, or held
// against one another, foredge says so at the place before the memory is full.
func TestTooMuchDrawn(t *testing.T) {
	stock := "stock ply { thick = 3 }\n"
	full := func(mark string) string {
		return stock + board(1000, "region r { head = 5; tail = 5; spine = 5; foredge = 5; "+mark+" { wrap = yes } }\n")
	}
	members := func(mark string) string {
		return "laser l { kerf = 0.1 }\n" + stock + wide(1100, "field f { across = 100; down = 100; head = 5; gap-across = 0.5; pitch-down = 1.5; region each { width = 10; height = 1.2; "+mark+" } }\n")
	}
	for name, w := range map[string]struct {
		text, code, message string
		mib                 float64 // that may be taken in all
	}{
		"letters":           {full(`engrave text "` + strings.Repeat("tern ", 30_000) + `"`), "too-many-shapes", "more than 100000 characters", 64},
		"cut letters":       {members(`cut text "BIT" { bridge = 0.05 }`), "too-many-shapes", "more than 500000 lines and curves in its texts and drawings", 64},
		"inlays":            {members(`inlay text "g" { stock = ply }`), "too-many-shapes", "more than 500000 lines and curves in its texts and drawings", 1024},
		"drawings":          {members(`engrave art "gull.svg"`), "too-many-shapes", "more than 500000 lines and curves in its texts and drawings", 64},
		"drawings of lines": {members(`mark art "gulls.svg"`), "too-many-shapes", "more than 100000 shapes", 64},
		"slits": {wide(400, each(1000, func(i int) string {
			return fmt.Sprintf("cutout s%d { shape = slot 90 by 0.01; rotate = 45 deg; head = 100; spine = %.2f }\n", i, 5+0.1*float64(i))
		})), "too-much-work", "the openings of p lie so close together", 512},
	} {
		t.Run(name, func(t *testing.T) {
			g := growth{name: name, text: func(int) string { return w.text }, beside: func(int) map[string]string {
				return map[string]string{
					"gull.svg": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 90"><path d="M0 0h90` + strings.Repeat("l-1 1l-1 -1", 40) + `z"/></svg>`,
					"gulls.svg": `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 90 90" fill="none" stroke="black">` +
						each(20, func(i int) string { return fmt.Sprintf(`<path d="M0 %dh90"/>`, 4*i) }) + `</svg>`,
				}
			}}
			r, c := g.run(t, 0)
			found := 0
			for _, d := range r.Diagnostics {
				if string(d.Code) == w.code && strings.Contains(d.Message, w.message) && d.Span.File != nil {
					found++
				}
			}
			if found != 1 || c.alloced > w.mib {
				t.Errorf("told %q, want %q once; %.0f MiB taken, at most %.0f wanted", messages(r.Diagnostics), w.message, c.alloced, w.mib)
			}
		})
	}
}

func messages(l diag.List) (all []string) {
	for _, d := range l {
		all = append(all, d.Message)
	}
	return all
}
