package driver_test

import (
	"context"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"github.com/rogpeppe/go-internal/txtar"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
	"foredge/lang/source"
)

// Each design in testdata/rules tries a rule of the language. Its comments say
// what must come of it:
//
//	# gives front.wire.count = 11; front.width = 120   values, in mm, degrees or plain numbers
//	# error: ...                                       messages, as in testdata/errors
//	# draws ..., # writes ...                          of the SVG files: see drawnRule
//	# fit ...                                          of foredge fit: see checkFit
//
// A rule that takes several files is a .txtar, of which the first file is the
// design.
func TestRules(t *testing.T) {
	for _, path := range ruleFiles(t) {
		t.Run(filepath.Base(path), func(t *testing.T) { tryRule(t, path) })
	}
}

func ruleFiles(t *testing.T) []string {
	t.Helper()
	folder := filepath.Join(foretest.Root(t), "testdata", "rules")
	var all []string
	for _, ext := range []string{"*.fore", "*.txtar"} {
		found, err := filepath.Glob(filepath.Join(folder, ext))
		foretest.Must(t, err)
		all = append(all, found...)
	}
	return all
}

func tryRule(t *testing.T, path string) {
	design := path
	if filepath.Ext(path) == ".txtar" {
		archive, err := txtar.ParseFile(path)
		foretest.Must(t, err)
		folder := t.TempDir()
		for _, f := range archive.Files {
			at := filepath.Join(folder, filepath.FromSlash(f.Name))
			foretest.Must(t, os.MkdirAll(filepath.Dir(at), 0o777))
			foretest.Must(t, os.WriteFile(at, f.Data, 0o666))
		}
		design = filepath.Join(folder, filepath.FromSlash(archive.Files[0].Name))
	}
	text, err := os.ReadFile(design)
	foretest.Must(t, err)
	r := driver.NewSession(nil).Build(context.Background(), design, driver.Options{Encoders: export.CutFiles(export.Options{})})
	foretest.Must(t, r.Err)
	diagtest.Check(t, source.New(filepath.Clean(design), text), r.Diagnostics)
	told := slices.DeleteFunc(slices.Clone(r.Diagnostics), func(d *diag.Diagnostic) bool { return d.Severity == diag.Info })
	asked := givenBy(t, string(text))
	if len(asked)+len(told)+checkDrawn(t, string(text), r)+checkFit(t, string(text), r) == 0 {
		t.Error("nothing is said of what must come of it")
	}
	values := map[string]float64{}
	if r.Solution != nil {
		for _, d := range r.Solution.Dimensions() {
			values[d.Name] = d.Value
		}
	}
	for name, want := range asked {
		got, ok := values[name]
		if !ok {
			t.Errorf("there is no %s", name)
		} else if !(math.Abs(got-want) <= 1e-6*max(1, math.Abs(want))) {
			t.Errorf("%s is %.9g, want %.9g", name, got, want)
		}
	}
}

// givenBy reads which values a design's comments ask for.
func givenBy(t *testing.T, text string) map[string]float64 {
	t.Helper()
	values := map[string]float64{}
	for _, m := range regexp.MustCompile(`(?m)# gives (.*)$`).FindAllStringSubmatch(text, -1) {
		for part := range strings.SplitSeq(m[1], ";") {
			name, value, ok := strings.Cut(part, "=")
			v, err := strconv.ParseFloat(strings.TrimSpace(value), 64)
			if !ok || err != nil {
				t.Fatalf("this can't be read: # gives %s", m[1])
			}
			values[strings.TrimSpace(name)] = v
		}
	}
	return values
}
