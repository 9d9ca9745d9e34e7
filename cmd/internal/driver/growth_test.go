package driver_test

import (
	"context"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"
	"time"

	"foredge/cmd/internal/driver"
	"foredge/eval/fit"
	"foredge/export"
)

// A growth makes designs of a kind, larger and larger: what a text can hold by the
// thousand must not take more than little over its share of time and memory.
type growth struct {
	name string
	n    int // the smallest design
	text func(n int) string
	// beside are files that the design uses, by name.
	beside func(n int) map[string]string
	// fit asks what its readings are worth, too.
	fit bool
	// effort is what is spent on laying and ordering it; 0 stands for the usual one.
	effort float64
}

// each joins what stands for each of n things.
func each(n int, one func(i int) string) string {
	var b strings.Builder
	for i := range n {
		b.WriteString(one(i))
	}
	return b.String()
}

// board is a panel of 100 by a height that holds something.
func board(height int, holds string) string {
	return fmt.Sprintf("panel p {\n  width = 100; height = %d; thick = 3\n%s}\n", height, holds)
}

// wide is a panel of a width by 200 that holds something.
func wide(width int, holds string) string {
	return fmt.Sprintf("panel p {\n  width = %d; height = 200; thick = 3\n%s}\n", width, holds)
}

// stacked are n boxes, each a little below the one before it.
func stacked(n int, sign string) string {
	return each(n, func(i int) string {
		if i == 0 {
			return "region r0 { width = 10; height = 5; spine = 5; head = 5 }\n"
		}
		return fmt.Sprintf("region r%d { width = 10; height = 5; spine = 5; head %s r%d.head + r%d.height + 1 }\n", i, sign, i-1, i-1)
	})
}

// sumOf is the sum of n dimensions, of every step-th thing.
func sumOf(n, step int, dim string) string {
	terms := make([]string, n)
	for i := range terms {
		terms[i] = fmt.Sprintf(dim, step*i)
	}
	return strings.Join(terms, " + ")
}

