package resolve

import (
	"maps"
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/lang/ast"
)

// A stated is what a line is about: a dimension, a property or what is stated one
// by one (corner.head-spine, gap.3) of one thing. The zero value is nothing that
// a nearer line could replace.
type stated struct {
	of   *Thing
	name string
}

// eachLink visits the links of a line: `A = B <= C` has the links A = B and B <= C.
func eachLink(s ast.Stmt, visit func(left ast.Expr, op ast.Op, right ast.Expr)) {
	switch s := s.(type) {
	case *ast.Prefer:
		visit(s.Left, s.Op, s.Right)
	case *ast.Relation:
		left := s.First
		for _, side := range s.Rest {
			visit(left, side.Op, side.Value)
			left = side.Value
		}
	}
}

// OnLeft reports whether a line that stands in a thing, or at the top of a file, and
// has a name alone on each side is about the one on its left: it is, unless the one
// on its right is nearer. What is of the thing or of what is in it is nearest, then
// what is of the thing around it and of what is in that, and so on. Things are named
// by their paths, the top of a file by "".
func OnLeft(at, left, right string) bool { return shared(at, left) >= shared(at, right) }

// shared is how many names two paths have in common, from the top on.
func shared(one, other string) int {
	n := 0
	for one != "" && other != "" {
		var a, b string
		a, one, _ = strings.Cut(one, ".")
		b, other, _ = strings.Cut(other, ".")
		if a != b {
			break
		}
		n++
	}
	return n
}

// about says what a link in t is about, as far as that is of whole, in which t
// stands, or of what is in that: the name that stands alone on one of its sides, and
// of two the one of which [OnLeft] says so.
func (t *Thing) about(whole *Thing, left, right ast.Expr) stated {
	return t.nearer(func(e ast.Expr) stated { return t.namedIn(whole, e) }, left, right)
}

// aboutAround is [Thing.about] for an own line of t, which may also speak of the
// things around it in full.
func (t *Thing) aboutAround(left, right ast.Expr) stated {
	top := t.Top()
	full := func(e ast.Expr) stated {
		if s := t.namedIn(top, e); s.of != nil {
			return s
		}
		if n, ok := e.(*ast.Name); ok && len(n.Parts) > 1 && n.Parts[0].Name == top.Name {
			return top.partNamed(n.Parts[1:])
		}
		return stated{}
	}
	return t.nearer(full, left, right)
}

// nearer is what a line in t is about, of what its sides mean.
func (t *Thing) nearer(means func(ast.Expr) stated, left, right ast.Expr) stated {
	l := means(left)
	if l.of == t {
		return l // nothing is nearer
	}
	if r := means(right); l.of == nil || r.of != nil && !OnLeft(t.Path(), l.of.Path(), r.of.Path()) {
		return r
	}
	return l
}

// namedIn finds what a name means in t, in what t stands in, and so on up to whole. A
// named value is nothing that a line is about.
func (t *Thing) namedIn(whole *Thing, e ast.Expr) stated {
	for at := t; ; at = at.Parent {
		s := named(at, e)
		if s.of != nil && s.of.members[s.name].let != nil {
			if _, isDim := s.of.Kind.Dim(s.name); !isDim {
				return stated{}
			}
		}
		if s.of != nil || at == whole {
			return s
		}
	}
}

// Top is what the thing stands in, with all that is around it.
func (t *Thing) Top() *Thing {
	for t.Parent != nil {
		t = t.Parent
	}
	return t
}

// Holds reports whether another thing is this one or in it.
func (t *Thing) Holds(other *Thing) bool {
	for ; other != nil; other = other.Parent {
		if other == t {
			return true
		}
	}
	return false
}

func named(t *Thing, e ast.Expr) stated {
	switch e := e.(type) {
	case *ast.Paren:
		return named(t, e.X)
	case *ast.Stated:
		return named(t, e.X)
	case *ast.Indexed:
		return stated{t, e.Word.Name + "." + e.Index.Name}
	case *ast.Name:
		return t.partNamed(e.Parts)
	}
	return stated{}
}

// partNamed finds the dimension, property or let that a name means in t or in a
// thing in it. Where the name goes deeper than things have been taken over so far,
// it is kept whole with the last that is there, see handOn, as it is where that leaves
// out what the name goes on with.
func (t *Thing) partNamed(parts []ast.Ident) stated {
	for deep := false; len(parts) > 0; deep, parts = true, parts[1:] {
		name := (&ast.Name{Parts: parts}).Dotted()
		m, left := t.members[parts[0].Name], t.leftOut(parts[0])
		switch _, isDim := t.Kind.Dim(name); {
		case isDim, len(parts) == 1 && (t.Kind.Has(name) || m.let != nil), len(parts) == 2 && isGap(t, parts[0].Name):
			return stated{t, name}
		case m.thing == nil && len(parts) > 1 && (deep || left || t.state == untouched && !t.elsewhere(parts[0])):
			return stated{t, name}
		case m.thing == nil:
			return stated{}
		}
		t = m.thing
	}
	return stated{}
}

