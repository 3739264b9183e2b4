package plan

import (
	"errors"
	"fmt"
	"math"
	"strconv"
	"strings"

	"github.com/go-json-experiment/json"
	"github.com/go-json-experiment/json/jsontext"
)

// DecodeError says which value of a plan file could not be taken.
type DecodeError struct {
	// Pointer is the RFC 6901 JSON Pointer of the value.
	Pointer string
	// Err says why.
	Err error
}

// Error returns the pointer and the reason.
func (e *DecodeError) Error() string { return fmt.Sprintf("%s: %v", e.Pointer, e.Err) }

// Unwrap returns the reason.
func (e *DecodeError) Unwrap() error { return e.Err }

// Decode reads a plan file that its schema has accepted. Member names are
// matched exactly and members that the plan does not know ("//" comments) are
// passed over. A whole number may be written with a point ("4.0"). The error is
// a [*DecodeError] when one value is at fault.
func Decode(data []byte) (*Document, error) {
	doc := &Document{}
	err := json.Unmarshal(data, doc, json.WithUnmarshalers(readers))
	if err == nil {
		return doc, nil
	}
	var semantic *json.SemanticError
	if errors.As(err, &semantic) {
		reason := semantic.Err
		if reason == nil {
			reason = fmt.Errorf("a %s cannot stand here", kindName(semantic.JSONKind))
		}
		return nil, &DecodeError{string(semantic.JSONPointer), reason}
	}
	return nil, fmt.Errorf("read plan: %w", err)
}

// readers read what the types of a document cannot say by themselves.
var readers = json.JoinUnmarshalers(
	json.UnmarshalFromFunc(readWhole),
	json.UnmarshalFromFunc(readTypeMap[FixtureTypeEntry]),
	json.UnmarshalFromFunc(readTypeMap[CableTypeEntry]),
	json.UnmarshalFromFunc(readTypeMap[ConnectorTypeEntry]),
	json.UnmarshalFromFunc(readTypeMap[TransformerTypeEntry]),
)

// readTypeMap reads one part of the catalogue, passing over comments.
func readTypeMap[T any](dec *jsontext.Decoder, types *map[string]T) error {
	if dec.PeekKind() != '{' {
		return errors.ErrUnsupported
	}
	if _, err := dec.ReadToken(); err != nil {
		return err
	}
	*types = map[string]T{}
	for dec.PeekKind() == '"' {
		name, err := dec.ReadToken()
		if err != nil {
			return err
		}
		key := name.String()
		if strings.HasPrefix(key, "//") {
			if err := dec.SkipValue(); err != nil {
				return err
			}
			continue
		}
		var entry T
		if err := json.UnmarshalDecode(dec, &entry); err != nil {
			return err
		}
		(*types)[key] = entry
	}
	_, err := dec.ReadToken()
	return err
}

// readWhole reads a whole number in any of the ways JSON Schema takes one for
// an integer: 4, 4.0, 4e0.
func readWhole(dec *jsontext.Decoder, whole *int) error {
	if dec.PeekKind() != '0' {
		return errors.ErrUnsupported
	}
	token, err := dec.ReadToken()
	if err != nil {
		return err
	}
	text := token.String()
	number, err := strconv.ParseFloat(text, 64)
	if err != nil || number != math.Trunc(number) || math.Abs(number) > math.MaxInt32 {
		return fmt.Errorf("%s is not a whole number that can be used here", text)
	}
	*whole = int(number)
	return nil
}

func kindName(kind jsontext.Kind) string {
	switch kind {
	case '{':
		return "JSON object"
	case '[':
		return "JSON list"
	case '"':
		return "JSON string"
	case '0':
		return "JSON number"
	case 't', 'f':
		return "true or false"
	default:
		return "null"
	}
}
