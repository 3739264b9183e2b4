package editor

import (
	"net/url"
	"path/filepath"
	"runtime"
	"slices"
	"strings"

	"github.com/sourcegraph/jsonrpc2"
)

// client is what the editor can do, as far as it matters here.
type client struct {
	watches  bool // files on the disk, when asked to
	versions bool // edits that name the version they are for
	related  bool // places beside a diagnostic
	links    bool // a page for a diagnostic's code
	markdown bool // hovers in Markdown
}

// initialize notes what the editor can do and which folders are the workspace,
// and says what the server can do.
func (s *Server) initialize(r *jsonrpc2.Request) (any, error) {
	err := with(r, func(p initializeParams) {
		c := p.Capabilities
		s.mu.Lock()
		defer s.mu.Unlock()
		s.begun = true
		s.client = client{
			watches:  c.Workspace.DidChangeWatchedFiles.DynamicRegistration,
			versions: c.Workspace.WorkspaceEdit.DocumentChanges,
			related:  c.TextDocument.PublishDiagnostics.RelatedInformation,
			links:    c.TextDocument.PublishDiagnostics.CodeDescriptionSupport,
			markdown: slices.Contains(c.TextDocument.Hover.ContentFormat, "markdown"),
		}
		folders := p.WorkspaceFolders
		if len(folders) == 0 && p.RootURI != "" {
			folders = []workspaceFolder{{p.RootURI}}
		}
		s.addFolders(folders)
	})
	if err != nil {
		return nil, err
	}
	return capabilities(s.options.Version), nil
}

// addFolders makes folders part of the workspace; the lock is held.
func (s *Server) addFolders(folders []workspaceFolder) {
	for _, f := range folders {
		if path := pathOf(f.URI); path != "" && !slices.Contains(s.folders, path) {
			s.folders = append(s.folders, path)
		}
	}
	s.options.Judge.Folders(slices.Clone(s.folders))
}

// changeFolders follows the editor's workspace.
func (s *Server) changeFolders(p foldersParams) {
	s.mu.Lock()
	for _, gone := range p.Event.Removed {
		path := pathOf(gone.URI)
		s.folders = slices.DeleteFunc(s.folders, func(f string) bool { return f == path })
	}
	s.addFolders(p.Event.Added)
	s.mu.Unlock()
	s.recheck()
}

// watchedFiles are the files that say how plans are judged, and what light their
// fixtures give.
var watchedFiles = []string{"**/.duskproof.json", "**/*.rego", "**/*.json", "**/*.ies", "**/*.IES"}

// watchFiles asks the editor to tell when such a file changes.
func (s *Server) watchFiles() {
	s.mu.Lock()
	wanted := s.client.watches
	s.mu.Unlock()
	if !wanted {
		return
	}
	watchers := make([]map[string]string, len(watchedFiles))
	for i, pattern := range watchedFiles {
		watchers[i] = map[string]string{"globPattern": pattern}
	}
	registration := map[string]any{"registrations": []map[string]any{{
		"id": "files", "method": "workspace/didChangeWatchedFiles", "registerOptions": map[string]any{"watchers": watchers},
	}}}
	s.work.Go(func() { // the answer comes on the stream that the handlers read
		if err := s.conn.Call(s.ctx, "client/registerCapability", registration, nil); err != nil && s.ctx.Err() == nil {
			s.log.Printf("the editor does not watch files: %v", err)
		}
	})
}

// changeFiles follows the files on the disk. An open plan is what the editor says
// it is, not what is on the disk; a photometric file is read at each check.
func (s *Server) changeFiles(p filesParams) {
	again := false
	for _, c := range p.Changes {
		switch {
		case isPlan(c.URI):
			continue
		case !strings.HasSuffix(strings.ToLower(c.URI), ".ies"):
			s.options.Judge.Forget()
		}
		again = true
	}
	if again {
		s.recheck()
	}
}

// planEnding is the ending of the names of plans.
const planEnding = ".lighting.json"

// isPlan reports whether a document is a plan: editors that know files by their
// language offer every JSON file.
func isPlan(uri string) bool {
	u, err := url.Parse(uri)
	return err == nil && strings.HasSuffix(strings.ToLower(u.Path+u.Opaque), planEnding)
}

// pathOf turns a file URI into a path; other URIs have none.
func pathOf(uri string) string {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" || u.Host != "" && u.Host != "localhost" || u.Path == "" {
		return ""
	}
	path := u.Path
	if runtime.GOOS == "windows" {
		path = strings.TrimPrefix(path, "/") // "/C:/plans"
	}
	return filepath.Clean(filepath.FromSlash(path))
}
