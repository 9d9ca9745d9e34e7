package rename_test

import (
	"context"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/rename"
	"foredge/lang/foretest"
)

// files writes a bench of designs, each behind a line "-- name --", and gives their texts.
func files(t *testing.T, text string) (dir string, texts map[string]string) {
	dir, texts = t.TempDir(), map[string]string{}
	for _, part := range strings.Split(text, "-- ")[1:] {
		name, body, _ := strings.Cut(part, " --\n")
		texts[name] = body
		foretest.Write(t, filepath.Join(dir, name), body)
	}
	return dir, texts
}

// renamed gives what stands at | in a piece of a text another name, and gives the texts.
func renamed(t *testing.T, text, in, marked, name string) (map[string]string, error) {
	t.Helper()
	dir, texts := files(t, text)
	b := &rename.Bench{}
	for file := range texts {
		b.Designs = append(b.Designs, filepath.Join(dir, file))
	}
	slices.Sort(b.Designs)
	before, after, _ := strings.Cut(marked, "|")
	i := strings.Index(texts[in], before+after)
	if i < 0 {
		t.Fatalf("%s: no %q", in, before+after)
	}
	found, ok := b.Find(context.Background(), filepath.Join(dir, in), texts[in], i+len(before))
	if !ok {
		t.Fatalf("%s: nothing is named", marked)
	}
	if err := b.Rename(context.Background(), found, name); err != nil {
		return nil, err
	}
	for _, p := range slices.Backward(found.Places) {
		file := filepath.Base(p.Path)
		texts[file] = texts[file][:p.Start] + name + texts[file][p.End:]
	}
	return texts, nil
}

const (
	inner = `-- a.fore --
foredge 1
let gap = 5
panel a { width = 100; height = 100; thick = 3
 let inner = 7
 region r { spine = inner; head = gap; foredge = 3; tail = gap; engrave text "Tide" { cap = 5 } } }
panel b like a { }
`
	twins = `-- a.fore --
foredge 1
let big = 1
panel lid when big = 1 { width = 100; height = 100; thick = 3 }
panel lid when big = 2 { width = 200; height = 100; thick = 3; cutout eye { shape = round 9; head = 5; spine = 5 } }
panel back mirrors lid { }
check lid.width >= 5 else "x"
`
	style = `-- a.fore --
foredge 1
style look {
  let bird = "Gull"
  region title { head = 10; height = 20; spine = 5; foredge = 5; engrave text bird }
}
panel one like look { width = 100; height = 150; thick = 3; let bird = "Tern"; region title { head = 60 } }
panel two like one { without title }
`
	shop = `-- shop.fore --
foredge 1
laser bench { kerf = 0.2; bed = 600 by 400 }
pattern twin-loop-3 { pitch = 10; hole = round 5 }
stock birch { thick = 3; material = "birch" }
-- tide.fore --
foredge 1
use "shop.fore"
use bindings
panel a { width = 100; height = 120; stock = birch; row wire on spine like twin-loop-3 { inset = 5; count = 9 } }
-- gull.fore --
foredge 1
use "tide.fore"
panel b { width = 100; height = 120; stock = birch }
-- alone.fore --
foredge 1
pattern twin-loop-3 { pitch = 10; hole = round 5 }
panel c { width = 100; height = 120; thick = 3 }
`
	covers = `-- a.fore --
foredge 1
notebook log { width = 148; height = 210; accuracy = 0.05; row wire on spine { count = 24; hole = round 4; web = 4.5; inset = 4 } }
panel front covers log { thick = 3; wire.ease = 0.3 }
panel lid covers log { thick = 3; row wire { ease = 0.4 } }
panel bare covers log { thick = 3; without wire }
panel back mirrors front { row wire { ease = 0.5 } }
`
	merged = `-- a.fore --
foredge 1
style look { region title { head = 10; height = 20; spine = 5; foredge = 5; engrave text "Gull" } }
panel one like look { width = 100; height = 150; thick = 3
  region mine { head = 60; height = 20; spine = 5; foredge = 5; engrave text "Tern" } }
`
	shelved = `-- a.fore --
foredge 1
use bindings
panel a { width = 100; height = 120; thick = 3; row wire on spine like twin-loop-3 { inset = 5; count = 9 } }
`
	words = `-- a.fore --
foredge 1
let square = 7
stock thick { thick = 3 }
panel front { width = 100; height = 50 + square; corners = square; stock = thick; cutout seal { head = 9; spine = 9 }; seal.shape = round 5; cutout eye { head = 30; spine = 9 } }
front.eye.shape = round 4
`
)

