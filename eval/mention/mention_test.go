package mention_test

import (
	"errors"
	"strings"
	"testing"

	"foredge/eval/mention"
	"foredge/eval/resolve"
	"foredge/lang/parse"
	"foredge/lang/source"
)

type noFiles struct{}

func (noFiles) Use(*source.File, string) (*source.File, error) { return nil, errors.New("none") }
func (noFiles) Read(*source.File, string) ([]byte, error)      { return nil, errors.New("none") }

const design = `let margin = 3
notebook log { width = 148; height = 210; accuracy = 0.05
  row wire on spine { count = 24; hole = round 4; web = 4.5; inset = 4 }
}
panel front covers log { over-foredge = margin
  region title { head = margin + 5; height = 2 * margin; spine = 5; foredge = 5 }
  check wire.pitch >= log.wire.hole.along
}
panel back like front { title.head = 9 when-never }
front.title.tail >= margin
`

func index(t *testing.T, text string) (*mention.Index, *source.File) {
	src := source.New("gull.fore", []byte(text))
	tree, _ := parse.File(src)
	info, _ := resolve.Resolve(tree, noFiles{})
	return mention.Of(info), src
}

func TestMentions(t *testing.T) {
	text := strings.ReplaceAll(design, " when-never", "")
	x, src := index(t, text)
	for _, c := range []struct {
		at, is    string // a place, marked by |, in some of the text
		mentioned int    // how often all in all
	}{
		{"|margin = 3", "let margin", 5},
		{"over-foredge = |margin", "let margin", 5},
		{"covers |log", "thing log", 3},
		{"check |wire.pitch", "thing front.wire", 3},
		{"check wire.|pitch", "dimension front.wire.pitch", 1},
		{"log.wire.|hole.along", "dimension log.wire.hole.along", 1},
		{"log.|wire.hole.along", "thing log.wire", 3},
		{"like |front", "thing front", 3},
		{"|title.head = 9", "thing back.title", 3},
		{"title.|head = 9", "dimension back.title.head", 1},
		{"region |title", "thing front.title", 3},
		{"{ |head = margin", "dimension front.title.head", 1},
		{"front.title.|tail", "dimension front.title.tail", 1},
	} {
		before, after, _ := strings.Cut(c.at, "|")
		offset := strings.Index(text, before+after) + len(before)
		m, ok := x.At(src, offset)
		is := "nothing"
		switch {
		case !ok:
		case m.Let != nil:
			is = "let " + m.Let.Path()
		case m.Dimension() != "":
			is = "dimension " + m.Dimension()
		case m.Thing != nil:
			is = "thing " + m.Thing.Path()
		}
		if is != c.is {
			t.Errorf("%s: %s, want %s", c.at, is, c.is)
		} else if n := len(x.All(m)); n != c.mentioned {
			t.Errorf("%s: mentioned %d times, want %d: %v", c.at, n, c.mentioned, x.All(m))
		}
	}
	if m, ok := x.At(src, strings.Index(text, "= 148")); ok {
		t.Errorf("a sign mentions %v", m)
	}
}
