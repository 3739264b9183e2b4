package profile

import (
	"math"
	"slices"
	"strings"
	"testing"

	"duskproof/checker/finding"
)

// each calls f for every limit of every bundled profile.
func each(t *testing.T, f func(t *testing.T, p Profile, l Limit)) {
	t.Helper()
	set, count := bundled(t), 0
	for _, name := range set.Names() {
		p, _ := set.Profile(name)
		for _, l := range p.Limits {
			count++
			f(t, p, l)
		}
	}
	if count < 150 {
		t.Errorf("only %d limits found", count)
	}
}

func TestEveryProfileOfTheContractIsThere(t *testing.T) {
	names := bundled(t).Names()
	for _, want := range []string{
		"common", "us-nec-2020", "iec-60364", "uk-bs7671", "shore-wildlife", "bat-corridor",
		"lz0", "lz1", "lz2", "lz3", "lz4", "public-egress", "local-example",
	} {
		if !slices.Contains(names, want) {
			t.Errorf("there is no profile %s", want)
		}
	}
}

func TestEveryLimitSaysWhereItIsFrom(t *testing.T) {
	bases := []finding.Basis{finding.Code, finding.Listing, finding.Standard, finding.Practice, finding.House}
	each(t, func(t *testing.T, p Profile, l Limit) {
		at := p.Name + " " + l.Name
		if !slices.Contains(bases, l.Basis) {
			t.Errorf("%s has the basis %q", at, l.Basis)
		}
		if !slices.Contains([]string{Confirmed, Single, Memory, Practice}, l.Confidence) {
			t.Errorf("%s has the confidence %q", at, l.Confidence)
		}
		if own := l.Basis == finding.Practice || l.Basis == finding.House; own && l.Confidence == Confirmed {
			t.Errorf("%s: basis %s does not go with confidence %s", at, l.Basis, l.Confidence)
		}
		if l.Source == "" && l.Basis != finding.Practice && l.Basis != finding.House {
			t.Errorf("%s has no source", at)
		}
		if (l.Kind() == Number || l.Kind() == Table) && l.Unit == "" {
			t.Errorf("%s has no unit", at)
		}
		if l.Note != "" && !strings.HasSuffix(l.Note, ".") {
			t.Errorf("%s: the note is not a sentence: %q", at, l.Note)
		}
	})
}

// A value that nobody has checked gives advice at most, so it may not stand as
// law, and what is printed must say that it is from memory.
func TestMemoryIsNeverCode(t *testing.T) {
	count := 0
	each(t, func(t *testing.T, p Profile, l Limit) {
		if l.Confidence != Memory {
			return
		}
		count++
		if l.Basis == finding.Code || l.Basis == finding.Listing {
			t.Errorf("%s %s is from memory and has the basis %s", p.Name, l.Name, l.Basis)
		}
		if l.Source != "" && !strings.HasSuffix(l.Cite(), "(from memory)") {
			t.Errorf("%s %s is cited as %q", p.Name, l.Name, l.Cite())
		}
		if l.Source == "" && !strings.Contains(l.Note, "memory") {
			t.Errorf("%s %s does not say that it is from memory", p.Name, l.Name)
		}
	})
	if count == 0 {
		t.Error("no value is from memory; the test looks at the wrong data")
	}
}

func TestCommonIsPracticeOnly(t *testing.T) {
	p, _ := bundled(t).Profile(Common)
	for _, l := range p.Limits {
		if l.Basis != finding.Practice && l.Basis != finding.House {
			t.Errorf("%s has the basis %s", l.Name, l.Basis)
		}
		if l.Source != "" {
			t.Errorf("%s names the source %q; common practice has none", l.Name, l.Source)
		}
	}
}

