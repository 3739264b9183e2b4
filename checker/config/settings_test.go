package config

import (
	"slices"
	"testing"

	"duskproof/checker/finding"
	"duskproof/checker/profile"
)

func TestLayersInOrder(t *testing.T) {
	c := parsed(t, whole)
	for _, p := range []struct {
		path      string
		hold      finding.Severity
		fixes     string
		profiles  []string
		slackOff  bool
		clearance float64
	}{
		{"garden.lighting.json", finding.Advice, "hint", []string{"lz1"}, false, 0.45},
		{"drafts/garden.lighting.json", finding.Danger, "none", []string{"lz1"}, false, 0.45},
		{"clients/tern/shore-walk.lighting.json", finding.Advice, "hint", []string{"lz1", "shore-wildlife"}, true, 0.6},
		{"clients/tern/garden/shore-walk.lighting.json", finding.Advice, "hint", []string{"lz1"}, false, 0.45},
	} {
		s := c.Effective(p.path)
		slack, _ := s.Rule("earth.slack")
		i := slices.IndexFunc(s.Limits, func(l Limit) bool { return l.Name == "site.leaf_clearance_m" })
		if s.Hold != p.hold || s.Fixes != p.fixes || !slices.Equal(s.Profiles, p.profiles) || slack.Off != p.slackOff || *s.Limits[i].Number != p.clearance {
			t.Errorf("%s: got %+v", p.path, s)
		}
		if s.Carried != "house/carried.json" {
			t.Errorf("%s: carried is %q", p.path, s.Carried)
		}
	}
}

func TestLaterPathsWin(t *testing.T) {
	c := parsed(t, `{"format": "1.0", "paths": [{"match": "a/", "hold": "danger"}, {"match": "a/b/", "hold": "advice"}, {"match": "**/c/", "hold": "caution"}]}`)
	for path, want := range map[string]finding.Severity{
		"x.json": finding.Defect, "a/x.json": finding.Danger, "a/b/x.json": finding.Advice, "a/b/c/x.json": finding.Caution, "c/x.json": finding.Caution,
	} {
		if got := c.Effective(path).Hold; got != want {
			t.Errorf("%s holds at %s, want %s", path, got, want)
		}
	}
}

func TestTheCommandLineGoesOnTop(t *testing.T) {
	s := parsed(t, whole).Effective("drafts/x.lighting.json").Over(Layer{
		Hold: finding.Defect, Profiles: []string{"lz2"}, Rules: []Rule{{ID: "site.traffic", Off: true, Reason: "asked on the command line"}},
	})
	if s.Hold != finding.Defect || s.Fixes != "none" || !slices.Equal(s.Profiles, []string{"lz1", "lz2"}) {
		t.Errorf("got %+v", s)
	}
	var off []string
	for _, r := range s.Off() {
		off = append(off, r.ID)
	}
	if !slices.Equal(off, []string{"light.glare", "site.traffic"}) {
		t.Errorf("switched off: %v", off)
	}
}

func TestGrade(t *testing.T) {
	const off = finding.Severity(-1)
	for _, c := range []struct {
		setting                 finding.Severity
		gravest, severity, want finding.Severity
	}{
		// The gravest cases take what the settings say, down and up.
		{finding.Advice, finding.Defect, finding.Defect, finding.Advice},
		{finding.Danger, finding.Advice, finding.Advice, finding.Danger},
		{finding.Defect, finding.Defect, finding.Defect, finding.Defect},
		// Milder cases stay, but never graver than the gravest.
		{finding.Danger, finding.Defect, finding.Advice, finding.Advice},
		{finding.Advice, finding.Danger, finding.Defect, finding.Advice},
		{finding.Caution, finding.Danger, finding.Advice, finding.Caution},
		{off, finding.Danger, finding.Advice, 0},
	} {
		s := Settings{Rules: []Rule{{ID: "a.b", Severity: c.setting, Off: c.setting == off}}}
		got, on := s.Grade("a.b", c.gravest, c.severity)
		if got != c.want || on != (c.setting != off) {
			t.Errorf("setting %s, gravest %s, case %s: got %s, %v; want %s", c.setting, c.gravest, c.severity, got, on, c.want)
		}
		if got, on := s.Grade("a.c", c.gravest, c.severity); got != c.severity || !on {
			t.Errorf("a rule without a setting is graded %s, %v", got, on)
		}
	}
}

// Settings override a limit of every profile, and say so.
func TestLimitsGoOnTopOfEveryProfile(t *testing.T) {
	set, err := profile.Bundled()
	if err != nil {
		t.Fatal(err)
	}
	s := parsed(t, whole).Effective("garden.lighting.json")
	extra, ok := s.LimitProfile()
	if !ok {
		t.Fatal("there is no profile of limits")
	}
	limits, err := set.Stack(append([]string{"us-nec-2020"}, s.Profiles...), extra)
	if err != nil {
		t.Fatal(err)
	}
	l, _ := limits.Get("earth.cover")
	if l.Profile != FileName || l.Basis != finding.House || l.Cite() != FileName+": Rabbits." || l.Unit != "m" {
		t.Errorf("the cover is %+v", l)
	}
	if got := limits.Origin("earth.cover"); len(got) != 2 || got[1].Profile != "us-nec-2020" {
		t.Errorf("its origin is %+v", got)
	}
	if got, _ := limits.Number("site.leaf_clearance_m"); got != 0.45 {
		t.Errorf("the clearance is %v", got)
	}
	if _, ok := (Settings{}).LimitProfile(); ok {
		t.Error("no limits make a profile")
	}
}
