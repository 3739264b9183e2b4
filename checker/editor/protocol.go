// Package editor is the language server: findings while a plan is being drawn,
// what a lamp gets under the pointer, fixes and variances as actions.
//
// It speaks the Language Server Protocol on one stream. Its message types are
// the few that it needs; positions are zero-based UTF-16 units, as the protocol
// asks. Text is synchronised whole. Completion and schema help are left to the
// editor's own JSON support.
package editor

// Position is a place in a text: line and UTF-16 unit, from nought.
type Position struct {
	Line      int `json:"line"`
	Character int `json:"character"`
}

// Range is a stretch of text; the end is exclusive.
type Range struct {
	Start Position `json:"start"`
	End   Position `json:"end"`
}

// Location is a range in a file.
type Location struct {
	URI   string `json:"uri"`
	Range Range  `json:"range"`
}

// Diagnostic is one finding as editors show it.
type Diagnostic struct {
	Range           Range            `json:"range"`
	Severity        int              `json:"severity"`
	Code            string           `json:"code"`
	CodeDescription *CodeDescription `json:"codeDescription,omitempty"`
	Source          string           `json:"source"`
	Message         string           `json:"message"`
	Related         []Related        `json:"relatedInformation,omitempty"`
}

// CodeDescription links a code to its page.
type CodeDescription struct {
	Href string `json:"href"`
}

// Related is a place that a diagnostic also speaks of.
type Related struct {
	Location Location `json:"location"`
	Message  string   `json:"message"`
}

// The protocol's severities.
const (
	severityError = iota + 1
	severityWarning
	severityInformation
	severityHint
)

// TextEdit replaces a range of a text.
type TextEdit struct {
	Range   Range  `json:"range"`
	NewText string `json:"newText"`
}

// WorkspaceEdit is edits by file.
type WorkspaceEdit struct {
	Changes map[string][]TextEdit `json:"changes"`
}

// CodeAction is one action offered at a place.
type CodeAction struct {
	Title       string         `json:"title"`
	Kind        string         `json:"kind"`
	Diagnostics []Diagnostic   `json:"diagnostics,omitempty"`
	IsPreferred bool           `json:"isPreferred,omitempty"`
	Edit        *WorkspaceEdit `json:"edit,omitempty"`
}

// Hover is what is shown for a place.
type Hover struct {
	Contents MarkupContent `json:"contents"`
	Range    *Range        `json:"range,omitempty"`
}

// MarkupContent is Markdown.
type MarkupContent struct {
	Kind  string `json:"kind"`
	Value string `json:"value"`
}

// DocumentSymbol is one element in the outline.
type DocumentSymbol struct {
	Name           string           `json:"name"`
	Detail         string           `json:"detail,omitempty"`
	Kind           int              `json:"kind"`
	Range          Range            `json:"range"`
	SelectionRange Range            `json:"selectionRange"`
	Children       []DocumentSymbol `json:"children,omitempty"`
}

// Symbol kinds of the protocol that the outline uses.
const (
	symbolNamespace = 3
	symbolObject    = 19
)

type textDocument struct {
	URI     string `json:"uri"`
	Version int    `json:"version"`
	Text    string `json:"text"`
}

type openParams struct {
	TextDocument textDocument `json:"textDocument"`
}

type changeParams struct {
	TextDocument   textDocument `json:"textDocument"`
	ContentChanges []struct {
		Text string `json:"text"`
	} `json:"contentChanges"`
}

type placeParams struct {
	TextDocument textDocument `json:"textDocument"`
	Position     Position     `json:"position"`
	NewName      string       `json:"newName"`
}

type actionParams struct {
	TextDocument textDocument `json:"textDocument"`
	Range        Range        `json:"range"`
}

type initializeParams struct {
	RootURI          string `json:"rootUri"`
	WorkspaceFolders []struct {
		URI string `json:"uri"`
	} `json:"workspaceFolders"`
}

type publishParams struct {
	URI         string       `json:"uri"`
	Version     int          `json:"version"`
	Diagnostics []Diagnostic `json:"diagnostics"`
}

// capabilities is what the server says it can do.
func capabilities(version string) map[string]any {
	const wholeText = 1
	return map[string]any{
		"capabilities": map[string]any{
			"positionEncoding":       "utf-16",
			"textDocumentSync":       map[string]any{"openClose": true, "change": wholeText, "save": false},
			"hoverProvider":          true,
			"codeActionProvider":     map[string]any{"codeActionKinds": []string{"quickfix"}},
			"documentSymbolProvider": true,
			"definitionProvider":     true,
			"referencesProvider":     true,
			"renameProvider":         true,
		},
		"serverInfo": map[string]any{"name": "duskproof", "version": version},
	}
}
