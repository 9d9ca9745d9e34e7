package scene_test

import (
	"encoding/json"
	"encoding/xml"
	"errors"
	"io"
	"math"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/scene"
	"foredge/lang/foretest"
)

// all are the designs of the tree that can be drawn, by name, each with its scene.
func all(t *testing.T, look func(t *testing.T, r *driver.Result, s *scene.Scene)) {
	root := foretest.Root(t)
	var files []string
	for _, folder := range []string{"examples", "testdata/corpus", "testdata/rules"} {
		some, err := filepath.Glob(filepath.Join(root, folder, "*.fore"))
		foretest.Must(t, err)
		files = append(files, some...)
	}
	session, drawn := driver.NewSession(strings.NewReader("")), 0
	for _, file := range files {
		r := session.Look(t.Context(), file)
		s := scene.Of(r, nil)
		if s.Good && len(s.Views) > 0 {
			drawn++
			t.Run(filepath.Base(file), func(t *testing.T) { look(t, r, s) })
		}
	}
	if drawn < 300 {
		t.Fatalf("only %d designs were drawn", drawn)
	}
}

// A dimension line is as long as its dimension, and lies across or down.
func TestLinesAreAsLongAsTheirDimensions(t *testing.T) {
	placed := 0
	all(t, func(t *testing.T, r *driver.Result, s *scene.Scene) {
		for _, v := range s.Views {
			for _, d := range v.Dimensions {
				name := s.Values[d.Value].Name
				id, ok := r.Solution.Dimension(name)
				if !ok {
					t.Fatalf("there is no %s", name)
				}
				across, down := math.Abs(d.To[0]-d.From[0]), math.Abs(d.To[1]-d.From[1])
				if long := math.Abs(r.Solution.Value(id)); math.Abs(max(across, down)-long) > 3e-4 || min(across, down) > 1e-4 {
					t.Errorf("%s, %s: %s is %.4f, its line %.4f by %.4f", v.ID, d.Sort, name, long, across, down)
				}
				if d.Part < 0 || d.Part >= len(v.Parts) {
					t.Errorf("%s: %s belongs to no part", v.ID, name)
				}
				placed++
			}
		}
	})
	if placed < 5000 {
		t.Errorf("only %d dimensions have a place", placed)
	}
}

// Drawings are well formed, each shape has its place, and all of a scene can be
// written as JSON.
func TestDrawingsAreWhole(t *testing.T) {
	all(t, func(t *testing.T, r *driver.Result, s *scene.Scene) {
		if _, err := json.Marshal(s); err != nil {
			t.Error(err)
		}
		whole := slices.DeleteFunc(slices.Clone(r.Sheets), func(s driver.Sheet) bool { return s.Wanted == nil })
		for i, v := range s.Views {
			drawn := 0
			for _, p := range whole[i].Wanted.Parts {
				drawn += len(p.Shapes)
			}
			dec := xml.NewDecoder(strings.NewReader("<svg>" + v.Drawing + "</svg>"))
			shapes := 0
			for {
				token, err := dec.Token()
				if errors.Is(err, io.EOF) {
					break
				}
				foretest.Must(t, err)
				if e, ok := token.(xml.StartElement); ok && slices.ContainsFunc(e.Attr, func(a xml.Attr) bool { return a.Name.Local == "data-name" }) {
					shapes++
				}
			}
			if shapes != drawn || len(v.Places) == 0 || len(v.Points) == 0 {
				t.Errorf("%s has %d shapes of %d, %d places, %d points", v.ID, shapes, drawn, len(v.Places), len(v.Points))
			}
		}
	})
}

// of is the scene of a text.
func of(t *testing.T, text string, last *scene.Scene) *scene.Scene {
	t.Helper()
	session := driver.NewSession(strings.NewReader(""))
	foretest.Must(t, session.SetText("log.fore", []byte(text)))
	return scene.Of(session.Look(t.Context(), "log.fore"), last)
}

const log = `notebook log {
  accuracy = 0.05
  width = 148; height = 210
  row wire on spine { count = 10; hole = rect 4 by 5; first = 8; pitch = 21; inset = 6 }
}
panel front covers log {
  over-foredge = 3; over-head = 2; over-tail = 2
  cutout window { width = 30; height = 20; head = 40; spine = 50 }
}
panel back mirrors front { without window }
`

// find is a dimension of the first view by its name and sort.
func find(t *testing.T, s *scene.Scene, name, sort string) scene.Dim {
	t.Helper()
	for _, d := range s.Views[0].Dimensions {
		if s.Values[d.Value].Name == name && d.Sort == sort {
			return d
		}
	}
	t.Fatalf("%s has no place", name)
	return scene.Dim{}
}

