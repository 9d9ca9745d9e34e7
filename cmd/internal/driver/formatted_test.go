package driver_test

import (
	"bytes"
	"context"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/lang/foretest"
	"foredge/lang/format"
	"foredge/lang/source"
)

// A design laid out anew, and one whose blanks are doubled or gone where they may be, makes
// the same cut files as before, byte for byte.
func TestFormattedMakesTheSame(t *testing.T) {
	built := 0
	for _, path := range designs(t, "examples", "testdata/corpus", "testdata/rules") {
		was := wholeBuild(t, path, driver.Options{})
		if !was.OK() {
			continue
		}
		text := foretest.Read(t, path)
		after, diags := format.Source(source.New(path, []byte(text)))
		if diags.HasErrors() {
			t.Errorf("%s: %v", path, diags)
			continue
		}
		s := driver.NewSession(nil)
		foretest.Must(t, s.SetText(path, []byte(after)))
		is := s.Build(context.Background(), path, driver.Options{Encoders: export.CutFiles(export.Options{})})
		if foretest.Must(t, is.Err); len(is.Files) != len(was.Files) {
			t.Errorf("%s: %d files, was %d", path, len(is.Files), len(was.Files))
			continue
		}
		for i, f := range is.Files {
			if !bytes.Equal(f.Data, was.Files[i].Data) {
				t.Errorf("%s: %s differs", path, f.Path)
			}
		}
		built += len(is.Files)
	}
	if built < 500 {
		t.Errorf("only %d files were compared", built)
	}
}
