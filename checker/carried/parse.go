package carried

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"

	"duskproof/checker/finding"
	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/schema"
)

// Limits on a list.
const maxBytes = 16 << 20

// validator checks a list against its schema; it is compiled once.
var validator = sync.OnceValues(func() (*validate.Validator, error) {
	data, err := schema.Files.ReadFile(schema.Carried)
	if err != nil {
		return nil, err
	}
	return validate.Trusted(map[string][]byte{schema.Carried: data}, schema.Carried), nil
})

// Parse reads a list; name is for messages. The list is nil when there is a
// problem, and each problem has its place.
func Parse(name string, data []byte) (*List, []source.Problem) {
	doc, problems := source.Parse(name, data, source.Limits{MaxBytes: maxBytes, MaxValues: 1_000_000})
	if len(problems) > 0 {
		return nil, problems
	}
	check, err := validator()
	if err != nil {
		return nil, []source.Problem{doc.ProblemAt("", fmt.Sprintf("the schema of carried lists cannot be used: %v", err))}
	}
	if problems := check.Validate(doc); len(problems) > 0 {
		return nil, problems
	}
	var written struct {
		Entries []Entry `json:"entries"`
	}
	if err := json.Unmarshal(data, &written); err != nil {
		return nil, []source.Problem{doc.ProblemAt("", fmt.Sprintf("the list cannot be used: %v", err))}
	}
	for i, e := range written.Entries {
		if complaint := unusable(e); complaint != "" {
			problems = append(problems, doc.ProblemAt(source.Pointer("entries", i), complaint))
		}
	}
	problems = append(problems, twice(doc, written.Entries)...)
	if len(problems) > 0 {
		source.SortProblems(problems)
		return nil, problems
	}
	return New(name, written.Entries), nil
}

// unusable says what is wrong with an entry, or "".
func unusable(e Entry) string {
	switch {
	case !fs.ValidPath(e.Plan) || strings.ContainsAny(e.Plan, "\\\x00"):
		return fmt.Sprintf("%q is not a path below this list; write it from the list's own folder, with forward slashes, without . and ..", e.Plan)
	case e.Reason == "" && e.Expires == "":
		return "the entry has no end and no reason; say why in \"reason\", or until when in \"expires\""
	case e.Severity == finding.Danger && e.Reason == "":
		return "a danger is carried along only with a reason; say why in \"reason\""
	}
	return ""
}

// twice finds entries for one finding.
func twice(doc *source.Document, entries []Entry) []source.Problem {
	order := make([]int, len(entries))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int { return compare(entries[a], entries[b]) })
	var problems []source.Problem
	for k := 1; k < len(order); k++ {
		if compare(entries[order[k-1]], entries[order[k]]) == 0 {
			problems = append(problems, doc.ProblemAt(source.Pointer("entries", order[k]),
				fmt.Sprintf("this finding is in the list already, as entry %d", order[k-1]+1)))
		}
	}
	return problems
}
