package diag

import (
	"bufio"
	"fmt"
	"io"
	"strings"
	"unicode"
	"unicode/utf8"

	"foredge/lang/source"
)

// TextOptions say how [WriteText] shows diagnostics. The zero value shows all
// of them without colour.
type TextOptions struct {
	Color bool // with the escape sequences of a terminal
	Max   int  // how many at most, errors first; 0 for all
}

const (
	sourceIndent = "      "
	noteIndent   = "  "
	tabWidth     = 4
	lineWidth    = 100 // columns of a source line that are shown at most
)

// WriteText shows diagnostics to a person, in the order of the list: where
// and what, the line of the file with the place marked, further places, and
// what to do next.
//
//	harbour.fore:7:16: error: mn is no unit [unknown-unit]
//	        first = 12 mn
//	                   ^^
//	  hint: did you mean mm?
//
// Characters that would disturb a terminal are shown as �, and words from right to left stand by themselves.
func WriteText(w io.Writer, l List, opts TextOptions) error {
	t := &textWriter{Writer: bufio.NewWriter(w), color: opts.Color}
	shown := l.atMost(opts.Max)
	for i, d := range shown {
		if i > 0 {
			t.WriteByte('\n')
		}
		t.diagnostic(d)
	}
	if n := len(l) - len(shown); n > 0 {
		fmt.Fprintf(t, "\nand %d more\n", n)
	}
	return t.Flush()
}

// atMost returns up to n diagnostics in their order. Errors go before others
// where not all can be shown.
func (l List) atMost(n int) List {
	if n <= 0 || len(l) <= n {
		return l
	}
	errors := 0
	for _, d := range l {
		if d.Severity == Error {
			errors++
		}
	}
	errors = min(errors, n)
	others := n - errors
	var out List
	for _, d := range l {
		left := &others
		if d.Severity == Error {
			left = &errors
		}
		if *left > 0 {
			*left--
			out = append(out, d)
		}
	}
	return out
}

// The escape sequences of a terminal.
const (
	bold   = "\x1b[1m"
	red    = "\x1b[31m"
	yellow = "\x1b[33m"
	cyan   = "\x1b[36m"
	plain  = "\x1b[0m"
)

type textWriter struct {
	*bufio.Writer
	color bool
}

func (t *textWriter) paint(s string, codes string) {
	if !t.color {
		t.WriteString(s)
		return
	}
	t.WriteString(codes + s + plain)
}

func (s Severity) color() string {
	switch s {
	case Error:
		return red
	case Warning:
		return yellow
	}
	return cyan
}

func (t *textWriter) diagnostic(d *Diagnostic) {
	color := d.Severity.color()
	if !d.Span.IsZero() {
		t.paint(d.Span.String()+":", bold)
		t.WriteByte(' ')
	}
	t.paint(d.Severity.String()+":", bold+color)
	t.WriteString(" " + source.Isolated(clean(d.Message)))
	if d.Code != "" {
		t.WriteString(" [" + string(d.Code) + "]")
	}
	t.WriteByte('\n')
	t.marked(d.Span, color)
	for i, n := range d.Notes {
		if more := len(d.Notes) - mostNotes; more > 0 && i >= mostNotes-lastNotes && i < len(d.Notes)-lastNotes {
			if i == mostNotes-lastNotes {
				fmt.Fprintf(t, "%sand %d more here (--json lists them all)\n", noteIndent, more)
			}
			continue
		}
		t.WriteString(noteIndent)
		if !n.Span.IsZero() {
			t.paint(n.Span.String()+":", bold)
			t.WriteByte(' ')
		}
		t.WriteString(source.Isolated(clean(n.Message)) + "\n")
		t.marked(n.Span, cyan)
	}
	if d.Help != "" {
		t.WriteString(noteIndent)
		t.paint("hint:", bold)
		t.WriteString(" " + source.Isolated(clean(d.Help)) + "\n")
	}
}

// mostNotes is how many notes of one diagnostic a person is shown, and lastNotes how
// many of those are its last.
const (
	mostNotes = 60
	lastNotes = 5
)

// marked shows the line that a place begins in, and marks the place below it.
func (t *textWriter) marked(s source.Span, color string) {
	if s.IsZero() {
		return
	}
	line, start := s.File.Line(s.File.Position(s.Start).Line)
	if strings.TrimSpace(line) == "" {
		return
	}
	shown, from, to := layOut(line, s.Start-start, s.End-start)
	t.WriteString(sourceIndent + shown + "\n")
	t.WriteString(sourceIndent + strings.Repeat(" ", from))
	t.paint(strings.Repeat("^", max(1, to-from)), color)
	t.WriteByte('\n')
}

