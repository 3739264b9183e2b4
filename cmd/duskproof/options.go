package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"duskproof/checker"
	"duskproof/checker/config"
	"duskproof/checker/finding"
	"duskproof/checker/policy"
	"duskproof/checker/profile"
	"duskproof/checker/report"
	"duskproof/checker/source"
)

// judging is the flags of every command that judges plans.
type judging struct {
	Today   string   `help:"Date of the check, YYYY-MM-DD; otherwise the clock is read once." placeholder:"DATE"`
	Hold    string   `help:"Level from which a finding holds a plan: danger, defect, advice or caution." placeholder:"LEVEL"`
	Profile []string `help:"Profile to stack on top of the plan's own; repeatable." placeholder:"NAME"`
	Rules   []string `help:"Folder of house rules; repeatable." placeholder:"FOLDER"`
	Only    []string `help:"Judge by these rules only." placeholder:"ID"`
	Skip    []string `help:"Switch a rule off; a danger rule needs ID=REASON." placeholder:"ID" sep:"none"`
}

// setup is a checker with the settings that hold for each plan.
type setup struct {
	checker *checker.Checker
	today   string
	config  *config.Config
	root    string   // the folder that plan paths in the settings start from
	files   *os.Root // the same, when it has settings
	layer   config.Layer
	carried *carriedLists
	roots   []*os.Root
}

// close releases the folders.
func (s *setup) close() {
	for _, r := range s.roots {
		_ = r.Close()
	}
}

// effective is the settings for one plan on disk.
func (s *setup) effective(path string) config.Settings {
	name := filepath.ToSlash(path)
	if absolute, err := filepath.Abs(path); err == nil {
		if relative, err := filepath.Rel(s.root, absolute); err == nil {
			name = filepath.ToSlash(relative)
		}
	}
	return s.config.Effective(name).Over(s.layer)
}

// problemsError is a settings, profile or rule file that cannot be used.
func problemsError(problems []source.Problem) error {
	lines := make([]string, len(problems))
	for i, p := range problems {
		lines[i] = p.String()
	}
	return flagError{errors.New(strings.Join(lines, "\n"))}
}

// setup reads the repository's settings, from the working folder upwards, loads
// the rules and starts a checker.
func (j *judging) setup() (*setup, error) {
	root, found, err := config.Locate(".")
	if err != nil {
		return nil, err
	}
	var files *os.Root
	if found {
		if files, err = os.OpenRoot(root); err != nil {
			return nil, flagError{fmt.Errorf("open folder: %w", plainly(err))}
		}
	}
	return j.setupIn(root, files, nil)
}

// setupIn is setup with the settings of one folder; files is nil when it has
// none, and is closed with the setup. Rules in without are left out.
func (j *judging) setupIn(root string, files *os.Root, without []string) (*setup, error) {
	s := &setup{root: root, files: files, config: &config.Config{}}
	if files != nil {
		s.roots = append(s.roots, files)
	}
	if err := j.fill(s, without); err != nil {
		s.close()
		return nil, err
	}
	return s, nil
}

// fill reads what a setup consists of.
func (j *judging) fill(s *setup, without []string) (err error) {
	if s.today, err = today(j.Today); err != nil {
		return err
	}
	if s.layer, err = j.flags(); err != nil {
		return err
	}
	if err := s.readConfig(); err != nil {
		return err
	}
	folders, err := s.folders(j.Rules)
	if err != nil {
		return err
	}
	set, err := s.profileSet()
	if err != nil {
		return err
	}
	if err := knownProfiles(set, j.Profile); err != nil {
		return err
	}
	off := slices.DeleteFunc(s.config.OffEverywhere(), func(id string) bool { return slices.Contains(j.Only, id) })
	s.checker, err = checker.New(checker.Options{
		Today: s.today, RuleFolders: folders, ProfileSet: set, Only: j.Only, Without: slices.Concat(off, without),
		Settings: config.Settings{}.Over(s.layer),
	})
	if err != nil {
		return flagError{err}
	}
	return s.checkConfig(set)
}

// knownProfiles refuses a profile of the command line that does not exist.
func knownProfiles(set *profile.Set, names []string) error {
	for _, name := range names {
		if _, known := set.Profile(name); !known {
			unknown := profile.UnknownError{Name: name, Near: profile.Nearest(name, set.Names()), Known: set.Names()}
			return flagError{fmt.Errorf("--profile: %w", &unknown)}
		}
	}
	return nil
}

