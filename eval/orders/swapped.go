package orders

import (
	"strings"
	"unicode"

	"foredge/lang/unit"
)

// swapped warns of a table whose orders are all numbered by words and called by digits: its two columns
// have each other's heading, and the digits would be lettered. One such order alone may be meant.
func (r *reader) swapped(t *Table) {
	own, label := t.Column(NumberColumn), t.LabelColumn()
	if own < 0 || label < 0 || len(t.Rows) < 2 || t.Columns[own].Kind != unit.Text || t.Columns[label].Values != nil {
		return
	}
	for i := range t.Rows {
		cells := t.Rows[i].Cells
		if max(own, label) >= len(cells) || cells[own].unread || cells[label].unread ||
			!wordsOnly(cells[own].Text) || !digitsOnly(cells[label].Text) {
			return
		}
	}
	first := t.Rows[0].Cells
	r.diags.Warnf("swapped-columns", first[label].At, "every %s of this table is a number, as %q, and every order's number is a word, as %q", t.Columns[label].Name,
		cut(first[label].Text), cut(first[own].Text)).
		Note(first[own].At, "the order's number is here").
		WithHelp("see whether the two columns have each other's headings")
}

// wordsOnly reports a text with letters and without digits, digitsOnly one of digits and blanks.
func wordsOnly(text string) bool {
	return strings.ContainsFunc(text, unicode.IsLetter) && !strings.ContainsFunc(text, unicode.IsDigit)
}

func digitsOnly(text string) bool {
	return strings.ContainsFunc(text, unicode.IsDigit) && !strings.ContainsFunc(text, func(c rune) bool { return !unicode.IsDigit(c) && !unicode.IsSpace(c) })
}
