package main

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"math"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"github.com/tailscale/hujson"

	"duskproof/checker"
	"duskproof/checker/finding"
	"duskproof/checker/report"
)

// readingsCommand is "duskproof readings".
type readingsCommand struct {
	judging
	Plan   string `arg:"" help:"Plan file."`
	From   string `help:"Filled-in commissioning sheet: CSV with the columns at, volts, amps and, where needed, common." placeholder:"FILE.csv" type:"existingfile"`
	Supply string `help:"Mains volts measured during the visit, for --from." placeholder:"VOLTS"`
	Scene  string `help:"Scene that was on, for --from; otherwise everything." placeholder:"ID"`
	meter
	added string   // pointer of the sheet's readings in the plan
	rows  []string // where each of them stands in the sheet
}

// rowOf is the row of the sheet that a pointer into the plan came from; empty when
// it came from the plan itself.
func (c *readingsCommand) rowOf(pointer string) string {
	below, ours := strings.CutPrefix(pointer, c.added+"/")
	if !ours || c.added == "" {
		return ""
	}
	index, _, _ := strings.Cut(below, "/")
	if i, err := strconv.Atoi(index); err == nil && i >= 0 && i < len(c.rows) {
		return c.rows[i]
	}
	return ""
}

// meter is what the sheet was filled in with. Without it the readings are taken to
// be those of an ordinary meter.
type meter struct {
	TrueRMS  bool   `name:"true-rms" help:"The meter reads true RMS, for --from."`
	VoltStep string `help:"Smallest step of volts that the meter shows, for --from." placeholder:"VOLTS"`
	AmpStep  string `help:"Smallest step of amps that it shows, for --from." placeholder:"AMPS"`
	Accuracy string `help:"Its accuracy in percent of the reading, for --from." placeholder:"PERCENT"`
}

// described is the meter as a plan has it; empty when nothing is said of it.
func (m *meter) described() map[string]any {
	out := map[string]any{}
	if m.TrueRMS {
		out["true_rms"] = true
	}
	for name, q := range map[string]struct{ value, unit string }{"volt_resolution": {m.VoltStep, " V"}, "amp_resolution": {m.AmpStep, " A"}, "accuracy": {m.Accuracy, " %"}} {
		if number := strings.TrimRight(q.value, q.unit); number != "" {
			out[name] = number + q.unit
		}
	}
	return out
}

// Run prints measured against expected values, and what explains them.
func (c *readingsCommand) Run(ctx context.Context, std streams) error {
	set, err := c.setup()
	if err != nil {
		return err
	}
	defer set.close()
	result, err := c.check(ctx, set)
	var engine *checker.EngineError
	if err != nil && !errors.As(err, &engine) {
		return flagError{err}
	}
	for _, p := range result.Problems {
		place := c.rowOf(p.Pointer)
		if place == "" {
			place = fmt.Sprintf("%s:%d:%d", result.Path, p.Line, p.Column)
		}
		fmt.Fprintf(std.err, "%s: %s\n", report.Clean(place), report.Clean(p.Message))
	}
	if result.Facts == nil {
		return ended(exitUnusable)
	}
	if len(result.Facts.Readings) == 0 {
		fmt.Fprintln(std.out, "the plan has no readings; write them under \"readings\", or give a filled-in sheet with --from")
		return nil
	}
	if err := report.Readings(std.out, result.Facts); err != nil {
		return err
	}
	fmt.Fprintf(std.out, "\n%s\n", report.Caution)
	return ended(readingStatus(&result))
}

// readingStatus holds when a finding about readings reaches the hold level.
func readingStatus(p *report.Plan) int {
	for i := range p.Findings {
		f := &p.Findings[i]
		if strings.HasPrefix(f.Rule, "asbuilt.") && f.Severity >= finding.Defect {
			return exitHeld
		}
	}
	return exitFine
}

// check checks the plan, with the readings of the sheet added to it.
func (c *readingsCommand) check(ctx context.Context, set *setup) (report.Plan, error) {
	one := checkCommand{judging: c.judging}
	if c.From == "" {
		return one.checkOne(ctx, set, c.Plan, nil)
	}
	data, err := os.ReadFile(c.Plan)
	if err != nil {
		return report.Plan{}, fmt.Errorf("read the plan: %w", err)
	}
	sheet, err := os.Open(c.From)
	if err != nil {
		return report.Plan{}, fmt.Errorf("read the sheet: %w", err)
	}
	defer sheet.Close()
	values, err := readSheet(c.From, sheet)
	if err != nil {
		return report.Plan{}, err
	}
	if len(values) == 0 {
		return report.Plan{}, fmt.Errorf("%s has no readings yet: write what the meter shows under volts or amps", c.From)
	}
	if data, err = c.withReadings(data, set.today, values); err != nil {
		return report.Plan{}, err
	}
	one.Name, one.Base = c.Plan, filepath.Dir(c.Plan)
	return one.checkOne(ctx, set, "-", bytes.NewReader(data))
}

