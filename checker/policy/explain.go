package policy

import (
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
	if _, repeatsSource := e.Details.(*ast.ParserErrorDetail); e.Details != nil && !repeatsSource {
		for _, line := range e.Details.Lines() {
			message += "; " + strings.TrimSpace(line)
		}
	}
	return short(message)
}

// maxMessage is how many bytes a message about a rule file may have.
const maxMessage = 1500

// short cuts a message that repeats too much of a hostile file.
func short(message string) string {
	if len(message) <= maxMessage {
		return message
	}
	return strings.ToValidUTF8(message[:maxMessage], "") + "..."
}

// placeOfError returns where an error is: at the field that does not exist
// rather than at the whole expression, when it is known.
func placeOfError(e *ast.Error) *ast.Location {
	if detail, ok := e.Details.(*ast.RefErrInvalidDetail); ok && detail.Pos > 0 && detail.Pos < len(detail.Ref) {
		field := detail.Ref[detail.Pos].Location
		if field != nil && e.Location != nil && field.File == e.Location.File && field.Row > 0 {
			return field
		}
	}
	return e.Location
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
