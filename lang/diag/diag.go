package diag

import (
	"errors"
	"fmt"
	"path"
	"sort"
	"strings"

	"foredge/lang/source"
)

// A Severity says how much a diagnostic matters.
type Severity uint8

const (
	Error   Severity = iota // the design can't be made
	Warning                 // it can, but look at this first
	Info                    // worth knowing
)

func (s Severity) String() string {
	return [...]string{"error", "warning", "note"}[s]
}

// A Code names a kind of diagnostic, for tests, for JSON and for silencing
// warnings. Codes are lower case with hyphens and never change their meaning.
type Code string

// A Note is a further place that belongs to a diagnostic, with what to say
// there.
type Note struct {
	Span    source.Span
	Message string
}

// A Diagnostic is one thing to tell the maker.
type Diagnostic struct {
	Severity Severity
	Code     Code
	Span     source.Span // zero where it concerns no place in a file
	Message  string      // what is wrong, one sentence, no full stop
	Notes    []Note
	Help     string // what to do next; may be empty
	Fixes    []Fix  // what Help says to do, where that is a change of the text; one of several
}

// A Fix is a change of the text that a hint names: Text in place of what stands at At, or
// as a line of its own.
type Fix struct {
	At   source.Span
	Text string
	// Line says that Text is a line to add: in the braces of the thing that is declared at
	// At, or at the top of the file where At is the file's beginning.
	Line bool
}

// Note adds a further place to the diagnostic.
func (d *Diagnostic) Note(span source.Span, format string, args ...any) *Diagnostic {
	d.Notes = append(d.Notes, Note{span, fmt.Sprintf(format, args...)})
	return d
}

// WithHelp says what to do next.
func (d *Diagnostic) WithHelp(format string, args ...any) *Diagnostic {
	d.Help = fmt.Sprintf(format, args...)
	return d
}

// WithFix names a change that the hint speaks of: text in place of what stands there.
func (d *Diagnostic) WithFix(at source.Span, text string) *Diagnostic {
	d.Fixes = append(d.Fixes, Fix{At: at, Text: text})
	return d
}

// WithLine names a line that the hint says to add, in the braces of the thing that is
// declared at a place.
func (d *Diagnostic) WithLine(of source.Span, text string) *Diagnostic {
	d.Fixes = append(d.Fixes, Fix{At: of, Text: text, Line: true})
	return d
}

// WithUse names a part of the shelf that the hint says to use in a file.
func (d *Diagnostic) WithUse(f *source.File, part string) *Diagnostic {
	return d.WithLine(source.Span{File: f}, "use "+part)
}

// Meant asks whether another word was meant in place of one that stands where the
// diagnostic is, which is what it fixes.
func (d *Diagnostic) Meant(wrong, right string) *Diagnostic {
	if i := strings.LastIndex(d.Span.Text(), wrong); i >= 0 && !d.Span.IsZero() {
		at := d.Span
		at.Start += i
		at.End = at.Start + len(wrong)
		d.WithFix(at, right)
	}
	return d.WithHelp("did you mean %s?", right)
}

// A List is the diagnostics of a stage, in the order in which they were found
// until [List.Sort].
type List []*Diagnostic

func (l *List) add(s Severity, code Code, span source.Span, format string, args []any) *Diagnostic {
	d := &Diagnostic{Severity: s, Code: code, Span: span, Message: fmt.Sprintf(format, args...)}
	*l = append(*l, d)
	return d
}

// Errorf adds an error and returns it, so that notes and help can follow.
func (l *List) Errorf(code Code, span source.Span, format string, args ...any) *Diagnostic {
	return l.add(Error, code, span, format, args)
}

// Fail adds an error whose sentence is that of err, which must be fit for a
// maker. What to do next is err's own help, if it has a Help method that says
// something, and otherwise the one given; if it has a Nearest method that names a file of
// the same folder, that is the one meant.
func (l *List) Fail(code Code, span source.Span, err error, otherwise string) *Diagnostic {
	d := l.Errorf(code, span, "%v", err)
	d.Help = otherwise
	var helper interface{ Help() string }
	if errors.As(err, &helper) && helper.Help() != "" {
		d.Help = helper.Help()
	}
	var file interface{ Nearest() string }
	if errors.As(err, &file) && file.Nearest() != "" {
		d.nearest(file.Nearest())
	}
	return d
}

// nearest is the change of a quoted path to another file of the same folder.
func (d *Diagnostic) nearest(name string) {
	quoted := d.Span.Text()
	if len(quoted) < 2 || quoted[0] != '"' || strings.ContainsAny(quoted[1:len(quoted)-1]+name, "\"\\") {
		return
	}
	d.WithFix(d.Span, `"`+path.Join(path.Dir(quoted[1:len(quoted)-1]), name)+`"`)
}

// Warnf adds a warning and returns it.
func (l *List) Warnf(code Code, span source.Span, format string, args ...any) *Diagnostic {
	return l.add(Warning, code, span, format, args)
}

// Infof adds a note and returns it.
func (l *List) Infof(code Code, span source.Span, format string, args ...any) *Diagnostic {
	return l.add(Info, code, span, format, args)
}

// Add appends another stage's diagnostics.
func (l *List) Add(m List) { *l = append(*l, m...) }

// HasErrors reports whether any diagnostic is an error.
func (l List) HasErrors() bool {
	for _, d := range l {
		if d.Severity == Error {
			return true
		}
	}
	return false
}

// Sort orders the list by place and drops exact repeats.
func (l *List) Sort() {
	s := *l
	sort.SliceStable(s, func(i, j int) bool {
		if s[i].Span != s[j].Span {
			return s[i].Span.Before(s[j].Span)
		}
		if s[i].Severity != s[j].Severity {
			return s[i].Severity < s[j].Severity
		}
		return s[i].Message < s[j].Message
	})
	out := s[:0]
	for i, d := range s {
		if i > 0 && d.Span == s[i-1].Span && d.Severity == s[i-1].Severity && d.Message == s[i-1].Message {
			continue
		}
		out = append(out, d)
	}
	*l = out
}
