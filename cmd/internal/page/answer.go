package page

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"slices"
	"strings"
	"unicode/utf8"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/glance"
	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/lang/format"
	"foredge/lang/source"
)

// An Answer is what there is to show of a design.
type Answer struct {
	// Notes are the errors, warnings and notes, in the order in which a person is
	// told of them.
	Notes []Note `json:"notes"`
	// Files are the names of the cut files; none after an error. What is in them
	// [Build] gives beside the answer.
	Files []string `json:"files"`
	// Reads are the names of the files that the design was read from, itself first.
	Reads []string `json:"reads"`
	// Sizes says how large things are and where they lie, as command solve does; ""
	// where that isn't known.
	Sizes string `json:"sizes"`
	// Shared says that there is no panel in the file, which is there for others to use.
	Shared bool `json:"shared"`
}

// A Note is one thing to tell the maker.
type Note struct {
	Severity string `json:"severity"`
	Code     string `json:"code"`
	Message  string `json:"message"`
	Help     string `json:"help,omitempty"`
	Means    string `json:"means,omitempty"` // what the code stands for, in general
	At       *Place `json:"at,omitempty"`
	More     []More `json:"more,omitempty"`  // further places
	Fixes    []Fix  `json:"fixes,omitempty"` // one of several
}

// More is a further place of a note, with what to say there.
type More struct {
	Message string `json:"message"`
	At      *Place `json:"at,omitempty"`
}

// A Fix is a change of the text that a note's help speaks of.
type Fix struct {
	At   Place  `json:"at"`
	Was  string `json:"was"`
	Text string `json:"text"`
}

// A Place is a stretch of a file.
type Place struct {
	File string `json:"file"`
	Line int    `json:"line"` // of its start, from 1
	From int    `json:"from"` // in UTF-16
	To   int    `json:"to"`
}

// Build makes the cut files of a design. They are in the order of the answer's names.
func Build(ctx context.Context, session *driver.Session, design string) (Answer, []disk.File) {
	r := session.Build(ctx, design, driver.Options{Encoders: export.CutFiles(export.Options{})})
	a := Answer{Notes: []Note{}, Files: []string{}, Reads: []string{}, Shared: r.Shared}
	if r.Err != nil {
		a.Notes = append(a.Notes, trouble(r.Err))
	}
	for _, d := range r.Diagnostics {
		a.Notes = append(a.Notes, noteOf(d))
	}
	for _, f := range r.Files {
		a.Files = append(a.Files, filepath.Base(f.Path))
	}
	a.Reads = reads(r, design)
	var sizes bytes.Buffer
	if r.Solution != nil && r.Solution.Sound && glance.Write(&sizes, r.Solution, design) == nil {
		a.Sizes = sizes.String()
	}
	return a, r.Files
}

// reads lists the files that a design was read from, named as the design names them.
func reads(r *driver.Result, design string) []string {
	folder, err := filepath.Abs(filepath.Dir(design))
	if err != nil {
		return []string{design}
	}
	names := []string{filepath.Clean(design)}
	for _, in := range r.Inputs {
		name, err := filepath.Rel(folder, in.Path)
		name = filepath.Join(filepath.Dir(design), name)
		if err == nil && in.State.Kind == disk.Plain && !slices.Contains(names, name) {
			names = append(names, name)
		}
	}
	return names
}

// trouble is what a file that can't be read, or a fault of ours, has to say.
func trouble(err error) Note {
	n := Note{Severity: diag.Error.String(), Message: err.Error()}
	var file *disk.Error
	if errors.As(err, &file) {
		n.Code, n.Help = string(file.Code), file.Hint
	}
	return n
}

func noteOf(d *diag.Diagnostic) Note {
	n := Note{Severity: d.Severity.String(), Code: string(d.Code), Message: d.Message, Help: d.Help, At: place(d.Span)}
	if e, ok := codes.Find(d.Code); ok {
		n.Means = e.Means
	}
	for _, m := range d.Notes {
		n.More = append(n.More, More{m.Message, place(m.Span)})
	}
	for _, fix := range d.Fixes {
		if at := place(fix.At); at != nil && !fix.Line { // where a line is to be added the maker has to see
			n.Fixes = append(n.Fixes, Fix{*at, fix.At.Text(), fix.Text})
		}
	}
	return n
}

// place is nil for none.
func place(at source.Span) *Place {
	if at.IsZero() {
		return nil
	}
	text := at.File.Text()
	start := max(0, min(at.Start, len(text)))
	end := max(start, min(at.End, len(text)))
	from := utf16Len(text[:start])
	return &Place{at.File.Name(), at.File.LineNumber(start), from, from + utf16Len(text[start:end])}
}

// utf16Len is how long a browser takes a text to be. A byte that is no UTF-8 is one
// character there as here.
func utf16Len(text string) int {
	n := utf8.RuneCountInString(text)
	for _, r := range text {
		if r >= 0x10000 {
			n++
		}
	}
	return n
}

// LayOut gives the text of a design as all are written; not ok if it can't be read.
func LayOut(name, text string) (laid string, ok bool) {
	laid, diags := format.Source(source.New(name, []byte(text)))
	return laid, !diags.HasErrors() && strings.TrimSpace(laid) != ""
}
