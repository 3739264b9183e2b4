package report

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"fmt"
	"io"
	"strings"

	"duskproof/checker/takeoff"
)

// ScheduleJSON writes schedules in their published form,
// schema/schedule.schema.json.
func ScheduleJSON(w io.Writer, s *takeoff.Schedule) error {
	if err := writeJSON(w, s); err != nil {
		return fmt.Errorf("write the schedules as JSON: %w", err)
	}
	return nil
}

// ScheduleCSV writes tables for spreadsheets (RFC 4180), best those of
// [takeoff.Sheets]. One table is its header
// and its rows; of several, each has its title in a line of its own, which
// begins with #, and an empty line parts them.
func ScheduleCSV(w io.Writer, tables []takeoff.Table) error {
	var b bytes.Buffer
	for i := range tables {
		t := &tables[i]
		if len(tables) > 1 {
			if i > 0 {
				b.WriteByte('\n')
			}
			fmt.Fprintf(&b, "# %s\n", Clean(t.Title))
		}
		writer := csv.NewWriter(&b)
		rows := append([][]string{headings(t)}, t.Rows...)
		for r, row := range rows {
			cells := make([]string, len(row))
			for k, cell := range row {
				cells[k] = inertCell(Clean(cell), r > 0 && t.Columns[k].Number)
			}
			if err := writer.Write(cells); err != nil {
				return fmt.Errorf("write the schedules as CSV: %w", err)
			}
		}
		writer.Flush()
	}
	if _, err := w.Write(b.Bytes()); err != nil {
		return fmt.Errorf("write the schedules as CSV: %w", err)
	}
	return nil
}

func headings(t *takeoff.Table) []string {
	out := make([]string, len(t.Columns))
	for i, c := range t.Columns {
		out[i] = c.Key()
	}
	return out
}

// inertCell keeps a spreadsheet from taking words for a formula, and a reader of
// sheets from taking a row for a remark.
func inertCell(cell string, number bool) string {
	if !number && cell != "" && strings.ContainsAny(cell[:1], "=+-@#") {
		return "'" + cell
	}
	return cell
}

// ScheduleText writes tables for a terminal, then the one-line diagrams when
// there are any. A table that is wider than the terminal goes on below itself,
// with its first column again.
func ScheduleText(w io.Writer, s *takeoff.Schedule, tables []takeoff.Table, lines []takeoff.OneLine, o TextOptions) error {
	if o.Width < leastWidth {
		o.Width = defaultScheduleWidth
	}
	t := &text{Writer: bufio.NewWriter(w), options: o, paint: palette(o.Colour)}
	fmt.Fprintln(t, t.paint["title"].Sprint(Clean(s.Title)))
	fmt.Fprintln(t, t.paint["faint"].Sprintf("schedules, stage %s, %s", Clean(s.Stage), Clean(s.Today)))
	for i := range tables {
		t.table(&tables[i])
	}
	for _, one := range lines {
		fmt.Fprintf(t, "\n%s\n", t.paint["title"].Sprint("One-line diagram of "+Clean(one.ID)))
		for _, line := range one.Lines {
			fmt.Fprintln(t, margin+Clean(line))
		}
	}
	fmt.Fprintln(t)
	for _, line := range wrap(Clean(s.Caution), t.options.Width) {
		fmt.Fprintln(t, t.paint["faint"].Sprint(line))
	}
	if err := t.Flush(); err != nil {
		return fmt.Errorf("write the schedules: %w", err)
	}
	return nil
}

// defaultScheduleWidth suits a file that is looked at or printed across.
const defaultScheduleWidth = 120

func (t *text) table(table *takeoff.Table) {
	fmt.Fprintf(t, "\n%s\n", t.paint["title"].Sprint(Clean(table.Title)))
	if table.Note != "" {
		for _, line := range wrap(Clean(table.Note), t.options.Width-len(margin)) {
			fmt.Fprintln(t, margin+t.paint["faint"].Sprint(line))
		}
	}
	cells, widths := laidOut(table)
	for from := 1; from == 1 || from < len(widths); {
		to := from
		width := len(margin) + widths[0]
		for to < len(widths) && (to == from || width+columnGap+widths[to] <= t.options.Width) {
			width += columnGap + widths[to]
			to++
		}
		for r, row := range cells {
			t.row(table, row, widths, from, to, r < len(cells)-len(table.Rows))
		}
		if from = to; from < len(widths) {
			fmt.Fprintln(t)
		}
	}
}

const (
	columnGap = 2
	// mostCell is the width from which words go on below.
	mostCell = 30
)

// laidOut breaks the cells of a table into lines and finds the width of each
// column. Headings and words go on below; each line is a row of its own.
func laidOut(table *takeoff.Table) (rows [][]string, widths []int) {
	widths = make([]int, len(table.Columns))
	for i := range table.Columns {
		for _, row := range table.Rows {
			widths[i] = max(widths[i], min(mostCell, columnsOf(Clean(row[i]))))
		}
		for _, word := range strings.Fields(headingText(table.Columns[i])) {
			widths[i] = max(widths[i], columnsOf(word))
		}
	}
	heads := make([][]string, len(table.Columns))
	most := 0
	for i, c := range table.Columns {
		heads[i] = wrap(headingText(c), max(widths[i], 8))
		for _, line := range heads[i] {
			widths[i] = max(widths[i], columnsOf(line))
		}
		most = max(most, len(heads[i]))
	}
	for k := range most {
		row := make([]string, len(heads))
		for i := range heads {
			if skip := most - len(heads[i]); k >= skip {
				row[i] = heads[i][k-skip]
			}
		}
		rows = append(rows, row)
	}
	for _, row := range table.Rows {
		clean := make([]string, len(row))
		for i := range row {
			clean[i] = Clean(row[i])
		}
		rows = append(rows, clean)
	}
	return rows, widths
}

func headingText(c takeoff.Column) string {
	if c.Unit == "" {
		return c.Name
	}
	return c.Name + " " + c.Unit
}

// row writes the columns of one row that fit, the first always.
func (t *text) row(table *takeoff.Table, row []string, widths []int, from, to int, head bool) {
	columns := append([]int{0}, span(from, to)...)
	lines := make([][]string, len(columns))
	most := 1
	for k, c := range columns {
		lines[k] = wrap(row[c], max(widths[c], 1))
		most = max(most, len(lines[k]))
	}
	for n := range most {
		var b strings.Builder
		for k, c := range columns {
			cell := ""
			if n < len(lines[k]) {
				cell = lines[k][n]
			}
			if table.Columns[c].Write && !head && n == 0 {
				cell = strings.Repeat("_", widths[c])
			}
			pad := strings.Repeat(" ", max(0, widths[c]-columnsOf(cell)))
			if table.Columns[c].Number {
				cell = pad + cell
			} else {
				cell += pad
			}
			b.WriteString(strings.Repeat(" ", columnGap) + cell)
		}
		line := strings.TrimRight(b.String(), " ")
		if head {
			line = t.paint["faint"].Sprint(line)
		}
		fmt.Fprintln(t, line)
	}
}

func span(from, to int) []int {
	var out []int
	for i := from; i < to; i++ {
		out = append(out, i)
	}
	return out
}
