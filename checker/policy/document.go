package policy

import (
	"bytes"
	"encoding/json"
	"fmt"

	"github.com/open-policy-agent/opa/v1/ast"
)

// Document is the facts of one plan in the form that rules read. It is not
// changed after it was made and may be used by many goroutines.
type Document struct {
	value ast.Object
}

// NewDocument makes a document of facts: JSON text as []byte or
// json.RawMessage, or any value that encoding/json can write. It is an error
// when the facts are not one JSON object.
func NewDocument(facts any) (Document, error) {
	text, err := jsonText(facts)
	if err != nil {
		return Document{}, fmt.Errorf("write the facts as JSON: %w", err)
	}
	decoder := json.NewDecoder(bytes.NewReader(text))
	decoder.UseNumber()
	var plain map[string]any
	if err := decoder.Decode(&plain); err != nil {
		return Document{}, fmt.Errorf("read the facts: %w", err)
	}
	value, err := ast.InterfaceToValue(plain)
	if err != nil {
		return Document{}, fmt.Errorf("convert the facts: %w", err)
	}
	object, ok := value.(ast.Object)
	if !ok {
		return Document{}, fmt.Errorf("the facts are not an object")
	}
	return Document{value: object}, nil
}

func jsonText(facts any) ([]byte, error) {
	switch f := facts.(type) {
	case []byte:
		return f, nil
	case json.RawMessage:
		return f, nil
	}
	return json.Marshal(facts)
}
