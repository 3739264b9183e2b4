package main

import (
	"context"
	"fmt"
	"io"
	"slices"
	"strings"

	"duskproof/checker/report"
	"duskproof/checker/takeoff"
)

// scheduleCommand is "duskproof schedule".
type scheduleCommand struct {
	judging
	Plan  string   `arg:"" help:"Plan file."`
	As    string   `help:"Form of output: text, csv, json." default:"text" enum:"text,csv,json" placeholder:"FORM"`
	Table []string `help:"Only this table: ${tables}, one-line; repeatable. Not for JSON, which has all." placeholder:"NAME"`
	To    string   `help:"File to write instead of standard output." placeholder:"FILE"`
}

// oneLineTable is the name that asks for the one-line diagrams.
const oneLineTable = "one-line"

// Run prints the schedules of one plan.
func (c *scheduleCommand) Run(ctx context.Context, std streams) error {
	for _, name := range c.Table {
		if name != oneLineTable && !slices.Contains(takeoff.TableNames(), name) {
			return flagError{fmt.Errorf("--table: unknown table %q; the tables are %s, %s", name, strings.Join(takeoff.TableNames(), ", "), oneLineTable)}
		}
	}
	set, err := c.setup()
	if err != nil {
		return err
	}
	defer set.close()
	result, err := usablePlan(ctx, set, c.judging, c.Plan, std)
	if err != nil {
		return err
	}
	schedule, err := takeoff.Of(ctx, result.Model, result.Facts, report.Caution)
	if err != nil {
		return err
	}
	return writeTo(c.To, std.out, func(w io.Writer) error { return c.write(w, schedule) })
}

func (c *scheduleCommand) write(w io.Writer, s *takeoff.Schedule) error {
	wanted := func(name string) bool { return len(c.Table) == 0 || slices.Contains(c.Table, name) }
	all := takeoff.Tables(s)
	if c.As == "csv" {
		all = takeoff.Sheets(s)
	}
	var tables []takeoff.Table
	for _, t := range all {
		if wanted(t.Name) {
			tables = append(tables, t)
		}
	}
	switch c.As {
	case "json":
		return report.ScheduleJSON(w, s)
	case "csv":
		return report.ScheduleCSV(w, tables)
	}
	var lines []takeoff.OneLine
	if wanted(oneLineTable) {
		lines = s.OneLines
	}
	return report.ScheduleText(w, s, tables, lines, textOptions(w, false))
}
