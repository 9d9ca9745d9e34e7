package orders

import (
	"fmt"
	"strings"
	"unicode"

	"foredge/lang/lookalike"
	"foredge/lang/unit"

	"golang.org/x/text/unicode/norm"
)

// otherDigit reports digits of other scripts than ours.
func otherDigit(c rune) bool { return c > '9' && unicode.IsDigit(c) }

// An owned number is one that rows have in their own column.
type owned struct {
	written string
	rows    []int
}

// number gives each order the number by which it is called. Rows with one number are
// the items of one order.
func (r *reader) number(t *Table) {
	own := t.Column(NumberColumn)
	digits := max(4, len(fmt.Sprint(len(t.Rows))))
	numbers := map[string]*owned{}
	for i := range t.Rows {
		row := &t.Rows[i]
		row.Number = fmt.Sprintf("%0*d", digits, i+1)
		if own < 0 || own >= len(row.Cells) || row.Cells[own].unread {
			continue
		}
		text := row.Cells[own].Text
		if t.Columns[own].Kind == unit.Count {
			text = unit.FormatNumber(row.Cells[own].Number, 0)
		}
		r.own(t, i, strings.TrimSpace(text), own, numbers)
	}
	for key, n := range numbers {
		for k, i := range n.rows {
			row := &t.Rows[i]
			row.Number = key
			if len(n.rows) > 1 {
				row.Number, row.Item, row.Items = fmt.Sprintf("%s-i%d", key, k+1), k+1, len(n.rows)
			}
		}
		tellItems(t, n)
	}
}

// own notes the number that a row has of its own.
func (r *reader) own(t *Table, i int, text string, column int, numbers map[string]*owned) {
	row := &t.Rows[i]
	cell := row.Cells[column]
	// Without hyphens: all before the first hyphen of a file's name is the number.
	key := strings.ReplaceAll(slug(text), "-", "")
	switch n := numbers[key]; {
	case lostIn(text), Empty(text) && !row.OK():
	case strings.ContainsFunc(norm.NFKD.String(text), otherDigit):
		row.Problems.Errorf("order-number", cell.At, "this order's number %q is written in other digits than 0 to 9, which names of files don't take", text).
			WithHelp("write it in the digits 0 to 9")
	case key == "":
		row.Problems.Errorf("order-number", cell.At, "this order's number has no letter or digit in it, so its files can't be named after it").
			WithHelp("number orders by letters a to z, digits and hyphens")
	case n == nil:
		numbers[key] = &owned{text, []int{i}}
	case n.written != text:
		row.Number = text
		row.Problems.Errorf("same-number", cell.At, "two orders would be called %s in the names of files: %s and %s", key, n.written, text).
			Note(t.Rows[n.rows[0]].At, "the first is here").WithHelp("give each order a number of its own")
	default:
		n.rows = append(n.rows, i)
	}
}

// tellItems warns of rows of one number that may be a slip: apart from the others, or
// the same as another.
func tellItems(t *Table, n *owned) {
	seen := map[string]int{}
	for k, i := range n.rows {
		row := &t.Rows[i]
		if !row.OK() {
			continue
		}
		var all strings.Builder
		for _, c := range row.Cells {
			fmt.Fprintf(&all, "%q %v ", c.Text, c.Number)
		}
		before, same := seen[all.String()]
		if !same {
			seen[all.String()] = i
		}
		switch {
		case same:
			row.Problems.Warnf("same-item", row.At, "order %s has this very row twice, so it is made twice", n.written).
				Note(t.Rows[before].At, "the first is here").WithHelp("take one of them out, if it got there by mistake")
		case k > 0 && i != n.rows[k-1]+1:
			row.Problems.Warnf("items-apart", row.At, "order %s comes again here, apart from its other rows: it is taken for another item of it", n.written).
				Note(t.Rows[n.rows[k-1]].At, "the one before is here").WithHelp("if it is another order, give it a number of its own; else move the rows together")
		}
	}
}

// Order is a row's number without that of its item.
func (r *Row) Order() string {
	before, _, _ := strings.Cut(r.Number, "-")
	return before
}

// sameNames notes of orders that have the text of another one by which a person would
// know it. Items of one order may.
func sameNames(t *Table) {
	label := t.LabelColumn()
	if label < 0 {
		return
	}
	first := map[string]int{}
	for i := range t.Rows {
		row := &t.Rows[i]
		if !row.OK() || row.Cells[label].At.File != t.File {
			continue
		}
		key := strings.Join(strings.Fields(lookalike.Key(row.Cells[label].Text)), " ")
		if t.Columns[label].Values != nil || key == "" {
			continue
		}
		before, known := first[key]
		switch {
		case !known:
			first[key] = i
		case row.Item > 0 && row.Order() == t.Rows[before].Order():
		default:
			row.Problems.Infof("same-name", row.Cells[label].At, "order %s has the same %s as order %s: %q", row.Number, t.Columns[label].Name, t.Rows[before].Number, cut(row.Cells[label].Text)).
				Note(t.Rows[before].At, "that one is here").WithHelp("see that it isn't one order twice; their numbers tell them apart")
		}
	}
}