// A name is changed wherever its thing is spoken of, and nowhere else.
func TestRename(t *testing.T) {
	for _, c := range []struct {
		name, text, in, at string
		want               map[string]string // pieces of the texts that come of it
		times              int               // how often the new name stands in all
	}{
		{"a let", inner, "a.fore", "let |gap", map[string]string{"a.fore": "spine = inner; head = zz;"}, 3},
		{"twins", twins, "a.fore", "panel |lid when big = 1", map[string]string{"a.fore": "panel zz when big = 2"}, 4},
		{"twins, from the second", twins, "a.fore", "panel |lid when big = 2", map[string]string{"a.fore": "panel back mirrors zz"}, 4},
		{"through a style", style, "a.fore", "150; thick = 3; let bird = \"Tern\"; region |title", map[string]string{"a.fore": "region zz { head = 10"}, 3},
		{"a let of a style", style, "a.fore", "thick = 3; let |bird", map[string]string{"a.fore": "engrave text zz"}, 3},
		{"a used pattern", shop, "shop.fore", "pattern |twin-loop-3", map[string]string{"tide.fore": "like zz {", "alone.fore": "twin-loop-3"}, 2},
		{"a used stock, from where it is used", shop, "tide.fore", "stock = |birch", map[string]string{"shop.fore": "stock zz {", "gull.fore": "stock = zz"}, 3},
		{"a row of a notebook", covers, "a.fore", "accuracy = 0.05; row |wire", map[string]string{"a.fore": "without zz"}, 5},
		{"a row on a notebook's", covers, "a.fore", "0.05; row wire on spine { count = 24; hole = round 4; web = 4.5; inset = 4 } }\npanel front covers log { thick = 3; |wire", map[string]string{"a.fore": "back mirrors front { row zz"}, 5},
		{"words stay", words, "a.fore", "let |square", map[string]string{"a.fore": "50 + zz; corners = square"}, 2},
		{"a thing, not a dimension", words, "a.fore", "stock |thick", map[string]string{"a.fore": "stock zz { thick = 3 }\npanel front { width = 100; height = 50 + square; corners = square; stock = zz"}, 2},
		{"a property from outside", words, "a.fore", "cutout |seal", map[string]string{"a.fore": "; zz.shape"}, 2},
		{"a property from the top", words, "a.fore", "cutout |eye", map[string]string{"a.fore": "front.zz.shape"}, 2},
	} {
		t.Run(c.name, func(t *testing.T) {
			texts, err := renamed(t, c.text, c.in, c.at, "zz")
			foretest.Must(t, err)
			times := 0
			for name, text := range texts {
				times += strings.Count(text, "zz")
				if !strings.Contains(text, c.want[name]) {
					t.Errorf("%s is\n%s", name, text)
				}
			}
			if times != c.times {
				t.Errorf("the name stands %d times, want %d: %v", times, c.times, texts)
			}
		})
	}
}

// A name that would make anything else is refused, and the reason says why.
func TestRefusals(t *testing.T) {
	for _, c := range []struct{ name, text, in, at, to, want string }{
		{"an inner let takes it", inner, "a.fore", "let |gap", "inner", "inner in line 5 of a.fore would stand for the one in line 4"},
		{"it takes an outer let's", inner, "a.fore", "let |inner", "gap", "gap in line 5 of a.fore would stand for the one in line 4"},
		{"a name in use", inner, "a.fore", "panel |b", "a", "there are two things called"},
		{"another twin", twins, "a.fore", "let |big", "lid", "there are two things called"},
		{"what a style has", style, "a.fore", "panel |two", "one", "in line 7 of a.fore: there are two things called"},
		{"no name", style, "a.fore", "panel |two", "2 b", "can't be a name"},
		{"a word of the panel's", style, "a.fore", "region |title", "width", "already the name of something"},
		{"one of the shelf that is used", strings.Replace(shop, "panel b", "use bindings\npanel b", 1) + "row", "shop.fore", "pattern |twin-loop-3", "3-1", "can't be a name"},
		{"one that goes together", merged, "a.fore", "region |mine", "title", "title in line 4 of a.fore would go together with the title in line 2 of a.fore"},
		{"a broken file", shop + "-- bad.fore --\nuse \"shop.fore\"\npanel { like twin-loop-3\n", "shop.fore", "pattern |twin-loop-3", "zz", "bad.fore has an error, so it can't be told what twin-loop-3 stands for in line 2"},
		{"the shelf's", shelved, "a.fore", "like |twin-loop-3", "zz", "a name of the shelf"},
	} {
		t.Run(c.name, func(t *testing.T) {
			texts, err := renamed(t, c.text, c.in, c.at, c.to)
			if err == nil {
				t.Fatalf("it is given: %v", texts)
			}
			if !strings.Contains(err.Error(), c.want) {
				t.Errorf("refused: %v", err)
			}
		})
	}
}
