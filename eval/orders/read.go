package orders

import (
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/cases"

	"foredge/lang/diag"
	"foredge/lang/lookalike"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
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
	// Clean says that texts are to be cleaned of what their customers didn't write.
	Clean bool
	// Counts is the column that says how often an order is made, "" for copies.
	Counts string
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
	text, wrong, err := decode(data, o.Encoding)
	if err != nil {
		r.diags.Fail("unknown-encoding", o.At, err, `name it as in encoding = "windows-1252"`)
		return nil, r.diags
	}
	r.file = source.New(name, text)
	switch {
	case wrong != nil && wrong.read:
		r.diags.Warnf("encoding", r.span(wrong.at, wrong.at), "%s", wrong.what).WithHelp("%s", wrong.help)
	case wrong != nil:
		r.diags.Errorf("encoding", r.span(wrong.at, wrong.at), "%s", wrong.what).WithHelp("%s", wrong.help)
		return nil, r.diags
	}
	line := 1
	if r.sep = saidSeparator(r.file); r.sep != 0 {
		line = 2
	} else {
		r.sep = separator(r.file)
	}
	r.readFrom(line)
	if !r.header() {
		return nil, r.diags
	}
	t := &Table{File: r.file, Columns: o.Columns, Counts: o.Counts}
	r.rows(t)
	if r.diags.HasErrors() {
		return nil, r.diags
	}
	r.again.tell(&r.diags)
	if len(t.Rows) == 0 {
		r.diags.Errorf("no-order", r.span(0, 0), "there is no order in this table").WithHelp("write the orders below the header, one to a line")
		return nil, r.diags
	}
	r.short.tell(&r.diags, r.width)
	r.quantity.tell(r)
	r.inFormulas.tell(&r.diags)
	r.number(t)
	r.swapped(t)
	sameNames(t)
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
	// behind is the line from which reading goes on behind a row with formulas, 0 if it
	// only goes on.
	behind int
	// from is, for each declared column, its place in the table, -1 if it isn't
	// there; width is how many columns the table has.
	from  []int
	width int
	short shortRows
	// quantity is a column that seems to say how often orders are made, though the design
	// doesn't read it.
	quantity *quantity
	heading  []string // the header
	again    headerAgain
	// inFormulas are the rows with values that stand in formulas.
	inFormulas inFormulas
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
// hyphens. A letter and its accent are one, as one character or as two.
func plain(heading string) string {
	return strings.Join(strings.FieldsFunc(cases.Fold().String(lookalike.Composed(heading)), func(c rune) bool {
		return unicode.IsSpace(c) || c == '_' || c == '-' || unseen(c)
	}), "-")
}

// called reports whether a heading, made plain, is that of a column.
func (c *Column) called(heading string) bool {
	if len(c.From) == 0 {
		return plain(c.Name) == heading
	}
	return slices.ContainsFunc(c.From, func(from string) bool { return plain(from) == heading })
}

// header finds the declared columns in the first record.
func (r *reader) header() bool {
	record, formula, err := r.read()
	for err == nil && blank(record) {
		record, formula, err = r.read()
	}
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
	for r.width > 0 && Empty(record[r.width-1]) { // a value below names nothing, so it is one too many
		r.width--
	}
	if unfold(record) || formula { // as programs write headings that write all values so
		line, _ := r.position(0)
		text, start := r.file.Line(line)
		r.inFormulas.see(r.span(start, start+len(text)))
	}
	places, spare := r.headings(record)
	if names := r.unmet(spare); len(names) > 1 {
		r.diags.Errorf("column", r.field(0, record[0]), "the first line of this table names none of the columns that the design asks for: %s", strings.Join(names, ", ")).
			WithHelp("a table begins with a header, such as %s: write one above the orders; or is this another file?", strings.Join(names, string(r.sep)))
		return false
	}
	meant := map[string]bool{}
	for i, c := range r.Columns {
		if r.from[i] < 0 {
			meant[r.missing(c, record, places, spare)] = true
		}
	}
	r.quantity, r.heading = r.quantityOf(record, meant), slices.Clone(record)
	return !r.diags.HasErrors()
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
		declared := false
		for k := range r.Columns {
			switch {
			case !r.Columns[k].called(name):
				continue
			case r.from[k] >= 0 && plain(record[r.from[k]]) != name:
				r.diags.Errorf("two-columns", at, "the table has two columns for %s", r.Columns[k].Name).Note(r.field(r.from[k], record[r.from[k]]), "the first is here").
					WithHelp("take one of them out of the table, or its heading out of the design")
			case r.from[k] >= 0:
				r.diags.Errorf("two-columns", at, "the table has two columns called %q", name).Note(r.field(r.from[k], record[r.from[k]]), "the first is here").
					WithHelp("give one of them another heading")
			default:
				r.from[k] = i
			}
			declared = true
		}
		if !declared && name != "" {
			spare = append(spare, name)
		}
		if _, ok := places[name]; !ok {
			places[name] = at
		}
	}
	return places, spare
}

