package driver_test

import (
	"context"
	"io/fs"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/source"
)

// Every design in testdata/errors/meaning, well formed but wrong, gets the messages that its comments
// expect, each on its line, and nothing is made of it. Folders called parts
// hold what the designs use.
func TestWrongDesigns(t *testing.T) {
	root := filepath.Join("..", "..", "..", "testdata", "errors", "meaning")
	n := 0
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		switch {
		case err != nil:
			return err
		case d.IsDir() && d.Name() == "parts":
			return filepath.SkipDir
		case d.IsDir() || filepath.Ext(path) != ".fore":
			return nil
		}
		n++
		name := strings.TrimSuffix(filepath.ToSlash(path[len(root)+1:]), ".fore")
		t.Run(name, func(t *testing.T) { wrongDesign(t, path) })
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if n < 60 {
		t.Errorf("only %d wrong designs", n)
	}
}

func wrongDesign(t *testing.T, path string) {
	data, err := os.ReadFile(path)
	if err != nil {
		t.Fatal(err)
	}
	r := driver.NewSession(nil).Build(context.Background(), path, driver.Options{Encoders: export.CutFiles(export.Options{})})
	if r.Err != nil {
		t.Fatal(r.Err)
	}
	var told diag.List
	for _, d := range r.Diagnostics {
		if d.Severity != diag.Info {
			told = append(told, d)
		}
	}
	diagtest.Check(t, source.New(filepath.Clean(path), data), told)
	if r.Diagnostics.HasErrors() && len(r.Files) > 0 {
		t.Errorf("%d files were made of a design with errors", len(r.Files))
	}
	for _, d := range r.Diagnostics {
		if d.Severity == diag.Error && d.Help == "" {
			t.Errorf("nothing tells what to do about %q", d.Message)
		}
		if d.Severity == diag.Error && d.Span.File == nil {
			t.Errorf("nothing tells where %q is", d.Message)
		}
		for _, text := range words(d) {
			if w := foreign.FindString(text); w != "" {
				t.Errorf("%q is no word of a maker: %s", w, text)
			}
		}
	}
}

// words is all that a diagnostic says, without what it quotes of the design.
func words(d *diag.Diagnostic) []string {
	texts := []string{d.Message, d.Help}
	for _, n := range d.Notes {
		texts = append(texts, n.Message)
	}
	return texts
}

// foreign are words of the workshop behind the program, not of the bench.
var foreign = regexp.MustCompile(`(?i)\b(rank|matrix|matrices|singular|residuals?|constraints?|variables?|` +
	`over-?determined|under-?determined|degenerate|infeasible|unbounded|jacobian|gradient|solver|iterations?|` +
	`converge[sd]?|eigen\w*|covariance|sigma|null|nil|token|parser?|syntax|identifier|expression|operand|` +
	`lexer|ast|node|boolean|string|integer|float|struct|pointer|panic|runtime|invalid|unexpected)\b`)
