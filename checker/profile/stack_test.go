package profile

import (
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"duskproof/checker/finding"
)

// made returns a set of invented profiles: file name to text.
func made(t *testing.T, files map[string]string) *Set {
	t.Helper()
	fsys := fstest.MapFS{}
	for name, text := range files {
		fsys[name] = &fstest.MapFile{Data: []byte(text)}
	}
	set, problems := bundled(t).WithFolder("house/profiles", fsys)
	if len(problems) > 0 {
		t.Fatal(problems)
	}
	return set
}

// clearance writes an invented profile that sets one limit.
func clearance(name, more string, metres string) string {
	return `{"format": "1.0", "name": "` + name + `", "title": "Invented", ` + more + `
		"limits": {"site.leaf_clearance_m": {"value": ` + metres + `, "unit": "m", "basis": "house", "confidence": "practice"}}}`
}

func TestLaterProfilesWin(t *testing.T) {
	set := made(t, map[string]string{"one.json": clearance("one", "", "0.4"), "two.json": clearance("two", "", "0.5")})
	for _, c := range []struct {
		names  []string
		want   float64
		origin string
	}{
		{nil, 0.305, "common"},
		{[]string{"one"}, 0.4, "one common"},
		{[]string{"one", "two"}, 0.5, "two one common"},
		{[]string{"two", "one"}, 0.4, "one two common"},
		{[]string{"one", "two", "one"}, 0.4, "one two common"},
		{[]string{"one", "us-nec-2020"}, 0.4, "one common"},
	} {
		limits, err := set.Stack(c.names)
		if err != nil {
			t.Fatal(err)
		}
		if got, _ := limits.Number("site.leaf_clearance_m"); got != c.want {
			t.Errorf("stack of %v gives %v, want %v", c.names, got, c.want)
		}
		var origin []string
		for _, l := range limits.Origin("site.leaf_clearance_m") {
			origin = append(origin, l.Profile)
		}
		if got := strings.Join(origin, " "); got != c.origin {
			t.Errorf("stack of %v comes from %q, want %q", c.names, got, c.origin)
		}
	}
}

func TestExtraGoesOnTop(t *testing.T) {
	value := 0.6
	extra := Profile{Name: "settings", Limits: []Limit{{Name: "site.leaf_clearance_m", Value: &value, Basis: finding.House, Confidence: Practice}}}
	limits, err := bundled(t).Stack([]string{"us-nec-2020"}, extra)
	if err != nil {
		t.Fatal(err)
	}
	l, ok := limits.Get("site.leaf_clearance_m")
	if !ok || *l.Value != 0.6 || l.Profile != "settings" || l.Unit != "m" {
		t.Errorf("got %+v, want 0.6 m from settings", l)
	}
	if got := limits.Profiles(); !slices.Equal(got, []string{"common", "us-nec-2020", "settings"}) {
		t.Errorf("profiles are %v", got)
	}
}

func TestProfilesStandOnOthers(t *testing.T) {
	limits := stack(t, "local-example")
	if got := limits.Profiles(); !slices.Equal(got, []string{"common", "us-nec-2020", "local-example"}) {
		t.Errorf("profiles are %v", got)
	}
	if got, _ := limits.Row("earth.cover", "all"); got != 0.3 {
		t.Errorf("the amended cover is %v, want 0.3", got)
	}
	if got, _ := limits.Number("water.setback_m"); got != 3 {
		t.Errorf("the code's setback is %v, want 3", got)
	}
}

func TestWithdrawnLimitsAreSilent(t *testing.T) {
	limits := stack(t, "local-example")
	if value, ok := limits.Flag("power.extra_duty_required"); ok {
		t.Errorf("the withdrawn flag is %v", value)
	}
	if chain := limits.Origin("power.extra_duty_required"); len(chain) != 2 || !chain[0].Withdrawn || chain[1].Profile != "us-nec-2020" {
		t.Errorf("its origin is %+v", chain)
	}
	for _, l := range limits.All() {
		if l.Withdrawn {
			t.Errorf("%s is withdrawn and listed", l.Name)
		}
	}
	if !slices.Contains(limits.Names(), "power.extra_duty_required") {
		t.Error("a withdrawn limit is not named")
	}
}

