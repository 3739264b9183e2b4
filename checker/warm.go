package checker

import (
	"duskproof/checker/facts"
	"duskproof/checker/plan"
	"duskproof/checker/policy"
	"duskproof/checker/profile"
)

// Warm begins to make what the first check needs and would else make when it comes
// to it: the rules, the schema, the usual profile, and how plans are decoded, with
// any plan as an example, and facts handed to the rules. It returns at once; a
// command calls it before it looks at its arguments, so that another processor has
// something to do.
func Warm(example []byte) {
	go func() {
		_, _ = plan.Decode(example)
		if set, err := profile.Bundled(); err == nil {
			set.Fetch([]string{profile.Common})
		}
		policy.Warm()
		_, _ = policy.NewDocument(facts.New())
	}()
}
