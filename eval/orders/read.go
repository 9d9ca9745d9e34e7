package orders

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"foredge/lang/diag"
	"foredge/lang/numeral"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"

	"golang.org/x/text/unicode/norm"
)

// Options say what a table should hold.
type Options struct {
	Columns  []Column
	Encoding string      // "" for UTF-8
	At       source.Span // where the design names the table
	// Unit is what a bare number means in a column of lengths.
	Unit unit.Unit
	// Comma says that a comma stands before the decimals of numbers.
	Comma bool
}

// Read reads a table, which messages call name. The diagnostics are about the
// table as a whole; what is wrong with a row stands there. The table is nil
// only if its rows can't be told apart: after an error.
func Read(name string, data []byte, o Options) (*Table, diag.List) {
	r := &reader{Options: o}
	if what, help := notText(data, o.Encoding); what != "" {
		r.diags.Errorf("encoding", source.Span{File: source.New(name, nil)}, "%s", what).WithHelp("%s", help)
		return nil, r.diags
	}
	text, bad, err := decode(data, o.Encoding)
	if err != nil {
		r.diags.Fail("unknown-encoding", o.At, err, `name it as in encoding = "windows-1252"`)
		return nil, r.diags
	}
	r.file = source.New(name, text)
	if bad >= 0 {
		d := r.diags.Errorf("encoding", r.span(bad, bad), "this character can't be read")
		if o.Encoding == "" {
			d.WithHelp(`save the table as UTF-8, or say what it is written in, as in encoding = "windows-1252"`)
		} else {
			d.WithHelp("the table is not written in %s, or it is damaged here", o.Encoding)
		}
		return nil, r.diags
	}
	r.sep = separator(r.file)
	r.readFrom(1)
	if !r.header() {
		return nil, r.diags
	}
	t := &Table{File: r.file, Columns: o.Columns}
	r.rows(t)
	if r.diags.HasErrors() {
		return nil, r.diags
	}
	if len(t.Rows) == 0 {
		r.diags.Errorf("no-order", r.span(0, 0), "there is no order in this table").WithHelp("write the orders below the header, one to a line")
		return nil, r.diags
	}
	r.number(t)
	return t, r.diags
}

// reader reads one table.
type reader struct {
	Options
	file  *source.File
	csv   *csv.Reader
	sep   rune
	diags diag.List
	// lines and start are where the csv reader began: how many lines stand before,
	// and how many bytes.
	lines, start int
	// from is, for each declared column, its place in the table, -1 if it isn't
	// there; width is how many columns the table has.
	from  []int
	width int
}

// readFrom lets reading go on at a line, counted from 1.
func (r *reader) readFrom(line int) {
	_, r.start = r.file.Line(line)
	r.lines = line - 1
	r.csv = csv.NewReader(strings.NewReader(r.file.Text()[r.start:]))
	r.csv.Comma, r.csv.FieldsPerRecord, r.csv.ReuseRecord = r.sep, -1, true
}

// offset is how far the text is read.
func (r *reader) offset() int { return r.start + int(r.csv.InputOffset()) }

// position is the line and column of a field of the record that was read last.
func (r *reader) position(field int) (line, column int) {
	line, column = r.csv.FieldPos(field)
	return line + r.lines, column
}

func (r *reader) span(start, end int) source.Span {
	return source.Span{File: r.file, Start: start, End: max(start, end)}
}

// field is the place of a field of the record that was read last.
func (r *reader) field(i int, text string) source.Span {
	line, column := r.position(i)
	whole, start := r.file.Line(line)
	at := start + min(column-1, len(whole))
	if strings.HasPrefix(r.file.Text()[at:], `"`) {
		return r.span(at, min(at+len(text)+2, start+len(whole)))
	}
	return r.span(at, min(at+len(text), start+len(whole)))
}

// plain is a heading as columns are named in a design: small letters, with
// hyphens.
func plain(heading string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(heading), func(c rune) bool {
		return unicode.IsSpace(c) || c == '_' || c == '-'
	}), "-")
}

// header finds the declared columns in the first record.
func (r *reader) header() bool {
	record, err := r.csv.Read()
	if errors.Is(err, io.EOF) {
		r.diags.Errorf("no-order", r.span(0, 0), "this table is empty").
			WithHelp("its first line names the columns, and each line below is an order")
		return false
	}
	if err != nil {
		r.unreadable(err, &r.diags)
		return false
	}
	if len(record) > MaxColumns {
		r.diags.Errorf("table-too-large", r.field(0, record[0]), "this table has %d columns, and at most %d can be read", len(record), MaxColumns).
			WithHelp("is this the right file?")
		return false
	}
	r.width = len(record)
	places, spare := r.headings(record)
	if names := r.unmet(spare); len(names) > 1 {
		r.diags.Errorf("column", r.field(0, record[0]), "the first line of this table names none of the columns that the design asks for: %s", strings.Join(names, ", ")).
			WithHelp("a table begins with a header, such as %s: write one above the orders; or is this another file?", strings.Join(names, string(r.sep)))
		return false
	}
	for i, c := range r.Columns {
		if r.from[i] < 0 {
			r.missing(c, record, places, spare)
		}
	}
	r.uncounted(places, spare)
	return !r.diags.HasErrors()
}

