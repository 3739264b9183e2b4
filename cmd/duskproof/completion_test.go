package main

import (
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// completions asks for the words that may follow.
func completions(t *testing.T, words ...string) []string {
	t.Helper()
	status, out, complaints := command(t, "", append([]string{"complete-words", "--"}, words...)...)
	if status != exitFine || complaints != "" {
		t.Fatalf("%v: status %d, %s", words, status, complaints)
	}
	return strings.Fields(out)
}

func TestCompletions(t *testing.T) {
	for _, c := range []struct {
		words []string
		want  string // all of them, or with + at least these
	}{
		{[]string{"che"}, "check"},
		{[]string{""}, "+ begin check draw rules schedule"},
		{nil, "+ check"},
		{[]string{"check", "--bri"}, "--brief"},
		{[]string{"check", "--"}, "+ --as --brief --changed-since --help --jobs --today"},
		{[]string{"check", "--hold", ""}, "advice caution danger defect"},
		{[]string{"check", "--hold", "de"}, "defect"},
		{[]string{"check", "--hold=da"}, "--hold=danger"},
		{[]string{"check", "--as", "js"}, "json"},
		{[]string{"check", "--profile", "us-"}, "us-irc us-nec-2020"},
		{[]string{"check", "--only", "power.g"}, "power.gfci"},
		{[]string{"rules", "wire.no"}, "wire.no-solution"},
		{[]string{"completion", ""}, "bash fish zsh"},
		{[]string{"check", "gard"}, ""},
		{[]string{"check", "--brief", ""}, ""},
		{[]string{"check", "--jobs", ""}, ""},
		{[]string{"nonsense", "--to"}, ""},
	} {
		have := completions(t, c.words...)
		all, some := strings.CutPrefix(c.want, "+ ")
		want := strings.Fields(all)
		if !some && !slices.Equal(have, want) {
			t.Errorf("%q: %v, want %v", c.words, have, want)
		}
		for _, w := range want {
			if !slices.Contains(have, w) {
				t.Errorf("%q: %s is missing among %v", c.words, w, have)
			}
		}
	}
}

// TestHiddenCommandStaysHidden holds that help does not show what only scripts
// call.
func TestHiddenCommandStaysHidden(t *testing.T) {
	if _, out, _ := command(t, "", "--help"); strings.Contains(out, "complete-words") || !strings.Contains(out, "completion") {
		t.Errorf("help shows\n%s", out)
	}
}

// TestBashCompletes lets a real shell complete a line.
func TestBashCompletes(t *testing.T) {
	outside(t, "bash")
	status, script, _ := command(t, "", "completion", "bash")
	if status != exitFine {
		t.Fatalf("status %d", status)
	}
	shell := exec.Command("bash", "--norc", "--noprofile", "-c", script+`
COMP_WORDS=(duskproof check --hold de); COMP_CWORD=3; _duskproof; echo "${COMPREPLY[@]}"
COMP_WORDS=(duskproof sch); COMP_CWORD=1; _duskproof; echo "${COMPREPLY[@]}"
complete -p duskproof`)
	shell.Env = []string{"PATH=" + filepath.Dir(ownProcess(t)) + ":/usr/bin:/bin"}
	out, err := shell.CombinedOutput()
	if want := "defect\nschedule\ncomplete -o default -F _duskproof duskproof\n"; err != nil || string(out) != want {
		t.Errorf("%v: %q, want %q", err, out, want)
	}
}

// TestOtherShellsAccept lets the other shells read their scripts.
func TestOtherShellsAccept(t *testing.T) {
	for _, shell := range []string{"zsh", "fish"} {
		t.Run(shell, func(t *testing.T) {
			outside(t, shell)
			_, script, _ := command(t, "", "completion", shell)
			check := exec.Command(shell, "-n")
			check.Stdin = strings.NewReader(script)
			if out, err := check.CombinedOutput(); err != nil {
				t.Errorf("%v: %s", err, out)
			}
		})
	}
}

// TestFishCompletes lets a real shell complete a line.
func TestFishCompletes(t *testing.T) {
	outside(t, "fish")
	_, script, _ := command(t, "", "completion", "fish")
	shell := exec.Command("fish", "--no-config", "-c", script+"complete -C 'duskproof check --hold de'")
	shell.Env = []string{"PATH=" + filepath.Dir(ownProcess(t)) + ":/usr/bin:/bin", "HOME=" + t.TempDir()}
	out, err := shell.CombinedOutput()
	if err != nil || !strings.HasPrefix(string(out), "defect") {
		t.Errorf("%v: %q", err, out)
	}
}