// layOut makes a line of a file fit for a terminal: tabs become blanks,
// disturbing characters are replaced, and of a long line the part about the
// mark is kept. It returns the columns between which the bytes from start to
// end now stand.
func layOut(line string, start, end int) (shown string, from, to int) {
	type cell struct {
		text  string
		width int
	}
	line, start, end, before, after := aboutMark(line, start, end)
	var cells []cell // one for each character
	column := 0
	first, last := -1, -1 // the cells of the mark
	for i, n := 0, 0; i < len(line); i += n {
		var r rune
		r, n = utf8.DecodeRuneInString(line[i:])
		c := cell{string(r), width(r)}
		switch {
		case r == '\t':
			c.width = tabWidth - column%tabWidth
			c.text = strings.Repeat(" ", c.width)
		case source.Disturbs(r):
			c = cell{"�", 1}
		}
		if first < 0 && i+n > start {
			first = len(cells)
		}
		if i < end {
			last = len(cells) + 1
		}
		cells = append(cells, c)
		column += c.width
	}
	if first < 0 {
		first = len(cells)
	}
	last = max(first, min(last, len(cells)))

	// Keep the part about the beginning of the mark.
	low, high := 0, len(cells)
	if column > lineWidth || before || after {
		low = max(0, first-lineWidth/3)
		for high = low; high < len(cells) && high-low < lineWidth; high++ {
		}
	}
	var b strings.Builder
	column = 0
	if low > 0 || before {
		b.WriteString("…")
		column++
	}
	from = -1
	for i := low; i < high; i++ {
		if i == first {
			from = column
		}
		if i < last {
			to = column + cells[i].width
		}
		b.WriteString(cells[i].text)
		column += cells[i].width
	}
	if from < 0 {
		from, to = column, column
	}
	shown = strings.TrimRight(b.String(), " ")
	if high < len(cells) || after {
		shown += "…"
	}
	return shown, from, max(from, to)
}

// mostLaidOut is how many bytes of a line before the mark, and from it on, are looked
// at: more than are shown, whatever they are.
const mostLaidOut = 4096

// aboutMark is the part of a line about the beginning of the mark, the mark in it, and
// whether there is more before and after.
func aboutMark(line string, start, end int) (part string, from, to int, before, after bool) {
	low, high := max(0, start-mostLaidOut), min(len(line), max(0, start)+mostLaidOut)
	for low > 0 && low < len(line) && !utf8.RuneStart(line[low]) {
		low--
	}
	for high < len(line) && !utf8.RuneStart(line[high]) {
		high++
	}
	low = min(low, high)
	return line[low:high], start - low, end - low, low > 0, high < len(line)
}

// mostSaid is how many bytes of a message a person is shown: what it quotes may be as
// long as a file.
const mostSaid = 4000

// clean replaces what would disturb a terminal in a message.
func clean(s string) string {
	if len(s) > mostSaid {
		cut := mostSaid
		for !utf8.RuneStart(s[cut]) && cut > mostSaid-utf8.UTFMax {
			cut--
		}
		s = s[:cut] + "…"
	}
	return strings.Map(func(r rune) rune {
		if r == '\n' || r == '\t' {
			return ' '
		}
		if source.Disturbs(r) {
			return '�'
		}
		return r
	}, s)
}

// width returns how many columns of a terminal a character takes, roughly:
// none for marks on the letter before, two for East Asian letters and
// pictures (the wide ranges of Unicode Standard Annex 11).
func width(r rune) int {
	switch {
	case r < 0x300:
		return 1
	case unicode.In(r, unicode.Mn, unicode.Me, unicode.Cf):
		return 0
	case r >= 0x1100 && r <= 0x115f,
		r >= 0x2e80 && r <= 0xa4cf && r != 0x303f,
		r >= 0xac00 && r <= 0xd7a3,
		r >= 0xf900 && r <= 0xfaff,
		r >= 0xfe30 && r <= 0xfe6f,
		r >= 0xff00 && r <= 0xff60,
		r >= 0xffe0 && r <= 0xffe6,
		r >= 0x1f300 && r <= 0x1f64f,
		r >= 0x1f900 && r <= 0x1f9ff,
		r >= 0x20000 && r <= 0x3fffd:
		return 2
	}
	return 1
}
