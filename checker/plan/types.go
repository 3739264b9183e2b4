package plan

import (
	"errors"
	"maps"
	"slices"
	"strings"
)

var errNotTypes = errors.New("want an object with a type under each name")

// Types is one part of the catalogue: types by name.
type Types[E any] map[string]E

// take takes the types and passes over comments, whose names begin with "//". In a
// part of the catalogue every other name is a type's.
func (t *Types[E]) take(from any) error {
	members, ok := from.(map[string]any)
	if !ok {
		return errNotTypes
	}
	*t = Types[E]{}
	for _, name := range slices.Sorted(maps.Keys(members)) {
		if strings.HasPrefix(name, "//") {
			continue
		}
		var entry E
		if err := take(&entry, members[name]); err != nil {
			return below(name, err)
		}
		(*t)[name] = entry
	}
	return nil
}
