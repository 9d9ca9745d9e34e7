package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// The exit statuses.
const (
	done   = 0
	faulty = 1 // a design has errors
	misuse = 2 // wrong arguments, or files that can't be read or written
)

// A terminal is where a command talks to whoever called it.
type terminal struct {
	stdin          io.Reader
	stdout, stderr io.Writer
	color          bool // of what goes to stderr
	tty            bool // stderr is a terminal, on which a line can be written again
	width          func() int
}

// wantsColor reports whether f is a terminal whose owner has not asked for
// plain text (no-color.org, and a terminal that calls itself dumb).
func wantsColor(f *os.File, getenv func(string) string) bool {
	return getenv("NO_COLOR") == "" && rewrites(f, getenv)
}

// rewrites reports whether f is a terminal on which a line can be written again.
func rewrites(f *os.File, getenv func(string) string) bool {
	_, ok := columns(f)
	return ok && getenv("TERM") != "dumb"
}

// widthOf is how many columns a terminal has at the moment, 80 if it doesn't say.
func widthOf(f *os.File) int {
	if n, _ := columns(f); n > 0 {
		return n
	}
	return 80
}

// maxShown is how many diagnostics a person is shown at once.
const maxShown = 20

// tell shows diagnostics: to a person, no more than can be taken in at once, or
// as data.
func (t *terminal) tell(w io.Writer, l diag.List, asJSON bool) { t.tellMost(w, l, asJSON, maxShown) }

// tellAll shows diagnostics, however many they are.
func (t *terminal) tellAll(w io.Writer, l diag.List, asJSON bool) { t.tellMost(w, l, asJSON, 0) }

// tellMost shows a person so many diagnostics at most; 0 is no limit.
func (t *terminal) tellMost(w io.Writer, l diag.List, asJSON bool, most int) {
	if asJSON {
		diag.WriteJSON(w, l)
		return
	}
	diag.WriteText(w, l, diag.TextOptions{Color: t.color, Max: most})
}

// fail tells of an error that stops a command, and returns the exit status.
func (t *terminal) fail(err error) int {
	t.tell(t.stderr, diag.List{diagnosticOf(err)}, false)
	return misuse
}

// told is all there is to tell about a result.
func told(r *driver.Result) diag.List {
	if r.Err == nil {
		return r.Diagnostics
	}
	return append(diag.List{diagnosticOf(r.Err)}, r.Diagnostics...)
}

// statusOf is the exit status that a result asks for.
func statusOf(r *driver.Result) int {
	var internal *driver.InternalError
	switch {
	case errors.As(r.Err, &internal):
		return faulty
	case r.Err != nil:
		return misuse
	case r.Diagnostics.HasErrors():
		return faulty
	}
	return done
}

// diagnosticOf gives an error the form of a diagnostic.
func diagnosticOf(err error) *diag.Diagnostic {
	d := &diag.Diagnostic{Message: err.Error()}
	var file *disk.Error
	var internal *driver.InternalError
	var wrong *misuseError
	switch {
	case errors.As(err, &file):
		d.Code, d.Help = file.Code, file.Hint
	case errors.As(err, &internal):
		d.Code = "internal"
		d.Help = "run it again with FOREDGE_TRACE=1 set, and put what it prints into the report"
		if os.Getenv("FOREDGE_TRACE") != "" {
			d.Help = ""
			d.Note(source.Span{}, "%v", internal.Cause)
			for _, line := range strings.Split(internal.Trace, "\n") {
				d.Note(source.Span{}, "%s", line)
			}
		}
	case errors.Is(err, context.Canceled), errors.Is(err, context.DeadlineExceeded):
		d.Code, d.Message = stopped, "stopped before it was done"
	case errors.As(err, &wrong):
		d.Help = wrong.help
	}
	return d
}

// stopped is the code of a command that a signal has ended.
const stopped diag.Code = "stopped"

// A misuseError says what is wrong with how a command was called.
type misuseError struct{ message, help string }

func (e *misuseError) Error() string { return e.message }

func misused(help, format string, args ...any) error {
	return &misuseError{fmt.Sprintf(format, args...), help}
}
