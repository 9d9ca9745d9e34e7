package columns

import (
	"slices"
	"strings"

	"foredge/eval/orders"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// choices is how many texts a column may hold that is taken to choose among some.
const choices = 100

// Unlike warns of texts of the orders and of conditions that nearly meet: where one of the two is
// a slip, what hangs on it is left out of a cover. Asked are the texts with which the design's files
// compare each column.
func Unlike(t *orders.Table, asked map[string][]*ast.String) diag.List {
	var diags diag.List
	for i, c := range t.Columns {
		texts := asked[c.Name]
		if c.Kind != unit.Text || c.Values != nil || len(texts) == 0 {
			continue // what a list holds is looked up in that
		}
		var words []string
		for _, text := range texts {
			words = append(words, text.Value)
		}
		var held, others []string // texts of the orders, and those for which nothing asks
		first := map[string]*orders.Cell{}
		for r := range t.Rows {
			if i >= len(t.Rows[r].Cells) {
				continue
			}
			cell := &t.Rows[r].Cells[i]
			if first[cell.Text] != nil {
				continue
			}
			first[cell.Text] = cell
			if held = append(held, cell.Text); !slices.Contains(words, cell.Text) && spell.IsWord(cell.Text) {
				others = append(others, cell.Text)
			}
			if len(held) > choices {
				break
			}
		}
		if len(held) > choices {
			continue
		}
		for _, text := range texts {
			if slices.Contains(held, text.Value) || !spell.IsWord(text.Value) {
				continue
			}
			if near := spell.Nearest(text.Value, others); near != "" {
				diags.Warnf("unlike-text", text.Span(), "no order's %s is %q, but there is %q, for which nothing asks", c.Name, text.Value, near).
					Note(first[near].At, "the first is here").WithHelp("did you mean %q in both?", near)
				others = slices.DeleteFunc(others, func(s string) bool { return s == near })
			}
		}
		for _, text := range others {
			near := spell.Nearest(text, words)
			if !slices.Contains(held, near) || !spell.IsWord(near) || !typedWrong(text, near) {
				continue
			}
			diags.Warnf("unlike-text", first[text].At, "%s is %q, and nothing asks for that", c.Name, text).
				Note(texts[slices.Index(words, near)].Span(), "this asks for %q", near).WithHelp("did you mean %q?", near)
		}
	}
	return diags
}

// typedWrong reports whether of two texts one hardly is another word that is meant: with a letter
// more or fewer, or with the same letters in another order, but not tern for fern.
func typedWrong(a, b string) bool {
	letters := func(s string) []rune {
		out := []rune(strings.ToLower(s))
		slices.Sort(out)
		return out
	}
	x, y := letters(a), letters(b)
	return len(x) != len(y) || slices.Equal(x, y)
}
