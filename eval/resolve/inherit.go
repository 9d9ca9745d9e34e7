package resolve

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/shelf"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
)

// maxBrought bounds how much like, mirrors and covers may bring along, all in all.
const maxBrought = 50_000

// An inheritance is one thing that another takes over, in whole.
type inheritance struct {
	src *Thing
	// origin is the thing that the clause names: src or what src stands in.
	origin *Thing
	rb     *rebase
}

// open gives a thing all that like, mirrors and covers bring along, after having
// done so for the things that these name; the things in it are opened by
// themselves, so that things may borrow from one another's parts. What is nearest
// counts first: what the thing's own clause names, then what comes along with what
// it stands in. False closes a circle: the thing is being opened already.
func (r *resolver) open(t *Thing) bool {
	if t.state != untouched {
		return t.state != underway
	}
	if t.Parent != nil && !r.open(t.Parent) {
		return false
	}
	t.state = underway
	r.withoutOwn(t)
	if t.Decl != nil {
		t.Unsure = t.Decl.Broken
		for _, c := range t.Decl.Clauses {
			if !t.Kind.Allows(c.Word.Name) {
				continue
			}
			switch c.Word.Name {
			case "like", "mirrors":
				r.inherit(t, c)
			case "covers":
				t.Covers = r.clauseThing(t, c, []kind.ID{kind.Notebook})
				t.Unsure = t.Unsure || t.Covers == nil
			}
		}
	}
	if r.spent > maxBrought {
		t.sources = nil
	}
	t.sources = slices.DeleteFunc(t.sources, func(s inheritance) bool {
		if r.open(s.src) {
			return false
		}
		r.diags.Errorf("like-cycle", t.At, "%s would be like itself", t.Path()).
			Note(s.src.At, "%s is declared here", s.src.Path()).WithHelp("%s", cycleHelp)
		return true
	})
	r.asideRows(t)
	for _, s := range t.sources {
		r.take(t, s)
	}
	t.handOn()
	if t.Covers != nil {
		r.bringRows(t, t.Covers)
	}
	if len(t.sources) > 0 || t.inherits {
		r.note(t)
	}
	for _, s := range t.sources {
		r.lines(t, s)
	}
	r.bringHanded(t, 0)
	r.leaveOut(t)
	r.layOn(t)
	t.sources, t.state = nil, done
	return true
}

const cycleHelp = "give one of the things in this circle lines of its own"

// openAll opens a thing and all that is in it.
func (r *resolver) openAll(t *Thing) {
	r.open(t)
	for _, c := range t.Children {
		r.openAll(c)
	}
}

// withoutOwn reports what a thing both states and leaves out.
func (r *resolver) withoutOwn(t *Thing) {
	for name, at := range t.Left {
		if m, own := t.members[name]; own && !m.at.IsZero() && !at.IsZero() {
			r.diags.Errorf("without-own", at, "%s states %s itself, and leaves it out", t.Path(), name).
				Note(m.at, "it is stated here").
				WithHelp("take one of the two out; what is stated here under another name stands beside what is left out")
			t.Left[name] = source.Span{}
		}
	}
}

// leaveOut takes away what the thing leaves out.
func (r *resolver) leaveOut(t *Thing) {
	for name, at := range t.Left {
		covered := t.Covers != nil && t.Covers.row(name) != nil
		if _, ok := t.members[name]; !ok && !covered && !at.IsZero() && !t.Unsure && !(t.Like != nil && t.Like.members[name].broken) {
			d := r.diags.Errorf("without", at, "there is nothing called %q here to leave out", name)
			var names []string
			if t.Like != nil {
				for _, c := range t.Like.Children {
					names = append(names, c.Name)
				}
			}
			suggest(d, name, names, "without leaves out a thing that like, mirrors or covers brought along")
		}
		if covered {
			t.uncover(name)
		}
		delete(t.members, name)
		if at.IsZero() {
			t.members[name] = member{broken: true} // it states it too, which was reported
		}
	}
	kept := t.Children[:0]
	for _, c := range t.Children {
		if _, left := t.Left[c.Name]; !left {
			kept = append(kept, c)
		}
	}
	t.Children = kept
}