func TestFeetAreJudgedByFeet(t *testing.T) {
	limits := stack(t, "us-nec-2020")
	for _, c := range []struct {
		units         string
		cover, height float64
	}{{"m", 0.150, 0.300}, {"ft", 0.1524, 0.3048}} {
		in := limits.In(c.units)
		cover, _ := in.Row("earth.cover", "all")
		height, _ := in.Number("power.transformer_height_min_m")
		if cover != c.cover || height != c.height {
			t.Errorf("in %s cover is %v and height %v, want %v and %v", c.units, cover, height, c.cover, c.height)
		}
	}
	if cover, _ := limits.Row("earth.cover", "all"); cover != 0.150 {
		t.Errorf("asking for feet changed the limits to %v", cover)
	}
}

func TestAllIsSortedAndWhole(t *testing.T) {
	limits := stack(t, "us-nec-2020", "lz1", "shore-wildlife")
	all := limits.All()
	if !slices.IsSortedFunc(all, func(a, b Limit) int { return strings.Compare(a.Name, b.Name) }) {
		t.Error("limits are not in order of name")
	}
	for _, l := range all {
		if l.Profile == "" || l.Kind() == "" || l.Cite() == "" {
			t.Errorf("%s lacks a profile, a value or a source: %+v", l.Name, l)
		}
		if got, ok := limits.Get(l.Name); !ok || got.Profile != l.Profile {
			t.Errorf("Get(%s) is %+v", l.Name, got)
		}
	}
}

func TestRingsAreRefused(t *testing.T) {
	set := made(t, map[string]string{
		"one.json": clearance("one", `"stands_on": ["two"],`, "0.4"),
		"two.json": clearance("two", `"stands_on": ["one"],`, "0.5"),
	})
	_, err := set.Stack([]string{"one"})
	if err == nil || !strings.Contains(err.Error(), "stands on itself") {
		t.Errorf("a ring gives the error %v", err)
	}
}

func TestUnknownBaseIsNamed(t *testing.T) {
	set := made(t, map[string]string{"one.json": clearance("one", `"stands_on": ["us-nec-2002"],`, "0.4")})
	_, err := set.Stack([]string{"one"})
	want := `there is no profile "us-nec-2002", on which the profile "one" stands; did you mean "us-nec-2020"?`
	if err == nil || err.Error() != want {
		t.Errorf("error is %v, want %s", err, want)
	}
}

// TestEveryStackedCautionPrints holds that a profile hides no caution of another
// one, except that common speaks only where nobody else does, and that a profile of
// the program speaks for the one of its family that it stands on.
func TestEveryStackedCautionPrints(t *testing.T) {
	set := made(t, map[string]string{"town.json": `{"format": "1.0", "name": "town", "title": "Invented", "code_family": "nec",
		"stands_on": ["us-nec-2020"], "limits": {}, "cautions": {"law.locate": {"text": "Dig where you like.", "source": "an invented town"}}}`})
	for _, c := range []struct{ names, rule, want string }{
		{"", "law.permit", "common"},
		{"us-nec-2020", "law.permit", "us-nec-2020"},
		{"us-nec-2020 bat-corridor", "law.permit", "us-nec-2020, bat-corridor"},
		{"bat-corridor us-nec-2020", "law.permit", "bat-corridor, us-nec-2020"},
		{"us-nec-2020 bat-corridor public-egress", "law.permit", "us-nec-2020, bat-corridor, public-egress"},
		{"us-nec-2020 shore-wildlife local-example", "law.permit", "local-example"},
		{"us-nec-2020 shore-wildlife local-example", "law.shore-season", "shore-wildlife"},
		{"us-nec-2020 shore-wildlife local-example", "law.locate", "us-nec-2020"},
		{"uk-bs7671 bat-corridor", "law.permit", "uk-bs7671, bat-corridor"},
		{"town", "law.locate", "us-nec-2020, town"},
	} {
		limits, err := set.Stack(strings.Fields(c.names))
		if err != nil {
			t.Fatal(err)
		}
		cautions := limits.Cautions()
		i := slices.IndexFunc(cautions, func(found Caution) bool { return found.Rule == c.rule })
		if i < 0 || cautions[i].Profile != c.want {
			t.Fatalf("%s under %q: %+v, want %s", c.rule, c.names, cautions, c.want)
		}
		for _, name := range strings.Split(c.want, ", ") {
			p, _ := set.Profile(name)
			own := p.Cautions[slices.IndexFunc(p.Cautions, func(found Caution) bool { return found.Rule == c.rule })]
			if !strings.Contains(cautions[i].Text, own.Text) || !strings.Contains(cautions[i].Source, own.Source) {
				t.Errorf("%s under %q does not say what %s says: %q, %q", c.rule, c.names, name, cautions[i].Text, cautions[i].Source)
			}
		}
	}
}
