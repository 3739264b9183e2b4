package plan

import (
	"errors"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

var errNotTypes = errors.New("want an object with a type under each name")

// Types is one part of the catalogue: types by name.
type Types[E any] map[string]E

// UnmarshalJSONFrom reads the types and passes over comments, whose names begin
// with "//". In a part of the catalogue every other name is a type's.
func (t *Types[E]) UnmarshalJSONFrom(dec *jsontext.Decoder) error {
	*t = Types[E]{}
	if kind := dec.PeekKind(); kind != '{' {
		return refuse(dec, errNotTypes)
	}
	if _, err := dec.ReadToken(); err != nil {
		return err
	}
	for dec.PeekKind() == '"' {
		token, err := dec.ReadToken()
		if err != nil {
			return err
		}
		name := token.String()
		if strings.HasPrefix(name, "//") {
			if err := dec.SkipValue(); err != nil {
				return err
			}
			continue
		}
		var entry E
		if err := json.UnmarshalDecode(dec, &entry); err != nil {
			return err
		}
		(*t)[name] = entry
	}
	_, err := dec.ReadToken()
	return err
}
