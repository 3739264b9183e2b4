package profile

import (
	"fmt"
	"strconv"
	"strings"
)

// NamesPage is the file name of the page that explains every limit.
const NamesPage = "README.md"

// Pages returns the documentation of a set of profiles, as Markdown by file
// name: one page for each profile, and [NamesPage].
func (s *Set) Pages() map[string]string {
	pages := map[string]string{NamesPage: s.namesPage()}
	for _, name := range s.Names() {
		p, _ := s.Profile(name)
		pages[name+".md"] = p.page()
	}
	return pages
}

// page writes the page of one profile.
func (p Profile) page() string {
	var b strings.Builder
	fmt.Fprintf(&b, "# %s\n\n%s\n\n", p.Name, p.Title)
	if p.About != "" {
		fmt.Fprintf(&b, "%s\n\n", p.About)
	}
	if len(p.StandsOn) > 0 {
		fmt.Fprintf(&b, "It stands on %s.\n\n", strings.Join(codes(p.StandsOn), ", "))
	}
	if p.CodeFamily != "" {
		fmt.Fprintf(&b, "It belongs to the code family `%s`: a profile of another family takes its place.\n\n", p.CodeFamily)
	}
	b.WriteString("| limit | value | source | basis | how sure | note |\n| --- | --- | --- | --- | --- | --- |\n")
	for _, l := range p.Limits {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s | %s |\n", l.Name, cell(l.Words()), cell(l.Cite()), l.Basis, l.Confidence, cell(l.Note))
	}
	if len(p.Cautions) > 0 {
		b.WriteString("\nStanding cautions:\n\n")
		for _, c := range p.Cautions {
			fmt.Fprintf(&b, "- `%s`: %s", c.Rule, c.Text)
			if c.Source != "" {
				fmt.Fprintf(&b, " (%s)", c.Source)
			}
			b.WriteString("\n")
		}
	}
	return b.String()
}

// namesPage writes the page of all limits, with the profiles that set each.
func (s *Set) namesPage() string {
	setBy := map[string][]string{}
	for _, name := range s.Names() {
		p, _ := s.Profile(name)
		for _, l := range p.Limits {
			setBy[l.Name] = append(setBy[l.Name], name)
		}
	}
	var b strings.Builder
	b.WriteString("# Profiles\n\n")
	b.WriteString("A profile is a named set of limits for a jurisdiction or a place. Profiles stack in the order in which a plan names them, on top of `common`; later ones win. `duskproof rules --profile NAME` prints what is in force and what it overrode.\n\n")
	b.WriteString("| profile | for |\n| --- | --- |\n")
	for _, name := range s.Names() {
		p, _ := s.Profile(name)
		fmt.Fprintf(&b, "| [%s](%s.md) | %s |\n", name, name, cell(p.Title))
	}
	b.WriteString("\n# Limits\n\nUnits are SI; 1 stands for ratios and counts. A limit that no profile in force sets makes the rules that read it silent. Names of your own, for house rules, begin with `house.`.\n\n")
	b.WriteString("| limit | holds | unit | what it means | set by |\n| --- | --- | --- | --- | --- |\n")
	for _, m := range s.Meanings() {
		fmt.Fprintf(&b, "| `%s` | %s | %s | %s | %s |\n", m.Name, m.holds(), m.Unit, cell(m.Note), cell(strings.Join(setBy[m.Name], ", ")))
	}
	return b.String()
}

// holds writes the kind, with the words a text may be.
func (m Meaning) holds() string {
	if len(m.Choices) == 0 {
		return string(m.Kind)
	}
	return strings.Join(m.Choices, " or ")
}

// codes sets names as code.
func codes(names []string) []string {
	list := make([]string, len(names))
	for i, name := range names {
		list[i] = "`" + name + "`"
	}
	return list
}

// cell makes text safe inside a table of Markdown.
func cell(text string) string {
	return strings.NewReplacer("|", `\|`, "\n", " ", "<", "&lt;").Replace(text)
}

// Words writes what a limit holds, with its unit: "3 m (for plans in feet 3.048 m)".
func (l Limit) Words() string {
	switch l.Kind() {
	case Number:
		words := number(*l.Value, l.Unit)
		if l.USValue != nil {
			words += fmt.Sprintf(" (for plans in feet %s)", number(*l.USValue, l.Unit))
		}
		return words
	case Text:
		return l.Text
	case Flag:
		if *l.Flag {
			return "yes"
		}
		return "no"
	case Table:
		words := tableWords(l.Table, l.Unit)
		if l.USTable != nil {
			words += fmt.Sprintf(" (for plans in feet: %s)", tableWords(l.USTable, l.Unit))
		}
		return words
	}
	return "withdrawn"
}

// tableWords writes the rows of a table.
func tableWords(rows []Row, unit string) string {
	words := make([]string, len(rows))
	for i, row := range rows {
		words[i] = row.Key + " " + number(row.Value, unit)
	}
	return strings.Join(words, "; ")
}

// number writes a number as it stands in the profile, with its unit.
func number(value float64, unit string) string {
	text := strconv.FormatFloat(value, 'f', -1, 64)
	switch unit {
	case "1", "":
		return text
	case "degC":
		return text + " °C"
	case "mm2":
		return text + " mm²"
	}
	return text + " " + unit
}
