package driver_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/fitview"
	"foredge/eval/fit"
	"foredge/export/exporttest"
	"foredge/lang/foretest"
	"foredge/layout/geom"
)

// What a design of TestRules asks of its cut files and of foredge fit.

// A drawnRule is one of the lines
//
//	# draws cut.front.wire.1 at 5, 48; size 4 by 6; area 24; runs 1
//	# draws 11 cut.front.wire.*
//	# draws page; size 100 by 120
//	# writes text that some SVG file holds
//
// Places and sizes are in mm, of the least box about what has that id, from the
// upper left corner of the outline of its part; where none is drawn, from that
// of the page, and always so after the word page in place of at. An area counts what is enclosed, without what lies in openings;
// runs are separate lines. A number before the id says how many ids it fits.
var drawnRule = regexp.MustCompile(`(?m)# draws (?:(\d+) )?([^\s;]+)(.*)$`)

// drawnTolerance is that of the files, whose numbers have four digits, and of
// what is worked out by hand to three.
const drawnTolerance = 1.5e-3

func checkDrawn(t *testing.T, text string, r *driver.Result) (asked int) {
	t.Helper()
	rules := drawnRule.FindAllStringSubmatch(text, -1)
	writes := regexp.MustCompile(`(?m)# writes (.*)$`).FindAllStringSubmatch(text, -1)
	if len(rules)+len(writes) == 0 {
		return 0
	}
	var files []*exporttest.File
	var written bytes.Buffer
	for _, f := range r.Files {
		if filepath.Ext(f.Path) == ".svg" {
			files = append(files, exporttest.ReadSVG(t, f.Data))
			written.Write(f.Data)
		}
	}
	if len(files) == 0 {
		t.Fatal("nothing is drawn")
	}
	for _, m := range writes {
		if !strings.Contains(written.String(), strings.TrimSpace(m[1])) {
			t.Errorf("no file holds %q:\n%s", strings.TrimSpace(m[1]), &written)
		}
	}
	for _, m := range rules {
		if err := drawnAs(files, m[1], m[2], m[3]); err != nil {
			t.Errorf("%s: %v", strings.TrimSpace(m[0]), err)
		}
	}
	return len(rules) + len(writes)
}

// drawnAs holds one line against the files.
func drawnAs(files []*exporttest.File, number, id, asked string) error {
	found, has := 0, measures{}
	for _, f := range files {
		if id == "page" && found == 0 {
			found, has = 1, measures{"size": {f.Width, f.Height}}
		}
		for _, m := range f.Shapes {
			if ok, err := path.Match(id, m.ID); err != nil {
				return err
			} else if ok {
				found++
				has = measured(f, m)
			}
		}
	}
	if number != "" {
		if want, _ := strconv.Atoi(number); found != want {
			return fmt.Errorf("there are %d", found)
		}
		return nil
	}
	if found != 1 {
		return fmt.Errorf("there are %d of it", found)
	}
	for part := range strings.SplitSeq(strings.TrimLeft(asked, "; "), ";") {
		if err := has.are(part); err != nil {
			return err
		}
	}
	return nil
}

// measures are what was measured of a shape, by the word that asks for it.
type measures map[string][]float64

func measured(f *exporttest.File, m exporttest.Measured) measures {
	from := geom.Point{}
	for _, other := range f.Shapes {
		if other.Part == m.Part && other.ID == m.Part+".outline" || other.ID == "cut."+strings.TrimPrefix(m.Part, m.Op+".")+".outline" {
			from = other.Box().Min
		}
	}
	b := m.Box()
	area := 0.0
	for _, c := range m.Contours {
		area += enclosed(c)
	}
	return measures{
		"at":   {b.Min.X - from.X, b.Min.Y - from.Y},
		"page": {b.Min.X, b.Min.Y},
		"size": {b.Width(), b.Height()},
		"area": {math.Abs(area)},
		"runs": {float64(len(m.Contours))},
	}
}