// clauseThing finds the thing that a clause names and sees that it is expanded.
func (r *resolver) clauseThing(t *Thing, c ast.Clause, kinds []kind.ID) *Thing {
	n, ok := c.Target.(*ast.Name)
	if !ok {
		return nil
	}
	r.ready(t, n)
	sym, problem := t.inClause(n, kinds...)
	if problem != nil {
		if problem.Code != "unknown-name" || !t.File.nameless {
			r.diags = append(r.diags, problem)
		}
		return nil
	}
	if sym.Broken {
		return nil
	}
	if sym.Thing == nil || sym.Dim != dim.None || !slices.Contains(kinds, sym.Thing.Kind.ID) {
		r.diags.Errorf("clause-target", n.Span(), "%s is not a %s", n.Dotted(), spell.Or(kind.Words(kinds...))).
			WithHelp("write the name of a %s after %s", spell.Or(kind.Words(kinds...)), c.Word.Name)
		return nil
	}
	target := sym.Thing
	if !r.open(target) {
		help := cycleHelp
		part, ok := shelf.Holder(t.Kind.Name, t.Name)
		if ok && target == t {
			help = "if the shelf's is meant, write `use " + part + "` at the top of the file"
		}
		d := r.diags.Errorf("like-cycle", n.Span(), "%s would be %s itself", t.Path(), likeness(c.Word.Name)).
			Note(target.At, "%s is declared here", target.Path()).WithHelp("%s", help)
		if help != cycleHelp {
			d.WithUse(n.Span().File, part)
		}
		return nil
	}
	if target.missing {
		if r.there(t) {
			r.diags.Errorf("none-there", n.Span(), "nothing called %s is there: of those that share the name no condition holds", n.Dotted()).
				WithHelp("name something that is there after %s, or say by a `when` that %s isn't there either", c.Word.Name, t.Path())
		}
		return nil
	}
	return target
}

// inClause finds what a name in the thing's clauses means. The thing's own name means,
// as nothing is like itself, one further out, and of a thing at the top of a file one of
// the files that this uses, such as the shelf's. It is the thing itself if there is none.
func (t *Thing) inClause(n *ast.Name, kinds ...kind.ID) (Symbol, *diag.Diagnostic) {
	scope, first := t.scope.outer, &ast.Name{Parts: n.Parts[:1]}
	if own, none := scope.LookupThing(first); none != nil || own.Thing != t {
		return scope.LookupThing(n, kinds...)
	}
	if out := scope.outer; out != nil {
		if _, none := out.LookupThing(first); none == nil || none.Code == "two-meanings" {
			return out.LookupThing(n, kinds...)
		}
		return scope.LookupThing(n, kinds...)
	}
	m, problem := t.File.used(n)
	switch {
	case problem != nil:
		return Symbol{}, problem
	case m.thing != nil:
		return walk(m.thing, n, 1)
	case m.broken || t.File.incomplete:
		return Symbol{Broken: true}, nil
	}
	return scope.LookupThing(n, kinds...)
}

// ready sees that the things through which a name leads have what they bring
// along.
func (r *resolver) ready(t *Thing, n *ast.Name) {
	for i := 1; i < len(n.Parts); i++ {
		sym, problem := t.inClause(&ast.Name{Parts: n.Parts[:i]})
		if problem != nil || sym.Thing == nil || sym.Dim != dim.None || !r.open(sym.Thing) {
			return
		}
	}
}

func likeness(clause string) string {
	if clause == "mirrors" {
		return "a mirror of"
	}
	return clause
}

// inherit notes what a like or mirrors clause names.
func (r *resolver) inherit(t *Thing, c ast.Clause) {
	kinds := t.Kind.Like
	if c.Word.Name == "mirrors" {
		kinds = []kind.ID{t.Kind.ID} // a style has no sides
	}
	src := r.clauseThing(t, c, kinds)
	if src == nil {
		t.Unsure = true
		return
	}
	t.Like = src
	r.layers++
	t.sources = append([]inheritance{{src, src, &rebase{layer: r.layers, from: []*Thing{src}, to: []*Thing{t}, done: map[*Scope]*Scope{}}}},
		t.sources...)
	if c.Word.Name == "mirrors" {
		t.Mirrored = !src.Mirrored
	} else {
		t.Mirrored = src.Mirrored
	}
}

// take puts the things and named values of what t takes over beside its own, so
// that all that lines may speak of is there before any of them is brought along.
func (r *resolver) take(t *Thing, s inheritance) {
	var lets []*Let
	for _, l := range s.src.Lets {
		if _, ok := t.members[l.Name]; ok || !r.spend(1) {
			continue
		}
		n := &Let{Name: l.Name, Stmt: l.Stmt, Scope: s.rb.scope(l.Scope), Owner: t, File: l.File}
		t.members[l.Name] = member{let: n, at: l.Stmt.Name.At}
		lets = append(lets, n)
	}
	t.Lets = append(lets, t.Lets...)

	// A thing that comes along with what it stands in keeps its condition, unless
	// it states one anew. What a clause names is there or not for itself, and so is a row that states
	// its own edge, of a condition that comes from a notebook's row.
	alone := s.src.follows && t.Edge != word.NoEdge && !t.laid
	if s.src != s.origin && len(t.When) == 0 && !alone {
		for _, c := range s.src.When {
			t.When = append(t.When, Condition{c.Expr, s.rb.scope(c.Scope), c.words})
		}
		t.follows = s.src.follows
	}
	if t.Edge == word.NoEdge {
		t.Edge, t.BadEdge, t.laid = s.src.Edge, t.BadEdge || s.src.BadEdge, s.src.laid
	}
	if t.Covers == nil {
		t.Covers = s.src.Covers
		r.asideRows(t)
	}
	t.Unsure = t.Unsure || s.src.Unsure
	for name := range s.src.uncovered {
		if r.spend(1) {
			t.uncover(name)
		}
	}
	r.takeChildren(t, s)
}

