package resolve

import (
	"fmt"
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/shelf"
	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/spell"
)

// A Scope is where a line was written: in which thing, within which others, in
// which file. home is the thing in which it was written, thing the one that it
// speaks of now; they differ where like brought the line along.
type Scope struct {
	home, thing *Thing
	outer       *Scope
	file        *File
}

// File is the file in which the line was written.
func (s *Scope) File() *File {
	for s.outer != nil {
		s = s.outer
	}
	return s.file
}

// Thing is the thing that the line speaks of, nil at the top of a file.
func (s *Scope) Thing() *Thing { return s.thing }

// Inherited reports whether like, mirrors or what it stands in brought the line along.
func (s *Scope) Inherited() bool { return s.home != s.thing }

// A Symbol is what a name stands for: a dimension of a thing (Thing and Dim),
// a thing (Thing alone), a let, or a column of the orders.
type Symbol struct {
	Thing *Thing
	Dim   dim.Name
	Gap   string // which of a row's gaps, as it is written, if Dim is [dim.Gap]
	Cell  Cell   // which of a field's members, zero for the field itself
	Let   *Let
	Order string
	// Broken says that the name stands for something that was reported as
	// wrong: the line that speaks of it is to be passed over in silence.
	Broken bool
}

// A place is what a name stands as, which decides what it can mean.
type place uint8

const (
	asValue   place = iota // in an expression
	asSubject              // alone, as what its line is about
	asThing                // where a thing is to be named
)

// Lookup says what a name means where its value is wanted. The diagnostic, not
// nil if it means nothing, or could mean two things, is ready to be shown.
func (s *Scope) Lookup(n *ast.Name) (Symbol, *diag.Diagnostic) { return s.find(n, asValue) }

// Subject says what a name means that is, by itself, what a line is about: there
// it is a dimension if the line's thing is of a kind that has one of that name.
func (s *Scope) Subject(n *ast.Name) (Symbol, *diag.Diagnostic) { return s.find(n, asSubject) }

// LookupThing says what a name means where a thing is to be named. It is a
// dimension only if nothing else is called so. Of a name that means nothing, things of the
// kinds are suggested alone, where any are given.
func (s *Scope) LookupThing(n *ast.Name, kinds ...kind.ID) (Symbol, *diag.Diagnostic) {
	return s.find(n, asThing, kinds...)
}

// Means is what a name means as a value, where it means something: without a word of
// what else might be meant, which takes a look at all names.
func (s *Scope) Means(n *ast.Name) (Symbol, bool) {
	sym, problem, known := s.seek(n, asValue)
	return sym, known && problem == nil
}

func (s *Scope) find(n *ast.Name, as place, kinds ...kind.ID) (Symbol, *diag.Diagnostic) {
	sym, problem, known := s.seek(n, as)
	if !known {
		return Symbol{}, s.unknown(n, kinds)
	}
	return sym, problem
}

// seek finds what a name means; known is false where that is nothing.
func (s *Scope) seek(n *ast.Name, as place) (sym Symbol, problem *diag.Diagnostic, known bool) {
	first := n.Parts[0].Name
	var passed *Thing // of the first dimension of that name that can't be meant
	for f := s; f != nil && f.thing != nil; f = f.outer {
		if d, ok := dimension(f.home, n.Parts); ok {
			meant := as == asSubject && f == s || as != asThing && f.home.Has(d)
			if meant && as == asValue && len(n.Parts) == 1 {
				if l := f.hidden(n); l != nil {
					return Symbol{}, f.hides(n, l), true
				}
			}
			if meant {
				return found(walk(f.thing, n, 0))
			}
			if passed == nil {
				passed = f.thing
			}
		}
		if _, ok := f.home.members[first]; ok {
			return found(f.thing.member(n))
		}
		if _, left := f.thing.Left[first]; left {
			var l diag.List
			return Symbol{}, l.Errorf("left-out", n.Span(), "%s leaves out %q, but this line refers to it", f.thing.Path(), first).
				Note(f.thing.Left[first], "it is left out here").
				WithHelp("write a line for %s itself that does without %s", f.thing.Path(), first), true
		}
	}
	if _, own := s.File().members["order"]; !own && first == "order" && len(n.Parts) == 2 {
		if s.File().noOrders {
			return Symbol{Broken: true}, nil, true
		}
		return Symbol{Order: n.Parts[1].Name}, nil, true
	}
	m, problem := s.File().lookup(n)
	if problem != nil {
		return Symbol{}, problem, true
	}
	switch {
	case m == (member{}) && passed != nil:
		return found(walk(passed, n, 0))
	case m.broken || m == (member{}) && s.File().incomplete:
		return Symbol{Broken: true}, nil, true
	case m.let != nil && len(n.Parts) == 1:
		return Symbol{Let: m.let}, nil, true
	case m.let != nil:
		var l diag.List
		return Symbol{}, l.Errorf("unknown-name", n.Span(), "%s is a named value and has no parts", first).
			Note(m.at, "it is named here").WithHelp("write %s alone", first), true
	case m.thing != nil:
		return found(walk(m.thing, n, 1))
	}
	return Symbol{}, nil, false
}

