package takeoff

import (
	"bytes"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"io"
	"strings"
)

// JSON writes a schedule in its published form, schema/schedule.schema.json.
func JSON(w io.Writer, s *Schedule) error {
	encoder := json.NewEncoder(w)
	encoder.SetEscapeHTML(false)
	encoder.SetIndent("", "  ")
	if err := encoder.Encode(s); err != nil {
		return fmt.Errorf("write the schedule as JSON: %w", err)
	}
	return nil
}

// CSV writes tables for spreadsheets (RFC 4180). One table is its header and its
// rows; of several, each has its title in a row of its own, which begins with
// #, and an empty line parts them.
func CSV(w io.Writer, all []Table) error {
	var b bytes.Buffer
	for i := range all {
		if len(all) > 1 {
			if i > 0 {
				b.WriteByte('\n')
			}
			fmt.Fprintf(&b, "# %s\n", all[i].Title)
		}
		writer := csv.NewWriter(&b)
		header := make([]string, len(all[i].Columns))
		for k, c := range all[i].Columns {
			header[k] = c.Heading()
		}
		if err := writer.Write(header); err != nil {
			return fmt.Errorf("write the schedule as CSV: %w", err)
		}
		for _, row := range all[i].Rows {
			cells := make([]string, len(row))
			for k, cell := range row {
				cells[k] = inert(cell, all[i].Columns[k].Number)
			}
			if err := writer.Write(cells); err != nil {
				return fmt.Errorf("write the schedule as CSV: %w", err)
			}
		}
		writer.Flush()
	}
	_, err := w.Write(b.Bytes())
	return err
}

// inert keeps a spreadsheet from taking words for a formula.
func inert(cell string, number bool) string {
	if !number && cell != "" && strings.ContainsAny(cell[:1], "=+-@\t\r") {
		return "'" + cell
	}
	return cell
}
