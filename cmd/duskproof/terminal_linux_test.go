package main

import (
	"os"
	"strconv"
	"testing"

	"golang.org/x/sys/unix"
)

// openTerminal opens a terminal that nobody looks at, of a number of columns.
func openTerminal(t *testing.T, columns int) *os.File {
	t.Helper()
	master, err := os.OpenFile("/dev/ptmx", os.O_RDWR, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { master.Close() })
	if err := unix.IoctlSetPointerInt(int(master.Fd()), unix.TIOCSPTLCK, 0); err != nil {
		t.Fatal(err)
	}
	number, err := unix.IoctlGetInt(int(master.Fd()), unix.TIOCGPTN)
	if err != nil {
		t.Fatal(err)
	}
	if err := unix.IoctlSetWinsize(int(master.Fd()), unix.TIOCSWINSZ, &unix.Winsize{Row: 40, Col: uint16(columns)}); err != nil {
		t.Fatal(err)
	}
	terminal, err := os.OpenFile("/dev/pts/"+strconv.Itoa(number), os.O_RDWR|unix.O_NOCTTY, 0)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { terminal.Close() })
	return terminal
}

// TestColourNeedsATerminal holds that colour and width come from a terminal
// alone, and that NO_COLOR, set to anything, and a dumb terminal turn colour
// off.
func TestColourNeedsATerminal(t *testing.T) {
	terminal := openTerminal(t, 132)
	file, err := os.Create(t.TempDir() + "/file")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	for _, c := range []struct {
		name, noColour, term string
		to                   *os.File
		colour               bool
		width                int
	}{
		{"terminal", "", "xterm", terminal, true, 132},
		{"NO_COLOR", "1", "xterm", terminal, false, 132},
		{"dumb", "", "dumb", terminal, false, 132},
		{"file", "", "xterm", file, false, 0},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Setenv("NO_COLOR", c.noColour)
			t.Setenv("TERM", c.term)
			have := textOptions(c.to, false)
			if have.Colour != c.colour || have.Width != c.width {
				t.Errorf("colour %v, width %d; want %v, %d", have.Colour, have.Width, c.colour, c.width)
			}
		})
	}
}

// TestProgressNeedsATerminal holds that a long batch is counted on a terminal
// alone.
func TestProgressNeedsATerminal(t *testing.T) {
	if newProgress(openTerminal(t, 80), longBatch) == nil {
		t.Error("no count of a long batch on a terminal")
	}
	if newProgress(openTerminal(t, 80), longBatch-1) != nil {
		t.Error("a short batch is counted")
	}
	file, err := os.Create(t.TempDir() + "/file")
	if err != nil {
		t.Fatal(err)
	}
	defer file.Close()
	if newProgress(file, longBatch) != nil {
		t.Error("a count goes to a file")
	}
}
