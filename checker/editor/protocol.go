// Package editor is the language server: findings while a plan is being drawn,
// what a lamp gets under the pointer, fixes and variances as actions.
//
// It speaks the Language Server Protocol (version 3.17) on one stream. Its
// message types are the few that it needs; positions are zero-based UTF-16 units,
// as the protocol asks. Text is synchronised whole. Completion and schema help are
// left to the editor's own JSON support.
//
// The server itself reads no file: it checks the text that the editor sends,
// through a [Judge].
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
	Code            string           `json:"code,omitempty"`
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
)

// TextEdit replaces a range of a text.
type TextEdit struct {
	Range   Range  `json:"range"`
	NewText string `json:"newText"`
}

// WorkspaceEdit is edits of one plan: by file, or, for editors that can, by file
// and version, so that they are never applied to another text.
type WorkspaceEdit struct {
	Changes         map[string][]TextEdit `json:"changes,omitempty"`
	DocumentChanges []DocumentEdit        `json:"documentChanges,omitempty"`
}

// DocumentEdit is edits of one version of a text.
type DocumentEdit struct {
	TextDocument versioned  `json:"textDocument"`
	Edits        []TextEdit `json:"edits"`
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

// MarkupContent is text for people, "markdown" or "plaintext".
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
	symbolClass     = 5
	symbolObject    = 19
)

// Renaming is what would be renamed at a place.
type Renaming struct {
	Range       Range  `json:"range"`
	Placeholder string `json:"placeholder"`
}

type versioned struct {
	URI     string `json:"uri"`
	Version int    `json:"version"`
}

type textDocument struct {
	versioned
	Text string `json:"text"`
}

type openParams struct {
	TextDocument textDocument `json:"textDocument"`
}

type changeParams struct {
	TextDocument   versioned `json:"textDocument"`
	ContentChanges []struct {
		Text string `json:"text"`
	} `json:"contentChanges"`
}

// placeParams is the parameters of every request about a place in a plan.
type placeParams struct {
	TextDocument versioned `json:"textDocument"`
	Position     Position  `json:"position"`
	NewName      string    `json:"newName"`
	Context      struct {
		IncludeDeclaration bool `json:"includeDeclaration"`
	} `json:"context"`
}

func (p placeParams) document() string { return p.TextDocument.URI }

type actionParams struct {
	TextDocument versioned `json:"textDocument"`
	Range        Range     `json:"range"`
	Context      struct {
		Only []string `json:"only"`
	} `json:"context"`
}

func (p actionParams) document() string { return p.TextDocument.URI }

type workspaceFolder struct {
	URI string `json:"uri"`
}

type foldersParams struct {
	Event struct {
		Added   []workspaceFolder `json:"added"`
		Removed []workspaceFolder `json:"removed"`
	} `json:"event"`
}

type filesParams struct {
	Changes []struct {
		URI string `json:"uri"`
	} `json:"changes"`
}

type initializeParams struct {
	RootURI          string            `json:"rootUri"`
	WorkspaceFolders []workspaceFolder `json:"workspaceFolders"`
	Capabilities     struct {
		Workspace struct {
			DidChangeWatchedFiles struct {
				DynamicRegistration bool `json:"dynamicRegistration"`
			} `json:"didChangeWatchedFiles"`
			WorkspaceEdit struct {
				DocumentChanges bool `json:"documentChanges"`
			} `json:"workspaceEdit"`
		} `json:"workspace"`
		TextDocument struct {
			Hover struct {
				ContentFormat []string `json:"contentFormat"`
			} `json:"hover"`
			PublishDiagnostics struct {
				RelatedInformation     bool `json:"relatedInformation"`
				CodeDescriptionSupport bool `json:"codeDescriptionSupport"`
			} `json:"publishDiagnostics"`
		} `json:"textDocument"`
	} `json:"capabilities"`
}

type publishParams struct {
	URI         string       `json:"uri"`
	Version     *int         `json:"version,omitempty"`
	Diagnostics []Diagnostic `json:"diagnostics"`
}

// capabilities is what the server says it can do.
func capabilities(version string) map[string]any {
	const wholeText = 1
	return map[string]any{
		"capabilities": map[string]any{
			"positionEncoding":       "utf-16",
			"textDocumentSync":       map[string]any{"openClose": true, "change": wholeText},
			"hoverProvider":          true,
			"codeActionProvider":     map[string]any{"codeActionKinds": []string{quickFix}},
			"documentSymbolProvider": true,
			"definitionProvider":     true,
			"referencesProvider":     true,
			"renameProvider":         map[string]any{"prepareProvider": true},
			"workspace":              map[string]any{"workspaceFolders": map[string]any{"supported": true, "changeNotifications": true}},
		},
		"serverInfo": map[string]any{"name": "duskproof", "version": version},
	}
}