func (r *resolver) takeChildren(t *Thing, s inheritance) {
	var children []*Thing
	placed := map[string]bool{}
	for _, sc := range s.src.Children {
		m, exists := t.members[sc.Name]
		c := m.thing
		own := t.ownOf(sc.Name)
		if exists && c != nil && c.aboutAnother(own, sc) {
			r.setAside(c)
			exists = false
		}
		s.takeIdle(own, c, exists, sc)
		switch {
		case !r.spend(1) || m.broken:
			continue
		case exists && (c == nil || c.Kind != sc.Kind):
			r.diags.Errorf("taken-name", m.at, "%s is a %s in %s, so it can't be something else here", sc.Name, sc.Kind.Name, s.origin.Path()).
				Note(sc.At, "it is declared there").
				WithHelp("give it another name; `without %s` then leaves the other out", sc.Name)
			continue
		case !exists:
			c = &Thing{Kind: sc.Kind, Name: sc.Name, Decl: nil, At: sc.At, File: sc.File, Parent: t,
				members: map[string]member{}, depth: t.depth + 1}
			c.scope = &Scope{home: c, thing: c, outer: t.scope, file: t.scope.file}
			t.members[c.Name] = member{thing: c, at: sc.At}
			t.leaveOther(sc)
		}
		if twins := twinsOf(own, sc); twins != nil {
			c.twins = twins
		}
		if sc.missing {
			r.noneToTake(c, sc)
		}
		c.sources = append(c.sources, inheritance{sc, s.origin, s.rb.with(sc, c)})
		children = append(children, c)
		placed[c.Name] = true
	}
	for _, c := range t.Children {
		if !placed[c.Name] {
			children = append(children, c)
		}
	}
	t.Children = children
}

// noneToTake says of a thing what it is where of several that share its name, and one of which
// it takes over, none is there: by a condition of its own it would have what is in another one.
func (r *resolver) noneToTake(t, first *Thing) {
	switch {
	case len(t.When) == 0 || !r.holds(t):
		t.missing = true
	case r.there(t):
		r.diags.Errorf("none-there", t.When[0].Expr.Span(), "nothing called %s is there: of those that share the name no condition holds", first.Path()).
			Note(first.At, "the first of them is here").
			WithHelp("give %s another name, or say by its `when` that it isn't there either", t.Path())
	}
}

// Model is what the thing is like: what its clause names, else the part of its name
// of what the thing around it is like; nil if there is none.
func (t *Thing) Model() *Thing {
	if t.Like != nil || t.Parent == nil {
		return t.Like
	}
	if outer := t.Parent.Model(); outer != nil {
		if part := outer.members[t.Name].thing; part != nil && part.Kind == t.Kind {
			return part
		}
	}
	return nil
}

// Same is what the thing is like if it says nothing of its own, so that it is that under
// another name; nil if there is none.
func (t *Thing) Same() *Thing {
	if t.Like == nil || len(t.Left) > 0 || t.Decl == nil || t.Decl.Body != nil && len(t.Decl.Body.Stmts) > 0 || len(t.said.outside) > 0 {
		return nil
	}
	own := func(l *Line) bool { return l.From == nil || len(l.outerLinks)+len(l.outerParts) > 0 }
	outside := func(l *Line) bool { return l.Written != nil || len(l.outerLinks)+len(l.outerParts) > 0 }
	if slices.ContainsFunc(slices.Concat(t.passed, t.Lines), own) || slices.ContainsFunc(slices.Concat(t.Like.passed, t.Like.Lines), outside) {
		return nil // one of the two is something that the other isn't
	}
	return t.Like
}

// named reports whether there is a named value in the thing's own braces.
func (t *Thing) named() bool {
	return t.Decl != nil && t.Decl.Body != nil && slices.ContainsFunc(t.Decl.Body.Stmts, func(s ast.Stmt) bool { _, is := s.(*ast.Let); return is })
}

