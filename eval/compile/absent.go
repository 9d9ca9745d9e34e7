package compile

import (
	"slices"

	"foredge/eval/expr"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// What isn't there in this order takes no part in the design. So that a slip in
// it does not wait for the order in which it is there, its lines are compiled
// apart, as if it were there, and what in them means nothing is told. All else that
// is wrong then may rest on the order and is not.

// lookThrough tells what means nothing in the things that are not there. Those that
// nothing takes are looked through by idleNames.
func (c *compiler) lookThrough() {
	used := c.liked()
	c.conditions(used)
	sway := c.swayedThings()
	var idle []*resolve.Thing
	for _, t := range c.absent {
		if !sway.takesOver(t) {
			idle = append(idle, t)
		}
	}
	for _, t := range c.info.Idle {
		known := t.File == c.info.Main || used[t.Parent] || c.drafts[t.Parent] != nil
		if known && !sway.byClause(t) {
			idle = append(idle, t)
		}
	}
	if len(idle) == 0 {
		return
	}
	apart := newCompiler(Input{Info: c.info, Files: c.files, Orders: c.Orders, Order: c.Order}, new(diag.List))
	told := apart.asIfThere(idle)
	told.Add(c.info.IdleFaults)
	c.tell(slices.DeleteFunc(told, func(d *diag.Diagnostic) bool { return !neverMeans(d.Code) }), sway.doubtful(idle))
}

// statedOutside tells of the lines outside a thing that isn't there which state what is no
// dimension of it, or of what stands in it, as those about its dimensions are told. Lines
// at the top of a used file are passed over instead.
func (c *compiler) statedOutside(gone, t *resolve.Thing) {
	for _, l := range t.Lines {
		if l.Written == nil || l.From != nil {
			continue
		}
		from := l.Scope.Thing()
		if from == nil && l.Scope.File() != c.info.Main {
			continue
		}
		for from != nil && from != gone {
			from = from.Parent
		}
		if from == nil {
			c.leftOut(t, l.Written.First.Span())
		}
	}
	for _, child := range t.Children {
		c.statedOutside(gone, child)
	}
}

// leftOut reports a line that speaks of a thing which isn't there.
func (c *compiler) leftOut(t *resolve.Thing, at source.Span) {
	c.Diags.Errorf("left-out", at, "%s isn't there: its `when` doesn't hold", t.Path()).
		Note(t.At, "it is declared here").WithHelp("leave this line out, or put it under the same `when`")
}

// asIfThere compiles things that are not there apart, and gives what is wrong in them.
func (c *compiler) asIfThere(idle []*resolve.Thing) diag.List {
	var told diag.List
	c.apart = &apartFrom{idle: map[*resolve.Thing]bool{}, told: &told}
	for _, t := range idle {
		c.apart.idle[t] = true
	}
	for _, t := range idle {
		c.draft(t)
	}
	c.stitchesApart()
	return told
}

// apartFrom says that things are compiled as if all were there.
type apartFrom struct {
	idle map[*resolve.Thing]bool
	told *diag.List // what is wrong in idle things
}

// has reports whether a thing is idle, or stands in one that is.
func (a *apartFrom) has(t *resolve.Thing) bool {
	for ; t != nil; t = t.Parent {
		if a.idle[t] {
			return true
		}
	}
	return false
}

// listen has what is wrong in a thing told if that is idle, and else passed over.
// What it returns is to be called when the thing is done.
func (c *compiler) listen(t *resolve.Thing) (done func()) {
	before, list := c.Diags, new(diag.List)
	if c.apart.has(t) {
		list = c.apart.told
	}
	c.Diags = list
	return func() { c.Diags = before }
}

// neverMeans reports whether a code says that a name, a word or a line means nothing, or
// is there twice, whatever the order. The kind of a value is not so: a let may choose it.
func neverMeans(code diag.Code) bool {
	switch code {
	case "unknown-name", "unknown-function", "two-meanings", "no-table", "option", "word", "mark", "quiet", "corner", "grain", "stated-twice":
		return true
	}
	return false
}

// liked finds the things that those which are there are like.
func (c *compiler) liked() map[*resolve.Thing]bool {
	used := map[*resolve.Thing]bool{}
	for _, d := range c.present {
		for s := d.thing.Like; s != nil && !used[s]; s = s.Like {
			used[s] = true
		}
	}
	return used
}

// conditions looks into each `when` that was not asked: of a style, of what stands
// in a thing that isn't there.
func (c *compiler) conditions(used map[*resolve.Thing]bool) {
	var wrong diag.List
	judge := &expr.Compiler{Diags: &wrong, Dims: expr.Unsolved{}, Declared: c.Declared, Orders: c.Orders, Order: c.Order}
	var ask func(list []*resolve.Thing)
	ask = func(list []*resolve.Thing) {
		for _, t := range list {
			for _, w := range t.When {
				if !c.asked[w.Expr] {
					c.asked[w.Expr] = true
					judge.Now(w)
				}
			}
			ask(t.Children)
		}
	}
	ask(c.info.Main.Things)
	for _, t := range c.info.Idle {
		ask(t.Children)
	}
	for _, f := range c.info.All[1:] {
		for _, t := range f.Things {
			if used[t] && !f.Shelf {
				ask([]*resolve.Thing{t})
			}
		}
	}
	c.tell(wrong, nil)
}

// A swayed holds the things whose parts hang on which of several things of a name is
// there: these themselves and what takes them over.
type swayed struct {
	things map[*resolve.Thing]bool // those looked at
	shared map[string]bool         // the names of the former
	names  map[string]bool         // and of all
}

func (c *compiler) swayedThings() swayed {
	s := swayed{map[*resolve.Thing]bool{}, c.info.Shared, map[string]bool{}}
	if len(s.shared) == 0 {
		return s
	}
	for name := range s.shared {
		s.names[name] = true
	}
	var look func(list []*resolve.Thing)
	look = func(list []*resolve.Thing) {
		for _, t := range list {
			s.has(t)
			look(t.Children)
		}
	}
	for _, f := range c.info.All {
		look(f.Things)
	}
	return s
}

// has reports whether a thing is swayed.
func (s swayed) has(t *resolve.Thing) bool {
	if t == nil || len(s.shared) == 0 {
		return false
	}
	is, seen := s.things[t]
	if !seen {
		s.things[t] = false // in a circle of clauses, which was reported
		is = s.shared[t.Name] || s.has(t.Like) || s.has(t.Covers)
		s.things[t] = is
		if is {
			s.names[t.Name] = true
		}
	}
	return is
}

// takesOver reports whether a thing that is no rival takes over what is swayed: by its
// name, with what it stands in, or by a clause.
func (s swayed) takesOver(t *resolve.Thing) bool {
	return s.has(t) || s.byClause(t)
}

// byClause reports whether it does by its own clause or that of what it stands in.
func (s swayed) byClause(t *resolve.Thing) bool {
	for outer := t; outer != nil; outer = outer.Parent {
		if s.has(outer.Like) || s.has(outer.Covers) {
			return true
		}
	}
	return false
}

// doubtful finds the names in things that lead through what is swayed.
func (s swayed) doubtful(idle []*resolve.Thing) map[source.Span]bool {
	spans := map[source.Span]bool{}
	if len(s.shared) == 0 {
		return spans
	}
	note := func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if ok && slices.ContainsFunc(name.Parts, func(p ast.Ident) bool { return s.names[p.Name] }) {
			spans[name.Span()] = true
			for _, p := range name.Parts {
				spans[p.At] = true
			}
		}
		return true
	}
	var look func(t *resolve.Thing)
	look = func(t *resolve.Thing) {
		for _, l := range t.Lines {
			ast.Walk(l.Stmt, note)
		}
		for _, l := range t.Lets {
			ast.Walk(l.Stmt, note)
		}
		for _, m := range t.Marks {
			ast.Walk(m.Stmt, note)
		}
		for _, child := range t.Children {
			look(child)
		}
	}
	for _, t := range idle {
		look(t)
	}
	return spans
}

// tell adds what is found where nothing that begins there has been told yet, but for some places.
func (c *compiler) tell(list diag.List, not map[source.Span]bool) {
	if len(list) == 0 {
		return
	}
	told := map[source.Span]bool{}
	for _, d := range *c.Diags {
		told[d.Span.Begin()] = true
	}
	for _, d := range list {
		if begin := d.Span.Begin(); !told[begin] && !not[d.Span] {
			told[begin] = true
			*c.Diags = append(*c.Diags, d)
		}
	}
}
