package profile

import (
	"maps"
	"slices"
	"strings"
)

// cautions joins what the stacked profiles say into one caution for each rule.
func (b *builder) cautions() []Caution {
	speakers := map[string][]*Profile{}
	for _, p := range b.stack {
		for i := range p.Cautions {
			id := p.Cautions[i].Rule
			speakers[id] = append(speakers[id], p)
		}
	}
	list := make([]Caution, 0, len(speakers))
	for _, id := range slices.Sorted(maps.Keys(speakers)) {
		list = append(list, joined(id, heard(speakers[id])))
	}
	return list
}

// heard leaves out the profiles for which one above them speaks: common, when
// there is another, and what a profile of the program stands on in its own code
// family. A local profile hides nothing.
func heard(profiles []*Profile) []*Profile {
	return slices.DeleteFunc(slices.Clone(profiles), func(p *Profile) bool {
		if p.Name == Common {
			return len(profiles) > 1
		}
		return slices.ContainsFunc(profiles, func(q *Profile) bool {
			return q.Bundled && p.CodeFamily != "" && q.CodeFamily == p.CodeFamily && slices.Contains(q.StandsOn, p.Name)
		})
	})
}

// joined puts the words of several profiles on one rule together.
func joined(id string, profiles []*Profile) Caution {
	var texts, sources, names []string
	for _, p := range profiles {
		i := slices.IndexFunc(p.Cautions, func(c Caution) bool { return c.Rule == id })
		caution := p.Cautions[i]
		if slices.Contains(texts, caution.Text) {
			continue
		}
		texts, names = append(texts, caution.Text), append(names, p.Name)
		if caution.Source != "" && !slices.Contains(sources, caution.Source) {
			sources = append(sources, caution.Source)
		}
	}
	return Caution{Rule: id, Text: strings.Join(texts, " "), Source: strings.Join(sources, "; "), Profile: strings.Join(names, ", ")}
}