// uncounted warns of a column that seems to say how often each order is made, where
// the design doesn't read it.
func (r *reader) uncounted(places map[string]source.Span, spare []string) {
	if find(r.Columns, CopiesColumn) >= 0 {
		return
	}
	for _, name := range spare {
		if MeansCopies(name) {
			r.diags.Warnf("idle-column", places[name], "the design doesn't read this column, so each order is made once").
				Note(r.At, "the orders are declared here").
				WithHelp("if it says how often an order is made, call it copies and declare it, as in copies = count default 1; else give it another heading")
			return
		}
	}
}

// headings finds where in the header the declared columns stand. places are those
// of all headings by their names, spare the names that no column is declared for.
func (r *reader) headings(record []string) (places map[string]source.Span, spare []string) {
	r.from = make([]int, len(r.Columns))
	for i := range r.from {
		r.from[i] = -1
	}
	places = map[string]source.Span{}
	for i, heading := range record {
		name, at := plain(heading), r.field(i, heading)
		column := slices.IndexFunc(r.Columns, func(c Column) bool { return plain(c.Name) == name })
		switch {
		case column < 0 && name != "":
			spare = append(spare, name)
		case column >= 0 && r.from[column] >= 0:
			r.diags.Errorf("two-columns", at, "the table has two columns called %q", name).Note(places[name], "the first is here").
				WithHelp("give one of them another heading")
		case column >= 0:
			r.from[column] = i
		}
		if _, ok := places[name]; !ok {
			places[name] = at
		}
	}
	return places, spare
}

// missing tells of a column that the table doesn't have.
func (r *reader) missing(c Column, record []string, places map[string]source.Span, spare []string) {
	near := spell.Nearest(c.Name, spare)
	switch {
	case near != "" && c.Default == nil:
		r.diags.Errorf("column", c.At, "the table has no column %q", c.Name).
			Note(places[near], "this one is called %q", near).WithHelp("did you mean %s?", near)
	case c.Default == nil:
		r.diags.Errorf("column", c.At, "the table has no column %q", c.Name).
			Note(r.field(0, record[0]), "its columns are %s", strings.Join(record, ", ")).
			WithHelp("name the column as the table does, or give it a default")
	case near != "":
		r.diags.Warnf("column", c.At, "the table has no column %q, so every order gets its default", c.Name).
			Note(places[near], "but this one is called %q", near).WithHelp("did you mean %s?", near)
	}
}

// unmet lists the columns that must be there, if no heading is that of any column
// or like one.
func (r *reader) unmet(spare []string) []string {
	var names []string
	for k, c := range r.Columns {
		switch {
		case r.from[k] >= 0 || spell.Nearest(c.Name, spare) != "":
			return nil
		case c.Default == nil:
			names = append(names, c.Name)
		}
	}
	return names
}

// unreadable tells of a record whose quotes don't match.
func (r *reader) unreadable(err error, diags *diag.List) {
	var wrong *csv.ParseError
	if !errors.As(err, &wrong) {
		diags.Fail("quotes", r.span(0, 0), err, "save the table again")
		return
	}
	text, start := r.file.Line(wrong.Line + r.lines)
	at := r.span(start+min(wrong.Column-1, len(text)), start+len(text))
	switch {
	case errors.Is(err, csv.ErrBareQuote):
		diags.Errorf("quotes", at, "there is a quote inside a field that doesn't begin with one").
			WithHelp(`put the whole field in quotes and double those in it: "Ann ""Nan"" Lee"`)
	case r.unclosed(wrong):
		text, start := r.file.Line(wrong.StartLine + r.lines)
		diags.Errorf("quotes", r.span(start, start+len(text)), "a quote that opens in this row is never closed").
			WithHelp(`close it, or double a quote that belongs to the text: ""`)
	default:
		diags.Errorf("quotes", at, "there is text after the closing quote of this field").
			WithHelp(`double a quote that belongs to the text: "Ann ""Nan"" Lee"`)
	}
}

// unclosed reports whether what is wrong is a quote without its fellow.
func (r *reader) unclosed(wrong *csv.ParseError) bool {
	_, start := r.file.Line(wrong.StartLine + r.lines)
	return wrong.Line > wrong.StartLine || strings.Count(r.file.Text()[start:r.offset()], `"`)%2 == 1
}

// maxUnreadable is how many rows may have wrong quotes: each takes a look at
// all that follows.
const maxUnreadable = 100

