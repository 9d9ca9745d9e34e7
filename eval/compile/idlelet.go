package compile

import (
	"maps"
	"slices"

	"foredge/lang/ast"
	"foredge/lang/spell"
)

// mostSuggested is for how many idle named values the nearest name is looked for,
// so that thousands of them take no time.
const mostSuggested = 20

// idleLets warns of named values in a thing that is like another which no line
// anywhere uses: meant to replace one of the other's, a misspelt one leaves it as
// it was, and its title on the wood.
func (c *compiler) idleLets() {
	var used map[string]bool
	told := 0
	for _, d := range c.present {
		like := d.thing.Like
		if like == nil || d.thing.Decl == nil || d.thing.Decl.Body == nil {
			continue
		}
		theirs := map[string]bool{}
		for _, l := range like.Lets {
			theirs[l.Name] = true
		}
		for _, stmt := range d.thing.Decl.Body.Stmts {
			l, ok := stmt.(*ast.Let)
			if !ok {
				continue
			}
			if used == nil {
				used = c.namesUsed()
			}
			if name := l.Name.Name; !used[name] && !theirs[name] {
				e := c.Diags.Warnf("idle-let", l.Name.At, "nothing uses %s.%s", d.Path, name)
				near := ""
				if told++; told <= mostSuggested {
					near = spell.Nearest(name, slices.Sorted(maps.Keys(theirs)))
				}
				if near != "" {
					e.WithHelp("did you mean %s, which %s has?", near, like.Path())
				} else {
					e.WithHelp("take it out, or give it the name of what it is to replace in %s", like.Path())
				}
			}
		}
	}
}

// namesUsed are all parts of names in the design's files.
func (c *compiler) namesUsed() map[string]bool {
	used := map[string]bool{}
	note := func(n ast.Node) bool {
		if name, ok := n.(*ast.Name); ok {
			for _, p := range name.Parts {
				used[p.Name] = true
			}
		}
		return true
	}
	for _, f := range c.info.All {
		for _, t := range f.Things {
			if t.Decl != nil {
				ast.Walk(t.Decl, note)
			}
		}
		for _, l := range f.Lines {
			ast.Walk(l.Stmt, note)
		}
		for _, l := range f.Lets {
			ast.Walk(l.Stmt, note)
		}
	}
	return used
}
