package main

import (
	"context"
	"strings"

	"github.com/alecthomas/kong"

	"duskproof/checker"
	"duskproof/checker/report"
	"duskproof/checker/takeoff"
)

// newParser makes the parser of the command line; exit is called when help or
// the version was printed.
func newParser(ctx context.Context, cli *commands, std streams, exit func(int)) (*kong.Kong, error) {
	return kong.New(cli,
		kong.Name("duskproof"),
		kong.Description("Proofs an outdoor low-voltage lighting plan before anyone digs. "+report.Caution),
		kong.UsageOnError(), kong.Writers(std.out, std.err), kong.Exit(exit),
		kong.Vars{
			"version": "duskproof " + checker.Version, "forms": strings.Join(report.FormNames(), ", "),
			"layers": strings.Join(report.Layers(), ", "), "tables": strings.Join(takeoff.TableNames(), ", "),
		},
		kong.ConfigureHelp(kong.HelpOptions{Compact: true}),
		kong.BindTo(ctx, (*context.Context)(nil)), kong.Bind(std),
	)
}