// AsLike is what the thing is in all that some lines say: the first of what it is like, and that
// is like, of which such a line says something that isn't said of the next, or may as it has a named
// value of its own; itself if it does.
func (t *Thing) AsLike(some func(*Line) bool) *Thing {
	for t.Like != nil {
		says := func(of *Thing, own bool) bool {
			return slices.ContainsFunc(slices.Concat(of.passed, of.Lines), func(l *Line) bool {
				return some(l) && (own && l.From == nil || !own && l.Written != nil || len(l.outerLinks)+len(l.outerParts) > 0)
			})
		}
		if says(t, true) || says(t.Like, false) || t.named() {
			return t
		}
		t = t.Like
	}
	return t
}

// lines puts the lines and marks of what t takes over before its own, as far as
// nothing nearer replaces them.
func (r *resolver) lines(t *Thing, s inheritance) {
	r.bringAll(t, handed{slices.Concat(s.src.passed, s.src.Lines), s.rb, s.src})
	r.bringHanded(t, s.rb.layer)
	r.marks(t, s)
}

// bringAll puts inherited lines before those of t, but for those that it hands on.
func (r *resolver) bringAll(t *Thing, h handed) {
	var lines []*Line
	passed, hands := len(t.passed), t.anyNearer(h.by.layer)
	for _, l := range h.lines {
		if hands {
			if in := t.handsTo(l, h.by); in != nil {
				in.handed = append(in.handed, handed{[]*Line{l}, h.by, h.from})
				continue
			}
		}
		n, here := r.bring(t, l, h.by)
		if n == nil {
			continue
		}
		if n.From == nil {
			n.From = h.from
		}
		n.Scope = h.by.scope(l.Scope)
		if here {
			lines = append(lines, n)
		} else {
			t.passed = append(t.passed, n)
		}
	}
	for _, l := range slices.Concat(lines, t.passed[passed:]) {
		t.recordLine(l, h.by)
	}
	t.Lines = append(lines, t.Lines...)
}

// recordLine notes what an inherited line states of t and of what is in it.
func (t *Thing) recordLine(l *Line, by *rebase) {
	i := -1
	eachLink(l.Stmt, func(left ast.Expr, op ast.Op, right ast.Expr) {
		if i++; op != ast.Eq || slices.Contains(l.links, i) {
			return
		}
		switch about := t.about(by.to[0], left, right); {
		case about.of == nil || !t.Holds(about.of):
		case slices.Contains(l.outerLinks, i):
			about.recordBehind(by.layer)
		default:
			about.record(by.layer)
		}
	})
}

// marks gives a region the marks of what it takes over if it has none yet. Else
// it keeps in mind what is lost by that.
func (r *resolver) marks(t *Thing, s inheritance) {
	if len(t.Marks) > 0 {
		for _, sort := range []string{"text", "art"} {
			if theirs := marksOf(s.src.Marks, sort); len(theirs) > len(marksOf(t.Marks, sort)) {
				t.Lost = append(t.Lost, theirs...)
			}
		}
		return
	}
	for _, m := range s.src.Marks {
		if r.spend(1) {
			t.Marks = append(t.Marks, &Mark{Stmt: m.Stmt, Scope: s.rb.scope(m.Scope)})
		}
	}
}

// marksOf are the marks of one sort: text, art or frame.
func marksOf(marks []*Mark, sort string) []*Mark {
	var found []*Mark
	for _, m := range marks {
		if m.Stmt.What.Name == sort {
			found = append(found, m)
		}
	}
	return found
}

// spend counts what is brought along, and reports once that it is too much.
func (r *resolver) spend(n int) bool {
	if r.spent > maxBrought {
		return false
	}
	if r.spent += n; r.spent <= maxBrought {
		return true
	}
	r.diags.Errorf("like-large", source.Span{File: r.info.Main.Source}, "what like, mirrors and covers bring along comes to more than %d things, lines and values in lines", maxBrought).
		WithHelp("let fewer things be like one that has so much in it, or make several designs of this one")
	return false
}

// A rebase maps the scopes of inherited lines: from[i] becomes to[i].
type rebase struct {
	layer    int // the clause that brings them along, counted from 1
	from, to []*Thing
	done     map[*Scope]*Scope
}

func (rb *rebase) with(from, to *Thing) *rebase {
	n := len(rb.from)
	return &rebase{rb.layer, append(rb.from[:n:n], from), append(rb.to[:n:n], to), map[*Scope]*Scope{}}
}

func (rb *rebase) scope(s *Scope) *Scope {
	if s == nil || s.thing == nil {
		return s
	}
	if n, ok := rb.done[s]; ok {
		return n
	}
	n := s
	for i, from := range rb.from {
		if s.thing == from {
			n = &Scope{home: s.home, thing: rb.to[i], outer: rb.scope(s.outer), file: s.file}
			break
		}
	}
	rb.done[s] = n
	return n
}