// Dimensions lie where they are on the drawing, worked out here by hand: the front's
// left upper corner is at 0, 0, the mirrored back begins 10 mm after it.
func TestPlaces(t *testing.T) {
	s := of(t, log, nil)
	for _, c := range []struct {
		name, sort, away string
		from, to         [2]float64
	}{
		{"front.width", "board", "down", [2]float64{0, 214}, [2]float64{151, 214}},
		{"front.height", "board", "left", [2]float64{0, 0}, [2]float64{0, 214}},
		{"back.height", "board", "right", [2]float64{312, 0}, [2]float64{312, 214}},
		{"front.wire.first", "thing", "left", [2]float64{0, 0}, [2]float64{0, 10}},
		{"back.wire.first", "thing", "right", [2]float64{312, 0}, [2]float64{312, 10}},
		{"front.wire.pitch", "thing", "left", [2]float64{0, 33}, [2]float64{0, 54}},
		{"back.wire.inset", "thing", "", [2]float64{312, 33}, [2]float64{306, 33}},
		{"front.window.spine", "thing", "", [2]float64{0, 50}, [2]float64{50, 50}},
		{"front.window.tail", "thing", "", [2]float64{65, 60}, [2]float64{65, 214}},
		{"front.over-head", "thing", "", [2]float64{75.5, 0}, [2]float64{75.5, 2}},
		{"log.width", "reading", "down", [2]float64{0, 212}, [2]float64{148, 212}},
		{"log.wire.first", "reading", "left", [2]float64{0, 2}, [2]float64{0, 10}},
	} {
		if d := find(t, s, c.name, c.sort); d.From != c.from || d.To != c.to || d.Away != c.away {
			t.Errorf("%s lies from %v to %v, %q; want %v to %v, %q", c.name, d.From, d.To, d.Away, c.from, c.to, c.away)
		}
	}
	if want := (scene.Box{Name: "log", X: 0, Y: 2, Width: 148, Height: 210}); len(s.Views[0].Books) != 1 || s.Views[0].Books[0] != want {
		t.Errorf("the notebook lies at %v, want %v", s.Views[0].Books, want)
	}
}

// A design with errors keeps the drawing and the values of the last good one, and says
// where the errors are; files are listed once, however often that happens.
func TestLastGoodStays(t *testing.T) {
	good := of(t, log, nil)
	bad := good
	for range 20 {
		bad = of(t, strings.Replace(log, "head = 40", "head = forty", 1), bad)
	}
	if bad.Good || len(bad.Views) != 1 || bad.Views[0].Drawing != good.Views[0].Drawing || len(bad.Values) != len(good.Values) {
		t.Errorf("good %v, %d views, %d values", bad.Good, len(bad.Views), len(bad.Values))
	}
	if len(bad.Problems) != 1 || bad.Problems[0].At == nil {
		t.Fatalf("problems: %+v", bad.Problems)
	}
	if at := bad.Problems[0].At; at.Line != 8 || !strings.Contains(at.Text, "forty") || bad.Files[at.File].Name != "log.fore" {
		t.Errorf("the error is at %+v of %+v", at, bad.Files)
	}
	if len(bad.Files) > 2 {
		t.Errorf("files: %+v", bad.Files)
	}
	if again := of(t, log, bad); !again.Good || len(again.Problems) != len(good.Problems) {
		t.Errorf("mended: good %v, problems %+v", again.Good, again.Problems)
	}
	if none := of(t, "panel front {", nil); none.Good || len(none.Views) != 0 || len(none.Problems) == 0 {
		t.Errorf("a design that never was good: %+v", none)
	}
}

// An inner face is a view of its own, turned, with what stands on it.
func TestInnerFace(t *testing.T) {
	s := of(t, `panel front {
  width = 100; height = 200
  region note { face = inside; spine = 20; width = 50; head = 30; height = 40; mark frame }
  region title { spine = 10; width = 50; head = 30; height = 40; mark frame }
}`, nil)
	if len(s.Views) != 2 || s.Views[1].Kind != scene.Inside {
		t.Fatalf("views: %+v, problems %+v", s.Views, s.Problems)
	}
	names := func(v scene.View) (all []string) {
		for _, d := range v.Dimensions {
			all = append(all, s.Values[d.Value].Name)
		}
		return all
	}
	if out, in := names(s.Views[0]), names(s.Views[1]); slices.Contains(out, "front.note.spine") || slices.Contains(in, "front.title.spine") ||
		!slices.Contains(in, "front.note.spine") || !slices.Contains(out, "front.title.spine") {
		t.Errorf("outside %v, inside %v", out, in)
	}
	for _, d := range s.Views[1].Dimensions {
		if s.Values[d.Value].Name == "front.note.spine" && (d.From[0] != 120 || d.To[0] != 100) {
			t.Errorf("from the spine, which is now on the right: %v to %v", d.From, d.To)
		}
	}
}
