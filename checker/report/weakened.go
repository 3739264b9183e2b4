package report

import (
	"fmt"
	"strings"
)

// Weakened is a change by which settings or a local profile let pass more of what
// rules of dangers judge: a limit with another number, or a rule graded down.
type Weakened struct {
	// Rules are the rules of dangers that it touches, sorted.
	Rules []string `json:"rules"`
	// Limit is the limit that was changed; empty where the rule was graded down.
	Limit string `json:"limit,omitempty"`
	// Was and Now are values in words, or severities.
	Was string `json:"was"`
	Now string `json:"now"`
	// WasSource and Source say what the values rest on; Source is the reason
	// where the rule was graded down.
	WasSource string `json:"wasSource,omitempty"`
	Source    string `json:"source"`
	// By is the profile, the file of the settings, or the command line.
	By string `json:"by"`
}

// weakenedLine says what was weakened. Its parts are not made inert.
func weakenedLine(w *Weakened) string {
	rules, are := "a danger rule", strings.Join(w.Rules, ", ")
	if len(w.Rules) > 1 {
		rules = "danger rules"
	}
	if w.Limit == "" {
		return fmt.Sprintf("%s, %s, is graded %s in place of %s (%s): %s", are, rules, w.Now, w.Was, w.By, w.Source)
	}
	source := w.Source
	if !strings.HasPrefix(source, w.By) {
		source = w.By + ": " + source
	}
	return fmt.Sprintf("%s is %s (%s) in place of %s (%s); that weakens %s, %s",
		w.Limit, w.Now, source, w.Was, w.WasSource, are, rules)
}
