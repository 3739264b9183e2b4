package report_test

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"strings"
	"testing"

	"github.com/mattn/go-runewidth"

	"duskproof/checker/report"
	"duskproof/checker/takeoff"
)

func scheduled(t *testing.T, p *report.Plan) *takeoff.Schedule {
	t.Helper()
	s, err := takeoff.Of(context.Background(), p.Model, p.Facts, report.Caution)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// TestTablesFitATerminal holds that no line of a table is wider than the
// terminal, and that every cell is there: narrow or wide, the words are the same.
func TestTablesFitATerminal(t *testing.T) {
	s := scheduled(t, checked(t, demo, nil))
	tables := takeoff.Tables(s)
	wordsAt := map[int]string{}
	for _, width := range []int{80, 120, 160} {
		var b bytes.Buffer
		if err := report.ScheduleText(&b, s, tables, nil, report.TextOptions{Width: width}); err != nil {
			t.Fatal(err)
		}
		for line := range strings.Lines(b.String()) {
			if n := runewidth.StringWidth(strings.TrimRight(line, "\n")); n > width {
				t.Errorf("%d columns on a terminal of %d: %s", n, width, line)
			}
		}
		wordsAt[width] = b.String()
	}
	for _, table := range tables {
		for _, row := range table.Rows {
			for _, cell := range row {
				for _, word := range strings.Fields(cell) {
					for width, text := range wordsAt {
						if !strings.Contains(text, word) {
							t.Errorf("%q of table %s is not shown at %d columns", word, table.Name, width)
						}
					}
				}
			}
		}
	}
}

// TestCSVIsRead reads the tables with the general reader; one table is its
// header and rows alone.
func TestCSVIsRead(t *testing.T) {
	s := scheduled(t, checked(t, demo, nil))
	for _, table := range takeoff.Tables(s) {
		var b bytes.Buffer
		if err := report.ScheduleCSV(&b, []takeoff.Table{table}); err != nil {
			t.Fatal(err)
		}
		rows, err := csv.NewReader(&b).ReadAll()
		if err != nil {
			t.Fatalf("%s: %v", table.Name, err)
		}
		if len(rows) != len(table.Rows)+1 || len(rows[0]) != len(table.Columns) {
			t.Errorf("%s: %d rows of %d cells", table.Name, len(rows), len(rows[0]))
		}
	}
	var b bytes.Buffer
	if err := report.ScheduleCSV(&b, takeoff.Tables(s)); err != nil {
		t.Fatal(err)
	}
	reader := csv.NewReader(&b)
	reader.Comment, reader.FieldsPerRecord = '#', -1
	if rows, err := reader.ReadAll(); err != nil || len(rows) < 150 {
		t.Errorf("%d rows, %v", len(rows), err)
	}
}

// TestHostileCells holds that a plan's words are no formula, no remark and no
// control in any form of the schedules.
func TestHostileCells(t *testing.T) {
	s := &takeoff.Schedule{Title: "\x1b[2J\u202e", Stage: "x", Today: "2026-06-01", Caution: "c"}
	table := takeoff.Table{Name: "x", Title: "\x07t", Columns: []takeoff.Column{{Name: "a"}, {Name: "b", Number: true}},
		Rows: [][]string{{"=1+1", "-3.5"}, {"@SUM(A1)", "1"}, {"+1\x1b[31m", "2"}, {"# x", "3"}, {"-\u202e\"quoted\", and more", "4"}}}
	var sheet, text, data bytes.Buffer
	if err := report.ScheduleCSV(&sheet, []takeoff.Table{table}); err != nil {
		t.Fatal(err)
	}
	if err := report.ScheduleText(&text, s, []takeoff.Table{table}, []takeoff.OneLine{{ID: "T\x1b", Lines: []string{"\x9b31m"}}}, report.TextOptions{Width: 80}); err != nil {
		t.Fatal(err)
	}
	if err := report.ScheduleJSON(&data, s); err != nil {
		t.Fatal(err)
	}
	for name, out := range map[string]string{"csv": sheet.String(), "text": text.String(), "json": data.String()} {
		if strings.ContainsAny(out, "\x1b\x07\u202e\u009b") {
			t.Errorf("%s lets a control through: %q", name, out)
		}
	}
	rows, err := csv.NewReader(&sheet).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	for _, row := range rows[1:] {
		if !strings.HasPrefix(row[0], "'") {
			t.Errorf("%q may be taken for a formula", row[0])
		}
	}
	if rows[1][1] != "-3.5" {
		t.Errorf("a number came out as %q", rows[1][1])
	}
	var back takeoff.Schedule
	if err := json.Unmarshal(data.Bytes(), &back); err != nil || back.Title != s.Title {
		t.Errorf("the title came back as %q, %v", back.Title, err)
	}
}
