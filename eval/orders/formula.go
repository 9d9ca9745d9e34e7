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

// formulaField is a value of a row in such a formula, from a sign or the beginning of
// the row on; what is in its quotes has none.
var formulaField = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^="[^"]*"$`) })

// formulas reads a row that can't be read otherwise since values of it stand in formulas;
// not ok for any other quotes where none belong.
func (r *reader) formulas(err error, record []string) (fields []string, ok bool) {
	var wrong *csv.ParseError
	if !errors.As(err, &wrong) || wrong.StartLine != wrong.Line {
		return record, false
	}
	line, start := r.file.Line(wrong.StartLine + r.lines)
	if !strings.Contains(line, `="`) {
		return record, false
	}
	lazy := csv.NewReader(strings.NewReader(line))
	lazy.Comma, lazy.FieldsPerRecord, lazy.LazyQuotes = r.sep, -1, true
	fields, err = lazy.Read()
	if err != nil {
		return record, false
	}
	for i, f := range fields {
		if formulaField().MatchString(f) {
			fields[i] = f[2 : len(f)-1]
		} else if strings.Contains(f, `"`) {
			return record, false
		}
	}
	r.csv, r.start, r.lines = lazy, start, wrong.StartLine+r.lines-1
	return fields, true
}

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
