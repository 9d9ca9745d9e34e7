package compile

import (
	"slices"

	"foredge/lang/ast"
	"foredge/lang/spell"
)

// unlikeTexts warns of a text of the design's own that is none of those which it is compared with, but
// nearly one of them: of a slip in either nothing else would tell, and what hangs on it is left out.
func (c *compiler) unlikeTexts() {
	if c.info.Broken {
		return // what can't be read may ask for it
	}
	texts := map[string]string{}
	for _, l := range c.info.Main.Lets {
		if s, ok := bare(l.Stmt.Value).(*ast.String); ok && spell.IsWord(s.Value) {
			texts[l.Name] = s.Value
		}
	}
	if len(texts) == 0 {
		return
	}
	asked := map[string][]*ast.String{}
	c.walkOwn(func(n ast.Node, hidden map[string]bool) {
		b, ok := n.(*ast.Binary)
		if !ok || b.Op != ast.Eq && b.Op != ast.Ne {
			return
		}
		for _, sides := range [2][2]ast.Expr{{b.L, b.R}, {b.R, b.L}} {
			name, isName := bare(sides[0]).(*ast.Name)
			text, isText := bare(sides[1]).(*ast.String)
			if !isName || !isText || hidden[name.Dotted()] {
				continue
			}
			if _, ours := texts[name.Dotted()]; ours {
				asked[name.Dotted()] = append(asked[name.Dotted()], text)
			}
		}
	})
	for _, l := range c.info.Main.Lets {
		value := texts[l.Name]
		var words []string
		for _, text := range asked[l.Name] {
			words = append(words, text.Value)
		}
		if slices.Contains(words, value) {
			continue
		}
		near := spell.Nearest(value, words)
		if near == "" || !spell.IsWord(near) {
			continue
		}
		at := asked[l.Name][slices.Index(words, near)]
		c.Diags.Warnf("unlike-text", at.Span(), "%s is %q, and nothing here asks for that", l.Name, value).
			Note(l.Stmt.Name.At, "it is named here").WithHelp("did you mean %q in both?", near)
	}
}
