package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"

	"golang.org/x/term"

	"duskproof/checker/mend"
	"duskproof/checker/report"
	"duskproof/checker/rule"
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
	taken := map[string]bool{}
	for _, a := range as {
		form, file, toFile := strings.Cut(a, "=")
		if _, known := report.FormNamed(form); !known {
			return nil, flagError{fmt.Errorf("--as: unknown form %q; the forms are %s", form, strings.Join(report.FormNames(), ", "))}
		}
		if toFile && file == "" {
			return nil, flagError{fmt.Errorf("--as: %s= names no file", form)}
		}
		if toFile {
			file = filepath.Clean(file)
		}
		if taken[file] && !toFile {
			return nil, flagError{errors.New("--as: at most one form goes to standard output; give the others a file: FORM=FILE")}
		}
		if taken[file] {
			return nil, flagError{fmt.Errorf("--as: two forms go to %s", file)}
		}
		taken[file] = true
		out = append(out, output{form, file})
	}
	return out, nil
}

// draws reports whether the form shows more of a plan than its findings.
func (o output) draws() bool { return o.form == "html" }

// edits reports whether the form shows fixes as changes of the plan's text.
func (o output) edits() bool { return o.form == "sarif" }

// lights reports whether the form shows the light on the ground.
func (o output) lights() bool { return o.form == "html" }

// write writes the report in one form. A file is written whole or not at all.
func (o output) write(r *report.Report, brief bool, std io.Writer) error {
	if o.file == "" {
		return o.render(std, r, brief)
	}
	return writeWhole(o.file, func(w io.Writer) error { return o.render(w, r, brief) })
}

func (o output) render(w io.Writer, r *report.Report, brief bool) error {
	form, _ := report.FormNamed(o.form)
	return form.Write(w, r, report.Options{Text: textOptions(w, brief), Apply: mend.Apply})
}

// rulesByID is the metadata of rules for forms that print them.
func rulesByID(metas []rule.Meta) map[string]rule.Meta {
	byID := make(map[string]rule.Meta, len(metas))
	for _, m := range metas {
		byID[m.ID] = m
	}
	return byID
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
