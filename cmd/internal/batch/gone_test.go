package batch

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/svg"
)

// A batch whose folder is moved away while it works, at whatever moment, says so and
// makes nothing in its place.
func TestFolderGoes(t *testing.T) {
	if runtime.GOOS == "windows" {
		t.Skip("a folder with open files can't be moved there")
	}
	const orders = 40
	for _, together := range []bool{false, true} {
		for _, when := range []int{1, 17, orders} {
			dir := t.TempDir()
			os.WriteFile(filepath.Join(dir, "tag.fore"), []byte(tag), 0o666)
			os.WriteFile(filepath.Join(dir, "o.csv"), []byte("name\n"+strings.Repeat("Ada\n", orders)), 0o666)
			cut := filepath.Join(dir, "cut")
			opts := Options{Together: together}
			opts.Folder, opts.Encoders = cut, []export.Encoder{svg.Encoder{}}
			opts.Progress = func(done, of int) {
				if done == of/2+when {
					os.Rename(cut, filepath.Join(dir, "away"))
				}
			}
			what := fmt.Sprintf("together %v, gone after order %d", together, when)
			r := Run(context.Background(), driver.NewSession(nil), filepath.Join(dir, "tag.fore"), opts)
			if r.Err == nil || !strings.Contains(r.Err.Error(), "was moved or removed") {
				t.Errorf("%s: %d made, %v", what, r.Done, r.Err)
			}
			if _, err := os.Stat(cut); err == nil {
				t.Errorf("%s: the folder is there anew", what)
			}
		}
	}
}

// A batch that is done has seen that all is there which it lists.
func TestListedIsThere(t *testing.T) {
	dir := t.TempDir()
	r := tagBatch(t, dir, tag, Options{}, 0, "Ada", "Bea")
	again := &run{opts: Options{Options: driver.Options{Naming: driver.Naming{Folder: filepath.Join(dir, "cut")}}}}
	if err := again.there(); r.Err != nil || err != nil {
		t.Fatal(r.Err, err)
	}
	os.Remove(filepath.Join(dir, "cut", r.Made[1].Files[0]))
	if err := again.there(); err == nil || !strings.Contains(err.Error(), "is not there any more") {
		t.Errorf("a file is gone: %v", err)
	}
}

// One order of very many copies is written as its sheets fill, and all that its ticket
// names is there.
func TestManySheets(t *testing.T) {
	dir := t.TempDir()
	os.WriteFile(filepath.Join(dir, "tag.fore"), []byte(strings.Replace(tag, "width = 80; height = 40", "width = 180; height = 140", 1)), 0o666)
	os.WriteFile(filepath.Join(dir, "o.csv"), []byte("name,copies\nAda,70\nBea,3\n"), 0o666)
	opts := Options{Together: true, Keep: true}
	opts.Folder, opts.Encoders = filepath.Join(dir, "cut"), []export.Encoder{svg.Encoder{}}
	r := Run(context.Background(), driver.NewSession(nil), filepath.Join(dir, "tag.fore"), opts)
	if r.Err != nil || r.Done != 2 || len(r.Made[0].Places) != 140 || len(r.Made[0].Files) <= sheets {
		t.Fatal(r.Err, r.Done)
	}
	for _, p := range r.Made[0].Places {
		data, err := os.ReadFile(filepath.Join(dir, "cut", p.Sheet+".svg"))
		if err != nil || !strings.Contains(string(data), p.Part+".outline") {
			t.Fatalf("%s is not on %s: %v", p.Part, p.Sheet, err)
		}
	}
}
