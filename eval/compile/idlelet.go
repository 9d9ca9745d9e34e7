package compile

import (
	"maps"
	"slices"

	"foredge/eval/resolve"
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

// shadowedLets warns of named values at the top of the design that no line uses,
// where a thing which something is like has one of the same name: that one counts
// in what is like it, and is replaced only in there.
func (c *compiler) shadowedLets() {
	var theirs map[string]*resolve.Let
	var used map[string]bool
	for _, l := range c.info.Main.Lets {
		if theirs == nil {
			theirs, used = c.letsOfModels(), c.topNamesUsed()
		}
		their := theirs[l.Name]
		if their == nil || used[l.Name] {
			continue
		}
		c.Diags.Warnf("idle-let", l.Stmt.Name.At, "nothing uses %s: %s has a named value of its own that is called so", l.Name, their.Owner.Path()).
			Note(their.Stmt.Name.At, "this one counts in all that is like %s", their.Owner.Path()).
			WithHelp("to replace it, write let %s = %s in the braces of what is like %s", l.Name, l.Stmt.Value.Span().Short(), their.Owner.Path())
	}
}

// letsOfModels are, by their names, the named values of what things at the top of
// the design are like.
func (c *compiler) letsOfModels() map[string]*resolve.Let {
	all := map[string]*resolve.Let{}
	for _, t := range c.info.Main.Things {
		for like, deep := t.Like, 0; like != nil && deep < mostModels; like, deep = like.Like, deep+1 {
			for _, l := range like.Lets {
				if _, met := all[l.Name]; !met && l.Owner != nil {
					all[l.Name] = l
				}
			}
		}
	}
	return all
}

// mostModels is how many things that are like one another are looked through.
const mostModels = 64

// topNamesUsed are the first parts of all names in the design's own file, but in
// things that have a named value of that name themselves.
func (c *compiler) topNamesUsed() map[string]bool {
	used := map[string]bool{}
	note := func(own []*resolve.Let) func(ast.Node) bool {
		hides := map[string]bool{}
		for _, l := range own {
			hides[l.Name] = true
		}
		return func(n ast.Node) bool {
			if name, ok := n.(*ast.Name); ok && !hides[name.Parts[0].Name] {
				used[name.Parts[0].Name] = true
			}
			return true
		}
	}
	for _, t := range c.info.Main.Things {
		if t.Decl != nil {
			ast.Walk(t.Decl, note(t.Lets))
		}
	}
	for _, l := range c.info.Main.Lines {
		ast.Walk(l.Stmt, note(nil))
	}
	for _, l := range c.info.Main.Lets {
		ast.Walk(l.Stmt, note(nil))
	}
	return used
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
