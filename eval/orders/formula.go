package orders

import (
	"encoding/csv"
	"errors"
	"fmt"
	"regexp"
	"strings"
	"sync"

	"foredge/lang/diag"
	"foredge/lang/source"
)

// inFormulas are the rows that have values as some programs write them so that a
// spreadsheet takes them for texts: ="0012".
type inFormulas struct {
	n     int
	first source.Span
}

func (f *inFormulas) see(at source.Span) {
	if f.n == 0 {
		f.first = at
	}
	f.n++
}

func (f *inFormulas) tell(diags *diag.List) {
	if f.n == 0 {
		return
	}
	more := ""
	if f.n > 1 {
		more = fmt.Sprintf(", as do %d more", f.n-1)
	}
	diags.Infof("in-formulas", f.first, "values of this row stand in formulas%s; each is read as the text in its quotes", more).
		WithHelp(`="0012" is 0012; see that no value lacks something`)
}

// read reads the next row. One that can't be read otherwise since values of it stand in
// formulas is read with these as values in quotes; formula reports that.
func (r *reader) read() (record []string, formula bool, err error) {
	if r.behind > 0 {
		r.readFrom(r.behind)
		r.behind = 0
	}
	record, err = r.csv.Read()
	var wrong *csv.ParseError
	if !errors.Is(err, csv.ErrBareQuote) || !errors.As(err, &wrong) {
		return record, false, err
	}
	line := wrong.StartLine + r.lines
	_, start := r.file.Line(line)
	row, in := quoted(r.file.Text()[start:], r.sep)
	if len(in) == 0 {
		return record, false, err
	}
	texts := csv.NewReader(strings.NewReader(row))
	texts.Comma, texts.FieldsPerRecord = r.sep, -1
	fields, failed := texts.Read()
	if failed != nil {
		return record, false, err
	}
	for _, i := range in {
		fields[i] = fields[i][1:]
	}
	r.csv, r.start, r.lines = texts, start, line-1
	r.behind = line + strings.Count(row, "\n")
	return fields, true, nil
}

// quoted writes the values of a text's first row that stand in formulas as values in quotes
// that are as long, "=0012" for ="0012", so that all places stay; in says which these are.
func quoted(text string, sep rune) (row string, in []int) {
	var out []byte
	field, begins := 0, true
	within, quotes := false, false // a field in quotes, and these are open: twice, they are one of it
	for i := 0; i < len(text); i++ {
		c := text[i]
		switch {
		case begins && strings.HasPrefix(text[i:], `="`):
			out = append(out, '"')
			c = '='
			i++
			in = append(in, field)
			begins, within, quotes = false, true, true
		case c == '"' && (begins || within):
			begins, within, quotes = false, true, !quotes
		case quotes:
		case c == '\n':
			return string(append(out, c)), in
		case rune(c) == sep:
			field++
			begins, within = true, false
		default:
			begins = false
		}
		out = append(out, c)
	}
	return string(out), in
}

// formulaField is a value in such a formula.
var formulaField = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^="[^"]*"$`) })

// unfold gives the values of a row that stand in formulas, themselves in quotes as a
// table has it ("=""0012"""), as what is in those. It reports whether there are any.
func unfold(record []string) bool {
	found := false
	for i, f := range record {
		if strings.HasPrefix(f, `="`) && formulaField().MatchString(f) {
			record[i], found = f[2:len(f)-1], true
		}
	}
	return found
}
