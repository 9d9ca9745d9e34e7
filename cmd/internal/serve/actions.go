package serve

import (
	"context"
	"fmt"
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
		if d.Fix == nil || d.Fix.At.File != st.text || d.Span.File != st.text || d.Span.End < from || d.Span.Start > to {
			continue
		}
		title := fmt.Sprintf("write %s", d.Fix.Text)
		if d.Fix.At.End > d.Fix.At.Start {
			title += " for " + d.Fix.At.Short()
		}
		out = append(out, codeAction{Title: title, Kind: "quickfix", Diagnostics: []diagnostic{st.diagnostic(p.TextDocument.URI, d)}, IsPreferred: true,
			Edit: workspaceEdit{map[string][]textEdit{p.TextDocument.URI: {{st.span(d.Fix.At), d.Fix.Text}}}}})
	}
	return out, nil
}
