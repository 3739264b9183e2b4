package checker

import (
	"duskproof/checker/policy"
	"duskproof/checker/profile"
)

// Page writes a rule's page in Markdown, with its examples and the meaning of
// the limits that it reads.
func Page(r *policy.Rule, set *profile.Set) string {
	meanings := map[string]string{}
	for _, name := range r.Limits {
		if m, ok := set.Meaning(name); ok {
			meanings[name] = m.Note
		}
	}
	bad, _ := r.Example("bad") // a rule without an example has a page without one
	good, _ := r.Example("good")
	return r.Meta.Page(string(bad), string(good), meanings)
}

// ProfileSet is the profiles that plans may name.
func (c *Checker) ProfileSet() *profile.Set { return c.profiles }
