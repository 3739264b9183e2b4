package report

import (
	"regexp"
	"strings"
	"testing"

	"duskproof/checker/finding"
)

// ownMarkup is the HTML that the form writes itself.
var ownMarkup = regexp.MustCompile(`</?details>|</?summary>|<br>`)

// TestMarkdownIsInert holds that nothing a plan says becomes markup, a link or
// the name of somebody who is told.
func TestMarkdownIsInert(t *testing.T) {
	// Text in code spans is shown as it is written.
	text := regexp.MustCompile("``+ .*? ``+|`[^`\n]*`").ReplaceAllString(written(t, "markdown", sample(t), Options{}), "")
	text = ownMarkup.ReplaceAllString(text, "")
	for _, bad := range []string{"<", "@team", "https://", "www.x"} {
		if i := strings.Index(text, bad); i >= 0 {
			t.Errorf("%q in %q", bad, text[max(0, i-30):min(len(text), i+30)])
		}
	}
	for _, mark := range []string{"|", "*", "_", "[", "`", "#"} {
		for _, at := range regexp.MustCompile(regexp.QuoteMeta(mark)).FindAllStringIndex(strings.ReplaceAll(text, "**", ""), -1) {
			plain := strings.ReplaceAll(text, "**", "")
			if at[0] > 0 && plain[at[0]-1] != '\\' && plain[at[0]-1] != '\n' && plain[at[0]-1] != '#' {
				t.Errorf("%s is not escaped in %q", mark, plain[max(0, at[0]-20):at[0]+5])
			}
		}
	}
}

// TestMarkdownFitsAComment holds that a report of many findings fits a review
// comment of 65,536 characters.
func TestMarkdownFitsAComment(t *testing.T) {
	r := sample(t)
	many := make([]finding.Finding, 2000)
	for i := range many {
		many[i] = r.Plans[0].Findings[1]
	}
	r.Plans[0].Findings = many
	text := written(t, "markdown", r, Options{})
	if len(text) > 65_536 {
		t.Errorf("%d bytes", len(text))
	}
	if !regexp.MustCompile(`- and \d+ more`).MatchString(text) {
		t.Error("the findings left out are not counted")
	}
}

// TestMarkdownCode holds that a code span ends where it should.
func TestMarkdownCode(t *testing.T) {
	for in, want := range map[string]string{"a.json": "`a.json`", "a`b": "`` a`b ``", "a``b": "``` a``b ```"} {
		if have := code(in); have != want {
			t.Errorf("%q gives %q, want %q", in, have, want)
		}
	}
}