func growths() []growth {
	sprintf := fmt.Sprintf
	return []growth{
		{name: "lets", n: 500, text: func(n int) string {
			return "let a0 = 1\n" + each(n, func(i int) string { return sprintf("let a%d = a%d + a%d\n", i+1, i, i) }) + board(50, "")
		}},
		{name: "errors", n: 500, text: func(n int) string {
			return board(50, each(n, func(i int) string { return sprintf("wdth%d = 5\n", i) }))
		}},
		{name: "like", n: 500, text: func(n int) string {
			return "panel p0 { width = 100; height = 100; thick = 3; region r { head = 3; height = 3; spine = 3; width = 9 } }\n" +
				each(n, func(i int) string { return sprintf("panel p%d like p%d { copies = 1 }\n", i+1, i) })
		}},
		{name: "mirrors", n: 500, text: func(n int) string {
			return "panel p0 { width = 100; height = 100; thick = 3; region r { head = 3; height = 3; spine = 3; width = 9 } }\n" +
				each(n, func(i int) string { return sprintf("panel p%d mirrors p%d { copies = 1 }\n", i+1, i) })
		}},
		{name: "limits", n: 500, text: func(n int) string {
			return board(100, "region r { width = 10; head = 5; height = 5\n"+each(n, func(i int) string { return sprintf("spine >= %.3f\n", 20*float64(i)/float64(n)) })+"}\n")
		}},
		{name: "limits that clash", n: 500, text: func(n int) string {
			return board(100, "region r { width = 10; head = 5; height = 5\n"+each(n, func(i int) string {
				return sprintf("spine >= %.3f; spine <= %.3f\n", 20*float64(i)/float64(n), 19-20*float64(i)/float64(n))
			})+"}\n")
		}},
		{name: "wishes", n: 500, text: func(n int) string {
			return board(100, "region r { width = 10; head = 5; height = 5\n"+each(n, func(i int) string { return sprintf("prefer spine = %.3f\n", 20*float64(i)/float64(n)) })+"}\n")
		}},
		{name: "wishes in a chain", n: 500, text: func(n int) string {
			return board(30*n, each(n, func(i int) string {
				if i == 0 {
					return "region r0 { width = 10; height = 5; spine = 5; prefer head = 3 }\n"
				}
				return sprintf("region r%d { width = 10; height = 5; spine = 5; head >= 3; prefer head = r%d.head + r%d.height + 2 }\n", i, i-1, i-1)
			}))
		}},
		{name: "boxes", n: 500, text: func(n int) string { return board(8*n, stacked(n, "=")) }},
		{name: "boxes that run out of the board", n: 250, text: func(n int) string { return board(100, stacked(n, "=")) }},
		{name: "boxes held by limits", n: 500, text: func(n int) string { return board(8*n, stacked(n, ">=")) }},
		{name: "boxes between limits", n: 250, text: func(n int) string {
			return board(9*n, each(n, func(i int) string {
				if i == 0 {
					return "region r0 { width = 10; height = 5; spine = 5 }\n"
				}
				return sprintf("region r%d { width = 10; height = 5; spine = 5; head >= r%d.head + 6; head <= r%d.head + 8 }\n", i, i-1, i-1)
			}))
		}},
		{name: "boxes in a grid of limits", n: 100, text: func(n int) string {
			return wide(10*n, each(n, func(i int) string {
				if i == 0 {
					return "region r0 { width = 5; height = 5 }\n"
				}
				return sprintf("region r%d { width = 5; height = 5; spine >= r%d.spine + 6; head >= r%d.head }\n", i, i-1, i-1)
			}))
		}},
		{name: "boxes by sizes that limits leave", n: 100, text: func(n int) string {
			return board(20*n, each(n, func(i int) string {
				if i == 0 {
					return "region r0 { width = 10; height >= 5; prefer height = 6; spine = 5; head >= 3 }\n"
				}
				return sprintf("region r%d { width = 10; height >= 5; prefer height = 6; spine = 5; head >= r%d.head + r%d.height + 1 }\n", i, i-1, i-1)
			}))
		}},
		{name: "boxes held by limits on both sides, the last one first", n: 100, text: func(n int) string {
			return board(9*n, each(n, func(k int) string {
				i := n - 1 - k
				if i == 0 {
					return "region r0 { width = 10; height = 5; spine = 5 }\n"
				}
				return sprintf("region r%d { width = 10; height = 5; spine = 5; head >= r%d.head + 6; head <= r%d.head + 8 }\n", i, i-1, i-1)
			}))
		}},
		{name: "boxes held by limits beside a row that nobody counts", n: 100, text: func(n int) string {
			return board(8*n, "row s on spine { hole = round 3; pitch = 9; first >= 5; last >= 5 }\n"+stacked(n, ">="))
		}},
		{name: "boxes held by limits on a board of no height", n: 100, text: func(n int) string {
			return "panel p {\n  width = 100; thick = 3\n" + stacked(n, ">=") + "}\n"
		}},
		{name: "boxes of open sizes held by limits", n: 100, text: func(n int) string {
			return board(20*n, each(n, func(i int) string {
				if i == 0 {
					return "region r0 { width >= 10; height >= 5 }\n"
				}
				return sprintf("region r%d { width >= 10; height >= 5; head >= r%d.head + r%d.height + 1 }\n", i, i-1, i-1)
			}))
		}},
		{name: "boxes that follow one another round", n: 200, text: func(n int) string {
			return "panel p {\n  width = 100; thick = 3\n" + each(n, func(i int) string {
				return sprintf("region r%d { spine = 5; head = r%d.tail }\n", i, (i+1)%n)
			}) + "}\n"
		}},
		{name: "rows held by limits", n: 50, text: func(n int) string {
			return wide(12*n, each(n, func(i int) string {
				if i == 0 {
					return "row s0 on spine { hole = round 3; pitch = 9; first >= 5; last >= 5 }\n"
				}
				return sprintf("row s%d on spine { hole = round 3; pitch = 9; first >= 5; last >= 5; inset >= s%d.inset + 9 }\n", i, i-1)
			}))
		}},
		{name: "rows that nothing decides", n: 500, text: func(n int) string {
			return board(900, each(n, func(i int) string { return sprintf("row s%d on spine { count = 3; hole = round 3 }\n", i) }))
		}},
		{name: "rows of most", n: 100, text: func(n int) string {
			return wide(10+6*n, each(n, func(i int) string {
				return sprintf("row s%d on spine { count = most; hole = round 3; pitch = 9; first >= 5; last >= 5; inset = %d }\n", i, 5+6*i)
			}))
		}},
		{name: "readings", n: 100, text: func(n int) string {
			return sprintf("notebook log {\n  accuracy = 0.05; width = %d; height = 210\n", 10+6*n) + each(n, func(i int) string {
				return sprintf("row w%d on spine { count = 20; hole = round 4; pitch = 8.5; web = 4.5; inset = %d; first = 20; run = 161.%d }\n", i, 4+6*i, 4+i%3)
			}) + "}\npanel front covers log { thick = 3 }\n"
		}},
		{name: "clashes", n: 500, text: func(n int) string {
			return each(n, func(i int) string { return sprintf("panel p%d { width = 100; width = 101; height = 50 }\n", i) })
		}},
		{name: "clashes in one panel", n: 200, text: func(n int) string {
			return board(100, each(n, func(i int) string { return sprintf("cutout c%d { shape = round 1; head = 3; head = 4 }\n", i) }))
		}},
		{name: "rows that clash in one panel", n: 100, text: func(n int) string {
			return board(100, each(n, func(i int) string {
				return sprintf("row s%d on spine { count = 3; hole = round 1; pitch = 9; first = 3; first = 4; inset = 4 }\n", i)
			}))
		}},
		{name: "clashes by limits in one panel", n: 200, text: func(n int) string {
			return board(100, each(n, func(i int) string { return sprintf("cutout c%d { shape = round 1; head >= 3; head <= 2 }\n", i) }))
		}},
		{name: "boxes that together have a limit", n: 200, text: func(n int) string {
			return board(100, each(n, func(i int) string { return sprintf("region r%d { width = 5; prefer height = 3 }\n", i) })+
				sumOf(n, 1, "r%d.height")+sprintf(" <= %d\n", 3*n/2))
		}},
		{name: "boxes that together have limits", n: 200, text: func(n int) string {
			return board(100, each(n, func(i int) string {
				return sprintf("region r%d { width = 5; height <= %d; prefer height = %d }\n", i, 3+i%5, 1+i%7)
			})+sumOf(n, 1, "r%d.height")+sprintf(" <= %d\n", 2*n)+sumOf(n/2, 2, "r%d.height")+sprintf(" <= %d\n", n/2))
		}},
		{name: "boxes that together have a wish", n: 200, text: func(n int) string {
			return board(100, each(n, func(i int) string { return sprintf("region r%d { width = 5; prefer height = %d }\n", i, 1+i%7) })+
				"prefer "+sumOf(n, 1, "r%d.height")+sprintf(" = %d\n", n))
		}},
		{name: "the larger of two again and again", n: 100, text: func(n int) string {
			return board(300, each(n, func(i int) string {
				if i == 0 {
					return "cutout c0 { shape = round 0.2; head = max(tail / 400, 1) }\n"
				}
				return sprintf("cutout c%d { shape = round 0.2; head = max(c%d.head + 0.3, tail / 300) }\n", i, i-1)
			}))
		}},
		{name: "boxes of which each three have a limit", n: 200, text: func(n int) string {
			return board(100, each(n, func(i int) string { return sprintf("region r%d { width = 5; prefer height = %d }\n", i, 3+i%7) })+
				each(n, func(i int) string {
					return sprintf("r%d.height + r%d.height + r%d.height <= %d\n", i, (i+1)%n, (i+7)%n, 9+i%4)
				}))
		}},
		{name: "boxes that keep apart on either side", n: 200, text: func(n int) string {
			return wide(900, each(n, func(i int) string {
				return sprintf("region r%d { width = 5; height = 5; head = 5; prefer spine = %d }\n", i, 3+7*i%800)
			})+each(n-1, func(i int) string { return sprintf("abs(r%d.spine - r%d.spine) >= 3\n", i, i+1) }))
		}},
		{name: "a board as wide as the farthest of many", n: 200, text: func(n int) string {
			args := make([]string, n)
			for i := range args {
				args[i] = sprintf("r%d.spine + 5", i)
			}
			return "panel p {\n  height = 100; thick = 3\n  width = max(" + strings.Join(args, ", ") + ")\n  prefer width = 60\n" +
				each(n, func(i int) string {
					return sprintf("region r%d { width = 3; height = 5; head = 5; prefer spine = %d }\n", i, 3+7*i%100)
				}) + "}\n"
		}},
		{name: "checks that fail", n: 500, text: func(n int) string {
			return board(50, each(n, func(i int) string { return sprintf("check width >= %d else \"small\"\n", 101+i) }))
		}},
		{name: "openings that overlap", n: 250, text: func(n int) string {
			return board(900, each(n, func(i int) string {
				return sprintf("cutout r%d { shape = round 5; spine = 50; head = %.3f }\n", i, 50+800*float64(i)/float64(n))
			}))
		}},
		{name: "openings on one another", n: 500, text: func(n int) string {
			return board(900, each(n, func(i int) string { return sprintf("cutout r%d { shape = round 5; head = 3 }\n", i) }))
		}},
		{name: "recesses on one another", n: 500, text: func(n int) string {
			return board(900, each(n, func(i int) string { return sprintf("cutout r%d { shape = round 5; head = 3; depth = 1 }\n", i) }))
		}},
		{name: "slits that cross", n: 200, text: func(n int) string {
			return wide(300, each(n, func(i int) string {
				at := 20 + 100*float64(i)/float64(n)
				return sprintf("cutout u%d { shape = slot 150 by 0.1; rotate = 90 deg; spine = %.3f; head = 100 }\ncutout f%d { shape = slot 150 by 0.1; spine = 15; head = %.3f }\n", i, at, i, at)
			}))
		}},
		{name: "openings that keep clear", n: 200, text: func(n int) string {
			return wide(300, each(n, func(i int) string {
				return sprintf("cutout r%d { shape = round 1; clear = 50; spine = %d; head = %d }\n", i, 3+3*(i%90), 3+3*(i/90))
			}))
		}},
		{name: "cut letters on one another", n: 50, text: func(n int) string {
			return board(200, each(n, func(i int) string {
				return sprintf("region r%d { width = 90; height = 50; head = 3; cut text \"Log\" { bridge = 1 } }\n", i)
			}))
		}},
		{name: "a field of cut letters", n: 100, text: func(n int) string {
			return wide(1100, sprintf("field f { across = 50; down = %d; head = 5; gap-across = 0.5; pitch-down = 1; region each { width = 10; height = 0.9; cut text \"BIT\" { bridge = 0.05 } } }\n", n/10))
		}},
		{name: "a field of inlays", n: 100, text: func(n int) string {
			return "stock ply { thick = 3 }\n" + wide(1100, sprintf("field f { across = 20; down = %d; head = 5; gap-across = 0.5; pitch-down = 4; region each { width = 10; height = 3.9; inlay text \"g\" { stock = ply } } }\n", n/10))
		}},
		{name: "a long text that is cut", n: 20, text: func(n int) string {
			return board(1000, "region r { head = 5; tail = 5; spine = 5; foredge = 5; cut text \""+strings.Repeat("Boat log 08 ", n)+"\" { wrap = yes; bridge = 0.1 } }\n")
		}},
		{name: "long texts", n: 5, text: func(n int) string {
			return wide(400, each(n, func(i int) string {
				return sprintf("region r%d { width = 30; height = 8; spine = 3; head = %d; engrave text \""+strings.Repeat("tide gull ", 100)+"\" { wrap = yes } }\n", i, 3+9*i)
			}))
		}},
		{name: "texts", n: 100, text: func(n int) string {
			return board(10+12*n, each(n, func(i int) string {
				return sprintf("region r%d { width = 90; height = 10; spine = 5; head = %d; engrave text \"Tern log %d\" { cap = 3 } }\n", i, 5+12*i, i)
			}))
		}},
		{name: "a long text", n: 1000, text: func(n int) string {
			return board(1000, "region r { head = 5; tail = 5; spine = 5; foredge = 5; engrave text \""+strings.Repeat("tern ", n)+"\" { cap = 3; wrap = yes } }\n")
		}},
		{name: "a drawing that shows itself again and again", n: 1000, text: func(int) string {
			return board(100, "region r { head = 5; tail = 5; spine = 5; foredge = 5; engrave art \"gull.svg\" }\n")
		}, beside: func(n int) map[string]string {
			return map[string]string{"gull.svg": `<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 90 90"><defs><g id="g" transform="` +
				strings.Repeat("rotate(0) ", n) + `"><path d="M0 0h1v1z"/></g></defs>` +
				each(n, func(i int) string {
					return fmt.Sprintf(`<use xlink:href="#g" x="%d" y="%d"/>`, 2*(i%40), 2*(i/40))
				}) + "</svg>"}
		}},
		{name: "a drawing clipped by shapes that lie apart", n: 1000, text: artOn100, beside: func(n int) map[string]string {
			return drawingOf(`<clipPath id="c">` + each(n, func(i int) string { return sprintf(`<circle cx="%d.4" cy="%d.4" r=".4"/>`, i%80, i/80) }) +
				`</clipPath><g clip-path="url(#c)">` + each(n, func(i int) string {
				return sprintf(`<rect x="%d" y="%d" width=".8" height=".8"/><path d="M%d %dl.8 .8" stroke="#000"/>`, i%80, i/80, i%80, i/80)
			}) + `</g>`)
		}},
		{name: "clips within clips", n: 200, text: artOn100, beside: func(n int) map[string]string {
			return drawingOf(`<clipPath id="c0"><rect width="9" height="9"/></clipPath>` + each(n, func(i int) string {
				return sprintf(`<clipPath id="c%d" clip-path="url(#c%d)"><rect width="9" height="9" clip-path="url(#c%d)"/><rect width="8" height="8" clip-path="url(#c%d)"/></clipPath>`, i+1, i, i, i)
			}) + sprintf(`<rect width="20" height="20" clip-path="url(#c%d)"/>`, n))
		}},
		{name: "a line clipped by a line, short steps", n: 1000, text: artOn100, beside: func(n int) map[string]string {
			steps := func(h float64) string {
				return each(n, func(i int) string { return sprintf("%.3f,%.3f ", 80*float64(i)/float64(n), 20+h*float64(i%2)) })
			}
			return drawingOf(`<clipPath id="c"><polygon points="0,0 ` + steps(3) + `80,0"/></clipPath><polyline clip-path="url(#c)" fill="none" stroke="#000" points="` + steps(2) + `"/>`)
		}},
		{name: "white dots, one that touches the page's edge and one across it", n: 2500, text: artOn100, beside: func(n int) map[string]string {
			side := math.Ceil(math.Sqrt(float64(n)))
			step := 90 / side
			return drawingOf(`<rect width="90" height="90"/><g fill="#fff">` + each(n, func(i int) string {
				x, y := step*(float64(i%int(side))+0.5), step*(float64(i/int(side))+0.5)
				switch i {
				case 1:
					y = 0.3 * step
				case 3:
					y = 0.1 * step
				}
				return sprintf(`<circle cx="%.4f" cy="%.4f" r="%.4f"/>`, x, y, 0.3*step)
			}) + `</g>`)
		}},
		{name: "white dots that touch one another", n: 1000, text: artOn100, beside: func(n int) map[string]string {
			side := math.Ceil(math.Sqrt(float64(n)))
			step := 90 / side
			return drawingOf(`<rect width="90" height="90"/><g fill="#fff">` + each(n, func(i int) string {
				return sprintf(`<circle cx="%.4f" cy="%.4f" r="%.4f"/>`, step*(float64(i%int(side))+0.5), step*(float64(i/int(side))+0.5), step/2)
			}) + `</g>`)
		}},
		{name: "circles through one point", n: 100, text: artOn100, beside: func(n int) map[string]string {
			return drawingOf(each(n, func(i int) string {
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / float64(n))
				return sprintf(`<circle cx="%.4f" cy="%.4f" r="20"/>`, 45+20*cos, 45+20*sin)
			}))
		}},
		{name: "rings in one another", n: 100, text: artOn100, beside: func(n int) map[string]string {
			return drawingOf(each(n, func(i int) string {
				return sprintf(`<circle cx="45" cy="45" r="%.4f" fill="%s"/>`, 44*float64(n-i)/float64(n), []string{"#000", "#fff"}[i%2])
			}))
		}},
		{name: "rings in one another with a bar across", n: 100, text: artOn100, beside: func(n int) map[string]string {
			return drawingOf(each(n, func(i int) string {
				return sprintf(`<circle cx="45" cy="45" r="%.4f" fill="%s"/>`, 44*float64(n-i)/float64(n), []string{"#000", "#fff"}[i%2])
			}) + `<path d="M1 44l88 1v1l-88-1z"/>`)
		}},
		{name: "a spiral that is filled", n: 40, text: artOn100, beside: func(n int) map[string]string {
			arm := func(i int, by float64) string {
				r := 40 * (float64(i)/float64(100*n) + by/float64(n))
				sin, cos := math.Sincos(2 * math.Pi * float64(i) / 100)
				return sprintf("%.4f,%.4f ", 45+r*cos, 45+r*sin)
			}
			return drawingOf(`<polygon points="` + each(100*n, func(i int) string { return arm(i, 0) }) +
				each(100*n, func(i int) string { return arm(100*n-i, 0.5) }) + `"/>`)
		}},
		{name: "dots that lie on one another", n: 500, text: artOn100, beside: func(n int) map[string]string {
			return drawingOf(each(n, func(i int) string { // scattered by the golden ratio and the root of 2
				x, y := math.Mod(float64(i)*0.6180339887, 1), math.Mod(float64(i)*1.4142135624, 1)
				return sprintf(`<circle cx="%.4f" cy="%.4f" r="%.4f"/>`, 5+80*x, 5+80*y, 80/math.Sqrt(float64(n)))
			}))
		}},
		{name: "a zigzag that is filled and stroked", n: 250, text: artOn100, beside: func(n int) map[string]string {
			return drawingOf(sprintf(`<polyline stroke="#000" stroke-width="%.3f" points="`, 100/float64(n)) + each(n, func(i int) string {
				return sprintf("%.4f,%d ", 2+86*float64(i)/float64(n), 20+50*(i%2))
			}) + `"/>`)
		}},
		{name: "markers of fifty circles", n: 100, text: artOn100, beside: func(n int) map[string]string {
			return drawingOf(`<marker id="m" markerWidth="9" markerHeight="9" markerUnits="userSpaceOnUse" refX="4" refY="4">` +
				each(50, func(i int) string { return sprintf(`<circle cx="%d.5" cy="%d.5" r=".3"/>`, i%8, i/8) }) +
				`</marker><polyline fill="none" stroke="#000" marker-mid="url(#m)" points="` + each(n, func(i int) string {
				return sprintf("%.4f,%.4f ", 5+80*float64(i%20)/20, 5+80*float64(i/20)*20/float64(n))
			}) + `"/>`)
		}},
		{name: "lines on the outlines of what is filled", n: 500, text: func(int) string {
			return board(100, "region r { head = 5; tail = 5; spine = 5; foredge = 5; mark art \"gull.svg\" }\n")
		}, beside: func(n int) map[string]string {
			return drawingOf(each(n, func(i int) string {
				return sprintf(`<rect x="%d" y="%d" width="1" height="1.5"/><path d="M%d %dh1v1" fill="none" stroke="#000"/>`, 2*(i%40), 2*(i/40), 2*(i%40), 2*(i/40))
			}))
		}},
		{name: "files that use files", n: 60, text: func(n int) string {
			return "use \"gull0.fore\"\npanel p { width = a0; height = 50; thick = 3 }\n"
		}, beside: func(n int) map[string]string {
			out := map[string]string{fmt.Sprintf("gull%d.fore", n): fmt.Sprintf("let a%d = 100\n", n)}
			for i := range n {
				out[fmt.Sprintf("gull%d.fore", i)] = fmt.Sprintf("use \"gull%d.fore\"\nuse \"gull%d.fore\"\nlet a%d = a%d\n", i+1, min(n, i+2), i, i+1)
			}
			return out
		}},
		{name: "rows on a ring and what their readings are worth", n: 25, fit: true, text: func(n int) string {
			return "notebook log {\n  accuracy = 0.05; thick = 5; width = 300; height = 300\n" + each(n, func(i int) string {
				return sprintf("row w%d on spine { count = 9; hole = round 4; inset = %d; first = 5; pitch = 9; binding b { ring = 9; wire = 1 } }\n", i, 2+2*i)
			}) + "}\npanel front covers log { thick = 3 }\n"
		}},
		{name: "gaps by the thousand and what they are worth", n: 600, fit: true, text: func(n int) string {
			return "notebook log {\n  accuracy = 0.05; width = 300; height = 300\nrow w on spine { hole = round 0.02; inset = 5; first = 5; gaps = " +
				strings.TrimSuffix(strings.Repeat(sprintf("%.4f, ", 280/float64(n)), n), ", ") + " }\n}\npanel front covers log { thick = 3 }\n"
		}},
		{name: "small parts that share their cuts, laid as a job lays them", n: 2000, effort: 20, text: func(n int) string {
			return "laser bench { kerf = 0.2; bed = 300 by 200 }\nstock ply { thick = 3; shared-cuts = yes }\n" + each(n/250, func(i int) string {
				return sprintf("panel p%d { stock = ply; width = 8; height = 5; copies = 250 }\n", i)
			})
		}},
		{name: "a long line", n: 2000, text: func(n int) string {
			return "panel p { width = 100; height = 100; thick = 3; " + strings.Repeat("check width >= 5; ", n) + "wdth = 3 }\n"
		}},
	}
}

