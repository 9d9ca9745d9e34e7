package diagtest

import (
	"regexp"
	"strings"
	"testing"

	"foredge/lang/diag"
	"foredge/lang/source"
)

// Text shows diagnostics as a person reads them, for the message of a test.
func Text(list diag.List) string {
	var b strings.Builder
	if err := diag.WriteText(&b, list, diag.TextOptions{}); err != nil {
		return err.Error()
	}
	return b.String()
}

// A want is one diagnostic that a file expects.
type want struct {
	line     int // 0 for one without a line in the file
	severity string
	text     string
	written  int // the line that the expectation stands on
}

// fileLine stands for the line of what has no line in the file.
const fileLine = 0

// Check fails the test unless the diagnostics are just those that the
// comments of src expect.
func Check(t testing.TB, src *source.File, got diag.List) {
	t.Helper()
	wants := expectations(src)
	taken := make([]bool, len(wants))
	for _, d := range got {
		line := fileLine
		if d.Span.File != nil && d.Span.File.Name() == src.Name() {
			line = src.Position(d.Span.Start).Line
		}
		found := false
		for i, w := range wants {
			if !taken[i] && w.line == line && w.severity == d.Severity.String() && says(d, w.text) {
				taken[i], found = true, true
				break
			}
		}
		if !found && d.Severity != diag.Info {
			t.Errorf("not expected: %v: %v: %s [%s] (hint: %s)", d.Span, d.Severity, d.Message, d.Code, d.Help)
		}
	}
	for i, w := range wants {
		if !taken[i] {
			t.Errorf("missing: %s:%d: %s with %q (expected on line %d)", src.Name(), w.line, w.severity, w.text, w.written)
		}
	}
}

// says reports whether a text is part of what a diagnostic tells.
func says(d *diag.Diagnostic, text string) bool {
	if strings.Contains(d.Message, text) || strings.Contains(d.Help, text) {
		return true
	}
	for _, n := range d.Notes {
		if strings.Contains(n.Message, text) {
			return true
		}
	}
	return false
}

// expectations reads what the comments of a file expect.
func expectations(src *source.File) []want {
	comment := regexp.MustCompile(`# (error|warning|note)( below| file)?: (.*)$`)
	further := regexp.MustCompile(`^(error|warning|note): (.*)$`)
	var out []want
	for n, line := range strings.Split(src.Text(), "\n") {
		m := comment.FindStringSubmatch(strings.TrimRight(line, "\r"))
		if m == nil {
			continue
		}
		w := want{line: n + 1, severity: m[1], written: n + 1}
		switch m[2] {
		case " below":
			w.line++
		case " file":
			w.line = fileLine
		}
		for _, part := range strings.Split(m[3], " | ") {
			w.text = strings.TrimSpace(part)
			if m := further.FindStringSubmatch(w.text); m != nil {
				w.severity, w.text = m[1], m[2]
			}
			out = append(out, w)
		}
	}
	return out
}
