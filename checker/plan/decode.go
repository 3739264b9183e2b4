package plan

import (
	"fmt"

	"duskproof/checker/source"
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

// Decode reads a plan file that its schema has accepted, as [Take] takes one that
// was read.
func Decode(data []byte) (*Document, error) {
	doc, problems := source.Parse("plan", data, source.Limits{})
	if len(problems) > 0 {
		return nil, fmt.Errorf("read plan: %s", problems[0].Message)
	}
	return Take(doc)
}

// Take takes over what a plan file says that its schema has accepted. Member names
// are matched exactly and members that the plan does not know ("//" comments) are
// passed over. A whole number may be written with a point ("4.0"). The error is
// a [*DecodeError]: of the first value at fault, in the order of the document's
// fields.
func Take(read *source.Document) (*Document, error) {
	doc := &Document{}
	if err := take(doc, read.Value()); err != nil {
		return nil, err
	}
	return doc, nil
}
