package diag

import (
	"bytes"
	"encoding/json"
	"io"

	"foredge/lang/source"
)

// place is where a diagnostic stands, in JSON: lines and columns from 1,
// columns in characters, the end one past the last character.
type place struct {
	File      string `json:"file,omitempty"`
	Line      int    `json:"line,omitempty"`
	Column    int    `json:"column,omitempty"`
	EndLine   int    `json:"endLine,omitempty"`
	EndColumn int    `json:"endColumn,omitempty"`
}

func placeOf(s source.Span) place {
	if s.IsZero() {
		return place{}
	}
	start, end := s.File.Position(s.Start), s.File.Position(s.End)
	return place{s.File.Name(), start.Line, start.Column, end.Line, end.Column}
}

type noteJSON struct {
	place
	Message string `json:"message"`
}

type diagnosticJSON struct {
	Severity string `json:"severity"`
	Code     Code   `json:"code"`
	place
	Message string     `json:"message"`
	Notes   []noteJSON `json:"notes,omitempty"`
	Help    string     `json:"help,omitempty"`
}

// MarshalJSON gives an object with the fields severity, code, file, line,
// column, endLine, endColumn, message, notes (objects with a place and a
// message) and help. The place is left out where there is none, and so are
// notes and help. The names of the fields never change.
func (d *Diagnostic) MarshalJSON() ([]byte, error) {
	j := diagnosticJSON{
		Severity: d.Severity.String(),
		Code:     d.Code,
		place:    placeOf(d.Span),
		Message:  d.Message,
		Help:     d.Help,
	}
	for _, n := range d.Notes {
		j.Notes = append(j.Notes, noteJSON{placeOf(n.Span), n.Message})
	}
	var b bytes.Buffer
	enc := json.NewEncoder(&b)
	enc.SetEscapeHTML(false)
	err := enc.Encode(j)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

// WriteJSON writes the list as an indented array of objects in the form of
// [Diagnostic.MarshalJSON]; an empty list is [].
func WriteJSON(w io.Writer, l List) error {
	if l == nil {
		l = List{}
	}
	enc := json.NewEncoder(w)
	enc.SetEscapeHTML(false)
	enc.SetIndent("", "  ")
	return enc.Encode(l)
}
