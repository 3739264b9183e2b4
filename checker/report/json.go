package report

import (
	"encoding/json"
	"fmt"
	"io"
)

// JSON writes the report in its published form, schema/report.schema.json.
func JSON(w io.Writer, r *Report) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(r); err != nil {
		return fmt.Errorf("write the report as JSON: %w", err)
	}
	return nil
}
