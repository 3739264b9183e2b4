package config

import (
	"strings"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/profile"
	"duskproof/checker/rule"
	"duskproof/checker/source"
)

// lines writes problems one to a line.
func lines(problems []source.Problem) string {
	var all []string
	for _, p := range problems {
		all = append(all, p.String())
	}
	return strings.Join(all, "\n")
}

func TestCheckRules(t *testing.T) {
	metas := []rule.Meta{{ID: "water.setback", Severity: finding.Danger}, {ID: "light.glare", Severity: finding.Advice}}
	for _, c := range []struct{ rules, want string }{
		{`"light.glare": {"severity": "off"}`, ""},
		{`"light.glare": {"severity": "danger"}`, ""},
		{`"water.setback": {"severity": "danger"}`, ""},
		{`"water.setback": {"severity": "off", "reason": "There is no water."}`, ""},
		{`"water.setback": {"severity": "off"}`, `.duskproof.json:1:29: water.setback can be a danger, so it is switched off only with a reason; add one, or leave it on`},
		{`"water.setback": {"severity": "defect"}`, `.duskproof.json:1:29: water.setback can be a danger, so it is graded down only with a reason; add one, or leave it as it is`},
		{`"water.setbak": {"severity": "off", "reason": "There is no water."}`, `.duskproof.json:1:29: there is no rule "water.setbak"; did you mean "water.setback"?`},
		{`"house.zebra-crossing": {"severity": "off"}`, `.duskproof.json:1:29: there is no rule "house.zebra-crossing"`},
	} {
		got := lines(parsed(t, `{"format": "1.0", "rules": {`+c.rules+`}}`).CheckRules(metas))
		if got != c.want {
			t.Errorf("%s: got %q, want %q", c.rules, got, c.want)
		}
	}
	inPath := parsed(t, `{"format": "1.0", "paths": [{"match": "a/", "rules": {"water.setback": {"severity": "off"}}}]}`)
	if got := lines(inPath.CheckRules(metas)); !strings.Contains(got, "1:55: water.setback") {
		t.Errorf("a danger switched off for a path gives %q", got)
	}
	if got := (&Config{}).CheckRules(metas); got != nil {
		t.Errorf("no settings give %v", got)
	}
}

func TestCheckProfiles(t *testing.T) {
	set, err := profile.Bundled()
	if err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct{ text, want string }{
		{`"profiles": ["lz1", "uk-bs7671"]`, ""},
		{`"profiles": ["lz1", "uk-bs7672"]`, `.duskproof.json:1:39: there is no profile "uk-bs7672"; did you mean "uk-bs7671"?`},
		{`"limits": {"house.bench_m": {"value": 1, "reason": "benches"}}`, ""},
		{`"limits": {"site.mower_strip": {"value": 1, "reason": "mowers"}}`, `.duskproof.json:1:30: there is no limit "site.mower_strip"; did you mean "site.mower_strip_m"? A limit of your own for a house rule begins with "house."`},
		{`"limits": {"power.gfci_required": {"value": "no", "reason": "because"}}`, `.duskproof.json:1:30: power.gfci_required is a flag, not a text: Outdoor receptacles need ground-fault (residual-current) protection.`},
		{`"paths": [{"match": "a/", "profiles": ["lz9x"]}]`, `.duskproof.json:1:58: there is no profile "lz9x"; did you mean "lz0"?`},
	} {
		got := lines(parsed(t, `{"format": "1.0", `+c.text+`}`).CheckProfiles(set))
		if got != c.want {
			t.Errorf("%s: got %q, want %q", c.text, got, c.want)
		}
	}
	if got := (&Config{}).CheckProfiles(set); got != nil {
		t.Errorf("no settings give %v", got)
	}
}