// missing tells of a column that the table doesn't have; near is the heading that may be meant,
// "" for none.
func (r *reader) missing(c Column, record []string, places map[string]source.Span, spare []string) (near string) {
	near = spell.Nearest(plain(c.heading()), spare)
	switch {
	case near != "" && c.Default == nil:
		r.diags.Errorf("column", c.At, "the table has no column %q", c.heading()).
			Note(places[near], "this one is called %q", near).WithHelp("did you mean %s?", near)
	case c.Default == nil:
		r.diags.Errorf("column", c.At, "the table has no column %q", c.heading()).
			Note(r.field(0, record[0]), "its columns are %s", strings.Join(record, ", ")).
			WithHelp("%s", whichHeading(c, places, spare))
	case near != "":
		r.diags.Warnf("column", c.At, "the table has no column %q, so every order gets its default", c.heading()).
			Note(places[near], "but this one is called %q", near).WithHelp("did you mean %s?", near)
	}
	return near
}

// whichHeading says what to do about a column that the table doesn't have and that no
// heading is like.
func whichHeading(c Column, places map[string]source.Span, spare []string) string {
	switch len(spare) {
	case 0:
		return "add it to the table, or give it a default"
	case 1:
		return fmt.Sprintf("say which one it is, as in %s = %s from %q, or give it a default", c.Name, c.Kind, strings.TrimSpace(strings.Trim(places[spare[0]].Text(), `"`)))
	}
	return fmt.Sprintf("say which one it is, by its heading: %s = %s from \"...\", or give it a default", c.Name, c.Kind)
}

// unmet lists the columns that must be there, if no heading is that of any column
// or like one.
func (r *reader) unmet(spare []string) []string {
	var names []string
	for k, c := range r.Columns {
		switch {
		case r.from[k] >= 0 || spell.Nearest(plain(c.heading()), spare) != "":
			return nil
		case c.Default == nil:
			names = append(names, c.heading())
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
	unreadable, sums := 0, 0 // sums are those at the end, until now
	for {
		record, formula, err := r.read()
		if errors.Is(err, io.EOF) {
			tellSums(t.Rows, sums)
			return
		}
		row := Row{}
		var wrong *csv.ParseError
		if errors.As(err, &wrong) {
			row.Line = wrong.StartLine + r.lines
			text, start := r.file.Line(row.Line)
			row.At = r.span(start, start+len(text))
			r.unreadable(err, &row.Problems)
			sums = 0
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
			formula = unfold(record) || formula
			if r.again.see(record, r.heading, row.At) {
				continue
			}
			if sums++; !isSum(record) {
				sums = 0
			}
			r.short.see(record, r.width, row.At)
			r.swallowed(&row, record)
			r.quantity.see(r, record)
			r.cells(&row, record)
			if row.OK() && !slices.ContainsFunc(record, func(f string) bool { return !Empty(f) }) {
				row.Problems.Errorf("empty", row.At, "nothing can be seen in this row, but it isn't blank").WithHelp("take it out, or write the order anew")
			}
			if formula {
				r.inFormulas.see(row.At)
			}
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
