package mention_test

import (
	"strings"
	"testing"

	"foredge/eval/mention"
	"foredge/eval/resolve"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// What goes by one name is one, whichever of the things of a name is there.
func TestOrigins(t *testing.T) {
	const text = `let big = 1; let square = 9
panel lid when big = 1 { width = 100; height = 100; region title { head = 5 } }
panel lid when big = 2 { width = 200; height = 100; cutout eye when big = 2 { head = 1 } cutout eye when big = 3 { head = 2 } }
panel back mirrors lid { region title { head = 6 } cutout eye { head = 7 } }
style look { let gap = 5; region title { head = gap } }
panel one like look { let gap = 20; corners = square; region other { } without title }
panel two like one { region other { tail = 4 } }
check lid.eye.head >= 1
notebook log { row wire on spine { count = 5 } }
panel front covers log { row wire { ease = 1 } }
panel inner like front { row wire { ease = 2 } region wide { head = 1 } }
`
	src := source.New("gull.fore", []byte(text))
	tree, _ := parse.File(src)
	info, _ := resolve.Resolve(tree, noFiles{})
	worlds := info.Worlds(noFiles{})
	if len(worlds) != 4 {
		t.Errorf("%d worlds", len(worlds))
	}
	x := mention.Of(info, worlds...)
	for _, c := range []struct {
		at       string
		origins  int // how often it is declared
		mentions int
	}{
		{"panel |lid when big = 1", 2, 4},
		{"mirrors |lid", 2, 4},
		{"check |lid", 2, 4},
		{"100; region |title", 2, 2},
		{"back mirrors lid { region |title", 2, 2},
		{"cutout |eye when big = 3", 3, 4},
		{"cutout |eye { head = 7", 3, 4},
		{"look { let gap = 5; region |title", 1, 2},
		{"without |title", 1, 2},
		{"let |gap = 20", 2, 3},
		{"let |square", 1, 1},
		{"region |other { } without", 2, 2},
		{"row |wire on spine", 3, 3},
		{"region |wide", 1, 1},
	} {
		before, after, _ := strings.Cut(c.at, "|")
		m, ok := x.At(src, strings.Index(text, before+after)+len(before))
		if origins, all := x.Origins(m), x.All(m); !ok || len(origins) != c.origins || len(all) != c.mentions {
			t.Errorf("%s: declared at %v, mentioned at %v", c.at, origins, all)
		}
	}
	m, _ := x.At(src, strings.Index(text, "lid when"))
	if got := x.Renaming(m, "flap")("lid.eye.head") + " " + x.Renaming(m, "flap")("back.lid.head"); got != "flap.eye.head back.lid.head" {
		t.Errorf("renamed: %s", got)
	}
}

// Many things of one name, in many places, make no more worlds than are looked at.
func TestWorldsAreBounded(t *testing.T) {
	text := "let n = 1\n"
	for range 12 {
		for _, name := range []string{"a", "b", "c", "d", "e"} {
			text += "panel " + name + " when n = 1 { width = 100; height = 100 }\n"
		}
	}
	tree, _ := parse.File(source.New("gull.fore", []byte(text)))
	info, _ := resolve.Resolve(tree, noFiles{})
	if n := len(info.Worlds(noFiles{})); n != 12 {
		t.Errorf("%d worlds", n)
	}
}
