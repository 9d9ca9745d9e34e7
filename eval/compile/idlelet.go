package compile

import (
	"maps"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/spell"
)

// mostSuggested is for how many idle named values the nearest name is looked for,
// so that thousands of them take no time.
const mostSuggested = 20

// An idle is an own named value of what takes over another thing.
type idle struct {
	let   *ast.Let
	thing *resolve.Thing
	like  *resolve.Thing
	names map[string]bool // of the named values there
}

// idleLets warns of named values in a thing that is like another, by its own clause
// or with what it stands in, which no line anywhere means: intended to replace one
// of the other's, a misspelt one leaves it as it was, and its title on the wood.
func (c *compiler) idleLets() {
	if c.info.Broken {
		return // what can't be read may use them
	}
	var list []idle
	names := map[string]bool{}
	for _, t := range c.takers() {
		like := t.Model()
		if like == nil {
			continue
		}
		var theirs map[string]bool
		for _, l := range t.Lets {
			if l.Scope.Inherited() {
				continue
			}
			if theirs == nil {
				theirs = map[string]bool{}
				for _, their := range like.Lets {
					theirs[their.Name] = true
				}
			}
			if !theirs[l.Name] {
				list = append(list, idle{l.Stmt, t, like, theirs})
				names[l.Name] = true
			}
		}
	}
	if len(list) == 0 {
		return
	}
	meant, told := c.letsMeant(names), 0
	for _, i := range list {
		if meant[i.let] {
			continue
		}
		e := c.Diags.Warnf("idle-let", i.let.Name.At, "nothing uses %s.%s", i.thing.Path(), i.let.Name.Name)
		near := ""
		if told++; told <= mostSuggested {
			near = spell.Nearest(i.let.Name.Name, slices.Sorted(maps.Keys(i.names)))
		}
		if at := around(i.let.Name.Name, i.like, i.thing); at != nil {
			e.WithHelp("%s counts for all of %s: replace it in its braces", i.let.Name.Name, at.Path())
		} else if near != "" {
			e.Meant(i.let.Name.Name, near).WithHelp("did you mean %s, which %s has?", near, i.like.Path())
		} else {
			e.WithHelp("take it out, or give it the name of what it is to replace in %s", i.like.Path())
		}
	}
}

// takers are the things that may take over others: those that are there, and those that are drawn
// nowhere, of other files where something is like them.
func (c *compiler) takers() (all []*resolve.Thing) {
	seen := map[*resolve.Thing]bool{}
	for _, d := range c.present {
		seen[d.thing] = true
		all = append(all, d.thing)
	}
	var within func(things []*resolve.Thing)
	within = func(things []*resolve.Thing) {
		for _, t := range things {
			if !seen[t] {
				seen[t] = true
				all = append(all, t)
			}
			within(t.Children)
		}
	}
	used := c.liked()
	for _, f := range c.info.All {
		for _, t := range f.Things {
			if !f.Shelf && (t.Kind.Template || t.Kind.ID == kind.Style) && (f == c.info.Main || used[t]) {
				within([]*resolve.Thing{t})
			}
		}
	}
	return all
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
	c.walkOwn(func(n ast.Node, hidden map[string]bool) {
		if name, ok := n.(*ast.Name); ok && !hidden[name.Parts[0].Name] {
			used[name.Parts[0].Name] = true
		}
	})
	return used
}

// walkOwn visits all nodes of the design's own file; hidden are the names that named values of the thing
// in which one stands hide.
func (c *compiler) walkOwn(visit func(n ast.Node, hidden map[string]bool)) {
	note := func(own []*resolve.Let) func(ast.Node) bool {
		hidden := map[string]bool{}
		for _, l := range own {
			hidden[l.Name] = true
		}
		return func(n ast.Node) bool {
			visit(n, hidden)
			return true
		}
	}
	for _, t := range slices.Concat(c.info.Main.Things, c.info.Idle) { // those of another order use them too
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
}

// around is what a thing stands in, where what it is like takes a named value from
// around it; nil if there is none of that name there.
func around(name string, like, t *resolve.Thing) *resolve.Thing {
	for like, t = like.Parent, t.Parent; like != nil && t != nil; like, t = like.Parent, t.Parent {
		if slices.ContainsFunc(like.Lets, func(l *resolve.Let) bool { return l.Name == name }) {
			return t
		}
	}
	return nil
}

// letsMeant are those of the named values of some names that a name in the design's
// files means, in what takes part or not.
func (c *compiler) letsMeant(names map[string]bool) map[*ast.Let]bool {
	meant := map[*ast.Let]bool{}
	look := func(n ast.Node, s *resolve.Scope) {
		ast.Walk(n, func(n ast.Node) bool {
			name, ok := n.(*ast.Name)
			if !ok || !slices.ContainsFunc(name.Parts, func(p ast.Ident) bool { return names[p.Name] }) {
				return true
			}
			if sym, known := s.Means(name); known && sym.Let != nil {
				meant[sym.Let.Stmt] = true
			}
			return true
		})
	}
	var within func(things []*resolve.Thing)
	within = func(things []*resolve.Thing) {
		for _, t := range things {
			for _, l := range t.Lines {
				look(l.Stmt, l.Scope)
			}
			for _, l := range t.Lets {
				look(l.Stmt.Value, l.Scope)
			}
			for _, m := range t.Marks {
				look(m.Stmt, m.Scope)
			}
			for _, w := range t.When {
				look(w.Expr, w.Scope)
			}
			within(t.Children)
		}
	}
	within(c.info.Idle)
	for _, f := range c.info.All {
		within(f.Things)
		for _, l := range f.Lines {
			look(l.Stmt, l.Scope)
		}
		for _, l := range f.Lets {
			look(l.Stmt.Value, l.Scope)
		}
	}
	return meant
}

// letsLack reports dimensions that what they are of can't have, in the own named
// values of things. It comes when all that takes part is known, and passes over
// choices: of these only what is taken need be there.
func (c *compiler) letsLack() {
	var told map[source.Span]bool
	lacks := func(l *resolve.Let, n ast.Node) {
		name, ok := n.(*ast.Name)
		if !ok {
			return
		}
		sym, problem := l.Scope.Lookup(name)
		if problem != nil || sym.Thing == nil || sym.Dim == dim.None || sym.Thing.Has(sym.Dim) {
			return
		}
		if told == nil {
			told = map[source.Span]bool{}
			for _, d := range *c.Diags {
				told[d.Span] = true
			}
		}
		if of := c.drafts[sym.Thing]; of != nil && !of.absent && !told[name.Span()] {
			told[name.Span()] = true
			c.find(sym, name.Span())
		}
	}
	for _, d := range c.present {
		for _, l := range d.thing.Lets {
			if _, choice := l.Stmt.Value.(*ast.Choice); !choice && !l.Scope.Inherited() {
				ast.Walk(l.Stmt.Value, func(n ast.Node) bool { lacks(l, n); return true })
			}
		}
	}
}
