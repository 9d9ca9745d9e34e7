package mention

import (
	"fmt"
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/resolve"
	"foredge/lang/source"
)

// A node is what bears a name: a declaration of the text (*ast.Decl, *ast.Let), or a
// thing that only came along (*resolve.Thing).
type node any

// Families hold what goes by one name because of another: each leads to another of its
// family, or is its head.
type families map[node]node

// nodeOf is what bears a thing's name, also where the thing came along.
func nodeOf(t *resolve.Thing) node {
	if t.Decl != nil {
		return t.Decl
	}
	return t
}

func (f families) head(n node) node {
	for {
		next, ok := f[n]
		if !ok || next == n {
			return n
		}
		n = next
	}
}

func (f families) join(a, b node) {
	if a, b = f.head(a), f.head(b); a != b {
		f[a] = b
	}
}

// of is the head of the family of what a name stands for, nil for a column of orders.
func (f families) of(s resolve.Symbol) node {
	switch {
	case s.Let != nil:
		return f.head(s.Let.Stmt)
	case s.Thing != nil:
		return f.head(nodeOf(s.Thing))
	}
	return nil
}

// models are what a thing is like: what its clause names, and its counterparts.
func models(t *resolve.Thing) []*resolve.Thing {
	out := counterparts(t)
	if t.Like != nil && !slices.Contains(out, t.Like) {
		out = append(out, t.Like)
	}
	return out
}

// counterparts are what has a thing's name in what the thing around it is like.
func counterparts(t *resolve.Thing) (out []*resolve.Thing) {
	if t.Parent == nil {
		return nil
	}
	for _, around := range models(t.Parent) {
		if c, _ := around.Member(t.Name); c != nil && c.Kind == t.Kind {
			out = append(out, c)
		}
	}
	return out
}

// thing joins a thing, and the named values in it, to what has the same name because of
// them: what merges with them by like or mirrors, the notebook's row on which a row lies,
// and the things with which they share their name.
func (f families) thing(t *resolve.Thing) {
	if t.CoverOf != nil {
		f.join(nodeOf(t), nodeOf(t.CoverOf))
	}
	for _, c := range counterparts(t) {
		f.join(nodeOf(t), nodeOf(c))
	}
	own := models(t)
	for _, l := range t.Lets {
		for _, m := range own {
			if _, other := m.Member(l.Name); other != nil {
				f.join(l.Stmt, other.Stmt)
			}
		}
	}
}

// shared joins the things of one place that share their name, and what these hold under one
// name: whatever is like them may mean either.
func (f families) shared(in *resolve.Info) {
	type place struct {
		around node
		name   string
	}
	first := map[place]node{}
	var join func(around node, things []*resolve.Thing)
	join = func(around node, things []*resolve.Thing) {
		for _, t := range things {
			at := place{around, t.Name}
			if other, known := first[at]; known {
				f.join(nodeOf(t), other)
			} else {
				first[at] = nodeOf(t)
			}
			join(f.head(nodeOf(t)), t.Children)
		}
	}
	for _, file := range in.All {
		join(file.Source, file.Things)
	}
	for _, t := range in.Idle {
		var around node = t.File.Source
		if t.Parent != nil {
			around = nodeOf(t.Parent)
		}
		join(around, []*resolve.Thing{t})
	}
}

// Origins are the places in the text that give a name to what is mentioned and to all
// that goes by one name with it, in order; none for what is no thing or named value.
func (x *Index) Origins(m Mention) []source.Span {
	var at []source.Span
	for _, other := range x.All(m) {
		if other.Declares && m.Dim == dim.None && m.Order == "" {
			at = append(at, other.At)
		}
	}
	return at
}

// Renaming says what the path of a dimension, such as front.wire.pitch, becomes once what
// is mentioned has another name.
func (x *Index) Renaming(m Mention, name string) func(path string) string {
	known := map[string]bool{}
	return func(path string) string {
		parts := strings.Split(path, ".")
		out := slices.Clone(parts)
		for i := range parts {
			key := strings.Join(parts[:i+1], ".")
			bears, seen := known[key]
			if !seen {
				bears = x.bears(parts[:i+1], m)
				known[key] = bears
			}
			if bears {
				out[i] = name
			}
		}
		return strings.Join(out, ".")
	}
}

// bears reports whether a path is that of what is mentioned, in any of the worlds. Where
// several files have something of its first name, the design's own is meant, which is
// first.
func (x *Index) bears(path []string, m Mention) bool {
	for _, w := range x.worlds {
		for _, f := range w.All {
			things, lets := f.Things, f.Lets
			for i, part := range path {
				last := i == len(path)-1
				l := slices.IndexFunc(lets, func(l *resolve.Let) bool { return l.Name == part })
				k := slices.IndexFunc(things, func(t *resolve.Thing) bool { return t.Name == part })
				switch {
				case last && l >= 0:
					return x.families.head(lets[l].Stmt) == x.families.of(m.Symbol)
				case last && k >= 0:
					return x.families.head(nodeOf(things[k])) == x.families.of(m.Symbol)
				case k < 0:
					things, lets = nil, nil
				default:
					things, lets = things[k].Children, things[k].Lets
				}
			}
		}
	}
	return false
}

// Meaning says in a text what a mention stands for, the same as long as it stands for the
// same: by the places at which its family is declared, as where writes them.
func (x *Index) Meaning(m Mention, where func(source.Span) string) string {
	if m.Order != "" {
		return "order." + m.Order
	}
	var b strings.Builder
	chain := func(s resolve.Symbol) {
		fmt.Fprintf(&b, "%s/", where(x.firstOf(s)))
	}
	t := m.Thing
	if m.Let != nil {
		chain(m.Symbol)
		b.WriteString(where(m.Let.Stmt.Name.At))
		t = m.Let.Owner
	}
	for ; t != nil; t = t.Parent {
		chain(resolve.Symbol{Thing: t})
	}
	fmt.Fprintf(&b, "%d.%s.%v", m.Dim, m.Gap, m.Cell)
	return b.String()
}

// firstOf is the first place at which the family of a symbol is declared.
func (x *Index) firstOf(s resolve.Symbol) source.Span {
	if x.firsts == nil {
		x.firsts = map[node]source.Span{}
		for _, f := range x.Files() {
			for _, m := range x.all[f] {
				if head := x.families.of(m.Symbol); m.Declares && head != nil {
					if _, known := x.firsts[head]; !known {
						x.firsts[head] = m.At
					}
				}
			}
		}
	}
	return x.firsts[x.families.of(s)]
}
