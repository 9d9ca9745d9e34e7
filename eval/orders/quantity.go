package orders

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"foredge/lang/source"
	"foredge/lang/unit"
)

// A quantity is a column that the design doesn't read and that seems to say how often
// each order is made.
type quantity struct {
	column int // in the table
	at     source.Span
	// sure says that its heading can hardly mean anything else. Else its values must
	// look like it: all of them whole and small.
	sure, small, seen bool
}

// see notes a value of the column.
func (q *quantity) see(r *reader, record []string) {
	if q == nil || q.column >= len(record) || strings.TrimSpace(record[q.column]) == "" {
		return
	}
	n, err := r.value(record[q.column], unit.Count)
	q.small = q.small && err == nil && n <= mostSmall
	q.seen = true
}

// mostSmall is up to where a number is one that an order is made times, where the
// heading leaves it open.
const mostSmall = 100

// counted reports whether the table itself says in a declared column how often an order
// is made; the default of that column where it doesn't.
func (r *reader) counted() (is bool, standard *Cell) {
	i := find(r.Columns, cmp.Or(r.Counts, CopiesColumn))
	if i < 0 || r.Columns[i].Kind != unit.Count {
		return false, nil
	}
	return r.from[i] >= 0, r.Columns[i].Default
}

// quantityOf finds such a column among the headings; nil for none. Those that are meant for other
// columns are told of already.
func (r *reader) quantityOf(record []string, meant map[string]bool) *quantity {
	if is, _ := r.counted(); is {
		return nil
	}
	var found *quantity
	for i, heading := range record {
		name := plain(heading)
		sure := MeansCopies(name) && !isPieces(name)
		if meant[name] || r.declared(name) || !sure && !mayMeanCopies(name) || found != nil && (found.sure || !sure) {
			continue
		}
		found = &quantity{column: i, at: r.field(i, heading), sure: sure, small: true}
	}
	return found
}

// declared reports whether a heading, made plain, is that of a declared column.
func (r *reader) declared(name string) bool {
	return slices.ContainsFunc(r.Columns, func(c Column) bool { return c.called(name) })
}

// tell warns of the column.
func (q *quantity) tell(r *reader) {
	if q == nil || !q.sure && !(q.small && q.seen) {
		return
	}
	times, standard := "once", ""
	if _, d := r.counted(); d != nil {
		standard = fmt.Sprintf(" default %s", unit.FormatNumber(d.Number, 0))
		if d.Number != 1 {
			times = unit.FormatNumber(d.Number, 0) + " times"
		}
	}
	r.diags.Warnf("idle-column", q.at, "the design doesn't read this column, so each order is made %s", times).
		Note(r.At, "the orders are declared here").
		WithHelp("if it says how often an order is made, declare it, as in copies = count from %q%s; else give it another heading", strings.TrimSpace(q.at.Text()), standard)
}