// are holds one of the things asked for, such as "size 4 by 6", against what
// was measured.
func (has measures) are(asked string) error {
	word, values, _ := strings.Cut(strings.TrimSpace(asked), " ")
	got, ok := has[word]
	wants := strings.FieldsFunc(values, func(r rune) bool { return strings.ContainsRune(" ,by", r) })
	if !ok || len(wants) != len(got) {
		return fmt.Errorf("%q can't be asked", asked)
	}
	for i, w := range wants {
		want, err := strconv.ParseFloat(w, 64)
		if err != nil {
			return err
		}
		if !(math.Abs(got[i]-want) <= drawnTolerance*max(1, math.Abs(want)/200)) {
			return fmt.Errorf("%s is %.6g", word, got)
		}
	}
	return nil
}

// enclosed is the area within a contour, below 0 where it runs the other way.
func enclosed(c exporttest.Contour) float64 {
	if c.Circle != nil {
		return math.Pi * c.Circle.R * c.Circle.R
	}
	area := 0.0
	for _, s := range c.Segments {
		steps := 1
		switch s.Kind {
		case geom.ArcTo: // the sector's part beyond the chord
			area += s.R * s.R * (s.Sweep - math.Sin(s.Sweep)) / 2
		case geom.CubicTo:
			steps = 200
		}
		for i := range steps {
			a, b := s.At(float64(i)/float64(steps)), s.At(float64(i+1)/float64(steps))
			area += (a.X*b.Y - a.Y*b.X) / 2
		}
	}
	return area
}

// checkFit holds what foredge fit --json says against the lines
//
//	# fit readings log.width u = 0.0173; redundancy = 0.5
//	# fit agreement verdict = agree
//
// which name a list or field of a notebook, in a list the thing of that name,
// and its fields. Numbers agree as far as they are written.
func checkFit(t *testing.T, text string, r *driver.Result) (asked int) {
	t.Helper()
	rules := regexp.MustCompile(`(?m)# fit (\S+) (?:(\S+) )?(\S+ = .*)$`).FindAllStringSubmatch(text, -1)
	if len(rules) == 0 {
		return 0
	}
	var b bytes.Buffer
	foretest.Must(t, fitview.WriteJSON(&b, "design.fore", fit.Of(r.Solution)))
	var report map[string]any
	foretest.Must(t, json.Unmarshal(b.Bytes(), &report))
	for _, m := range rules {
		fields := fitFields(report, m[1], m[2])
		for part := range strings.SplitSeq(m[3], ";") {
			field, want, _ := strings.Cut(part, "=")
			field, want = strings.TrimSpace(field), strings.TrimSpace(want)
			if got, ok := fields[field]; !ok {
				t.Errorf("%s: foredge fit says no %s of it, but %v", m[0], field, fields)
			} else if !agrees(got, want) {
				t.Errorf("%s: %s is %v", m[0], field, got)
			}
		}
	}
	return len(rules)
}

// fitFields finds the fields of a thing in a report.
func fitFields(in any, list, name string) map[string]any {
	switch in := in.(type) {
	case []any:
		for _, e := range in {
			if found := fitFields(e, list, name); found != nil {
				return found
			}
		}
	case map[string]any:
		switch at := in[list].(type) {
		case map[string]any:
			return at
		case []any:
			for _, e := range at {
				if fields, ok := e.(map[string]any); ok && fields["name"] == name {
					return fields
				}
			}
		}
		for _, key := range slices.Sorted(maps.Keys(in)) {
			if found := fitFields(in[key], list, name); found != nil {
				return found
			}
		}
	}
	return nil
}

// agrees reports whether a value is the one written, a number to its last digit.
func agrees(got any, want string) bool {
	number, err := strconv.ParseFloat(want, 64)
	x, ok := got.(float64)
	if err != nil || !ok {
		return fmt.Sprint(got) == want || got == nil && want == "null"
	}
	_, digits, _ := strings.Cut(want, ".")
	return math.Abs(x-number) <= 0.5000001*math.Pow(10, -float64(len(digits)))
}