// broken lists why rules could not be used.
func (s *setup) broken(ctx context.Context) ([]report.RuleProblem, error) {
	err := s.checker.Ready(ctx)
	var rules *checker.RuleError
	if !errors.As(err, &rules) {
		return nil, err
	}
	return ruleProblems(rules.Problems), nil
}

// ruleProblems turns problems of rule files into those of a report.
func ruleProblems(problems []policy.Problem) []report.RuleProblem {
	out := make([]report.RuleProblem, len(problems))
	for i, p := range problems {
		out[i] = checker.RuleProblem(p)
	}
	return out
}

// dropRule lets --only win over a rule that the settings switch off.
func dropRule(rules []config.Rule, id string) []config.Rule {
	var kept []config.Rule
	for _, r := range rules {
		if r.ID != id || !r.Off {
			kept = append(kept, r)
		}
	}
	return kept
}

// flags turns the flags into a layer of settings.
func (j *judging) flags() (config.Layer, error) {
	layer := config.Layer{Profiles: j.Profile}
	if j.Hold != "" {
		level, err := finding.ParseSeverity(j.Hold)
		if err != nil {
			return layer, flagError{fmt.Errorf("--hold: %w", err)}
		}
		layer.Hold = level
	}
	for _, skip := range j.Skip {
		id, reason, _ := strings.Cut(skip, "=")
		layer.Rules = append(layer.Rules, config.Rule{ID: id, Off: true, Reason: reason})
	}
	return layer, nil
}

// readConfig reads the repository's settings.
func (s *setup) readConfig() error {
	if s.files == nil {
		return nil
	}
	settings, problems := config.Load(s.files.FS())
	if len(problems) > 0 {
		return problemsError(problems)
	}
	s.config = settings
	return nil
}

// below opens a folder that the settings name; a link that leads out of the
// repository is refused.
func (s *setup) below(name string) (*os.Root, error) {
	root, err := s.files.OpenRoot(filepath.FromSlash(name))
	if err != nil {
		return nil, flagError{fmt.Errorf("open the folder %s of the settings: %w", name, err)}
	}
	s.roots = append(s.roots, root)
	return root, nil
}

// open confines reading to a folder; links that lead out of it are refused.
func (s *setup) open(folder string) (*os.Root, error) {
	root, err := os.OpenRoot(folder)
	if err != nil {
		return nil, flagError{fmt.Errorf("open folder: %w", plainly(err))}
	}
	s.roots = append(s.roots, root)
	return root, nil
}

// folders opens the folders of house rules, those of the settings first.
func (s *setup) folders(flags []string) ([]checker.Folder, error) {
	var out []checker.Folder
	for _, name := range s.config.RuleFolders {
		root, err := s.below(name)
		if err != nil {
			return nil, err
		}
		out = append(out, checker.Folder{Name: name, FS: root.FS()})
	}
	for _, name := range flags {
		root, err := s.open(name)
		if err != nil {
			return nil, err
		}
		out = append(out, checker.Folder{Name: filepath.ToSlash(name), FS: root.FS()})
	}
	return out, nil
}

// profileSet adds the repository's profiles to the built-in ones.
func (s *setup) profileSet() (*profile.Set, error) {
	set, err := profile.Bundled()
	if err != nil {
		return nil, err
	}
	for _, name := range s.config.ProfileFolders {
		root, err := s.below(name)
		if err != nil {
			return nil, err
		}
		more, problems := set.WithFolder(name, root.FS())
		if len(problems) > 0 {
			return nil, problemsError(problems)
		}
		set = more
	}
	return set, nil
}

// checkConfig holds the settings against the rules and profiles that exist.
func (s *setup) checkConfig(set *profile.Set) error {
	problems := append(s.config.CheckRules(s.checker.Rules()), s.config.CheckProfiles(set)...)
	if len(problems) == 0 {
		return nil
	}
	err := problemsError(problems)
	if broken := s.checker.Ready(context.Background()); broken != nil {
		return flagError{errors.Join(err, broken)} // the settings may name a rule that could not be read
	}
	return err
}
