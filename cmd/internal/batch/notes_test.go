package batch

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"foredge/lang/foretest"
)

// A batch that is refused for a file in its way has moved no ticket with notes, and says
// nothing of one.
func TestRefusedMovesNothing(t *testing.T) {
	dir := t.TempDir()
	cut := filepath.Join(dir, "cut")
	tagBatch(t, dir, tag, Options{}, 0, "Ada", "Bo")
	ticket := filepath.Join(cut, "0001-ada.txt")
	noted := strings.Replace(foretest.Contents(t, cut)["0001-ada.txt"], "To make", "Ring first. To make", 1)
	foretest.Must(t, os.WriteFile(ticket, []byte(noted), 0o666))
	foretest.Must(t, os.WriteFile(filepath.Join(cut, "0002-bo.svg"), []byte("a drawing of mine"), 0o666))
	r := tagBatch(t, dir, tag, Options{Resume: true}, 0, "Ada", "Bo")
	if r.Err == nil || !strings.Contains(r.Err.Error(), "0002-bo.svg") || len(messages(r, "notes-aside")) > 0 {
		t.Errorf("%v, told %q", r.Err, messages(r, "notes-aside"))
	}
	if foretest.Contents(t, cut)["0001-ada.txt"] != noted {
		t.Error("the ticket was moved or written over")
	}
}

// What can't be moved aside is not written over.
func TestNotesThatCannotMove(t *testing.T) {
	dir := t.TempDir()
	foretest.Must(t, os.WriteFile(filepath.Join(dir, asideName), nil, 0o666))
	r := &run{result: &Result{}}
	r.opts.Folder = dir
	if err := r.setNotesAside("made.csv", "was changed by hand"); err == nil || !strings.Contains(err.Error(), "isn't written anew") {
		t.Errorf("%v", err)
	}
}

// Without made.json nobody knows whether made.csv was changed.
func TestListWithoutData(t *testing.T) {
	dir := t.TempDir()
	tagBatch(t, dir, tag, Options{}, 0, "Ada")
	foretest.Must(t, os.Remove(filepath.Join(dir, "cut", "made.json")))
	r := tagBatch(t, dir, tag, Options{Resume: true}, 0, "Bo")
	if got := strings.Join(messages(r, "notes-aside"), " "); !strings.Contains(got, "may have been changed by hand, which can't be told without made.json") {
		t.Errorf("told %q, %v", got, r.Err)
	}
}

// Another number of copies is told, though the cut file is the same.
func TestOtherCopies(t *testing.T) {
	dir := t.TempDir()
	design := func(n string) string { return strings.Replace(tag, "default 1", "default "+n, 1) }
	for i, c := range [][2]string{{"1", ""}, {"3", "order 0001 is to be made 3 times now, it was once"}, {"3", ""}, {"1", "order 0001 is to be made once now, it was 3 times"}} {
		r := tagBatch(t, dir, design(c[0]), Options{Resume: i > 0}, 0, "Ada")
		if got := strings.Join(messages(r, "made-anew"), " "); r.Err != nil || got != c[1] {
			t.Errorf("%v, told %q, want %q", r.Err, got, c[1])
		}
	}
}

// Notes above the first line of a ticket or of the packing list are notes as well: a batch
// that goes on keeps the ticket as it is, and moves the list aside when it says other things.
func TestNotesAbove(t *testing.T) {
	dir := t.TempDir()
	cut := filepath.Join(dir, "cut")
	tagBatch(t, dir, tag, Options{}, 0, "Ada", "Bo")
	was := foretest.Contents(t, cut)
	const note = "Ring first.\n"
	ticket, list := note+was["0001-ada.txt"], byteOrderMark+note+strings.TrimPrefix(was["made.csv"], byteOrderMark)
	foretest.Must(t, os.WriteFile(filepath.Join(cut, "0001-ada.txt"), []byte(ticket), 0o666))
	foretest.Must(t, os.WriteFile(filepath.Join(cut, "made.csv"), []byte(list), 0o666))
	r := tagBatch(t, dir, tag, Options{Resume: true}, 0, "Ada", "Bo")
	if r.Err != nil || foretest.Contents(t, cut)["0001-ada.txt"] != ticket {
		t.Errorf("%v, told %q", r.Err, messages(r, "notes-aside"))
	}
	if foretest.Contents(t, cut)["made.csv"] != list {
		t.Errorf("the list with a note was written over; told %q", messages(r, "notes-aside"))
	}
	r = tagBatch(t, dir, tag, Options{Resume: true}, 0, "Ada", "Cy")
	if r.Err != nil || len(messages(r, "notes-aside")) != 1 || foretest.Contents(t, filepath.Join(cut, asideName))["made.csv"] == "" {
		t.Errorf("%v, told %q", r.Err, messages(r, "notes-aside"))
	}
}