// leftOut reports whether t leaves out what a name stands for in it.
func (t *Thing) leftOut(name ast.Ident) bool {
	_, left := t.Left[name.Name]
	return left
}

// elsewhere reports whether a name means something outside a thing that has no such
// part so far.
func (t *Thing) elsewhere(name ast.Ident) bool {
	for s := t.scope.outer; s.thing != nil; s = s.outer {
		if _, ok := s.home.members[name.Name]; ok {
			return true
		}
	}
	m, problem := t.File.lookup(&ast.Name{Parts: []ast.Ident{name}})
	return m != (member{}) || problem != nil || name.Name == "order"
}

// handOn gives what was stated of things in t, before they were taken over, to
// these things.
func (t *Thing) handOn() {
	for name, layer := range t.states {
		words := strings.Split(name, ".")
		parts := make([]ast.Ident, len(words))
		for i, w := range words {
			parts[i].Name = w
		}
		if s := t.partNamed(parts); s.of != t {
			s.record(layer)
		}
	}
}

// wholeOf is the property of which a name states a part: hole has the parts
// hole.along and hole.across, the shape of a cutout its width and height, corners
// and gaps each corner and gap, and the material of a stock the reason why it may be
// cut. It is empty for all else. The name may lead to a thing within, as in each.width.
func wholeOf(name string) string {
	words := strings.Split(name, ".")
	last := len(words) - 1
	if word := words[last]; word == dim.Width.String() || word == dim.Height.String() {
		words[last] = "shape"
		return strings.Join(words, ".")
	}
	if words[last] == "allow" {
		words[last] = "material"
		return strings.Join(words, ".")
	}
	if last == 0 {
		return ""
	}
	switch words[last-1] {
	case "hole":
	case "corner", dim.Gap.String():
		words[last-1] += "s"
	default:
		return ""
	}
	return strings.Join(words[:last], ".")
}

// instead lists what a line may state in place of a word of a row or of tabs: holes lie by
// a pitch or a web, or by gaps, which say how many there are too; tabs are one of several
// places, or as many as are counted.
func instead(word string) []string {
	pitch, web, gaps, count := dim.Pitch.String(), dim.Web.String(), dim.Gap.String()+"s", dim.Count.String()
	switch word {
	case pitch, web, count:
		return []string{gaps}
	case gaps:
		return []string{pitch, web}
	case "place":
		return []string{count}
	}
	return nil
}

// clearedBy lists what, stated by a nearer line, leaves nothing of s: s itself, what it
// is part of, and what is stated instead of either.
func (s stated) clearedBy() []stated {
	by := []stated{s}
	if whole := wholeOf(s.name); whole != "" {
		by = append(by, stated{s.of, whole})
	}
	for _, b := range by {
		in, word := "", b.name
		if dot := strings.LastIndex(b.name, "."); dot >= 0 {
			in, word = b.name[:dot+1], b.name[dot+1:]
		}
		for _, other := range instead(word) {
			by = append(by, stated{s.of, in + other})
		}
	}
	return by
}

// ofWhole says which thing within the name of a property leads to, as "each." in each.shape, and
// whether the property has parts that can be stated by themselves.
func ofWhole(name string) (in string, whole bool) {
	word := name[strings.LastIndex(name, ".")+1:]
	return strings.TrimSuffix(name, word), word == "hole" || word == "shape" || word == "corners" || word == dim.Gap.String()+"s"
}

// note records which of the names of t and of what is in it are stated by own
// lines, in its braces or in those of what it stands in.
func (r *resolver) note(t *Thing) {
	for _, l := range t.Lines {
		if l.From == nil {
			r.noteLine(t, l)
		}
	}
	for _, c := range t.Children {
		r.note(c)
	}
	if t.Parent == nil { // last: what the braces state too comes along
		for _, l := range t.File.aboutThings()[t.Name] {
			r.noteLine(nil, l)
		}
	}
}

// noteLine records what an own line states. t is nil at the top of a file.
// Limits are passed over: they add up.
func (r *resolver) noteLine(t *Thing, l *Line) {
	eachLink(l.Stmt, func(left ast.Expr, op ast.Op, right ast.Expr) {
		switch {
		case op != ast.Eq:
		case t != nil:
			t.aboutAround(left, right).record(0)
		default:
			if s := l.Scope.file.named(left); s.of != nil {
				s.record(outside)
			} else {
				l.Scope.file.named(right).record(outside)
			}
		}
	})
}

