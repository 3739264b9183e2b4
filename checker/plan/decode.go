package plan

import (
	"errors"
	"fmt"
	"math"
	"strconv"

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
	err := json.Unmarshal(data, doc, json.WithUnmarshalers(json.UnmarshalFromFunc(readWhole)))
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