// rows reads the records below the header.
func (r *reader) rows(t *Table) {
	unreadable := 0
	for {
		record, err := r.csv.Read()
		if errors.Is(err, io.EOF) {
			return
		}
		row := Row{}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			row.Line = wrong.StartLine + r.lines
			text, start := r.file.Line(row.Line)
			row.At = r.span(start, start+len(text))
			r.unreadable(err, &row.Problems)
			if unreadable++; unreadable > maxUnreadable {
				r.diags.Errorf("quotes", row.At, "more than %d rows of this table have wrong quotes", maxUnreadable).
					WithHelp("save the table again as CSV; is this the right file?")
				return
			}
			r.readFrom(row.Line + 1) // what the quote swallowed are orders of their own
		} else {
			if blank(record) {
				continue
			}
			row.Line, _ = r.position(0)
			_, start := r.file.Line(row.Line)
			row.At = r.span(start, start+len(strings.TrimRight(r.file.Text()[start:r.offset()], "\r\n")))
			r.cells(&row, record)
		}
		if len(t.Rows) == MaxRows {
			r.diags.Errorf("table-too-large", row.At, "this table has more than %d orders", MaxRows).WithHelp("split it into several tables")
			return
		}
		t.Rows = append(t.Rows, row)
	}
}

// blank reports a record of empty cells, as spreadsheets leave below a table.
func blank(record []string) bool {
	for _, f := range record {
		if strings.TrimSpace(f) != "" {
			return false
		}
	}
	return true
}

func (r *reader) cells(row *Row, record []string) {
	if len(record) > r.width || len(record) < r.width {
		row.Problems.Errorf("columns", row.At, "this row has %s, but the header names %d", count(len(record), "value"), r.width).
			WithHelp("put a value that holds %s in quotes, and leave no column out", signName(r.sep))
		return
	}
	row.Cells = make([]Cell, len(r.Columns))
	for k, c := range r.Columns {
		if r.from[k] < 0 {
			row.Cells[k] = *c.Default
			continue
		}
		text := record[r.from[k]]
		at := r.field(r.from[k], text)
		row.Cells[k] = r.cell(&row.Problems, c, text, at)
	}
	if i := find(r.Columns, CopiesColumn); i >= 0 && r.Columns[i].Kind == unit.Count && row.OK() {
		if n := row.Cells[i].Number; n < 1 || n > MaxCopies {
			row.Problems.Errorf("copies", row.Cells[i].At, "an order can be made from 1 to %d times, not %s", MaxCopies, unit.FormatNumber(n, 0)).
				WithHelp("take the row out, or correct the number")
		}
	}
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func signName(sep rune) string {
	return map[rune]string{'\t': "a tab", ';': "a semicolon", ',': "a comma"}[sep]
}

// cell reads one value.
func (r *reader) cell(problems *diag.List, c Column, text string, at source.Span) Cell {
	if strings.TrimSpace(text) == "" {
		if c.Default == nil {
			problems.Errorf("empty", at, "this order has no %s", c.Name).
				WithHelp("fill it in, or give the column a default in the design")
			return Cell{At: at}
		}
		cell := *c.Default
		cell.At = at
		return cell
	}
	if n := utf8.RuneCountInString(text); n > MaxCell {
		problems.Errorf("table-too-large", at, "this %s has %d characters, and at most %d can be read", c.Name, n, MaxCell).WithHelp("shorten it")
		return Cell{At: at}
	}
	if c.Kind == unit.Text {
		return Cell{Text: strings.Clone(text), At: at}
	}
	read := numeral.Value
	if r.Comma {
		read = numeral.ValueWithComma
	}
	v, err := read(text, c.Kind, r.Unit)
	if err != nil {
		d := problems.Fail("value", at, err, "")
		if !r.Comma && r.decimalComma(text, c.Kind) {
			d.WithHelp("if all decimals of this table stand after a comma, write decimal = comma in the braces of its orders")
		}
	}
	return Cell{Number: v, At: at}
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

// otherDigit reports digits of other scripts than ours.
func otherDigit(c rune) bool { return c > '9' && unicode.IsDigit(c) }

// number gives each order the number by which it is called.
func (r *reader) number(t *Table) {
	own := t.Column(NumberColumn)
	digits := max(4, len(fmt.Sprint(len(t.Rows))))
	first := map[string]int{}
	for i := range t.Rows {
		row := &t.Rows[i]
		row.Number = fmt.Sprintf("%0*d", digits, i+1)
		if own < 0 || own >= len(row.Cells) {
			continue
		}
		cell := row.Cells[own]
		text := cell.Text
		if t.Columns[own].Kind != unit.Text {
			text = unit.FormatNumber(cell.Number, 0)
		}
		// Without hyphens: all before the first hyphen of a file's name is the number.
		key := strings.ReplaceAll(slug(text), "-", "")
		switch before, taken := first[key]; {
		case !row.OK():
		case strings.ContainsFunc(norm.NFKD.String(text), otherDigit):
			row.Problems.Errorf("order-number", cell.At, "this order's number %q is written in other digits than 0 to 9, which names of files don't take", text).
				WithHelp("write it in the digits 0 to 9")
		case key == "":
			row.Problems.Errorf("order-number", cell.At, "this order's number has no letter or digit in it, so its files can't be named after it").
				WithHelp("number orders by letters a to z, digits and hyphens")
		case taken:
			row.Problems.Errorf("same-number", cell.At, "two orders would be called %s in the names of files", key).
				Note(t.Rows[before].At, "the first is here").WithHelp("give each order a number of its own")
		default:
			first[key], row.Number = i, key
		}
	}
}