// named is what a dotted name at the top of a file states of one of its things.
func (f *File) named(e ast.Expr) stated {
	n, ok := e.(*ast.Name)
	if !ok || f.members[n.Parts[0].Name].thing == nil {
		return stated{}
	}
	return f.members[n.Parts[0].Name].thing.partNamed(n.Parts[1:])
}

// outside is the layer of lines at the top of a file, 0 that of the lines in braces.
const outside = -1

// record notes in which layer something is stated, unless a nearer one does.
func (s stated) record(layer int) {
	if s.of == nil {
		return
	}
	if s.of.states == nil {
		s.of.states = map[string]int{}
	}
	if _, nearer := s.of.states[s.name]; !nearer {
		s.of.states[s.name] = layer
	}
}

// nearer reports whether another layer than the given one states it already.
func (s stated) nearer(layer int) bool {
	at, ok := s.of.states[s.name]
	return ok && at != layer
}

// recordBehind notes in which layer something is stated that a line at the top of a file
// replaces, for what is like the thing: for that the line says nothing.
func (s stated) recordBehind(layer int) {
	if s.of.behinds == nil {
		s.of.behinds = map[string]int{}
	}
	if _, nearer := s.of.behinds[s.name]; !nearer {
		s.of.behinds[s.name] = layer
	}
}

// behind reports whether another layer than the given one states it, or what it is part of,
// behind a line at the top of a file.
func (s stated) behind(layer int) bool {
	for _, by := range s.clearedBy() {
		if at, ok := s.of.behinds[by.name]; ok {
			return at != layer
		}
	}
	return false
}

// aboutThings lists the lines at the top of a file, and those in things of it about
// another one, by the thing of which they may state something.
func (f *File) aboutThings() map[string][]*Line {
	if f.about == nil {
		f.about = map[string][]*Line{}
		for _, l := range f.Lines {
			f.fileLine(nil, l)
		}
		for _, t := range f.Things {
			t.fileLines()
		}
	}
	return f.about
}

// fileLines files the own lines in the braces of t and of what is in it.
func (t *Thing) fileLines() {
	for _, l := range t.Lines {
		if l.From == nil {
			t.File.fileLine(t, l)
		}
	}
	for _, c := range t.Children {
		c.fileLines()
	}
}

// fileLine files a line in the braces of t, nil at the top of a file.
func (f *File) fileLine(t *Thing, l *Line) {
	eachLink(l.Stmt, func(left ast.Expr, _ ast.Op, right ast.Expr) {
		if t != nil && t.aboutAround(left, right).of != nil {
			return
		}
		for _, e := range []ast.Expr{left, right} {
			if n, ok := e.(*ast.Name); ok && len(n.Parts) > 1 {
				f.about[n.Parts[0].Name] = append(f.about[n.Parts[0].Name], l)
			}
		}
	})
}

// own reports whether an own line states it.
func (s stated) own() bool {
	layer, ok := s.of.states[s.name]
	return ok && layer <= 0
}

// inBraces reports whether an own line in braces states it.
func (s stated) inBraces() bool {
	layer, ok := s.of.states[s.name]
	return ok && layer == 0
}

// bring is an inherited line as t takes it on: without the links that
// nearer lines replace, and without what they state of its parts. It is nil if
// nothing is left, or if t has the line already by another way; here is false if
// it is left only for what is like t.
func (r *resolver) bring(t *Thing, l *Line, by *rebase) (n *Line, here bool) {
	layer := by.layer
	if t.brought[l.Stmt] || !r.spend(1+length(l.Stmt)) {
		return nil, false
	}
	n = &Line{Stmt: l.Stmt, From: l.From, parts: slices.Clip(l.parts)}
	whole := by.to[0]
	if check, ok := l.Stmt.(*ast.Check); ok && t.leavesAny(whole, check.Cond) {
		return nil, false
	}
	i, kept := -1, false
	eachLink(l.Stmt, func(left ast.Expr, op ast.Op, right ast.Expr) {
		if i++; slices.Contains(l.links, i) {
			n.links = append(n.links, i)
			return
		}
		s, around, aroundOutside := t.about(whole, left, right), false, false
		leaves := s.of != nil && whole.leaves(s) || s.of == nil && t.leavesAll(whole, left, right)
		if s.of != nil && !t.Holds(s.of) {
			// What the things beside t take over hangs on which is opened first, and
			// replaces nothing.
			around = slices.ContainsFunc(s.clearedBy(), stated.own)
			aroundOutside = around && !slices.ContainsFunc(s.clearedBy(), stated.inBraces)
			s = stated{}
		}
		outer := s.of != nil && op == ast.Eq && s.replacedOutside() && !s.inReplaced(layer) && !leaves
		if outer && !s.behind(layer) {
			n.outerLinks, kept = append(n.outerLinks, i), true
			r.partsStated(n, s, layer)
			return
		}
		if aroundOutside && op == ast.Eq {
			n.outerLinks, kept = append(n.outerLinks, i), true
			return
		}
		if outer || leaves || s.of != nil && op == ast.Eq && s.replaced(layer) ||
			around && op == ast.Eq ||
			op != ast.Eq && (t.leavesAny(whole, left) || t.leavesAny(whole, right)) {
			n.links = append(n.links, i)
			return
		}
		kept, here = true, true
		if s.of != nil && op == ast.Eq {
			r.partsStated(n, s, layer)
		}
	})
	if _, isCheck := l.Stmt.(*ast.Check); isCheck {
		here = true
	} else if !kept {
		return nil, false
	}
	if len(t.sources) > 1 {
		if t.brought == nil {
			t.brought = map[ast.Stmt]bool{}
		}
		t.brought[l.Stmt] = true
	}
	return n, here
}

