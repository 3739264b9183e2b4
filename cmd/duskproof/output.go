package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/term"

	"duskproof/checker/report"
)

// output is one form of output and where it goes.
type output struct {
	form, file string
}

// parseOutputs reads --as.
func parseOutputs(as []string) ([]output, error) {
	if len(as) == 0 {
		as = []string{"text"}
	}
	var out []output
	standard := 0
	for _, a := range as {
		form, file, toFile := strings.Cut(a, "=")
		if !knownForm(form) {
			return nil, flagError{fmt.Errorf("--as: unknown form %q; the forms are %s", form, strings.Join(forms, ", "))}
		}
		if !toFile {
			standard++
		}
		out = append(out, output{form, file})
	}
	if standard > 1 {
		return nil, flagError{errors.New("--as: at most one form goes to standard output; give the others a file: FORM=FILE")}
	}
	return out, nil
}

// forms are the forms of output.
var forms = []string{"text", "json"}

func knownForm(form string) bool {
	for _, f := range forms {
		if f == form {
			return true
		}
	}
	return false
}

// write writes the report in one form. A file is written whole or not at all.
func (o output) write(r *report.Report, brief bool, std io.Writer) error {
	if o.file == "" {
		return o.render(std, r, brief)
	}
	temporary, err := os.CreateTemp(filepath.Dir(o.file), ".duskproof-*")
	if err != nil {
		return fmt.Errorf("write %s: %w", o.file, err)
	}
	defer os.Remove(temporary.Name())
	if err := o.render(temporary, r, brief); err != nil {
		temporary.Close()
		return fmt.Errorf("write %s: %w", o.file, err)
	}
	if err := errors.Join(temporary.Chmod(0o644), temporary.Close(), os.Rename(temporary.Name(), o.file)); err != nil {
		return fmt.Errorf("write %s: %w", o.file, err)
	}
	return nil
}

func (o output) render(w io.Writer, r *report.Report, brief bool) error {
	if o.form == "json" {
		return report.JSON(w, r)
	}
	return report.Text(w, r, textOptions(w, brief))
}

// textOptions suit what w is: colour and width on a terminal, neither
// elsewhere.
func textOptions(w io.Writer, brief bool) report.TextOptions {
	options := report.TextOptions{Brief: brief}
	file, ok := w.(*os.File)
	if !ok || !term.IsTerminal(int(file.Fd())) {
		return options
	}
	if width, _, err := term.GetSize(int(file.Fd())); err == nil {
		options.Width = width
	}
	options.Colour = os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb"
	return options
}
