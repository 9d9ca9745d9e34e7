package orders

import (
	"fmt"
	"slices"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/cases"

	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/numeral"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// cells reads the values of a row. What a row lacks at its end is as if it were empty.
func (r *reader) cells(row *Row, record []string) {
	if len(record) > r.width && slices.ContainsFunc(record[r.width:], func(f string) bool { return !Empty(f) }) {
		row.Problems.Errorf("columns", row.At, "this row has %s, but the header names %d", count(len(record), "value"), r.width).
			WithHelp("put a value that holds %s in quotes, and leave no column out", signName(r.sep))
		r.firstNumber(row, record)
		return
	}
	row.Cells = make([]Cell, len(r.Columns))
	for k := range r.Columns {
		c := &r.Columns[k]
		switch i := r.from[k]; {
		case i < 0:
			row.Cells[k] = *c.Default
		case i >= len(record):
			row.Cells[k] = r.cell(&row.Problems, c, "", r.span(row.At.End, row.At.End))
		default:
			row.Cells[k] = r.cell(&row.Problems, c, record[i], r.field(i, record[i]))
		}
	}
	counts := r.Counts
	if counts == "" {
		counts = CopiesColumn
	}
	if i := find(r.Columns, counts); i >= 0 && r.Columns[i].Kind == unit.Count && row.OK() {
		if n := row.Cells[i].Number; n < 1 || n > MaxCopies {
			row.Problems.Errorf("copies", row.Cells[i].At, "an order can be made from 1 to %d times, not %s", MaxCopies, unit.FormatNumber(n, 0)).
				WithHelp("take the row out, or correct the number")
		}
	}
}

// firstNumber reads the number of a row with too many values where that stands first: which of the
// values after it was taken for two nobody can tell, but the other items of its order are to know of it.
func (r *reader) firstNumber(row *Row, record []string) {
	number := find(r.Columns, NumberColumn)
	if number < 0 || r.from[number] != 0 {
		return
	}
	row.Cells = slices.Repeat([]Cell{{At: row.At, unread: true}}, len(r.Columns))
	row.Cells[number] = r.cell(&row.Problems, &r.Columns[number], record[0], r.field(0, record[0]))
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func signName(sep rune) string {
	return map[rune]string{'\t': "a tab", ';': "a semicolon", ',': "a comma", '|': "a bar"}[sep]
}

// cell reads one value.
func (r *reader) cell(problems *diag.List, c *Column, text string, at source.Span) Cell {
	if n := utf8.RuneCountInString(text); n > MaxCell {
		problems.Errorf("table-too-large", at, "this %s has %d characters, and at most %d can be read", c.Name, n, MaxCell).WithHelp("shorten it")
		return Cell{At: at, unread: true}
	}
	cell := Cell{Text: text, At: at}
	if r.Clean {
		if clean, changes := Clean(text); len(changes) > 0 {
			cell.Text, cell.Cleaned = clean, &Cleaned{text, changes}
		}
	}
	if lostIn(text) || lostIn(cell.Text) || strings.Contains(text, lostTwice) {
		problems.Errorf("lost-character", at, "a character of this %s is lost: %q", c.Name, cut(text)).
			WithHelp("nobody can tell from the table what it was: ask whoever wrote it, and write it anew")
		return Cell{Text: text, At: at}
	}
	if Empty(cell.Text) {
		if c.Default == nil {
			problems.Errorf("empty", at, "this order has no %s", c.Name).
				WithHelp("fill it in, or give the column a default in the design")
			return Cell{At: at, unread: true}
		}
		standard := *c.Default
		standard.At, standard.Cleaned = at, cell.Cleaned
		return standard
	}
	switch {
	case c.Values != nil:
		return r.listed(problems, c, cell)
	case c.Kind == unit.Text:
		r.odd(problems, c, cell)
		cell.Text = strings.Clone(cell.Text)
		return cell
	}
	v, err := r.value(cell.Text, c.Kind)
	if err != nil {
		d := problems.Fail("value", at, err, "")
		if !r.Comma && r.decimalComma(cell.Text, c.Kind) {
			d.WithHelp("if all decimals of this table stand after a comma, write decimal = comma in the braces of its orders")
		}
	}
	cell.Text, cell.Number, cell.unread = "", v, err != nil
	return cell
}

// value reads a number as the table writes them.
func (r *reader) value(text string, kind unit.Kind) (float64, error) {
	if r.Comma {
		return numeral.ValueWithComma(text, kind, r.Unit)
	}
	return numeral.Value(text, kind, r.Unit)
}

// lostTwice is U+FFFD in UTF-8 that was read as windows-1252.
const lostTwice = "ï¿½"

// listed reads a value of a column that lists all that it may hold.
func (r *reader) listed(problems *diag.List, c *Column, cell Cell) Cell {
	i := slices.IndexFunc(c.Values, func(v string) bool { return Alike(v, cell.Text) })
	if i >= 0 {
		cell.Text = c.Values[i]
		return cell
	}
	d := problems.Errorf("not-listed", cell.At, "%q is none of what %s may be: %s", cut(cell.Text), c.Name, quotedList(c.Values))
	if near := spell.Nearest(cell.Text, c.Values); near != "" {
		d.WithHelp("did you mean %q?", near)
	} else {
		d.WithHelp("correct the cell, or add it to the list in the braces of the orders")
	}
	return cell
}

// Alike reports two values that are one but for capitals, blanks and how accents are put
// together. The capitals of ß are SS (full case folding of the Unicode Standard, section 3.13).
func Alike(a, b string) bool {
	plain := func(s string) string { return lookalike.Composed(strings.Join(strings.Fields(s), "")) }
	a, b = plain(a), plain(b)
	return strings.EqualFold(a, b) || beyondASCII([]byte(a+b)) >= 0 && cases.Fold().String(a) == cases.Fold().String(b)
}

// mostListed is how many values of a list are told.
const mostListed = 12

func quotedList(values []string) string {
	var quoted []string
	for _, v := range values[:min(len(values), mostListed)] {
		quoted = append(quoted, fmt.Sprintf("%q", v))
	}
	if more := len(values) - mostListed; more > 0 {
		quoted = append(quoted, fmt.Sprintf("%d more", more))
	}
	return strings.Join(quoted, ", ")
}

// odd warns of a text that its customer can hardly have written.
func (r *reader) odd(problems *diag.List, c *Column, cell Cell) {
	var what []string
	meant := ""
	for _, o := range Odd(cell.Text) {
		if !o.Look {
			what = append(what, o.What)
			meant = o.Meant
		}
	}
	if len(what) == 0 {
		return
	}
	d := problems.Warnf("odd-text", cell.At, "the %s %q %s", c.Name, cut(cell.Text), strings.Join(what, "; "))
	clean, sure := Meant(cell.Text)
	switch {
	case sure:
		d.WithHelp("%q is meant? Then correct it, or write clean = yes in the braces of the orders, which cleans all texts", cut(clean))
	case meant != "":
		d.WithHelp("%q may be meant: save the table anew in UTF-8, or correct it", cut(meant))
	default:
		d.WithHelp("ask whoever wrote it, and correct it or take the row out")
	}
}

// cut is the beginning of a text, for messages.
func cut(text string) string {
	const most = 60
	n := 0
	for i := range text {
		if n++; n > most {
			return text[:i] + "…"
		}
	}
	return text
}

// decimalComma reports whether a text would be a number with a comma for its point.
// In a count a comma can only part thousands.
func (r *reader) decimalComma(text string, kind unit.Kind) bool {
	if kind == unit.Count {
		return false
	}
	_, err := numeral.ValueWithComma(text, kind, r.Unit)
	return err == nil && strings.Contains(text, ",")
}

// shortRows are the rows that have fewer values than the header.
type shortRows struct {
	n     int
	first source.Span
	has   int // values of the first
	// kept says that some other row ends in an empty value, so whoever wrote the table
	// doesn't leave those out.
	kept bool
}

func (s *shortRows) see(record []string, width int, at source.Span) {
	switch {
	case len(record) >= width:
		s.kept = s.kept || width > 0 && record[width-1] == ""
	case s.n == 0:
		s.first, s.has = at, len(record)
		fallthrough
	default:
		s.n++
	}
}

// tell tells of short rows, once. Where other rows keep their empty values that is odd:
// a line break without quotes parts a row in two short ones.
func (s *shortRows) tell(diags *diag.List, width int) {
	if s.n == 0 {
		return
	}
	tell := diags.Infof
	if s.kept {
		tell = diags.Warnf
	}
	more := ""
	if s.n > 1 {
		more = fmt.Sprintf(", as have %d more", s.n-1)
	}
	tell("short-rows", s.first, "this row has %s where the header names %d%s: what they lack is as if it were empty", count(s.has, "value"), width, more).
		WithHelp("see that no line break stands in a value without quotes")
}
