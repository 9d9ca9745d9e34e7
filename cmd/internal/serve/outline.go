package serve

import (
	"context"

	"foredge/lang/ast"
	"foredge/lang/format"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// read parses a document's text as it is now, without waiting for its check.
func (s *server) read(uri string) (*ast.File, encoding, bool) {
	s.mu.Lock()
	d, e := s.docs[uri], s.encoding
	s.mu.Unlock()
	if d == nil {
		return nil, e, false
	}
	tree, _ := parse.File(source.New(d.path, []byte(s.textOf(d))))
	return tree, e, true
}

func (s *server) textOf(d *document) string {
	s.mu.Lock()
	defer s.mu.Unlock()
	return d.text
}

// symbols are the things of a document, each with those in it, and its named values.
func (s *server) symbols(_ context.Context, p inDocument) ([]documentSymbol, error) {
	tree, e, ok := s.read(p.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	return symbolsOf(e, tree.Stmts), nil
}

func symbolsOf(e encoding, stmts []ast.Stmt) []documentSymbol {
	out := []documentSymbol{}
	for _, st := range stmts {
		switch st := st.(type) {
		case *ast.Decl:
			d := documentSymbol{Name: st.Name.Name, Detail: st.Kind.Name, Kind: symbolClass, Range: e.span(st.Span()), SelectionRange: e.span(st.Name.At)}
			if st.Title != nil {
				d.Name, d.SelectionRange = st.Title.Value, e.span(st.Title.Span())
			}
			if d.Name == "" {
				d.Name, d.SelectionRange = st.Kind.Name, e.span(st.Kind.At)
			}
			if st.Body != nil {
				d.Children = symbolsOf(e, st.Body.Stmts)
			}
			out = append(out, d)
		case *ast.Let:
			out = append(out, documentSymbol{Name: st.Name.Name, Detail: "let", Kind: symbolVariable, Range: e.span(st.Span()), SelectionRange: e.span(st.Name.At)})
		}
	}
	return out
}

// folding are the stretches between braces that take several lines.
func (s *server) folding(_ context.Context, p inDocument) ([]foldingRange, error) {
	tree, e, ok := s.read(p.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	out := []foldingRange{}
	for _, st := range tree.Stmts {
		ast.Walk(st, func(n ast.Node) bool {
			if b, ok := n.(*ast.Block); ok {
				if at := e.span(b.Span()); at.End.Line > at.Start.Line+1 {
					out = append(out, foldingRange{StartLine: at.Start.Line, EndLine: at.End.Line - 1})
				}
			}
			_, isExpr := n.(ast.Expr)
			return !isExpr
		})
	}
	return out, nil
}

// formatting lays the text out as `foredge fmt` does; one with errors is left alone.
func (s *server) formatting(_ context.Context, p inDocument) ([]textEdit, error) {
	tree, e, ok := s.read(p.TextDocument.URI)
	if !ok {
		return nil, nil
	}
	text, diags := format.Source(tree.Source)
	if diags.HasErrors() || text == tree.Source.Text() {
		return []textEdit{}, nil
	}
	return []textEdit{{e.span(source.Span{File: tree.Source, Start: 0, End: len(tree.Source.Text())}), text}}, nil
}

// tokenTypes are what parts of a text are shown as, by the protocol's names.
func tokenTypes() []string {
	return []string{"comment", "string", "number", "keyword", "type", "property", "variable", "function", "operator"}
}

const (
	tokenComment = iota
	tokenString
	tokenNumber
	tokenKeyword
	tokenType
	tokenProperty
	tokenVariable
	tokenFunction
	tokenOperator
)

// semanticTokens tells what each part of a text is: words of the language, kinds, names
// of dimensions, of things and of values.
func (s *server) semanticTokens(ctx context.Context, p inDocument) (*semanticTokens, error) {
	st := s.checked(ctx, p.TextDocument.URI)
	if st == nil {
		return nil, nil
	}
	roles := rolesOf(st)
	out := &semanticTokens{Data: []int{}}
	line, from := 0, 0
	for _, t := range parse.Tokens(st.text) {
		role, known := -1, false
		switch t.Kind {
		case parse.Comment:
			role = tokenComment
		case parse.Text:
			role = tokenString
		case parse.Number:
			role = tokenNumber
		case parse.Word:
			if role, known = roles[t.Start]; !known {
				role = tokenKeyword
			}
		}
		if role < 0 {
			continue
		}
		a, b := st.position(st.text, t.Start), st.position(st.text, t.End)
		if a.Line > line {
			from = 0
		}
		out.Data = append(out.Data, a.Line-line, a.Character-from, b.Character-a.Character, role, 0)
		line, from = a.Line, a.Character
	}
	return out, nil
}

// rolesOf says of words, by where they begin, what they are if that is no word of the
// language.
func rolesOf(st *state) map[int]int {
	roles := map[int]int{}
	for _, stmt := range st.tree.Stmts {
		ast.Walk(stmt, func(n ast.Node) bool {
			switch n := n.(type) {
			case *ast.Decl:
				roles[n.Kind.At.Start] = tokenType
				roles[n.Name.At.Start] = tokenVariable
			case *ast.Call:
				roles[n.Func.At.Start] = tokenFunction
			case *ast.Name:
				for _, part := range n.Parts {
					if _, known := roles[part.At.Start]; !known {
						roles[part.At.Start] = tokenProperty
					}
				}
			case *ast.Number:
				if n.Unit != "" {
					roles[n.Span().End-len(n.Unit)] = tokenNumber
				}
			}
			return true
		})
	}
	if x := st.mentions(); x != nil {
		for _, m := range x.In(st.text) {
			if m.Dimension() == "" {
				roles[m.At.Start] = tokenVariable
			}
		}
	}
	return roles
}
