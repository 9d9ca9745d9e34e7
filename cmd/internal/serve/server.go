package serve

import (
	"context"
	"encoding/json"
	"io"
	"sync"

	"github.com/creachadair/jrpc2"
	"github.com/creachadair/jrpc2/handler"

	"foredge/cmd/internal/driver"
)

// Serve answers an editor until it says goodbye, its end of the line closes or the
// context ends. orderly says whether it had announced the end, as it should.
func Serve(ctx context.Context, in io.Reader, out io.WriteCloser, version string) (orderly bool, err error) {
	s := &server{session: driver.NewSession(nil), version: version, ctx: ctx, encoding: utf16Units, docs: map[string]*document{}, told: map[string]map[string][]diagnostic{}}
	s.session.NameFromFolder()
	s.rpc = jrpc2.NewServer(assigner{s.methods()}, &jrpc2.ServerOptions{AllowPush: true, DisableBuiltin: true})
	s.rpc.Start(newLine(in, out))
	ended := make(chan error, 1)
	go func() { ended <- s.rpc.Wait() }()
	select {
	case err = <-ended:
	case <-ctx.Done(): // it is not stopped: a message that comes just then would be its end
	}
	s.closeAll()
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.shut, err
}

// A server is one editor's. Requests that only look run beside one another.
type server struct {
	session *driver.Session
	rpc     *jrpc2.Server
	version string
	ctx     context.Context

	mu       sync.Mutex // of what follows
	encoding encoding
	docs     map[string]*document // by URI
	told     map[string]map[string][]diagnostic
	folders  []string // that the editor has open
	shut     bool
	checking sync.Mutex // one text is checked at a time
}

// An assigner finds what answers a request. The library gives the number of a request free
// only if something answers it, so a method that is not known is answered here. A request
// that was cancelled before it came to anything ends with an error.
type assigner struct{ known handler.Map }

// Assign never gives nil.
func (a assigner) Assign(ctx context.Context, method string) jrpc2.Handler {
	answer := a.known.Assign(ctx, method)
	if answer == nil {
		return func(context.Context, *jrpc2.Request) (any, error) {
			return nil, jrpc2.Errorf(jrpc2.MethodNotFound, "there is no method %s here", method)
		}
	}
	return func(ctx context.Context, r *jrpc2.Request) (any, error) {
		result, err := answer(ctx, r)
		if ctx.Err() != nil && err == nil {
			// What was done by then is told; line gives the error the protocol's code.
			if text, _ := json.Marshal(result); string(text) == "null" {
				err = ctx.Err()
			}
		}
		return result, err
	}
}

func (s *server) methods() handler.Map {
	ignore := handler.New(func(context.Context) error { return nil })
	return handler.Map{
		"initialize":      handler.New(s.initialize),
		"initialized":     ignore,
		"shutdown":        handler.New(s.shutdown),
		"exit":            ignore, // nothing is read after it: see line
		"$/cancelRequest": handler.New(s.cancel),
		"$/setTrace":      ignore,

		"textDocument/didOpen":   handler.New(s.didOpen),
		"textDocument/didChange": handler.New(s.didChange),
		"textDocument/didClose":  handler.New(s.didClose),
		"textDocument/didSave":   handler.New(s.didSave),

		"workspace/didChangeConfiguration":    ignore,
		"workspace/didChangeWorkspaceFolders": handler.New(s.foldersChanged),
		"workspace/didChangeWatchedFiles":     handler.New(s.filesChanged),

		"textDocument/hover":               handler.New(s.hover),
		"textDocument/definition":          handler.New(s.definition),
		"textDocument/references":          handler.New(s.references),
		"textDocument/documentHighlight":   handler.New(s.highlight),
		"textDocument/prepareRename":       handler.New(s.prepareRename),
		"textDocument/rename":              handler.New(s.rename),
		"textDocument/documentSymbol":      handler.New(s.symbols),
		"textDocument/foldingRange":        handler.New(s.folding),
		"textDocument/formatting":          handler.New(s.formatting),
		"textDocument/completion":          handler.New(s.completion),
		"textDocument/inlayHint":           handler.New(s.inlayHints),
		"textDocument/semanticTokens/full": handler.New(s.semanticTokens),
		"textDocument/codeAction":          handler.New(s.codeActions),
	}
}

// initialize agrees on how to count and says what is answered.
func (s *server) initialize(_ context.Context, p initialize) (any, error) {
	s.mu.Lock()
	s.encoding = agree(p.Capabilities.General.PositionEncodings)
	if p.WorkspaceFolders == nil && p.RootURI != "" {
		p.WorkspaceFolders = []folder{{p.RootURI}}
	}
	for _, f := range p.WorkspaceFolders {
		if path, ok := pathOf(f.URI); ok {
			s.folders = append(s.folders, path)
		}
	}
	s.mu.Unlock()
	type object = map[string]any
	return object{
		"capabilities": object{
			"positionEncoding":           s.encoding,
			"textDocumentSync":           object{"openClose": true, "change": 2, "save": true},
			"hoverProvider":              true,
			"definitionProvider":         true,
			"referencesProvider":         true,
			"documentHighlightProvider":  true,
			"renameProvider":             object{"prepareProvider": true},
			"documentSymbolProvider":     true,
			"foldingRangeProvider":       true,
			"documentFormattingProvider": true,
			"completionProvider":         object{"triggerCharacters": []string{".", " ", "\""}},
			"inlayHintProvider":          true,
			"semanticTokensProvider":     object{"legend": object{"tokenTypes": tokenTypes(), "tokenModifiers": []string{}}, "full": true},
			"workspace":                  object{"workspaceFolders": object{"supported": true, "changeNotifications": true}},
			"codeActionProvider":         object{"codeActionKinds": []string{"quickfix"}},
		},
		"serverInfo": object{"name": "foredge", "version": s.version},
	}, nil
}

func (s *server) shutdown(context.Context) (any, error) {
	s.mu.Lock()
	s.shut = true
	s.mu.Unlock()
	return nil, nil
}

func (s *server) cancel(_ context.Context, p struct {
	ID any `json:"id"`
}) error {
	s.rpc.CancelRequest(idText(p.ID))
	return nil
}
