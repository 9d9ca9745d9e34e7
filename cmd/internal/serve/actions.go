package serve

import (
	"context"
	"fmt"
	"strings"

	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// codeActions offers the changes that hints name, each as one edit.
func (s *server) codeActions(ctx context.Context, p inDocument) ([]codeAction, error) {
	st := s.checked(ctx, p.TextDocument.URI)
	if st == nil {
		return nil, nil
	}
	from, to := st.offset(st.text, p.Range.Start), st.offset(st.text, p.Range.End)
	out := []codeAction{}
	for _, d := range st.result.Diagnostics {
		if d.Span.File != st.text || d.Span.End < from || d.Span.Start > to {
			continue
		}
		for _, fix := range d.Fixes {
			uri := st.uri(fix.At.File, p.TextDocument.URI)
			at, text, title := st.change(fix)
			if uri == "" || at.File == nil {
				continue
			}
			out = append(out, codeAction{Title: title, Kind: "quickfix", Diagnostics: []diagnostic{st.diagnostic(p.TextDocument.URI, d)}, IsPreferred: len(d.Fixes) == 1,
				Edit: workspaceEdit{map[string][]textEdit{uri: {{st.span(at), text}}}}})
		}
	}
	return out, nil
}

// change is a fix as one edit, and what a person is offered; no place if it can't be made.
func (s *state) change(fix diag.Fix) (at source.Span, text, title string) {
	if !fix.Line {
		title = "write " + fix.Text
		if fix.At.End > fix.At.Start {
			title += " for " + fix.At.Short()
		}
		return fix.At, fix.Text, title
	}
	tree := s.tree
	if fix.At.File != s.text {
		tree, _ = parse.File(fix.At.File)
	}
	if fix.At.End == 0 {
		at, text = onTop(tree, fix.Text)
		return at, text, "write " + fix.Text + " at the top"
	}
	d := declared(tree.Stmts, fix.At)
	if d == nil {
		return source.Span{}, "", ""
	}
	at, text = lineIn(tree.Source, d, fix.Text)
	title = fmt.Sprintf("write %s in %s", fix.Text, nameOf(d))
	if name, open := strings.CutSuffix(fix.Text, " = "); open {
		title = fmt.Sprintf("begin a line that states %s in %s", name, nameOf(d))
	}
	return at, text, title
}

// nameOf is what a person calls a declared thing: row wire.
func nameOf(d *ast.Decl) string {
	return strings.TrimSpace(d.Kind.Name + " " + d.Name.Name)
}

// declared is the innermost declaration that has a place in its head.
func declared(stmts []ast.Stmt, at source.Span) *ast.Decl {
	for _, st := range stmts {
		d, ok := st.(*ast.Decl)
		if !ok || at.Start < d.Span().Start || at.Start >= d.Span().End {
			continue
		}
		if d.Body != nil && at.Start > d.Body.At.Start {
			return declared(d.Body.Stmts, at)
		}
		return d
	}
	return nil
}

// onTop adds a line below the first lines of a file: its version, its unit and what it uses.
func onTop(tree *ast.File, text string) (source.Span, string) {
	f, after := tree.Source, 0
	for _, st := range tree.Stmts {
		switch st.(type) {
		case *ast.Use, *ast.Units, *ast.Version:
			after = f.LineNumber(st.Span().End)
		}
	}
	at := 0
	if after > 0 {
		line, start := f.Line(after)
		if at = start + len(line); at == len(f.Text()) {
			return source.Span{File: f, Start: at, End: at}, "\n" + text
		}
		at++ // the end of the line
		if strings.HasPrefix(f.Text()[at-1:], "\r\n") {
			at++
		}
	}
	return source.Span{File: f, Start: at, End: at}, text + "\n"
}

// lineIn adds a statement at the end of a declaration's braces, in a line of its own
// where they take several; no place where they aren't closed.
func lineIn(f *source.File, d *ast.Decl, text string) (source.Span, string) {
	point := func(at int) source.Span { return source.Span{File: f, Start: at, End: at} }
	if d.Body == nil {
		return point(d.Span().End), " { " + text + " }"
	}
	if !closed(f, d) {
		return source.Span{}, ""
	}
	brace := d.Body.At.End - 1
	_, start := f.Line(f.LineNumber(brace))
	if indent := f.Text()[start:brace]; strings.TrimSpace(indent) == "" && start > d.Body.At.Start {
		return point(start), indent + "  " + strings.TrimRight(text, " ") + "\n"
	}
	before := strings.TrimRight(f.Text()[:brace], " \t")
	switch {
	case strings.HasSuffix(before, "{"), strings.HasSuffix(before, ";"), strings.HasSuffix(before, "\n"):
		text = " " + text + " "
	default:
		text = "; " + text + " "
	}
	return source.Span{File: f, Start: len(before), End: brace}, text
}