// artOn100 is a board with a drawing on it.
func artOn100(int) string {
	return board(100, "region r { head = 5; tail = 5; spine = 5; foredge = 5; engrave art \"gull.svg\" }\n")
}

// drawingOf is a drawing of 90 by 90 mm that holds something.
func drawingOf(holds string) map[string]string {
	return map[string]string{"gull.svg": `<svg xmlns="http://www.w3.org/2000/svg" width="90mm" height="90mm" viewBox="0 0 90 90">` + holds + "</svg>"}
}

// A cost is what a design took.
type cost struct {
	seconds float64
	alloced float64 // MiB, all that was ever taken
}

func (g growth) run(tb testing.TB, n int) (*driver.Result, cost) {
	tb.Helper()
	dir := tb.TempDir()
	if g.beside != nil {
		for name, text := range g.beside(n) {
			if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
				tb.Fatal(err)
			}
		}
	}
	path := filepath.Join(dir, "gull.fore")
	if err := os.WriteFile(path, []byte(g.text(n)), 0o644); err != nil {
		tb.Fatal(err)
	}
	var before, after runtime.MemStats
	runtime.ReadMemStats(&before)
	began := time.Now()
	s := driver.NewSession(nil)
	r := s.Build(context.Background(), path, driver.Options{Encoders: export.CutFiles(export.Options{}), Effort: g.effort})
	if g.fit {
		fit.Of(r.Solution)
	}
	took := time.Since(began).Seconds()
	runtime.ReadMemStats(&after)
	if r.Err != nil {
		tb.Fatalf("%s: %v", g.name, r.Err)
	}
	return r, cost{took, float64(after.TotalAlloc-before.TotalAlloc) / (1 << 20)}
}

