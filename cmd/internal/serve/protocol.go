package serve

// The little of the Language Server Protocol 3.17 that is spoken here, by its own names.
// The libraries of its types that there are know 3.16, which has no inlay hints.

type position struct {
	Line      int `json:"line"` // from 0
	Character int `json:"character"`
}

type textRange struct {
	Start position `json:"start"`
	End   position `json:"end"`
}

type location struct {
	URI   string    `json:"uri"`
	Range textRange `json:"range"`
}

type textDocument struct {
	URI     string `json:"uri"`
	Version int    `json:"version"`
	Text    string `json:"text"`
}

// inDocument are the params of a request about a document, and of one about a place or
// a stretch of it.
type inDocument struct {
	TextDocument textDocument `json:"textDocument"`
	Position     position     `json:"position"`
	Range        textRange    `json:"range"`
	NewName      string       `json:"newName"` // of a rename
	Context      struct {
		IncludeDeclaration bool `json:"includeDeclaration"` // of references
	} `json:"context"`
}

type didChange struct {
	TextDocument   textDocument    `json:"textDocument"`
	ContentChanges []contentChange `json:"contentChanges"`
}

type contentChange struct {
	Range *textRange `json:"range"` // nil for the whole text
	Text  string     `json:"text"`
}

type initialize struct {
	RootURI          string   `json:"rootUri"`
	WorkspaceFolders []folder `json:"workspaceFolders"`
	Capabilities     struct {
		General struct {
			PositionEncodings []string `json:"positionEncodings"`
		} `json:"general"`
	} `json:"capabilities"`
}

type diagnostic struct {
	Range    textRange `json:"range"`
	Severity int       `json:"severity"`
	Code     string    `json:"code,omitempty"`
	Source   string    `json:"source"`
	Message  string    `json:"message"`
	Related  []related `json:"relatedInformation,omitempty"`
}

type related struct {
	Location location `json:"location"`
	Message  string   `json:"message"`
}

type publishDiagnostics struct {
	URI         string       `json:"uri"`
	Version     *int         `json:"version,omitempty"`
	Diagnostics []diagnostic `json:"diagnostics"`
}

type markup struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

type hover struct {
	Contents markup    `json:"contents"`
	Range    textRange `json:"range"`
}

type textEdit struct {
	Range   textRange `json:"range"`
	NewText string    `json:"newText"`
}

type workspaceEdit struct {
	Changes map[string][]textEdit `json:"changes"`
}

type documentSymbol struct {
	Name           string           `json:"name"`
	Detail         string           `json:"detail,omitempty"`
	Kind           int              `json:"kind"`
	Range          textRange        `json:"range"`
	SelectionRange textRange        `json:"selectionRange"`
	Children       []documentSymbol `json:"children,omitempty"`
}

type foldingRange struct {
	StartLine int    `json:"startLine"`
	EndLine   int    `json:"endLine"`
	Kind      string `json:"kind,omitempty"`
}

type inlayHint struct {
	Position    position `json:"position"`
	Label       string   `json:"label"`
	PaddingLeft bool     `json:"paddingLeft"`
}

type semanticTokens struct {
	Data []int `json:"data"`
}

type completionItem struct {
	Label      string `json:"label"`
	Kind       int    `json:"kind"`
	Detail     string `json:"detail,omitempty"`
	InsertText string `json:"insertText,omitempty"`
	SortText   string `json:"sortText,omitempty"`
	FilterText string `json:"filterText,omitempty"`
	// TextEdit is what is written, where that takes the place of more than a word.
	TextEdit *textEdit `json:"textEdit,omitempty"`
}

type codeAction struct {
	Title       string        `json:"title"`
	Kind        string        `json:"kind"`
	Diagnostics []diagnostic  `json:"diagnostics"`
	Edit        workspaceEdit `json:"edit"`
	IsPreferred bool          `json:"isPreferred"`
}

// Kinds of symbols and completions, by the protocol's numbers.
const (
	symbolNamespace = 3
	symbolClass     = 5
	symbolProperty  = 7
	symbolVariable  = 13
	symbolObject    = 19

	completeFunction = 3
	completeVariable = 6
	completeClass    = 7
	completeProperty = 10
	completeUnit     = 11
	completeValue    = 12
	completeKeyword  = 14
	completeFile     = 17
	completeFolder   = 19
)
