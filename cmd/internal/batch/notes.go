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

// isTicket reports whether a file is a ticket, perhaps with notes above its first line.
func isTicket(data []byte) bool {
	return hasLine(data, func(line []byte) bool { return isTicketLine(string(line)) })
}

// isTicketLine reports whether a line is the first of a ticket.
func isTicketLine(line string) bool {
	return strings.HasPrefix(line, ticketBegins) && strings.Contains(line, " (line ")
}

// isTable reports whether a file is a packing list, perhaps with notes above its header.
func isTable(data []byte) bool {
	return hasLine(data, func(line []byte) bool { return bytes.HasPrefix(line, []byte(tableBegins)) })
}

// mostAbove is how many bytes of notes may stand above what tells a file.
const mostAbove = 1 << 12

// hasLine reports whether one of the first lines of a file is so.
func hasLine(data []byte, is func([]byte) bool) bool {
	for line := range bytes.Lines(data[:min(len(data), mostAbove)]) {
		if is(bytes.TrimPrefix(line, []byte(byteOrderMark))) {
			return true
		}
	}
	return false
}

// noted reports whether a file is a ticket with notes of a maker that stays as it is:
// all that it would say anew stands in it. One that would say other things is moved
// aside.
func (r *run) noted(f disk.File) (stays bool, err error) {
	if filepath.Ext(f.Path) != ticketExt {
		return false, nil
	}
	old, err := os.ReadFile(f.Path)
	switch {
	case err != nil, bytes.Equal(old, f.Data), !isTicket(old), export.Ours(old):
		return false, nil // writing it tells what is wrong
	case holds(old, f.Data):
		return true, nil
	}
	return false, r.setNotesAside(filepath.Base(f.Path), "was changed by hand")
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
	why := "was changed by hand"
	if r.last.Sum == "" {
		why = fmt.Sprintf("may have been changed by hand, which can't be told without %s.json,", listName)
	}
	return false, r.setNotesAside(name, why)
}

// setNotesAside moves a file aside that a maker has changed, as far as is known, and
// tells. One that can't be moved is not to be written over.
func (r *run) setNotesAside(name, why string) error {
	to, err := r.setAside(name)
	r.noting++
	switch {
	case err != nil:
		return &disk.Error{Code: "cannot-write", Err: err, Hint: "move it elsewhere yourself, and go on with --resume",
			Message: fmt.Sprintf("%q %s and can't be moved to %q, so it isn't written anew: %v", r.path(name), why, r.path(asideName), err)}
	case r.noting <= mostLeft:
		r.result.Diagnostics.Warnf("notes-aside", source.Span{}, "%q %s and is written anew, so what it was is moved to %q", r.path(name), why, to).
			WithHelp("see what was written into it, and write it into the new one if it still counts")
	case r.noting == mostLeft+1:
		r.result.Diagnostics.Warnf("notes-aside", source.Span{}, "more files than these were changed by hand; all are moved to %q", r.path(asideName)).
			WithHelp("see what was written into them, and write it into the new ones if it still counts")
	}
	return nil
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
