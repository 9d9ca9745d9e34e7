package batch

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/lang/source"
)

// A maker writes notes on tickets and into the packing list. A ticket says by its mark
// what it was, made.json what the packing list was: so notes are known, and a batch
// that goes on leaves them where they are, or moves them aside and tells.

// noted reports whether a file is a ticket with notes of a maker that stays as it is:
// all that it would say anew stands in it. One that would say other things is moved
// aside.
func (r *run) noted(f disk.File) bool {
	if filepath.Ext(f.Path) != ticketExt {
		return false
	}
	old, err := os.ReadFile(f.Path)
	switch {
	case err != nil, bytes.Equal(old, f.Data), !bytes.HasPrefix(old, []byte(ticketBegins)), export.Ours(old):
		return false
	case holds(old, f.Data):
		return true
	}
	r.setNotesAside(filepath.Base(f.Path))
	return false
}

// notedList is the same for the packing list, of which sum is that of the new one.
func (r *run) notedList(table *disk.Stream, sum string) (stays bool, err error) {
	const name = listName + ".csv"
	old, err := os.ReadFile(r.path(name))
	if err != nil {
		return false, nil // there is none
	}
	hash := sha256.Sum256(old)
	if is := hex.EncodeToString(hash[:]); is == r.last.Sum || is == sum {
		return false, nil
	}
	if r.last.Sum == sum {
		now, err := table.Text()
		if err != nil || holds(old, now) {
			return err == nil, err
		}
	}
	r.setNotesAside(name)
	return false, nil
}

// setNotesAside moves a file aside that a maker has changed, and tells.
func (r *run) setNotesAside(name string) {
	to, err := r.setAside(name)
	r.noting++
	switch {
	case err != nil:
		r.result.Diagnostics.Warnf("notes-aside", source.Span{}, "%q was changed by hand and is written anew; it can't be moved aside: %v", r.path(name), err).
			WithHelp("what was written into it is lost unless it stands elsewhere too")
	case r.noting <= mostLeft:
		r.result.Diagnostics.Warnf("notes-aside", source.Span{}, "%q was changed by hand and is written anew, so what it was is moved to %q", r.path(name), to).
			WithHelp("see what was written into it, and write it into the new one if it still counts")
	case r.noting == mostLeft+1:
		r.result.Diagnostics.Warnf("notes-aside", source.Span{}, "more files than these were changed by hand; all are moved to %q", r.path(asideName)).
			WithHelp("see what was written into them, and write it into the new ones if it still counts")
	}
}

// holds reports whether each line of a text stands in a file, in that order, perhaps
// with something behind it: that nothing was done to it but adding notes.
func holds(file, text []byte) bool { return holdsAs(file, text, strings.HasPrefix) }

// holdsAs is the same for lines that stand there as is says.
func holdsAs(file, text []byte, is func(have, line string) bool) bool {
	plain := func(data []byte) string {
		return strings.TrimPrefix(strings.ReplaceAll(string(data), "\r\n", "\n"), byteOrderMark)
	}
	have := strings.Split(plain(file), "\n")
	for line := range strings.Lines(plain(text)) {
		i := slices.IndexFunc(have, func(h string) bool { return is(h, strings.TrimSuffix(line, "\n")) })
		if i < 0 {
			return false
		}
		have = have[i+1:]
	}
	return true
}

// sameDesign refuses to go on with what was surely made of another design. All files
// of a batch are of one: a few tell.
func (r *run) sameDesign() error {
	another := func(of export.Origin) error {
		if !driver.Another(of, r.origin) {
			return nil
		}
		return &disk.Error{Code: "another-design",
			Message: fmt.Sprintf("the batch in %q was made of another design: %s", r.path("."), driver.Differs(of, r.origin)),
			Hint:    "choose another folder with -o; if it is the same design, write --resume --force once"}
	}
	if err := another(export.Origin{Design: r.last.Design}); err != nil {
		return err
	}
	names := slices.Sorted(maps.Keys(r.before))
	for _, name := range names[:min(len(names), mostAsked)] {
		data, _, err := disk.Read(r.path(name), name, disk.MaxInput)
		if err != nil {
			continue
		}
		of, ok := export.OriginOf(data)
		if !ok {
			continue
		}
		if err := another(of); err != nil {
			return err
		}
	}
	return nil
}

// mostAsked is how many files are asked what they were made of.
const mostAsked = 20