// found is what a look has found, or why that may not be meant.
func found(sym Symbol, problem *diag.Diagnostic) (Symbol, *diag.Diagnostic, bool) {
	return sym, problem, true
}

// dimension finds the dimension of the thing's kind that a name begins with. A
// dimension has no parts of its own: in a row called wire, wire.pitch is the
// row's, and wire alone the thickness of its wire.
func dimension(t *Thing, parts []ast.Ident) (dim.Name, bool) {
	first := parts[0].Name
	if len(parts) == 1 {
		return t.Kind.Dim(first)
	}
	if d, ok := t.Kind.Dim(first + "." + parts[1].Name); ok {
		return d, true
	}
	return dim.Gap, isGap(t, first)
}

// hidden finds the named value that a name would mean if the thing here had no
// dimension of that name.
func (s *Scope) hidden(n *ast.Name) *Let {
	for f := s; f != nil && f.thing != nil; f = f.outer {
		if m, ok := f.home.members[n.Parts[0].Name]; ok {
			return m.let
		}
	}
	m, _ := s.File().lookup(n)
	return m.let
}

// Behind finds the named value that a name would mean if no thing nearer had it;
// nil if there is none.
func (s *Scope) Behind(n *ast.Name) *Let {
	if len(n.Parts) > 1 {
		return nil
	}
	for f := s; f != nil && f.thing != nil; f = f.outer {
		if m := f.home.members[n.Parts[0].Name]; m.let != nil {
			return m.let
		}
	}
	if m, _ := s.File().lookup(n); m.let != nil {
		return m.let
	}
	m, _ := s.File().used(n)
	return m.let
}

// hides reports a name that means a dimension of the thing here, where a named
// value of that name may be meant.
func (s *Scope) hides(n *ast.Name, l *Let) *diag.Diagnostic {
	var list diag.List
	name := l.Name
	d := list.Errorf("hidden-let", n.Span(), "%s could be that of the %s or the named value %s", name, describe(s.home), name).
		Note(l.Stmt.Name.At, "the named value is here")
	full, top := "", s.home
	for top.Parent != nil {
		top = top.Parent
	}
	if !top.Kind.Template && top.Kind.ID != kind.Style { // else nothing that is made has this path
		full = fmt.Sprintf("write %s.%s for the dimension; else ", s.home.Path(), name)
	}
	return d.WithHelp("%sgive the named value another name, as in let own-%s = %s", full, name, l.Stmt.Value.Span().Short())
}

// isGap reports whether a word begins the name of one of the thing's gaps.
func isGap(t *Thing, word string) bool {
	return word == dim.Gap.String() && t.Kind.Indexed == word
}

// member follows a name that begins with a thing or a let in this one. It is no
// dimension, though the thing may have one of that name: a row that is like a
// pattern with a `let wire` has both.
func (t *Thing) member(n *ast.Name) (Symbol, *diag.Diagnostic) {
	m := t.members[n.Parts[0].Name]
	switch {
	case m.broken:
		return Symbol{Broken: true}, nil
	case m.thing != nil:
		return walk(m.thing, n, 1)
	case m.let != nil && len(n.Parts) == 1:
		return Symbol{Let: m.let}, nil
	}
	return Symbol{}, unknownPart(t, n, n.Parts[0])
}