// withReadings appends a visit to the plan's readings.
func (c *readingsCommand) withReadings(data []byte, today string, values []map[string]any) ([]byte, error) {
	visit := map[string]any{"id": "sheet-" + today, "date": today, "values": values}
	if c.Supply != "" {
		volts, err := strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(c.Supply), "V"), 64)
		if err != nil {
			return nil, fmt.Errorf("--supply: want volts, have %q", c.Supply)
		}
		visit["supply"] = volts
	}
	if c.Scene != "" {
		visit["scene"] = c.Scene
	}
	if described := c.described(); len(described) > 0 {
		visit["meter"] = described
	}
	tree, err := hujson.Parse(data)
	if err != nil {
		return nil, fmt.Errorf("read the plan: %w", err)
	}
	operation := map[string]any{"op": "add", "path": "/readings/-", "value": visit}
	before := 0
	switch readings := tree.Find("/readings"); {
	case readings == nil:
		operation["path"], operation["value"] = "/readings", []any{visit}
	default:
		if array, ok := readings.Value.(*hujson.Array); ok {
			before = len(array.Elements)
		}
	}
	c.added, c.rows = fmt.Sprintf("/readings/%d/values", before), nil
	for _, v := range values {
		row, _ := v["//"].(string)
		c.rows = append(c.rows, row)
	}
	patch, err := json.Marshal([]any{operation})
	if err != nil {
		return nil, fmt.Errorf("add the readings: %w", err)
	}
	if err := tree.Patch(patch); err != nil {
		return nil, fmt.Errorf("add the readings: %w", err)
	}
	return tree.Pack(), nil
}

// mostSheetRows bounds a commissioning sheet.
const mostSheetRows = 50_000

// readSheet reads a filled-in commissioning sheet. Rows without a value are
// places that were not measured. Each reading says in a comment where it stands.
func readSheet(name string, r io.Reader) ([]map[string]any, error) {
	reader := csv.NewReader(r)
	reader.Comment, reader.FieldsPerRecord, reader.TrimLeadingSpace = '#', -1, true
	header, err := reader.Read()
	if err != nil {
		return nil, fmt.Errorf("%s: the sheet has no header row: %w", name, err)
	}
	column := map[string]int{}
	for i, h := range header {
		column[strings.ToLower(strings.TrimSpace(h))] = i
	}
	if _, ok := column["at"]; !ok {
		return nil, fmt.Errorf("%s:1: the sheet has no column \"at\"; it has %s", name, strings.Join(header, ", "))
	}
	var out []map[string]any
	for {
		row, err := reader.Read()
		if errors.Is(err, io.EOF) {
			return out, nil
		}
		if err != nil {
			return nil, fmt.Errorf("%s: %w", name, err)
		}
		line, _ := reader.FieldPos(0)
		if len(out) >= mostSheetRows {
			return nil, fmt.Errorf("%s:%d: a sheet has at most %d readings", name, line, mostSheetRows)
		}
		values, err := sheetRow(row, column)
		if err != nil {
			return nil, fmt.Errorf("%s:%d: %w", name, line, err)
		}
		for _, v := range values {
			v["//"] = fmt.Sprintf("%s:%d", name, line)
		}
		out = append(out, values...)
	}
}

// sheetRow turns one row into readings.
func sheetRow(row []string, column map[string]int) ([]map[string]any, error) {
	cell := func(name string) string {
		if i, ok := column[name]; ok && i < len(row) {
			return strings.TrimSpace(row[i])
		}
		return ""
	}
	var out []map[string]any
	for _, quantity := range []string{"volts", "amps"} {
		text := cell(quantity)
		if text == "" || cell("at") == "" {
			continue
		}
		v, err := strconv.ParseFloat(strings.TrimRight(text, " VA"), 64)
		if err != nil || math.IsNaN(v) || math.IsInf(v, 0) {
			return nil, fmt.Errorf("%s at %s: want a number, have %q", quantity, cell("at"), text)
		}
		reading := map[string]any{"at": cell("at"), quantity: v}
		if number := cell("common"); number != "" {
			n, err := strconv.Atoi(number)
			if err != nil {
				return nil, fmt.Errorf("common of %s: want a whole number, have %q", cell("at"), number)
			}
			reading["common"] = n
		}
		out = append(out, reading)
	}
	return out, nil
}
