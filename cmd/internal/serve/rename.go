package serve

import (
	"context"
	"fmt"
	"slices"
	"strings"

	"github.com/creachadair/jrpc2"

	"foredge/cmd/internal/driver"
	"foredge/eval/mention"
	"foredge/lang/diag"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// requestFailed is the protocol's code of a request that was right but can't be met.
const requestFailed = jrpc2.Code(-32803)

// prepareRename says what would be renamed.
func (s *server) prepareRename(ctx context.Context, p inDocument) (*textRange, error) {
	st, m, ok := s.at(ctx, p)
	if !ok || !canRename(m) {
		return nil, nil
	}
	at := st.span(m.At)
	return &at, nil
}

// canRename reports whether a name is one that a person has given.
func canRename(m mention.Mention) bool {
	return m.Dimension() == "" && m.Order == "" && (m.Let != nil || m.Thing != nil)
}

// rename gives what is named at a place another name wherever it is spoken of, in the
// files that are used too. Where the design would then have an error that it hasn't
// now, it is refused with that error.
func (s *server) rename(ctx context.Context, p inDocument) (*workspaceEdit, error) {
	st, m, ok := s.at(ctx, p)
	switch {
	case !ok || !canRename(m):
		return nil, jrpc2.Errorf(requestFailed, "what stands here has no name that can be changed: dimensions, kinds and words are the language's, and a column is called as the table has it")
	case !isName(p.NewName):
		return nil, jrpc2.Errorf(requestFailed, "%q can't be a name: a name is made of letters and digits, with hyphens between them", p.NewName)
	}
	edits := map[string][]textEdit{}
	texts := map[*source.File]string{}
	all := st.mentions().All(m)
	slices.Reverse(all) // so that places before stay as they are
	for _, other := range all {
		f := other.At.File
		uri := st.uri(f, p.TextDocument.URI)
		if uri == "" {
			return nil, jrpc2.Errorf(requestFailed, "%s is a name of the shelf, which can't be changed", other.At.Text())
		}
		edits[uri] = append(edits[uri], textEdit{st.span(other.At), p.NewName})
		if _, begun := texts[f]; !begun {
			texts[f] = f.Text()
		}
		texts[f] = texts[f][:other.At.Start] + p.NewName + texts[f][other.At.End:]
	}
	if fault := s.fault(ctx, st, p.TextDocument.URI, texts); fault != nil {
		return nil, jrpc2.Errorf(requestFailed, "with the name %s it would say: %s", p.NewName, fault.Message)
	}
	return &workspaceEdit{edits}, nil
}

// isName reports whether a text is one name.
func isName(text string) bool {
	t := parse.Tokens(source.New("", []byte(text)))
	return len(t) == 1 && t[0].Kind == parse.Word && t[0].End == len(text) && !strings.Contains(text, "_")
}

// fault is the first error that a design has with other texts and hasn't now.
func (s *server) fault(ctx context.Context, st *state, uri string, texts map[*source.File]string) *diag.Diagnostic {
	trial := driver.NewSession(nil)
	s.mu.Lock()
	d := s.docs[uri]
	for _, open := range s.docs {
		trial.SetText(open.path, []byte(open.text))
	}
	s.mu.Unlock()
	if d == nil {
		return nil
	}
	for f, text := range texts {
		path := st.result.Paths[f]
		if f == st.text {
			path = d.path
		}
		trial.SetText(path, []byte(text))
	}
	key := func(d *diag.Diagnostic) string { return fmt.Sprint(d.Code, d.Span.File != nil) }
	now := map[string]int{}
	for _, e := range st.result.Diagnostics {
		if e.Severity == diag.Error {
			now[key(e)]++
		}
	}
	for _, e := range trial.Check(ctx, d.path).Diagnostics {
		if e.Severity != diag.Error {
			continue
		}
		if now[key(e)]--; now[key(e)] < 0 {
			return e
		}
	}
	return nil
}