// walk follows a name's parts from index i on inside a thing.
func walk(t *Thing, n *ast.Name, i int) (Symbol, *diag.Diagnostic) {
	for ; i < len(n.Parts); i++ {
		rest := n.Parts[i:]
		if isCell(t, rest[0]) {
			return cell(t, n, rest)
		}
		name := rest[0].Name
		for _, p := range rest[1:] {
			name += "." + p.Name
		}
		if d, ok := t.Kind.Dim(name); ok {
			return Symbol{Thing: t, Dim: d}, nil
		}
		if isGap(t, rest[0].Name) && len(rest) == 2 {
			return Symbol{Thing: t, Dim: dim.Gap, Gap: rest[1].Name}, nil
		}
		m := t.members[rest[0].Name]
		switch {
		case m.broken:
			return Symbol{Broken: true}, nil
		case m.thing != nil:
			t = m.thing
			continue
		case m.let != nil && len(rest) == 1:
			return Symbol{Let: m.let}, nil
		case t.Unsure:
			return Symbol{Broken: true}, nil
		}
		return Symbol{}, unknownPart(t, n, rest[0])
	}
	return Symbol{Thing: t}, nil
}

// unknownPart reports a part that the thing doesn't have.
func unknownPart(t *Thing, n *ast.Name, part ast.Ident) *diag.Diagnostic {
	var l diag.List
	if at, left := t.Left[part.Name]; left {
		return l.Errorf("left-out", n.Span(), "%s leaves out %q", t.Path(), part.Name).Note(at, "here")
	}
	if t.Kind.Has(part.Name) {
		return l.Errorf("unknown-name", part.At, "%s of %s is no dimension, so no line can speak of it from here", part.Name, t.Path()).
			WithHelp("state it in the braces of %s; to use its number elsewhere too, give it a name with let", t.Path())
	}
	if t.Kind.ID == kind.Stitch && slices.Contains([]string{"stitches", "run", "pitch"}, part.Name) {
		return l.Errorf("unknown-name", part.At, "%s of %s is only shown, and no line can speak of it", n.Dotted(), t.Path()).
			WithHelp("speak of the count, the run or the pitch of the whole line")
	}
	d := l.Errorf("unknown-name", part.At, "the %s has no %q", describe(t), part.Name)
	if names := t.names(); difference(part.Name, append(names, n.Parts[0].Name)) != "" {
		d.WithHelp("%s", difference(part.Name, append(names, n.Parts[0].Name)))
	} else if len(names) > 0 {
		suggest(d, part.Name, names, "it has "+spell.Or(names), t.Kind.Props...)
	} else {
		d.WithHelp("nothing in it can be spoken of")
	}
	return d
}

// names lists what may follow a thing's name after a dot, up to [mostVisible].
func (t *Thing) names() []string {
	var names []string
	for _, d := range t.Kind.Dims {
		if t.Has(d) {
			names = append(names, d.String())
		}
	}
	for i := 0; i < len(t.Children) && len(names) < mostVisible; i++ {
		names = append(names, t.Children[i].Name)
	}
	for i := 0; i < len(t.Lets) && len(names) < mostVisible; i++ {
		names = append(names, t.Lets[i].Name)
	}
	return names
}

