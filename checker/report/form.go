package report

import (
	"io"

	"duskproof/checker/finding"
)

// Form is one form of output. A form writes all of a report, or says why not.
type Form interface {
	Write(w io.Writer, r *Report, o Options) error
}

// Options say how to write a report. The zero value suits a file.
type Options struct {
	// Text is for the text form.
	Text TextOptions
	// Apply applies a patch to the text of a plan; nil leaves the changed text
	// out of forms that show it.
	Apply func(text []byte, patch []finding.Operation) ([]byte, error)
}

// formFunc is a form that is one function.
type formFunc func(io.Writer, *Report, Options) error

// Write satisfies [Form].
func (f formFunc) Write(w io.Writer, r *Report, o Options) error { return f(w, r, o) }

// forms are all forms in the order in which they are listed.
var forms = []struct {
	name string
	form Form
}{
	{"text", formFunc(func(w io.Writer, r *Report, o Options) error { return Text(w, r, o.Text) })},
	{"json", formFunc(func(w io.Writer, r *Report, _ Options) error { return JSON(w, r) })},
	{"sarif", formFunc(SARIF)},
	{"html", formFunc(HTML)},
	{"markdown", formFunc(func(w io.Writer, r *Report, _ Options) error { return Markdown(w, r) })},
	{"junit", formFunc(func(w io.Writer, r *Report, _ Options) error { return JUnit(w, r) })},
}

// FormNames lists the names of the forms.
func FormNames() []string {
	names := make([]string, len(forms))
	for i := range forms {
		names[i] = forms[i].name
	}
	return names
}

// FormNamed returns the form of a name.
func FormNamed(name string) (Form, bool) {
	for i := range forms {
		if forms[i].name == name {
			return forms[i].form, true
		}
	}
	return nil, false
}
