package diag

import (
	"io"

	"foredge/lang/data"
)

type noteJSON struct {
	At      *data.Place `json:"at"`
	Message string      `json:"message"`
}

type diagnosticJSON struct {
	Severity string      `json:"severity"`
	Code     Code        `json:"code"`
	At       *data.Place `json:"at"`
	Message  string      `json:"message"`
	Notes    []noteJSON  `json:"notes,omitempty"`
	Help     string      `json:"help,omitempty"`
}

// WriteJSON writes the list as data: an object with the schema's number and
// diagnostics, each with severity, code, at, message, notes (each with at and
// message) and help. A place that there is none of is null; notes and help are
// left out where there are none.
func WriteJSON(w io.Writer, l List) error {
	all := []diagnosticJSON{}
	for _, d := range l {
		j := diagnosticJSON{Severity: d.Severity.String(), Code: d.Code, At: data.At(d.Span), Message: d.Message, Help: d.Help}
		for _, n := range d.Notes {
			j.Notes = append(j.Notes, noteJSON{data.At(n.Span), n.Message})
		}
		all = append(all, j)
	}
	return data.Write(w, struct {
		data.Head
		Diagnostics []diagnosticJSON `json:"diagnostics"`
	}{data.NewHead(), all})
}
