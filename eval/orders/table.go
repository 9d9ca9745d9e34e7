package orders

import (
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

// CopiesColumn is the column, a count, that says how often an order is made.
const CopiesColumn = "copies"

// MaxCopies is how often one order may be made.
const MaxCopies = 1_000

// A Column is one that a design declares.
type Column struct {
	Name    string
	Kind    unit.Kind   // Text, Count, Length, Angle or Ratio
	Default *Cell       // what an empty cell holds; nil where it must be filled in
	At      source.Span // in the design
}

// A Cell is one value of a table.
type Cell struct {
	Text   string      // of a Text column, as written
	Number float64     // of the others: mm, degrees or a plain number
	At     source.Span // in the table; of an empty cell where it stands
}

// A Row is one order.
type Row struct {
	Number   string // by which it is called: its own number, else its place in the table
	Line     int    // in the table, from 1
	At       source.Span
	Cells    []Cell // one for each declared column, in their order
	Problems diag.List
}

// OK reports whether the order can be used.
func (r *Row) OK() bool { return !r.Problems.HasErrors() }

// A Table is the orders of a file.
type Table struct {
	File    *source.File
	Columns []Column
	Rows    []Row
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

// Copies is how often an order is made: 1 where no column says it.
func (t *Table) Copies(row int) int {
	i := t.Column(CopiesColumn)
	if i < 0 || t.Columns[i].Kind != unit.Count || i >= len(t.Rows[row].Cells) {
		return 1
	}
	return int(t.Rows[row].Cells[i].Number)
}

// MeansCopies reports whether a heading is a usual word for how often an order is
// made, copies included.
func MeansCopies(heading string) bool {
	switch heading {
	case CopiesColumn, "qty", "quantity", "pieces", "number-of-copies", "times":
		return true
	}
	return false
}

// LabelColumn is the first column of texts that are not the orders' numbers, -1 if
// there is none.
func (t *Table) LabelColumn() int {
	for i, c := range t.Columns {
		if c.Kind == unit.Text && c.Name != NumberColumn {
			return i
		}
	}
	return -1
}

// Label is the first text of an order that is not its number, by which a
// person knows it; "" if there is none.
func (t *Table) Label(row int) string {
	if i := t.LabelColumn(); i >= 0 && i < len(t.Rows[row].Cells) {
		return t.Rows[row].Cells[i].Text
	}
	return ""
}
