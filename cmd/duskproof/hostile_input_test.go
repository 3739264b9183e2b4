package main

import (
	"bytes"
	"encoding/json"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"unicode"

	"duskproof/checker/carried"
	"duskproof/checker/config"
	"duskproof/checker/mend"
	"duskproof/checker/profile"

	"duskproof/checker/finding"
)

const hostileFiles = "../../testdata/hostile"

// hostileIn lists the damaged files of one kind.
func hostileIn(t *testing.T, folder string) []string {
	t.Helper()
	files, err := filepath.Glob(filepath.Join(hostileFiles, folder, "*"))
	if err != nil || len(files) < 4 {
		t.Fatalf("%s: %d files, %v", folder, len(files), err)
	}
	return files
}

// wordJoiner keeps names in Markdown from being read as something else.
const wordJoiner = '\u2060'

// harmful reports whether a text could steer a terminal or turn itself round.
func harmful(text string) bool {
	return strings.ContainsFunc(text, func(r rune) bool {
		return r != '\n' && r != wordJoiner && (unicode.IsControl(r) || unicode.Is(unicode.Cf, r))
	})
}

// TestHostilePlans holds that each damaged plan is refused or judged with a
// message at its place, in every form of output, and that none is a failure of
// the program.
func TestHostilePlans(t *testing.T) {
	names := hostileIn(t, "plans")
	status, out, complaints := command(t, "", "check", "--today", day, "--fixes", "none", "--as", "json", filepath.Join(hostileFiles, "plans"))
	if status != exitUnusable || complaints != "" || harmful(out) {
		t.Errorf("status %d, complaints %q, or something harmful came out", status, complaints)
	}
	var report jsonReport
	if err := json.Unmarshal([]byte(out), &report); err != nil || len(report.Plans) != len(names) {
		t.Fatalf("%d plans in the report, want %d; %v", len(report.Plans), len(names), err)
	}
	for _, plan := range report.Plans {
		if (plan.Verdict == "unjudged") != (len(plan.Problems) > 0) {
			t.Errorf("%s: verdict %s with %d problems", plan.Path, plan.Verdict, len(plan.Problems))
		}
		for _, p := range plan.Problems {
			if p.Line < 1 || p.Column < 1 || p.Message == "" {
				t.Errorf("%s: a problem without place or words: %+v", plan.Path, p)
			}
		}
	}
	for _, form := range []string{"text", "markdown", "sarif", "junit"} {
		status, out, complaints := command(t, "", "check", "--today", day, "--fixes", "none", "--as", form, filepath.Join(hostileFiles, "plans"))
		if status != exitUnusable || complaints != "" || harmful(out) || strings.Contains(out, "<script>") {
			t.Errorf("%s: status %d, complaints %q, or something harmful came out", form, status, complaints)
		}
	}
}

// photometric is a plan with one lamp whose light is in a file beside it.
const photometric = `{"format": "1.0", "units": "ft", "plan": {"title": "Lamp with a file (invented)"},
"catalogue": {"fixtures": {"lamp": {"kind": "path", "load": "constant-power", "va": 5, "lumens": 293, "light": {"file": "lamp.ies"}}}},
"site": {"paths": [{"id": "w", "centreline": [[0, 0], [20, 0]], "width": 3}]},
"fixtures": [{"id": "P1", "type": "lamp", "at": [5, 3], "height": "14 in"}]}`