// unknown reports a name that means nothing where it stands, where a thing of some kinds
// may be named, or anything.
func (s *Scope) unknown(n *ast.Name, kinds []kind.ID) *diag.Diagnostic {
	var l diag.List
	first := n.Parts[0]
	if help := difference(first.Name, s.Visible()); help != "" {
		return l.Errorf("unknown-name", first.At, "nothing is called %q", first.Name).WithHelp("%s", help)
	}
	for o := s; o != nil && len(n.Parts) == 1; o = o.outer {
		if o.thing != nil && o.thing.Kind.Has(first.Name) {
			return l.Errorf("unknown-name", first.At, "%s of %s is no dimension, so no line can speak of it", first.Name, o.thing.Path()).
				WithHelp("state it by = in the braces of %s; to use its number elsewhere too, give it a name with let", o.thing.Path())
		}
	}
	if s.states(n) {
		return l.Errorf("unknown-name", first.At, "%s is no dimension: a line can state it by =, but none can speak of it otherwise", first.Name).
			WithHelp("to use its number elsewhere too, give it a name with let, and write that name in both places")
	}
	d := l.Errorf("unknown-name", first.At, "nothing is called %q here", first.Name)
	if now := shelf.Renamed(first.Name); now != "" {
		return d.WithHelp("on the shelf it is called %s now", now)
	}
	if part, ok := shelf.PartOf(first.Name); ok {
		return d.WithUse(first.At.File, part).WithHelp("it is on the shelf: write use %s at the top of the file", part)
	}
	var props []string
	otherwise := "declare it, or use the file that declares it"
	if len(kinds) > 0 && len(n.Parts) == 1 {
		suggest(d, first.Name, s.things(kinds), otherwise)
		return d
	}
	if s.thing != nil {
		props = s.thing.Kind.Props
		if style := s.thing.styleAround(n.Span()); style != nil && len(n.Parts) > 1 {
			otherwise = fmt.Sprintf("a style speaks only of what it holds itself: write it in %s too, if only as row %s { }", style.Name, first.Name)
		}
	}
	suggest(d, first.Name, s.Visible(), otherwise, props...)
	return d
}

// states reports whether a name alone is what the thing, or one around it, may state
// without its being a dimension, as the extension of tabs.
func (s *Scope) states(n *ast.Name) bool {
	for f := s; f != nil && f.thing != nil && len(n.Parts) == 1; f = f.outer {
		if f.thing.Kind.Has(n.Parts[0].Name) {
			return true
		}
	}
	return false
}

// difference splits width-gap and width-3 into a name that means something and
// another or a number, and says how it is to be written; "" if it is no such name.
func difference(name string, means []string) string {
	for i := range name {
		if name[i] != '-' || !slices.Contains(means, name[:i]) {
			continue
		}
		if digits := strings.Trim(name[i+1:], "0123456789") == ""; digits || slices.Contains(means, name[i+1:]) {
			return fmt.Sprintf("a minus sign after a name needs blanks around it: %s - %s", name[:i], name[i+1:])
		}
	}
	return ""
}

// mostVisible is how many names are looked through for one that may be meant:
// a file of thousands of names that mean nothing would take minutes else.
const mostVisible = 500

// Visible lists the names that could stand in the scope, the nearest first, up to
// [mostVisible].
func (s *Scope) Visible() []string {
	var names []string
	for f := s; f != nil && f.thing != nil; f = f.outer {
		names = append(names, f.thing.names()...)
	}
	s.File().reach(func(f *File) {
		for i := 0; i < len(f.Things) && len(names) < mostVisible; i++ {
			names = append(names, f.Things[i].Name)
		}
		for i := 0; i < len(f.Lets) && len(names) < mostVisible; i++ {
			names = append(names, f.Lets[i].Name)
		}
	})
	return names[:min(len(names), mostVisible)]
}

// things lists the things of some kinds that could stand in the scope, the nearest first,
// up to [mostVisible].
func (s *Scope) things(kinds []kind.ID) []string {
	var names []string
	add := func(things []*Thing) {
		for i := 0; i < len(things) && len(names) < mostVisible; i++ {
			if slices.Contains(kinds, things[i].Kind.ID) {
				names = append(names, things[i].Name)
			}
		}
	}
	for f := s; f != nil && f.thing != nil; f = f.outer {
		add(f.thing.Children)
	}
	s.File().reach(func(f *File) { add(f.Things) })
	return names
}

// styleAround is the style in whose text a place is, of a thing that is one or is like
// one; nil if it is in none.
func (t *Thing) styleAround(at source.Span) *Thing {
	for t = t.Top(); t != nil; t = t.Like {
		if t.Kind.ID != kind.Style || t.Decl == nil {
			continue
		}
		if in := t.Decl.Span(); in.File == at.File && in.Start <= at.Start && at.End <= in.End {
			return t
		}
	}
	return nil
}
