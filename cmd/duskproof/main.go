// Command duskproof proofs outdoor low-voltage lighting plans before anyone
// digs: flags, exit status, nothing else. The checking is in package checker.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"slices"
	"syscall"
	"time"

	"github.com/alecthomas/kong"

	"duskproof/checker"
)

// Exit statuses. The highest of a run wins.
const (
	exitFine        = 0   // no holds, or no plans
	exitHeld        = 1   // at least one hold
	exitUnusable    = 2   // a plan, rule or flag could not be used
	exitFailed      = 3   // our own failure, or an output that could not be written
	exitInterrupted = 130 // interrupted by the user
)

// commands is the command line.
type commands struct {
	Check    checkCommand    `cmd:"" help:"Check plans: files, folders, or - for standard input."`
	Carry    carryCommand    `cmd:"" help:"Write down findings that old plans carry along, or shorten that list."`
	Mend     mendCommand     `cmd:"" help:"Look for changes that together leave no holds; show or write them."`
	Draw     drawCommand     `cmd:"" help:"Draw a plan as SVG, to scale, with findings and light."`
	Schedule scheduleCommand `cmd:"" help:"Print the schedules of a plan: load, volts, cable, trenches, what to buy, what to measure."`
	Editor   editorCommand   `cmd:"" help:"Serve an editor: findings, fixes and measures while a plan is drawn (language server)."`
	Rules    rulesCommand    `cmd:"" help:"List the rules, or explain one."`
	Begin    beginCommand    `cmd:"" help:"Write a starter plan that has no holds."`
	Facts    factsCommand    `cmd:"" help:"Print the facts document of a plan, for rule writers."`
	Readings readingsCommand `cmd:"" help:"Compare meter readings with the computed system, and say what explains them."`
	Tryrules tryrulesCommand `cmd:"" help:"Type-check a folder of rules and run its tests."`

	Completion    completionCommand `cmd:"" help:"Print what makes a shell complete commands and flags."`
	CompleteWords wordsCommand      `cmd:"" hidden:"" help:"What completion scripts call."`

	Version kong.VersionFlag `help:"Print the version."`
}

// streams are where a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

func main() {
	tuneMemory()
	ctx, stop := context.WithCancel(context.Background())
	go stopAtInterrupt(stop)
	os.Exit(run(ctx, os.Args[1:], streams{interruptible{ctx, os.Stdin}, os.Stdout, os.Stderr}))
}

// stopAtInterrupt calls stop at the first interrupt; a second one ends the process
// at once.
func stopAtInterrupt(stop func()) {
	interrupts := make(chan os.Signal, 1)
	signal.Notify(interrupts, os.Interrupt, syscall.SIGTERM)
	<-interrupts
	signal.Stop(interrupts)
	stop()
}

// flagError is a mistake on the command line.
type flagError struct{ error }

// Unwrap is what went wrong.
func (e flagError) Unwrap() error { return e.error }

// version is what --version prints.
const version = "duskproof " + checker.Version

// run parses the command line, runs one command and returns the exit status.
func run(ctx context.Context, args []string, std streams) int {
	if slices.Equal(args, []string{"--version"}) {
		fmt.Fprintln(std.out, version)
		return exitFine
	}
	checker.Warm()
	command := parseCheck(ctx, args, std)
	if command == nil {
		var status int
		if command, status = parse(ctx, args, std); command == nil {
			return status
		}
	}
	return statusOfRun(ctx, command.Run(), std)
}

// parse parses any command line. The command is nil when help or the version was
// printed or there is a mistake; then the exit status counts.
func parse(ctx context.Context, args []string, std streams) (*kong.Context, int) {
	var cli commands
	status := -1
	parser, err := newParser(ctx, &cli, std, func(code int) { status = code })
	if err != nil {
		fmt.Fprintln(std.err, "duskproof:", err)
		return nil, exitFailed
	}
	command, err := parser.Parse(args)
	if status >= 0 {
		return nil, status // help or version was printed
	}
	if err != nil {
		fmt.Fprintf(std.err, "duskproof: %v; duskproof --help says more\n", err)
		return nil, exitUnusable
	}
	return command, exitFine
}

// statusOfRun prints why a command failed and returns its exit status.
func statusOfRun(ctx context.Context, err error, std streams) int {
	var held statusError
	switch {
	case err == nil:
		return exitFine
	case errors.As(err, &held):
		return int(held)
	case ctx.Err() != nil:
		fmt.Fprintln(std.err, "duskproof: interrupted")
		return exitInterrupted
	}
	fmt.Fprintf(std.err, "duskproof: %v\n", err)
	var flag flagError
	if errors.As(err, &flag) {
		return exitUnusable
	}
	return exitFailed
}

// statusError ends a command with an exit status whose reason is printed
// already.
type statusError int

// Error satisfies error; it is never printed.
func (s statusError) Error() string { return fmt.Sprintf("exit status %d", int(s)) }

// ended turns an exit status into the error that ends a command.
func ended(status int) error {
	if status == exitFine {
		return nil
	}
	return statusError(status)
}

// clock is read once for each command; tests and scripts give --today.
func today(flag string) (string, error) {
	if flag == "" {
		return time.Now().Format(time.DateOnly), nil
	}
	if _, err := time.Parse(time.DateOnly, flag); err != nil {
		return "", flagError{fmt.Errorf("--today: want YYYY-MM-DD, have %q", flag)}
	}
	return flag, nil
}
