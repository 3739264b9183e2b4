package config

import (
	"strings"
	"testing"
	"time"
)

func TestPatterns(t *testing.T) {
	for _, c := range []struct {
		pattern, path string
		want          bool
	}{
		{"a.lighting.json", "a.lighting.json", true},
		{"a.lighting.json", "b/a.lighting.json", false},
		{"./a.lighting.json", "a.lighting.json", true},
		{"a.lighting.json", "./a.lighting.json", true},
		{"*.lighting.json", "a.lighting.json", true},
		{"*.lighting.json", "b/a.lighting.json", false},
		{"**/*.lighting.json", "a.lighting.json", true},
		{"**/*.lighting.json", "b/c/a.lighting.json", true},
		{"drafts/", "drafts/a", true},
		{"drafts/", "drafts/b/a", true},
		{"drafts/", "other/drafts/a", false},
		{"drafts/**", "drafts/b/a", true},
		{"**/drafts/**", "x/drafts/b/a", true},
		{"**/drafts/**", "drafts/a", true},
		{"clients/*/a", "clients/tern/a", true},
		{"clients/*/a", "clients/tern/b/a", false},
		{"clients/**/a", "clients/a", true},
		{"clients/**/a", "clients/tern/b/a", true},
		{"clients/t?rn/[ab]", "clients/tern/b", true},
		{"clients/t?rn/[ab]", "clients/tern/c", false},
		{"**", "anything/at/all", true},
		{"ünïcode/*", "ünïcode/ä", true},
	} {
		p, err := parsePattern(c.pattern)
		if err != nil {
			t.Errorf("%q: %v", c.pattern, err)
			continue
		}
		if got := p.matches(c.path); got != c.want {
			t.Errorf("%q matches %q: %v, want %v", c.pattern, c.path, got, c.want)
		}
	}
}

func TestBadPatterns(t *testing.T) {
	for _, text := range []string{"/a", "a//b", "a/../b", "a/./b", "a/**b", "[a", `a\b`, "/"} {
		if p, err := parsePattern(text); err == nil {
			t.Errorf("%q passes as %q", text, p)
		}
	}
}

// Many ** cost no more than the product of the lengths: this would not end in
// the life of the machine if each were tried against each.
func TestHostilePatternEnds(t *testing.T) {
	p, err := parsePattern(strings.Repeat("**/a/", 60) + "b")
	if err != nil {
		t.Fatal(err)
	}
	done := make(chan bool, 1)
	go func() { done <- p.matches(strings.Repeat("a/", 200) + "c") }()
	select {
	case got := <-done:
		if got {
			t.Error("the pattern matches")
		}
	case <-time.After(30 * time.Second):
		t.Error("the pattern does not end")
	}
}
