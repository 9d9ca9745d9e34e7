package resolve

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/shelf"
	"foredge/lang/ast"
	"foredge/lang/diag"
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

// Lookup says what a name means in the scope. The diagnostic, not nil if it
// means nothing, is ready to be shown.
func (s *Scope) Lookup(n *ast.Name) (Symbol, *diag.Diagnostic) {
	first := n.Parts[0].Name
	for f := s; f != nil; f = f.outer {
		if f.thing == nil {
			break
		}
		if has(f.home, n.Parts) {
			return walk(f.thing, n, 0)
		}
		if _, left := f.thing.Left[first]; left {
			var l diag.List
			return Symbol{}, l.Errorf("left-out", n.Span(), "%s leaves out %q, but this line refers to it", f.thing.Path(), first).
				Note(f.thing.Left[first], "it is left out here").
				WithHelp("write a line for %s itself that does without %s", f.thing.Path(), first)
		}
	}
	if _, own := s.File().members["order"]; !own && first == "order" && len(n.Parts) == 2 {
		if s.File().noOrders {
			return Symbol{Broken: true}, nil
		}
		return Symbol{Order: n.Parts[1].Name}, nil
	}
	m, problem := s.File().lookup(n, map[*File]bool{})
	if problem != nil {
		return Symbol{}, problem
	}
	switch {
	case m.broken || m == (member{}) && s.File().incomplete:
		return Symbol{Broken: true}, nil
	case m.let != nil && len(n.Parts) == 1:
		return Symbol{Let: m.let}, nil
	case m.let != nil:
		var l diag.List
		return Symbol{}, l.Errorf("unknown-name", n.Span(), "%s is a named value and has no parts", first).
			Note(m.at, "it is named here").WithHelp("write %s alone", first)
	case m.thing != nil:
		return walk(m.thing, n, 1)
	}
	return Symbol{}, s.unknown(n)
}

// has reports whether the first part of a name belongs to the thing: one of
// its dimensions, a thing in it or a let.
func has(t *Thing, parts []ast.Ident) bool {
	first := parts[0].Name
	if _, ok := t.members[first]; ok {
		return true
	}
	if len(parts) > 1 {
		if _, ok := t.Kind.Dim(first + "." + parts[1].Name); ok {
			return true
		}
		return isGap(t, first)
	}
	// A dimension has no parts of its own: in a row called wire, wire.pitch is
	// the row's, and wire alone the thickness of its wire.
	_, ok := t.Kind.Dim(first)
	return ok
}

// isGap reports whether a word begins the name of one of the thing's gaps.
func isGap(t *Thing, word string) bool {
	return word == dim.Gap.String() && t.Kind.Indexed == word
}

// walk follows a name's parts from index i on inside a thing.
func walk(t *Thing, n *ast.Name, i int) (Symbol, *diag.Diagnostic) {
	for ; i < len(n.Parts); i++ {
		rest := n.Parts[i:]
		if t.Kind.ID == kind.Field && isNumber(rest[0].Name) {
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
		m, ok := t.members[rest[0].Name]
		switch {
		case m.broken:
			return Symbol{Broken: true}, nil
		case ok && m.thing != nil:
			t = m.thing
			continue
		case ok && m.let != nil && len(rest) == 1:
			return Symbol{Let: m.let}, nil
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
	d := l.Errorf("unknown-name", part.At, "the %s has no %q", describe(t), part.Name)
	suggest(d, part.Name, t.names(), "it has "+spell.Or(t.names()))
	return d
}

// names lists what may follow a thing's name after a dot.
func (t *Thing) names() []string {
	var names []string
	for _, d := range t.Kind.Dims {
		names = append(names, d.String())
	}
	for _, c := range t.Children {
		names = append(names, c.Name)
	}
	for _, l := range t.Lets {
		names = append(names, l.Name)
	}
	return names
}

// lookup finds a name at the top of the file or of one that it uses.
func (f *File) lookup(n *ast.Name, seen map[*File]bool) (member, *diag.Diagnostic) {
	first := n.Parts[0].Name
	if m, ok := f.members[first]; ok {
		return m, nil
	}
	seen[f] = true
	var found member
	for _, u := range f.Uses {
		if seen[u] {
			continue
		}
		m, problem := u.lookup(n, seen)
		if problem != nil {
			return m, problem
		}
		if m == (member{}) {
			continue
		}
		if found != (member{}) && found != m {
			var l diag.List
			return m, l.Errorf("two-meanings", n.Span(), "%q could be either of two things that this file uses", first).
				Note(found.at, "this one").Note(m.at, "or this one").
				WithHelp("declare one of that name in this file: a file's own name wins")
		}
		found = m
	}
	return found, nil
}

// unknown reports a name that means nothing where it stands.
func (s *Scope) unknown(n *ast.Name) *diag.Diagnostic {
	var l diag.List
	first := n.Parts[0]
	if a, b, ok := s.difference(first.Name); ok {
		return l.Errorf("unknown-name", first.At, "nothing is called %q", first.Name).
			WithHelp("a minus sign between names needs blanks around it: %s - %s", a, b)
	}
	d := l.Errorf("unknown-name", first.At, "nothing is called %q here", first.Name)
	if now := shelf.Renamed(first.Name); now != "" {
		return d.WithHelp("on the shelf it is called %s now", now)
	}
	suggest(d, first.Name, s.visible(), "declare it, or use the file that declares it")
	return d
}

// difference splits width-gap into two names that both mean something.
func (s *Scope) difference(name string) (a, b string, ok bool) {
	names := s.visible()
	for i := range name {
		if name[i] == '-' && slices.Contains(names, name[:i]) && slices.Contains(names, name[i+1:]) {
			return name[:i], name[i+1:], true
		}
	}
	return "", "", false
}

// visible lists every name that could stand in the scope.
func (s *Scope) visible() []string {
	var names []string
	for f := s; f != nil && f.thing != nil; f = f.outer {
		names = append(names, f.thing.names()...)
	}
	s.File().reach(func(f *File) {
		for _, t := range f.Things {
			names = append(names, t.Name)
		}
		for _, l := range f.Lets {
			names = append(names, l.Name)
		}
	})
	return names
}

// Visible finds all things of a kind that the file and those it uses hold at
// their top, own ones first.
func (f *File) Visible(k kind.ID) []*Thing {
	var found []*Thing
	f.reach(func(f *File) {
		for _, t := range f.Things {
			if t.Kind.ID == k {
				found = append(found, t)
			}
		}
	})
	return found
}

// reach visits the file and all that it uses, directly or by way of others,
// each once.
func (f *File) reach(visit func(*File)) {
	seen := map[*File]bool{}
	var walk func(f *File)
	walk = func(f *File) {
		if seen[f] {
			return
		}
		seen[f] = true
		visit(f)
		for _, u := range f.Uses {
			walk(u)
		}
	}
	walk(f)
}
