package checker

import (
	"fmt"
	"strings"

	"github.com/agnivade/levenshtein"
)

// farthestTypo is how many letters a misspelt id may be off.
const farthestTypo = 4

// Suggest names the rule nearest to an unknown id, or to its last part where the
// family was left out; or lists nothing.
func (c *Checker) Suggest(id string) string {
	best, name := farthestTypo+1, ""
	for _, known := range keys(c.metas) {
		_, slug, _ := strings.Cut(known, ".")
		d := min(levenshtein.ComputeDistance(id, known), levenshtein.ComputeDistance(id, slug))
		if d < best {
			best, name = d, known
		}
	}
	if name == "" {
		return "; duskproof rules lists them"
	}
	return fmt.Sprintf("; did you mean %q?", name)
}
