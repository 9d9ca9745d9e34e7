package orders

import (
	"cmp"
	"slices"
	"strings"
	"unicode"

	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// The limits of a table.
const (
	MaxRows    = 100_000
	MaxColumns = 200
	MaxCell    = 2_000 // characters
)

// NumberColumn is the column that holds the orders' own numbers, if the design
// declares it; without it orders are numbered by their place in the table.
const NumberColumn = "number"

// TagColumn is what a design may speak of without declaring it: the number by which the
// order's files are called, which no other order of the table has.
const TagColumn = "tag"

// CopiesColumn is the column, a count, that says how often an order is made.
const CopiesColumn = "copies"

// MaxCopies is how often one order may be made.
const MaxCopies = 1_000

// A Column is one that a design declares.
type Column struct {
	Name    string
	From    []string    // the headings by which the table may call it, if not by its name
	Kind    unit.Kind   // Text, Count, Length, Angle or Ratio
	Values  []string    // of a Text column: all that it may hold, if that is stated
	Default *Cell       // what an empty cell holds; nil where it must be filled in
	At      source.Span // in the design
}

// heading is how the table is expected to call a column.
func (c *Column) heading() string {
	if len(c.From) > 0 {
		return c.From[0]
	}
	return c.Name
}

// A Cell is one value of a table.
type Cell struct {
	Text   string      // of a Text column, as written unless it was cleaned
	Number float64     // of the others: mm, degrees or a plain number
	At     source.Span // in the table; of an empty cell where it stands
	// Cleaned says what was cleaned of its text, nil where nothing was.
	Cleaned *Cleaned
	// unread says that its value can't be read.
	unread bool
}

// A Cleaned is what became of a text that was cleaned.
type Cleaned struct {
	Was     string // in the table
	Changes []string
}

// A Row is one order.
type Row struct {
	// Number is by which it is called: its own number, else its place in the table. Of
	// an order of several rows the number of the item follows, as in 1042-i2.
	Number   string
	Line     int // in the table, from 1
	At       source.Span
	Cells    []Cell // one for each declared column, in their order; nil where it can't be read
	Item     int    // which of an order's several rows it is, from 1; 0 where it is alone
	Items    int    // how many those are
	Problems diag.List
}

// OK reports whether the order can be used.
func (r *Row) OK() bool { return !r.Problems.HasErrors() }

// A Table is the orders of a file.
type Table struct {
	File    *source.File
	Columns []Column
	Rows    []Row
	// Counts is the name of the column that says how often an order is made; "" for
	// that which is called copies.
	Counts string
}

// Column finds a declared column by its name, -1 if there is none.
func (t *Table) Column(name string) int { return find(t.Columns, name) }

func find(columns []Column, name string) int {
	for i, c := range columns {
		if c.Name == name {
			return i
		}
	}
	return -1
}

// copies is the place of the column that says how often an order is made, -1 if none
// does.
func (t *Table) copies() int {
	i := t.Column(cmp.Or(t.Counts, CopiesColumn))
	if i >= 0 && t.Columns[i].Kind != unit.Count {
		return -1
	}
	return i
}

// IsCopies reports whether a column, by its place, says how often an order is made.
func (t *Table) IsCopies(column int) bool { return t.copies() == column }

// Copies is how often an order is made: 1 where no column says it.
func (t *Table) Copies(row int) int {
	i := t.copies()
	if i < 0 || i >= len(t.Rows[row].Cells) {
		return 1
	}
	return int(t.Rows[row].Cells[i].Number)
}

// MeansCopies reports whether a heading is a usual word for how often an order is
// made, copies included, or holds one, as order-qty does.
func MeansCopies(heading string) bool {
	switch heading {
	case "pieces", "times", "number-of-items", "number-of-pieces":
		return true
	}
	return isPieces(strings.ToLower(heading)) || slices.ContainsFunc(wordsOf(heading), isCopies)
}

// SurelyCopies reports whether it can hardly mean anything else: tabs-qty may be of tabs.
func SurelyCopies(heading string) bool {
	heading = strings.ToLower(heading)
	return isCopies(heading) || heading == "number-of-copies"
}

// isCopies reports a word, in small letters, by which tables say how often an order is made. Those of
// other languages are those of a shop's tables, from memory.
func isCopies(word string) bool {
	switch word {
	case CopiesColumn, "qty", "quantity", "anzahl", "menge", "stückzahl", "kopien", "exemplare", "exemplaires", "copias", "ejemplares", "esemplari", "quantité", "quantite", "qté", "qte", "cantidad", "quantità", "aantal", "antal", "ilość",
		"количество", "кол", "数量", "個数":
		return true
	}
	return false
}

// isPieces reports a word for pieces in another language, from memory. Of what a design doesn't declare
// as a count it may be the name.
func isPieces(word string) bool {
	switch word {
	case "stück", "stueck", "stk", "unidades", "pezzi", "pièces", "szt":
		return true
	}
	return false
}

// mayMeanCopies reports whether a heading may say how often an order is made, if its
// values look like it. From memory, no source.
func mayMeanCopies(heading string) bool {
	for _, word := range wordsOf(heading) {
		switch word {
		case "pcs", "units", "unit", "ordered", "amount", "count", "pieces", "times", "items", "auflage":
			return true
		}
		if isPieces(word) {
			return true
		}
	}
	return false
}

// wordsOf are the words of a heading in small letters.
func wordsOf(heading string) []string {
	return strings.FieldsFunc(strings.ToLower(heading), func(c rune) bool { return !unicode.IsLetter(c) })
}

// LabelColumn is the first column of texts that are not the orders' numbers: one of
// texts among which the design lists all that there may be only where there is no other.
// It is -1 if there is none.
func (t *Table) LabelColumn() int {
	listed := -1
	for i, c := range t.Columns {
		switch {
		case c.Kind != unit.Text || c.Name == NumberColumn:
		case c.Values == nil:
			return i
		case listed < 0:
			listed = i
		}
	}
	return listed
}

// Label is the first text of an order that is not its number, by which a
// person knows it; "" if there is none.
func (t *Table) Label(row int) string {
	if i := t.LabelColumn(); i >= 0 && i < len(t.Rows[row].Cells) {
		return t.Rows[row].Cells[i].Text
	}
	return ""
}