// beside writes the plan and the file that it reads.
func besideFile(t *testing.T, data []byte) string {
	t.Helper()
	folder := t.TempDir()
	for name, text := range map[string][]byte{"a" + planEnding: []byte(photometric), "lamp.ies": data} {
		if err := os.WriteFile(filepath.Join(folder, name), text, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return filepath.Join(folder, "a"+planEnding)
}

// TestHostilePhotometry holds that a photometric file that cannot be used is a
// finding and not a failure, and that nothing of a file elsewhere comes out.
func TestHostilePhotometry(t *testing.T) {
	all := t.TempDir()
	for _, name := range hostileIn(t, "photometric") {
		if err := os.CopyFS(filepath.Join(all, filepath.Base(name)), os.DirFS(filepath.Dir(besideFile(t, read(t, name))))); err != nil {
			t.Fatal(err)
		}
	}
	status, report := judge(t, "--fixes", "none", all)
	if status > exitHeld || len(report.Plans) < 10 {
		t.Errorf("status %d, %d plans", status, len(report.Plans))
	}
	for _, plan := range report.Plans {
		if plan.Verdict == "unjudged" {
			t.Errorf("%s is not judged: %v", plan.Path, plan.Problems)
		}
	}
}

// TestPhotometryStaysInside holds that the file of a plan is read from the plan's
// own folder only, whatever links stand there, and that what is no file is not
// waited for.
func TestPhotometryStaysInside(t *testing.T) {
	good := read(t, "../../testdata/light/spot-1995.ies")
	status, plan := judgeOne(t, besideFile(t, good))
	if finds(plan, "light.photometry") {
		t.Fatalf("the good file is not read: status %d, %v", status, keysOf(plan))
	}
	elsewhere := filepath.Join(t.TempDir(), "elsewhere.ies")
	if err := os.WriteFile(elsewhere, good, 0o644); err != nil {
		t.Fatal(err)
	}
	for name, make := range map[string]func(string) error{
		"link out": func(at string) error { return os.Symlink(elsewhere, at) },
		"relative link": func(at string) error {
			return os.Symlink("../"+filepath.Base(filepath.Dir(elsewhere))+"/elsewhere.ies", at)
		},
		"folder":  func(at string) error { return os.Mkdir(at, 0o755) },
		"nothing": func(string) error { return nil },
		"pipe":    makePipe,
	} {
		file := besideFile(t, nil)
		at := filepath.Join(filepath.Dir(file), "lamp.ies")
		if err := os.Remove(at); err != nil {
			t.Fatal(err)
		}
		if err := make(at); err != nil {
			t.Logf("%s cannot be made here: %v", name, err)
			continue
		}
		status, plan := judgeOne(t, file)
		if status > exitHeld || !finds(plan, "light.photometry") {
			t.Errorf("%s: status %d, no finding about the file among %v", name, status, keysOf(plan))
		}
	}
}

func finds(plan jsonPlan, rule string) bool {
	for _, f := range plan.Findings {
		if f.Rule == rule {
			return true
		}
	}
	return false
}

// TestHostileSettings holds that settings that cannot be used are said, at their
// place.
func TestHostileSettings(t *testing.T) {
	for _, name := range hostileIn(t, "settings") {
		settings, problems := config.Parse(config.FileName, read(t, name))
		set, err := profile.Bundled()
		if err != nil {
			t.Fatal(err)
		}
		if settings != nil {
			problems = append(problems, settings.CheckProfiles(set)...)
			settings.Effective("clients/" + strings.Repeat("a/", 500) + "x")
		}
		usable := map[string]bool{"severity.json": true, "pattern.json": true, "limit-huge.json": true}
		if len(problems) == 0 && !usable[filepath.Base(name)] {
			t.Errorf("%s passes", name)
		}
	}
}

// TestHostileProfiles holds that profiles that cannot be used are said.
func TestHostileProfiles(t *testing.T) {
	set, err := profile.Bundled()
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range hostileIn(t, "profiles") {
		folder := t.TempDir()
		if err := os.WriteFile(filepath.Join(folder, "house-a.json"), read(t, name), 0o644); err != nil {
			t.Fatal(err)
		}
		if _, problems := set.WithFolder("house", os.DirFS(folder)); len(problems) == 0 {
			t.Errorf("%s passes", name)
		}
	}
}

// TestHostilePatches holds that patches that cannot be applied change nothing,
// and that those that can be leave JSON.
func TestHostilePatches(t *testing.T) {
	plan := read(t, filepath.Join(plansFolder, "format/ten-lines.lighting.json"))
	before := bytes.Clone(plan)
	for _, name := range hostileIn(t, "patches") {
		var operations []finding.Operation
		if err := json.Unmarshal(read(t, name), &operations); err != nil {
			continue // it is no list of operations, and never reaches the plan
		}
		out, err := mend.Apply(plan, operations)
		if !bytes.Equal(plan, before) {
			t.Fatalf("%s changes the plan in place", name)
		}
		if err == nil && !json.Valid(out) {
			t.Errorf("%s leaves no JSON", name)
		}
	}
}

// TestHostileLists holds that lists of carried findings that cannot be used are
// said.
func TestHostileLists(t *testing.T) {
	for _, name := range hostileIn(t, "lists") {
		if list, problems := carried.Parse("carried.json", read(t, name)); list != nil || len(problems) == 0 {
			t.Errorf("%s passes", name)
		}
	}
}
