package main

import (
	"context"
	"strings"

	"github.com/alecthomas/kong"

	"duskproof/checker/report"
	"duskproof/checker/takeoff"
)

// checkLine is the command line of one command alone, the one that runs most: a
// parser of all commands takes longer to make than a small plan to read.
type checkLine struct {
	Check checkCommand `cmd:""`
}

// parseCheck parses the command line of a check; nil when it is another one, asks
// for help, or has a mistake, of all of which the parser of all commands speaks.
func parseCheck(ctx context.Context, args []string, std streams) *kong.Context {
	if len(args) == 0 || args[0] != "check" {
		return nil
	}
	parser, err := kong.New(&checkLine{}, kong.NoDefaultHelp(), kong.Vars{"forms": ""}, // which help alone would list
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(std))
	if err != nil {
		return nil
	}
	command, err := parser.Parse(args)
	if err != nil {
		return nil
	}
	return command
}

// newParser makes the parser of the command line; exit is called when help or the
// version was printed.
func newParser(ctx context.Context, cli *commands, std streams, exit func(int)) (*kong.Kong, error) {
	return kong.New(cli,
		kong.Name("duskproof"),
		kong.Description("Proofs an outdoor low-voltage lighting plan before anyone digs. "+report.Caution),
		kong.UsageOnError(), kong.Writers(std.out, std.err), kong.Exit(exit),
		kong.Vars{
			"version": version, "forms": strings.Join(report.FormNames(), ", "),
			"layers": strings.Join(report.Layers(), ", "), "tables": strings.Join(takeoff.TableNames(), ", "),
		},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(std),
	)
}
