package watch_test

import (
	"os"
	"path/filepath"
	"testing"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/watch"
	"foredge/lang/foretest"
)

// A file that two designs read in different states counts as changed.
func TestInputsOfSeveralDesigns(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "lib.fore")
	foretest.Must(t, os.WriteFile(path, []byte("1"), 0o666))
	one := disk.Input{Path: path, State: disk.Look(path)}
	foretest.Must(t, os.WriteFile(path, []byte("2"), 0o666))
	two := disk.Input{Path: path, State: disk.Look(path)}

	same, torn := watch.Inputs{}, watch.Inputs{}
	same.Add([]disk.Input{two})
	same.Add([]disk.Input{two})
	torn.Add([]disk.Input{one})
	torn.Add([]disk.Input{two})
	if got := same.List(); len(got) != 1 || got[0] != two {
		t.Errorf("got %v", got)
	}
	if got := torn.List(); len(got) != 1 || got[0].State == two.State {
		t.Error("a file that changed between two designs looks unchanged")
	}
}
