package policy

import (
	"encoding/json"
	"errors"
	"fmt"
	"sync"

	"github.com/open-policy-agent/opa/v1/ast"

	"duskproof/checker/policy/machine"
)

// Document is the facts of one plan in the form that rules read. It is not
// changed after it was made and may be used by many goroutines.
type Document struct {
	facts machine.Value
	// forEngine is the same in the engine's own form, made when it is asked for.
	forEngine  func() ast.Value
	processors int // on which rules may run over it
}

// NewDocument makes a document of facts: JSON text as []byte or
// json.RawMessage, or any value that encoding/json can write. It is an error
// when the facts are not one JSON object. Numbers keep twelve significant
// digits.
func NewDocument(facts any) (Document, error) { return NewDocumentOn(1, facts) }

// NewDocumentOn is [NewDocument] on several processors, on which rules that come
// compiled may run over the document as well.
func NewDocumentOn(processors int, facts any) (Document, error) {
	text, isText := asText(facts)
	if !isText {
		if v, ok := machine.Convert(facts, processors); ok {
			return documentOf(v, processors)
		}
		var err error
		if text, err = json.Marshal(facts); err != nil {
			return Document{}, fmt.Errorf("write the facts as JSON: %w", err)
		}
	}
	v, err := machine.FromJSON(text)
	if err != nil {
		return Document{}, fmt.Errorf("read the facts: %w", err)
	}
	return documentOf(v, processors)
}

// asText returns facts that are JSON text already.
func asText(facts any) ([]byte, bool) {
	switch f := facts.(type) {
	case []byte:
		return f, true
	case json.RawMessage:
		return f, true
	}
	return nil, false
}

func documentOf(v machine.Value, processors int) (Document, error) {
	if v.Kind() != machine.Object {
		return Document{}, errors.New("the facts are not an object")
	}
	return Document{facts: v, forEngine: sync.OnceValue(func() ast.Value { return v.Term().Value }), processors: processors}, nil
}
