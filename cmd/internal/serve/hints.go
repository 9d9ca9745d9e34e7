package serve

import (
	"context"
	"slices"

	"foredge/eval/kind"
	"foredge/eval/mention"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// inlayHints are the worked-out values of what lines don't state in numbers, behind
// them, and the sizes of panels behind their heads.
func (s *server) inlayHints(ctx context.Context, p inDocument) ([]inlayHint, error) {
	st := s.checked(ctx, p.TextDocument.URI)
	if st == nil || st.result.Solution == nil || st.mentions() == nil {
		return nil, nil
	}
	from, to := st.offset(st.text, p.Range.Start), st.offset(st.text, p.Range.End)
	out := []inlayHint{}
	add := func(at int, label string) {
		if label != "" && at >= from && at <= to {
			out = append(out, inlayHint{st.position(st.text, at), label, true})
		}
	}
	mentions := st.mentions().In(st.text)
	for _, stmt := range st.tree.Stmts {
		ast.Walk(stmt, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.Relation:
				if !plain(n) {
					add(n.Span().End, st.valueOf(mentions, n.First))
				}
			case *ast.Decl:
				if n.Body != nil && n.Kind.Name == kind.Panel.String() {
					add(n.Body.At.Start, st.sizeOf(mentions, n))
				}
				return n.Body != nil
			}
			_, isExpr := n.(ast.Expr)
			return !isExpr
		})
	}
	return out, nil
}

// plain reports whether a line states numbers only, so that there is nothing to add.
func plain(r *ast.Relation) bool {
	if len(r.Rest) != 1 || r.Rest[0].Op != ast.Eq {
		return false
	}
	numbers := true
	ast.Walk(r.Rest[0].Value, func(n ast.Node) bool {
		switch n.(type) {
		case *ast.Name, *ast.Binary, *ast.Call:
			numbers = false
		}
		return numbers
	})
	return numbers
}

// valueOf is what a dimension on the left of a line comes to, as in = 8.47 mm.
func (s *state) valueOf(mentions []mention.Mention, left ast.Expr) string {
	at := left.Span()
	i := slices.IndexFunc(mentions, func(m mention.Mention) bool {
		return m.At.End == at.End && m.At.Start >= at.Start && m.Dimension() != ""
	})
	if i < 0 {
		return ""
	}
	solution := s.result.Solution
	id, ok := solution.Dimension(mentions[i].Dimension())
	if !ok || !solution.Known(id) {
		return ""
	}
	return "= " + solution.Format(solution.Value(id), mentions[i].Dim.Kind(), at)
}

// sizeOf is how large a declared thing comes out.
func (s *state) sizeOf(mentions []mention.Mention, d *ast.Decl) string {
	for _, m := range mentions {
		if m.Declares && m.At == d.Name.At && m.Thing != nil {
			return s.size(m.Thing.Path())
		}
	}
	return ""
}

// inside are the declarations around a place, the outermost first.
func inside(stmts []ast.Stmt, f *source.File, offset int) (around []*ast.Decl) {
	for _, st := range stmts {
		if d, ok := st.(*ast.Decl); ok && d.Body != nil && d.Body.At.Start < offset && (offset < d.Body.At.End || !closed(f, d)) {
			return append([]*ast.Decl{d}, inside(d.Body.Stmts, f, offset)...)
		}
	}
	return nil
}

// closed reports whether a declaration has its closing brace.
func closed(f *source.File, d *ast.Decl) bool {
	end := d.Body.At.End
	return end > 0 && f.Text()[end-1] == '}'
}