// length is how many values a line lists beside the first.
func length(s ast.Stmt) int {
	if rel, ok := s.(*ast.Relation); ok {
		if list, ok := rel.Rest[0].Value.(*ast.List); ok {
			return len(list.Elems) + len(rel.Rest) - 1
		}
		return len(rel.Rest)
	}
	return 0
}

// replaced reports whether a nearer line states the same, or what clears it.
func (s stated) replaced(layer int) bool {
	return slices.ContainsFunc(s.clearedBy(), func(by stated) bool { return by.nearer(layer) })
}

// inReplaced reports whether a nearer line in braces states what clears it.
func (s stated) inReplaced(layer int) bool {
	return slices.ContainsFunc(s.clearedBy()[1:], func(by stated) bool {
		return by.nearer(layer) && s.of.states[by.name] != outside
	})
}

// replacedOutside reports whether a line at the top of a file does.
func (s stated) replacedOutside() bool {
	for _, by := range s.clearedBy() {
		if at, ok := s.of.states[by.name]; ok {
			return at == outside
		}
	}
	return false
}

// partsStated notes of a line the parts of a whole that nearer layers state.
func (r *resolver) partsStated(l *Line, s stated, layer int) {
	in, whole := ofWhole(s.name)
	if !whole || !r.spend(len(s.of.states)+len(s.of.behinds)) {
		return
	}
	for _, name := range slices.Sorted(maps.Keys(s.of.states)) {
		part := stated{s.of, name}
		switch {
		case wholeOf(name) != s.name || !part.nearer(layer):
		case part.replacedOutside():
			l.outerParts = append(l.outerParts, strings.TrimPrefix(name, in))
		default:
			l.parts = append(l.parts, strings.TrimPrefix(name, in))
		}
	}
	for _, name := range slices.Sorted(maps.Keys(s.of.behinds)) {
		if wholeOf(name) == s.name && s.of.behinds[name] != layer {
			l.parts = append(l.parts, strings.TrimPrefix(name, in))
		}
	}
}

// leaves reports whether t, or what in it is spoken of, leaves out what is stated.
func (t *Thing) leaves(s stated) bool {
	first, _, deep := strings.Cut(s.name, ".")
	if _, left := s.of.Left[first]; deep && left {
		return true
	}
	for of := s.of; of != t && of.Parent != nil; of = of.Parent {
		if _, left := of.Parent.Left[of.Name]; left {
			return true
		}
	}
	return false
}

// leavesAny reports whether an expression in t speaks of something that whole, in which t
// stands, or a thing between the two leaves out.
func (t *Thing) leavesAny(whole *Thing, e ast.Expr) bool {
	found := false
	ast.Walk(e, func(n ast.Node) bool {
		if name, ok := n.(*ast.Name); ok {
			s := t.namedIn(whole, name)
			found = found || s.of != nil && whole.leaves(s)
		}
		return !found
	})
	return found
}

// leavesAll reports whether the sides of a line in t name nothing but what whole, in which t
// stands, or a thing between the two leaves out.
func (t *Thing) leavesAll(whole *Thing, sides ...ast.Expr) bool {
	some, all := false, true
	for _, e := range sides {
		ast.Walk(e, func(n ast.Node) bool {
			if name, ok := n.(*ast.Name); ok {
				s := t.namedIn(whole, name)
				some, all = true, all && s.of != nil && whole.leaves(s)
			}
			return all
		})
	}
	return some && all
}

// Drops reports whether nearer lines have replaced one link of the line, counted
// from 0: of a chain each sign is one.
func (l *Line) Drops(link int) bool {
	return slices.Contains(l.links, link) || slices.Contains(l.outerLinks, link)
}

// Lacks reports whether nearer lines state a part of what the line states as a
// whole: hole.along of `hole = rect 4 by 3`, gap.3 of a list of gaps.
func (l *Line) Lacks(part string) bool {
	return slices.Contains(l.parts, part) || slices.Contains(l.outerParts, part)
}