// steepest is the power of n above which nothing may grow.
const steepest = 1.5

// TestGrowth holds the memory that designs take, as it is the same on every machine:
// what takes more than its share of work takes more than its share of memory.
func TestGrowth(t *testing.T) {
	if testing.Short() {
		t.Skip("makes large designs")
	}
	for _, g := range growths() {
		t.Run(g.name, func(t *testing.T) {
			_, small := g.run(t, 2*g.n)
			r, large := g.run(t, 4*g.n)
			for _, d := range r.Diagnostics {
				if d.Code == "too-much-work" {
					t.Errorf("given up at %d: %s", 4*g.n, d.Message)
				}
			}
			if power := math.Log2(large.alloced / small.alloced); power > steepest && large.alloced > 64 {
				t.Errorf("memory grows with the power %.2f of the size: %.0f MiB at %d, %.0f MiB at %d", power, small.alloced, 2*g.n, large.alloced, 4*g.n)
			}
		})
	}
}

// BenchmarkGrowth prints what designs take at n, 2n and 4n, the least of all runs, and the
// power of n with which that time grows at last.
func BenchmarkGrowth(b *testing.B) {
	for _, g := range growths() {
		b.Run(g.name, func(b *testing.B) {
			var least [3]cost
			for round := range b.N {
				for i := range least {
					_, c := g.run(b, g.n<<i)
					if round == 0 || c.seconds < least[i].seconds {
						least[i] = c
					}
				}
			}
			for i, c := range least {
				b.ReportMetric(c.seconds*1000, fmt.Sprintf("ms/%dn", 1<<i))
			}
			b.ReportMetric(least[2].alloced, "MiB/4n")
			b.ReportMetric(math.Log2(least[2].seconds/least[1].seconds), "power")
		})
	}
}

