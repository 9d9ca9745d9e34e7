package columns

import (
	"slices"
	"strings"
	"unicode"

	"foredge/eval/orders"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// choices is how many texts a column may hold that is taken to choose among some.
const choices = 1000

// Unlike warns of texts of the orders and of conditions that nearly meet: where one of the two is
// a slip, what hangs on it is left out of a cover. Asked are the texts with which the design's files
// compare each column.
func Unlike(t *orders.Table, asked map[string][]*ast.String) diag.List {
	var diags diag.List
	for i, c := range t.Columns {
		if c.Kind != unit.Text || c.Values != nil || len(asked[c.Name]) == 0 {
			continue // what a list holds is looked up in that
		}
		k := choosing{column: c.Name, asked: asked[c.Name], words: map[string]bool{}, held: map[string]*orders.Cell{}}
		for _, text := range k.asked {
			k.words[text.Value] = true
		}
		if k.read(t, i); len(k.held) <= choices {
			k.tell(&diags)
		}
	}
	return diags
}

// A choosing is a column by whose texts conditions choose.
type choosing struct {
	column string
	asked  []*ast.String
	words  map[string]bool         // that are asked for
	held   map[string]*orders.Cell // what the orders hold, by its text, where it first stands
	others []string                // of these what nothing asks for, in their order
}

// read notes what the orders hold. What an empty cell holds is the design's own.
func (k *choosing) read(t *orders.Table, column int) {
	for r := range t.Rows {
		if column >= len(t.Rows[r].Cells) || len(k.held) > choices {
			continue
		}
		cell := &t.Rows[r].Cells[column]
		if k.held[cell.Text] != nil {
			continue
		}
		if k.held[cell.Text] = cell; !k.words[cell.Text] && cell.At.Start < cell.At.End {
			k.others = append(k.others, cell.Text)
		}
	}
}

func (k *choosing) tell(diags *diag.List) {
	told := map[string]bool{}
	for _, text := range k.asked {
		if k.held[text.Value] != nil {
			continue
		}
		i := slices.IndexFunc(k.others, func(o string) bool { return !told[o] && (slip(o, text.Value) || exchanged(o, text.Value)) })
		if i < 0 {
			continue
		}
		near := k.others[i]
		told[near] = true
		diags.Warnf("unlike-text", text.Span(), "no order's %s is %q, but there is %q, for which nothing asks", k.column, text.Value, near).
			Note(k.held[near].At, "it is here").WithHelp("let both be the same, or let the column be one of a list, as in %s = one of %q, ...", k.column, text.Value)
	}
	for _, other := range k.others {
		i := slices.IndexFunc(k.asked, func(text *ast.String) bool { return k.held[text.Value] != nil && slip(other, text.Value) })
		if i < 0 || told[other] {
			continue
		}
		diags.Warnf("unlike-text", k.held[other].At, "%s is %q, and nothing asks for that", k.column, other).
			Note(k.asked[i].Span(), "this asks for %q", k.asked[i].Value).
			WithHelp("let both be the same, or let the column be one of a list, as in %s = one of %q, ...", k.column, k.asked[i].Value)
	}
}

// slip reports whether one of two texts is hardly another that is meant: they differ in
// capitals, blanks, hyphens and the like alone or, if they are words, in two letters that have
// changed places or one that is missing or too many in the middle. Large and larger are two.
func slip(a, b string) bool {
	x, y := plain(a), plain(b)
	if slices.Equal(x, y) {
		return true
	}
	if !spell.IsWord(a) || !spell.IsWord(b) || min(len(x), len(y)) < 4 {
		return false
	}
	if len(x) < len(y) {
		x, y = y, x
	}
	from, to := 0, len(x)-1 // where they differ
	for from < len(y) && x[from] == y[from] {
		from++
	}
	for gap := len(x) - len(y); to-gap >= from && to > from && x[to] == y[to-gap]; {
		to--
	}
	switch len(x) - len(y) {
	case 0:
		return to == from+1 && x[from] == y[to] && x[to] == y[from]
	case 1:
		return to == from && from > 0 && from < len(x)-1
	}
	return false
}

// exchanged reports whether two words differ in one letter, which may be meant: fern and tern.
func exchanged(a, b string) bool {
	x, y := plain(a), plain(b)
	if !spell.IsWord(a) || !spell.IsWord(b) || len(x) != len(y) || len(x) < 4 {
		return false
	}
	n := 0
	for i := range x {
		if x[i] != y[i] {
			n++
		}
	}
	return n == 1
}

// plain is a text without capitals, and without what is no letter or, where it has digits, without
// blanks: what isn't told apart at a glance.
func plain(s string) []rune {
	digits := strings.ContainsFunc(s, unicode.IsDigit)
	return []rune(strings.Map(func(r rune) rune {
		if digits && !unicode.IsSpace(r) || unicode.IsLetter(r) {
			return unicode.ToLower(r)
		}
		return -1
	}, s))
}
