package policy

import (
	"errors"
	"fmt"
	"slices"
	"strings"

	"github.com/open-policy-agent/opa/v1/ast"
)

// explain writes an error of the Rego compiler in the words of these reports.
func explain(e *ast.Error) string {
	switch detail := e.Details.(type) {
	case *ast.RefErrInvalidDetail:
		if message := noSuchField(detail); message != "" {
			return message
		}
	case *ast.RefErrUnsupportedDetail:
		return fmt.Sprintf("%s is a single value and has no fields", detail.Ref[:detail.Pos+1])
	}
	message := e.Message
	if e.Details != nil {
		for _, line := range e.Details.Lines() {
			message += "; " + strings.TrimSpace(line)
		}
	}
	return message
}

// noSuchField explains a reference to a field that does not exist.
func noSuchField(detail *ast.RefErrInvalidDetail) string {
	if detail.Pos <= 0 || detail.Pos >= len(detail.Ref) || len(detail.OneOf) == 0 {
		return ""
	}
	name, ok := detail.Ref[detail.Pos].Value.(ast.String)
	if !ok {
		return ""
	}
	var names []string
	for _, value := range detail.OneOf {
		if s, ok := value.(ast.String); ok {
			names = append(names, string(s))
		}
	}
	slices.Sort(names)
	owner := detail.Ref[:detail.Pos].String()
	return fmt.Sprintf("%s has no field %q%s; it has %s", owner, string(name), suggestion(string(name), names), strings.Join(names, ", "))
}

// compileErrors returns the compiler's errors without repeats.
func compileErrors(err error) ast.Errors {
	var list ast.Errors
	if errors.As(err, &list) {
		return list
	}
	return nil
}