// tooMuch are kinds where so much hangs together that each thing more costs as much
// as all that are there: counts that share room are chosen one after another, and of
// limits that can't all hold each is tried without.
func tooMuch() []growth {
	sprintf := fmt.Sprintf
	return []growth{
		{name: "rows of most that share room", n: 800, text: func(n int) string {
			return board(3000, each(n, func(i int) string {
				return sprintf("row s%d on spine { count = most; hole = round 3; pitch = 9; inset = 4 }\n", i)
			})+"s0.run"+each(n-1, func(i int) string { return sprintf(" + s%d.run", i+1) })+" <= 2000\n")
		}},
		{name: "a chain of the larger of two that doesn't fit", n: 1600, text: func(n int) string {
			return board(100, each(n, func(i int) string {
				if i == 0 {
					return "cutout c0 { shape = round 0.2; head = max(tail / 400, 1) }\n"
				}
				return sprintf("cutout c%d { shape = round 0.2; head = max(c%d.head + 0.3, tail / 300) }\n", i, i-1)
			}))
		}},
		{name: "boxes held by limits on a board too small", n: 500, text: func(n int) string { return board(5*n, stacked(n, ">=")) }},
	}
}

// TestTooMuchWork: where far too much hangs together foredge says so, and where,
// instead of going on for minutes.
func TestTooMuchWork(t *testing.T) {
	for _, g := range tooMuch() {
		r, _ := g.run(t, g.n)
		if len(r.Diagnostics) != 1 || r.Diagnostics[0].Code != "too-much-work" {
			t.Errorf("%s: told %v, want too-much-work alone", g.name, r.Diagnostics)
		} else if !strings.HasPrefix(r.Diagnostics[0].Message, "what hangs together with p.") {
			t.Errorf("%s: told %q, want the place", g.name, r.Diagnostics[0].Message)
		}
	}
}
