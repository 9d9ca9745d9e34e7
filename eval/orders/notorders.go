package orders

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"foredge/lang/diag"
	"foredge/lang/source"
)

// headerAgain are the rows that are the header once more, as where several tables were
// joined. They are no orders.
type headerAgain struct {
	n     int
	first source.Span
}

// see reports whether a row is one of them.
func (h *headerAgain) see(record, heading []string, at source.Span) bool {
	same := func(a, b string) bool { return plain(a) == plain(b) }
	if !slices.EqualFunc(record, heading, same) {
		return false
	}
	if h.n == 0 {
		h.first = at
	}
	h.n++
	return true
}

func (h *headerAgain) tell(diags *diag.List) {
	if h.n == 0 {
		return
	}
	rows := "this row is the header once more, and is passed over"
	if h.n > 1 {
		rows = fmt.Sprintf("this row and %d more are the header once more, and are passed over", h.n-1)
	}
	diags.Infof("header-again", h.first, "%s", rows).
		WithHelp("see that no table was joined to this one twice")
}

// isSum reports whether a row begins with a word for the sum of those above it. From
// memory of tables of orders, no source.
func isSum(record []string) bool {
	i := slices.IndexFunc(record, func(f string) bool { return strings.TrimSpace(f) != "" })
	if i < 0 {
		return false
	}
	words := strings.FieldsFunc(record[i], func(c rune) bool { return !unicode.IsLetter(c) && !unicode.Is(unicode.M, c) })
	if len(words) > 1 && (strings.EqualFold(words[0], "grand") || strings.EqualFold(words[0], "sub")) {
		words = words[1:]
	}
	if len(words) == 0 {
		return false
	}
	switch strings.ToLower(words[0]) {
	case "total", "totals", "subtotal", "summe", "gesamt", "gesamtsumme", "insgesamt", "zwischensumme", "totale", "totaal", "itogo", "итого", "всего", "合計", "合计":
		return true
	case "sum", "suma", "somme": // also names: Suma Rao, but "sum of all" and "sum total"
		return len(words) == 1 || unicode.IsLower([]rune(words[1])[0]) || words[1] == "OF" || strings.EqualFold(words[1], "total")
	}
	return false
}

// tellSums warns of the last rows of all, so many of which each seems to be the sum of those above it.
func tellSums(all []Row, sums int) {
	rows := all[len(all)-sums:]
	above := "the sum of those above it"
	if sums == len(all) {
		above = "a sum, though nothing stands above it"
	}
	for i := range rows {
		row, which, made := &rows[i], "the last row", ""
		if i+1 < len(rows) {
			which = "this row at the end"
		}
		if row.OK() {
			made = ", and is made as an order"
		}
		row.Problems.Warnf("total-row", row.At, "%s of this table looks like %s%s", which, above, made).
			WithHelp("take it out of the table, if it is no order")
	}
}
