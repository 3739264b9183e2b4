package report

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io"
)

// JSONLine writes the report as JSON on one line: the published form without
// the spaces.
func JSONLine(w io.Writer, r *Report) error {
	var b bytes.Buffer
	encoder := json.NewEncoder(&b)
	encoder.SetEscapeHTML(false)
	if err := encoder.Encode(r); err != nil {
		return fmt.Errorf("write the report as JSON: %w", err)
	}
	if _, err := w.Write(appendSafe(nil, b.Bytes())); err != nil {
		return fmt.Errorf("write the report as JSON: %w", err)
	}
	return nil
}
