package driver_test

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval/shelf"
	"foredge/lang/diag"
	"foredge/lang/foretest"
)

// A sound design raises no alarm in another that uses it and takes nothing of it,
// nor do the parts of the shelf as files of a maker.
func TestUsedFileRaisesNoAlarm(t *testing.T) {
	root, folder := foretest.Root(t), t.TempDir()
	for _, from := range []string{"examples", filepath.Join("testdata", "corpus")} {
		foretest.Must(t, os.CopyFS(filepath.Join(folder, from), os.DirFS(filepath.Join(root, from))))
	}
	for _, name := range shelf.Names() {
		text, ok := shelf.Text(name)
		if !ok {
			t.Fatalf("the shelf has no %s", name)
		}
		foretest.Must(t, os.MkdirAll(filepath.Join(folder, "shelf"), 0o777))
		foretest.Must(t, os.WriteFile(filepath.Join(folder, "shelf", name+".fore"), []byte(text), 0o666))
	}
	designs, err := filepath.Glob(filepath.Join(folder, "*", "*.fore"))
	foretest.Must(t, err)
	deeper, err := filepath.Glob(filepath.Join(folder, "*", "*", "*.fore"))
	foretest.Must(t, err)
	if designs = append(designs, deeper...); len(designs) < 20 {
		t.Fatalf("only %d designs are tried", len(designs))
	}
	user := filepath.Join(folder, "user.fore")
	for _, design := range designs {
		path, err := filepath.Rel(folder, design)
		foretest.Must(t, err)
		text := fmt.Sprintf("use %q\npanel own-front { width = 100; height = 120 }\n", filepath.ToSlash(path))
		foretest.Must(t, os.WriteFile(user, []byte(text), 0o666))
		r := driver.NewSession(nil).Check(context.Background(), user)
		foretest.Must(t, r.Err)
		for _, d := range r.Diagnostics {
			if d.Severity == diag.Error {
				t.Errorf("use %q: %v: %s", path, d.Span, d.Message)
			}
		}
	}
}
