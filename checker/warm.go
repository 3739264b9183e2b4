package checker

import (
	"runtime"

	"duskproof/checker/facts"
	"duskproof/checker/policy"
	"duskproof/checker/profile"
)

// Warm begins to make what the first check needs and would else make when it comes
// to it: the schema, the usual profile, the rules, and how facts are handed to them.
// It returns at once; a command calls it before it looks at its arguments, so that
// another processor has something to do. Between its parts it lets others go first.
func Warm() {
	go func() {
		_, _ = planValidator()
		runtime.Gosched()
		if set, err := profile.Bundled(); err == nil {
			set.Fetch([]string{profile.Common})
		}
		runtime.Gosched()
		policy.Warm()
		runtime.Gosched()
		_, _ = policy.NewDocument(facts.New())
	}()
}
