package serve

import (
	"context"
	"errors"

	"github.com/creachadair/jrpc2"

	"foredge/cmd/internal/rename"
)

// Codes of the protocol: of a request that was right but can't be met, and of one whose
// text has changed meanwhile.
const (
	requestFailed   = jrpc2.Code(-32803)
	contentModified = jrpc2.Code(-32801)
)

// prepareRename says what would be renamed.
func (s *server) prepareRename(ctx context.Context, p inDocument) (*textRange, error) {
	st, m, ok := s.at(ctx, p)
	if !ok || !rename.Nameable(m) {
		return nil, nil
	}
	at := st.span(m.At)
	return &at, nil
}

// rename gives what is named at a place another name wherever it is spoken of, in all
// designs of the workspace. It is refused where anything but the name would change.
func (s *server) rename(ctx context.Context, p inDocument) (*workspaceEdit, error) {
	st, m, ok := s.at(ctx, p)
	if !ok || !rename.Nameable(m) {
		return nil, jrpc2.Errorf(requestFailed, "what stands here has no name that can be changed: dimensions, kinds and words are the language's, and a column is called as the table has it")
	}
	bench, whole := s.bench(ctx)
	if !whole {
		return nil, jrpc2.Errorf(requestFailed, "there are too many files in the folders that are open to look for %s in all of them: open the folder of the designs alone", m.At.Text())
	}
	found, ok := s.find(ctx, bench, st, p)
	if !ok {
		return nil, jrpc2.Errorf(contentModified, "the text has changed meanwhile")
	}
	var refused *rename.Refusal
	switch err := bench.Rename(ctx, found, p.NewName); {
	case errors.As(err, &refused):
		return nil, jrpc2.Errorf(requestFailed, "%s", refused.Message)
	case err != nil:
		return nil, err
	}
	edits := map[string][]textEdit{}
	for _, at := range found.Places {
		uri := s.uriOfPath(at.Path)
		edits[uri] = append(edits[uri], textEdit{st.span(found.Span(at)), p.NewName})
	}
	return &workspaceEdit{edits}, nil
}

// find finds what is named at a place, in all designs of the workspace.
func (s *server) find(ctx context.Context, bench *rename.Bench, st *state, p inDocument) (*rename.Found, bool) {
	s.mu.Lock()
	d := s.docs[p.TextDocument.URI]
	s.mu.Unlock()
	if d == nil {
		return nil, false
	}
	return bench.Find(ctx, d.path, st.text.Text(), st.offset(st.text, p.Position))
}