func TestCodesDoNotBorrowFromEachOther(t *testing.T) {
	each(t, func(t *testing.T, p Profile, l Limit) {
		american := strings.Contains(l.Cite(), "NFPA") || strings.Contains(l.Cite(), "UL ")
		if p.CodeFamily == "iec" && american {
			t.Errorf("%s %s cites %s", p.Name, l.Name, l.Cite())
		}
		if p.CodeFamily == "nec" && strings.Contains(l.Cite(), "IEC") {
			t.Errorf("%s %s cites %s", p.Name, l.Name, l.Cite())
		}
	})
	for _, name := range []string{"iec-60364", "uk-bs7671"} {
		limits := stack(t, name)
		for _, absent := range []string{"earth.cover", "wire.ampacity", "wire.largest_device", "power.common_max_a", "power.branch_max_a"} {
			if l, ok := limits.Get(absent); ok {
				t.Errorf("%s has %s from %s", name, absent, l.Cite())
			}
		}
	}
}

// Codes print lengths twice, rounded apart from each other: 6 in (150 mm). What
// is printed in feet and inches must be whole inches, and within 4 % of the
// metres beside it.
func TestFeetAndMetresAgree(t *testing.T) {
	check := func(name string, metres, feet float64) {
		inches := feet / 0.0254
		if math.Abs(inches-math.Round(inches)) > 1e-9 {
			t.Errorf("%s: %v m is not a whole number of inches", name, feet)
		}
		if math.Abs(feet-metres) > 0.04*metres {
			t.Errorf("%s: %v m and %v m are too far apart", name, metres, feet)
		}
	}
	count := 0
	each(t, func(t *testing.T, _ Profile, l Limit) {
		if l.USValue != nil {
			count++
			check(l.Name, *l.Value, *l.USValue)
		}
		if l.USTable != nil && len(l.USTable) != len(l.Table) {
			t.Errorf("%s has %d rows in metres and %d in feet", l.Name, len(l.Table), len(l.USTable))
			return
		}
		for i, row := range l.USTable {
			count++
			if row.Key != l.Table[i].Key {
				t.Errorf("%s: row %q stands beside row %q", l.Name, row.Key, l.Table[i].Key)
			}
			check(l.Name+" "+row.Key, l.Table[i].Value, row.Value)
		}
	})
	if count < 20 {
		t.Errorf("only %d lengths have both figures", count)
	}
}

func TestEveryMeaningIsUsedAndExplained(t *testing.T) {
	used := map[string]bool{}
	each(t, func(_ *testing.T, _ Profile, l Limit) { used[l.Name] = true })
	for _, m := range bundled(t).Meanings() {
		if !used[m.Name] {
			t.Errorf("no profile sets %s", m.Name)
		}
		if len(m.Note) < 20 || !strings.HasSuffix(m.Note, ".") || strings.Contains(m.Note, "\n") {
			t.Errorf("%s: the note is not one line: %q", m.Name, m.Note)
		}
		if (m.Kind == Number || m.Kind == Table) != (m.Unit != "") {
			t.Errorf("%s is a %s with the unit %q", m.Name, m.Kind, m.Unit)
		}
	}
}

func TestEveryCautionIsLaw(t *testing.T) {
	set := bundled(t)
	for _, name := range set.Names() {
		p, _ := set.Profile(name)
		for _, c := range p.Cautions {
			if !strings.HasPrefix(c.Rule, "law.") || !strings.HasSuffix(c.Text, ".") {
				t.Errorf("%s: caution %s: %q", name, c.Rule, c.Text)
			}
		}
	}
	for _, name := range []string{"us-nec-2020", "iec-60364", "uk-bs7671"} {
		rules := []string{}
		for _, c := range stack(t, name).Cautions() {
			rules = append(rules, c.Rule)
			if c.Profile != name {
				t.Errorf("%s prints %s as %s has it", name, c.Rule, c.Profile)
			}
		}
		want := []string{"law.association", "law.licensed-supply", "law.local-code", "law.locate", "law.permit", "law.private-lines"}
		if !slices.Equal(rules, want) {
			t.Errorf("%s has the cautions %v, want %v", name, rules, want)
		}
	}
}
