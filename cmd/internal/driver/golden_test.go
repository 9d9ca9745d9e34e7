package driver_test

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/fitview"
	"foredge/cmd/internal/glance"
	"foredge/eval/fit"
	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/foretest"
	"foredge/lang/unit"
)

// What the program makes of every design in the tree, to the last word: what it
// tells, what each dimension comes to and from which line, what the readings are
// worth, and the sum of each file it makes. One changed word of a message or one
// changed digit shows here, for someone to look at.
//
// The files go into testdata/golden; -update writes them anew.

// designs lists the designs below some folders of the repository, by path.
func designs(t *testing.T, folders ...string) []string {
	t.Helper()
	var all []string
	for _, folder := range folders {
		foretest.Must(t, filepath.WalkDir(filepath.Join(foretest.Root(t), folder), func(path string, d fs.DirEntry, err error) error {
			switch {
			case err != nil:
				return err
			case d.IsDir() && d.Name() == "parts":
				return filepath.SkipDir
			case !d.IsDir() && filepath.Ext(path) == ".fore":
				all = append(all, path)
			}
			return nil
		}))
	}
	slices.Sort(all)
	return all
}

// wholeBuild makes a design's files, with a card beside them if that is asked for.
func wholeBuild(t *testing.T, path string, options driver.Options) *driver.Result {
	t.Helper()
	options.Encoders = export.CutFiles(export.Options{})
	r := driver.NewSession(nil).Build(context.Background(), path, options)
	foretest.Must(t, r.Err)
	return r
}

// golden holds text against a golden file, in which nothing depends on where the
// repository lies and what its folder is called.
func golden(t *testing.T, name string, text *bytes.Buffer) {
	t.Helper()
	root := foretest.Root(t)
	plain := strings.ReplaceAll(text.String(), root+string(filepath.Separator), "")
	for _, before := range []string{"root folder ", "copy it to "} {
		plain = strings.ReplaceAll(plain, fmt.Sprintf("%s%q", before, filepath.Base(root)), before+`"foredge"`)
	}
	foretest.Golden(t, filepath.Join(root, "testdata", "golden", name), []byte(filepath.ToSlash(plain)))
}

func told(t *testing.T, out *bytes.Buffer, path string) {
	t.Helper()
	fmt.Fprintf(out, "== %s\n", path)
	r := wholeBuild(t, path, driver.Options{})
	foretest.Must(t, diag.WriteText(out, r.Diagnostics, diag.TextOptions{}))
}

func TestAllThatIsToldOfWrongDesigns(t *testing.T) {
	var out bytes.Buffer
	for _, path := range designs(t, filepath.Join("testdata", "errors")) {
		told(t, &out, path)
	}
	golden(t, "told-wrong.txt", &out)
}

func TestAllThatIsToldOfDesigns(t *testing.T) {
	var out bytes.Buffer
	for _, path := range designs(t, "examples", filepath.Join("testdata", "corpus")) {
		told(t, &out, path)
	}
	for line := range strings.Lines(out.String()) {
		example := strings.Contains(filepath.ToSlash(line), "/examples/") // TestExamplesGiveReasons has their warnings
		if strings.Contains(line, ": warning: ") && !example || strings.Contains(line, ": error: ") {
			t.Errorf("a right design is told: %s", line)
		}
	}
	golden(t, "told.txt", &out)
}

func TestAllThatIsToldOfExamplesOfCodes(t *testing.T) {
	var out bytes.Buffer
	for _, e := range codes.All() {
		if e.Example == "" {
			continue
		}
		fmt.Fprintf(&out, "== %s\n", e.Code)
		r := driver.Example(context.Background(), e)
		foretest.Must(t, r.Err, diag.WriteText(&out, r.Diagnostics, diag.TextOptions{}))
	}
	golden(t, "told-codes.txt", &out)
}

func TestAllThatIsSolved(t *testing.T) {
	var out bytes.Buffer
	for _, path := range designs(t, "examples", filepath.Join("testdata", "corpus")) {
		fmt.Fprintf(&out, "== %s\n", path)
		s := wholeBuild(t, path, driver.Options{}).Solution
		for _, d := range s.Dimensions() {
			id, _ := s.Dimension(d.Name)
			step := s.Why(id)[0]
			fmt.Fprintf(&out, "%s = %s ± %s %s: %s", d.Name, s.Format(d.Value, d.Kind, d.At), unit.FormatNumber(d.Uncertainty, 5), d.From, step.Text)
			for _, with := range step.With {
				fmt.Fprintf(&out, " with %s", with.Text)
			}
			fmt.Fprintf(&out, " (%s)\n", step.At)
		}
	}
	golden(t, "solved.txt", &out)
}

func TestAllThatIsShownAtAGlance(t *testing.T) {
	var out bytes.Buffer
	for _, path := range designs(t, "examples", filepath.Join("testdata", "corpus")) {
		fmt.Fprintf(&out, "== %s\n", path)
		foretest.Must(t, glance.Write(&out, wholeBuild(t, path, driver.Options{}).Solution, filepath.Base(path)))
	}
	golden(t, "glance.txt", &out)
}

func TestAllThatFitTells(t *testing.T) {
	var out bytes.Buffer
	for _, path := range designs(t, "examples", filepath.Join("testdata", "corpus")) {
		fmt.Fprintf(&out, "== %s\n", path)
		foretest.Must(t, fitview.WriteText(&out, fit.Of(wholeBuild(t, path, driver.Options{}).Solution), true))
	}
	golden(t, "fit.txt", &out)
}

func TestAllThatIsMade(t *testing.T) {
	var out bytes.Buffer
	for _, path := range designs(t, "examples", filepath.Join("testdata", "corpus")) {
		for _, options := range []driver.Options{{}, {Card: true}} {
			for _, f := range wholeBuild(t, path, options).Files {
				data, ours := export.Unmark(f.Data)
				if !ours {
					t.Errorf("%s isn't marked as made by foredge", f.Path)
				}
				fmt.Fprintf(&out, "%x  %7d  %s\n", sha256.Sum256(data), len(data), f.Path)
			}
		}
	}
	golden(t, "made.txt", &out)
}
