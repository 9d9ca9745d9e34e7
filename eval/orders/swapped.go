package orders

import (
	"strings"
	"unicode"

	"foredge/lang/unit"
)

// mostSwapped is of how many orders it is told that two of their values are exchanged.
const mostSwapped = 20

// swapped warns of orders that are numbered by words and called by digits: all of a table's, whose two
// columns have each other's heading, or a few among others that are numbered by digits and called by words.
// The digits would be lettered. One such order alone may be meant.
func (r *reader) swapped(t *Table) {
	own, label := t.Column(NumberColumn), t.LabelColumn()
	if own < 0 || label < 0 || len(t.Rows) < 2 || t.Columns[own].Kind != unit.Text || t.Columns[label].Values != nil {
		return
	}
	var odd []*Row
	for i := range t.Rows {
		cells := t.Rows[i].Cells
		if max(own, label) >= len(cells) || cells[own].unread || cells[label].unread {
			return
		}
		number, name := cells[own].Text, cells[label].Text
		switch {
		case wordsOnly(number) && digitsOnly(name):
			odd = append(odd, &t.Rows[i])
		case !digitsOnly(number) || !wordsOnly(name):
			return
		}
	}
	switch {
	case len(odd) == len(t.Rows):
		first := t.Rows[0].Cells
		r.diags.Warnf("swapped-columns", first[label].At, "every %s of this table is a number, as %q, and every order's number is a word, as %q", t.Columns[label].Name,
			cut(first[label].Text), cut(first[own].Text)).
			Note(first[own].At, "the order's number is here").
			WithHelp("see whether the two columns have each other's headings")
	case len(odd) <= len(t.Rows)/3:
		for _, row := range odd[:min(len(odd), mostSwapped)] {
			r.diags.Warnf("swapped-columns", row.Cells[label].At, "the %s of this order is a number, %q, and its number is a word, %q; of the others it is the other way round", t.Columns[label].Name,
				cut(row.Cells[label].Text), cut(row.Cells[own].Text)).
				WithHelp("see whether the two values stand in each other's column")
		}
	}
}

// wordsOnly reports a text with letters and without digits, digitsOnly one of digits and blanks.
func wordsOnly(text string) bool {
	return strings.ContainsFunc(text, unicode.IsLetter) && !strings.ContainsFunc(text, unicode.IsDigit)
}

func digitsOnly(text string) bool {
	return strings.ContainsFunc(text, unicode.IsDigit) && !strings.ContainsFunc(text, func(c rune) bool { return !unicode.IsDigit(c) && !unicode.IsSpace(c) })
}
