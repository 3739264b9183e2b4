package editor

import (
	"bytes"
	"context"
	"net/url"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// pathOf turns a file URI into a path; other URIs have none.
func pathOf(uri string) string {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" {
		return ""
	}
	return filepath.FromSlash(u.Path)
}

func (s *Server) open(p openParams) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.files[p.TextDocument.URI] = &file{uri: p.TextDocument.URI, path: pathOf(p.TextDocument.URI)}
	s.set(s.files[p.TextDocument.URI], p.TextDocument.Version, []byte(p.TextDocument.Text))
}

func (s *Server) change(p changeParams) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f := s.files[p.TextDocument.URI]
	if f == nil || len(p.ContentChanges) == 0 {
		return
	}
	s.set(f, p.TextDocument.Version, []byte(p.ContentChanges[len(p.ContentChanges)-1].Text))
}

// set takes a new text and starts its check once it has settled; the check of
// an older text is cancelled.
func (s *Server) set(f *file, version int, text []byte) {
	f.version, f.text, f.latest, f.fixes = version, text, nil, nil
	if f.cancel != nil {
		f.cancel()
	}
	ctx, cancel := context.WithCancel(s.ctx)
	f.cancel = cancel
	s.work.Go(func() {
		defer cancel()
		select {
		case <-time.After(s.options.Settle):
			s.check(ctx, f.uri, version, text)
		case <-ctx.Done():
		}
	})
}

func (s *Server) close(uri string) {
	s.mu.Lock()
	f := s.files[uri]
	delete(s.files, uri)
	if f != nil && f.cancel != nil {
		f.cancel()
	}
	s.mu.Unlock()
	s.publish(publishParams{URI: uri, Diagnostics: []Diagnostic{}})
}

// check checks a text, shows the findings, and then looks for fixes.
func (s *Server) check(ctx context.Context, uri string, version int, text []byte) {
	path := s.allowed(uri)
	result, err := s.options.Check(ctx, path, text)
	if ctx.Err() != nil {
		return
	}
	if err != nil {
		s.tell("duskproof could not check " + filepath.Base(path) + ": " + err.Error())
	}
	if !s.keep(uri, version, text, &result, nil) {
		return
	}
	if s.options.Prove == nil || result.Facts == nil {
		return
	}
	fixes, err := s.options.Prove(ctx, path, text)
	if err == nil && ctx.Err() == nil {
		s.keep(uri, version, text, &result, fixes)
	}
}

// allowed is the file's path when it lies in the workspace; elsewhere the plan
// is checked without a folder of its own, so that no file is read beside it.
func (s *Server) allowed(uri string) string {
	path := pathOf(uri)
	s.mu.Lock()
	folders := slices.Clone(s.folders)
	s.mu.Unlock()
	if path == "" || s.options.Inside != nil && !s.options.Inside(folders, path) {
		return ""
	}
	return path
}

// keep stores a result and shows it; false when the text has changed since.
func (s *Server) keep(uri string, version int, text []byte, result *report.Plan, fixes map[finding.Identity][]finding.Fix) bool {
	s.mu.Lock()
	f := s.files[uri]
	if f == nil || f.version != version || !bytes.Equal(f.text, text) {
		s.mu.Unlock()
		return false
	}
	f.latest, f.fixes = result, fixes
	if result.Facts != nil {
		f.good, f.goodText = result, text
	}
	diagnostics := s.diagnostics(f)
	s.mu.Unlock()
	if fixes == nil {
		s.publish(publishParams{URI: uri, Version: version, Diagnostics: diagnostics})
	}
	return true
}

// publish shows findings; a stream that has closed is no error here.
func (s *Server) publish(p publishParams) {
	_ = s.conn.Notify(s.ctx, "textDocument/publishDiagnostics", p)
}

// tell shows a message to the user.
func (s *Server) tell(message string) {
	const warning = 2
	_ = s.conn.Notify(s.ctx, "window/showMessage", map[string]any{"type": warning, "message": strings.TrimSpace(message)})
}
