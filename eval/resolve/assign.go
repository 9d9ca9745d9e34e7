package resolve

import (
	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/lang/ast"
)

// assign gives lines that state a property of a thing within, as in
// `seal.shape = round 5`, to that thing. What they state is no relation, so it is
// read with the thing. Names in them keep the meaning that they have where they were
// written.
func (r *resolver) assign(things []*Thing) {
	for _, t := range things {
		t.Lines = assignLines(t.Lines, func(e ast.Expr) stated { return named(t, e) }, t)
		r.assign(t.Children)
	}
}

// Property is what a line's left side states of the thing that is no dimension, "" if it is none.
func (t *Thing) Property(left ast.Expr) string {
	switch left := left.(type) {
	case *ast.Name:
		if n := left.Parts[0].Name; len(left.Parts) == 1 && t.Kind.Has(n) {
			return n
		}
	case *ast.Indexed:
		if w := left.Word.Name; w == t.Kind.Indexed && w != dim.Gap.String() {
			return w + " " + left.Index.Name
		}
	}
	return ""
}

// assignTop does so for the lines at the top of a file.
func (r *resolver) assignTop(f *File) {
	f.Lines = assignLines(f.Lines, f.named, nil)
	r.assign(f.Things)
}

// assignLines gives the lines that remain in a thing. To a style no line outside of
// it can give anything: only what stands in its braces comes along.
func assignLines(lines []*Line, find func(ast.Expr) stated, in *Thing) []*Line {
	kept := lines[:0]
	for _, l := range lines {
		s, rel := stated{}, (*ast.Relation)(nil)
		if rel, _ = l.Stmt.(*ast.Relation); rel != nil {
			if n, ok := rel.First.(*ast.Name); ok && len(n.Parts) > 1 {
				s = find(n)
			}
		}
		if s.of == nil || s.of == in || !s.of.Kind.Has(s.name) || s.of.inStyle() && (in == nil || !in.inStyle()) {
			kept = append(kept, l)
			continue
		}
		moved, own := *l, *rel
		parts := rel.First.(*ast.Name).Parts
		own.First = &ast.Name{Parts: parts[len(parts)-1:]}
		moved.Stmt, moved.Written = &own, rel
		s.of.Lines = append(s.of.Lines, &moved)
	}
	return kept
}

// inStyle reports whether a thing is a style or stands in one.
func (t *Thing) inStyle() bool { return t.Top().Kind.ID == kind.Style }
