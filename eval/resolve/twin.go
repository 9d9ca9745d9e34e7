package resolve

import (
	"slices"

	"foredge/eval/kind"
	"foredge/lang/ast"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// Twins are the things of one place that share a name, each under its own condition. What takes one of
// them over has all of them: an own thing with the condition of one, word for word, is about that one,
// and one with none of their conditions is about whichever is there and replaces all of these.

// ownOf are the things in t's own braces that share a name; none where a single one states no condition.
func (t *Thing) ownOf(name string) []*Thing {
	if list := t.rivals[name]; len(list) > 0 {
		return list
	}
	if c := t.members[name].thing; c != nil && c.Decl != nil && conditional(c) {
		return []*Thing{c}
	}
	return nil
}

// aboutAnother reports whether an own thing is about another of the twins of what it would take over than
// the one that is there. own are all that share its name.
func (t *Thing) aboutAnother(own []*Thing, there *Thing) bool {
	twins := there.theirTwins()
	there = there.conditioned()
	switch {
	case len(own) == 0 || there.missing:
		return false
	case t.missing:
		return slices.ContainsFunc(own, func(o *Thing) bool { return slices.ContainsFunc(twins, o.asksAs) })
	}
	return !t.asksAs(there) && slices.ContainsFunc(twins, t.asksAs)
}

// twinsOf are the twins of what takes over one of several things, beside its own.
func twinsOf(own []*Thing, of *Thing) []*Thing {
	theirs := of.theirTwins()
	if len(own) == 0 {
		return theirs
	}
	all := slices.Clone(own)
	for _, t := range theirs {
		if !slices.ContainsFunc(own, t.asksAs) {
			all = append(all, t)
		}
	}
	if len(all) == len(own)+len(theirs) { // they are about none of them
		all = own
	}
	if len(all) == 1 {
		return nil
	}
	return all
}

// theirTwins are a thing's twins, of a row that has its condition from a notebook's those of that.
func (t *Thing) theirTwins() []*Thing {
	if t.twins != nil {
		return t.twins
	}
	return t.conditioned().twins
}

// asksAs reports whether two things are there under one condition, as it is written and of the same
// values: two files may have a let of one name.
func (t *Thing) asksAs(other *Thing) bool {
	a, b := t.asked(), other.asked()
	return len(a) == 1 && len(b) == 1 && slices.Equal(a[0].words, b[0].words) && slices.Equal(a[0].lets(), b[0].lets())
}

// asked is the condition under which a thing is there, also before it is opened.
func (t *Thing) asked() []Condition {
	for i := 0; i < len(t.sources) && len(t.When) == 0; i++ {
		if s := t.sources[i]; s.src != s.origin {
			return s.src.asked()
		}
	}
	return t.When
}

// wordsOf are the words, numbers and signs in which a condition is written.
func wordsOf(condition ast.Expr) (words []string) {
	text := condition.Span().Text()
	for _, t := range parse.Tokens(source.New("", []byte(text))) {
		if t.Kind != parse.Comment {
			words = append(words, text[t.Start:t.End])
		}
	}
	return words
}

// lets are the named values of which a condition asks.
func (c Condition) lets() (lets []*Let) {
	ast.Walk(c.Expr, func(n ast.Node) bool {
		if name, ok := n.(*ast.Name); ok {
			if sym, problem := c.Scope.Lookup(name); problem == nil && sym.Let != nil {
				lets = append(lets, sym.Let)
			}
		}
		return true
	})
	return lets
}

// conditioned is the thing from which t has its condition: a notebook's row of one that covers
// it and says nothing of that itself.
func (t *Thing) conditioned() *Thing {
	if t.Kind.ID == kind.Row && t.Parent != nil && t.Parent.Covers != nil && (t.follows || len(t.asked()) == 0) && !t.edged() {
		if row := t.Parent.Covers.row(t.Name); row != nil {
			return row
		}
	}
	return t
}

// setAside has a thing not be there this time. Of what comes along from elsewhere that tells itself
// what is wrong with it.
func (r *resolver) setAside(t *Thing) {
	if t.Decl != nil && !slices.Contains(r.info.Idle, t) {
		r.info.Idle = append(r.info.Idle, t)
	}
	t.withdrawAll()
}

// takeIdle has own things that aren't there this time take over those of the twins to which they would be
// like: what stands in them may speak of what these have. there is the one of them that is, if it is.
func (s inheritance) takeIdle(own []*Thing, there *Thing, is bool, of *Thing) {
	for _, o := range own {
		if o == there && is {
			continue
		}
		twins := of.theirTwins()
		if i := slices.IndexFunc(twins, o.asksAs); i >= 0 && twins[i].Kind == o.Kind {
			o.sources = append(o.sources, inheritance{twins[i], s.origin, s.rb.with(twins[i], o)})
		}
	}
}

// asideRows sets aside those of a panel's own rows that are about another of the twins in the notebook
// which it covers than the one that is there.
func (r *resolver) asideRows(t *Thing) {
	if t.Covers == nil {
		return
	}
	for _, br := range t.Covers.Children {
		c := t.members[br.Name].thing
		if br.Kind.ID != kind.Row || c == nil || c.Kind != br.Kind || t.uncovered[br.Name] || !c.aboutAnother(t.ownOf(br.Name), br) {
			continue
		}
		t.Children = slices.DeleteFunc(t.Children, func(o *Thing) bool { return o == c })
		delete(t.members, br.Name)
		r.setAside(c)
	}
}

// dropTwins has a row that states no condition take over nothing that is about another of the twins of the
// notebook's row than the one that is there.
func (t *Thing) dropTwins(row *Thing) {
	if len(t.When) > 0 || row.missing {
		return
	}
	t.sources = slices.DeleteFunc(t.sources, func(s inheritance) bool {
		return s.src != s.origin && !s.src.asksAs(row) && slices.ContainsFunc(row.twins, s.src.asksAs)
	})
}
