// Package checker proofs lighting plans: it reads a plan, validates and
// resolves it, computes what the finished system would do, judges that by
// rules, and reports findings. It approves nothing.
//
//	c, err := checker.New(checker.Options{Today: "2026-06-01"})
//	result, err := c.Check(ctx, checker.Input{Name: "plan.lighting.json", Bytes: data})
package checker

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"
	"sync"
	"sync/atomic"
	"time"

	"duskproof/checker/config"
	"duskproof/checker/facts"
	"duskproof/checker/finding"
	"duskproof/checker/numeric"
	"duskproof/checker/policy"
	"duskproof/checker/profile"
	"duskproof/checker/rule"
	"duskproof/checker/source"
	"duskproof/checker/validate"
	"duskproof/schema"
)

// Version is the program's version.
const Version = "0.1.0"

// Options say how to check. The zero value of each field but Today has a
// meaning.
type Options struct {
	// Today is the date of the check, ISO 8601. It is required: the library
	// reads no clock.
	Today string
	// RuleFolders are folders of house rules, by the name to show.
	RuleFolders []Folder
	// ProfileSet is the profiles that plans may name; nil means the built-in
	// ones.
	ProfileSet *profile.Set
	// Only lists rule ids to judge by; empty means all.
	Only []string
	// Without lists rule ids that are neither compiled nor judged, since
	// settings switch them off for every plan.
	Without []string
	// Settings hold for every plan that brings none of its own: profiles on
	// top of the plan's, limits, rules that are re-graded or switched off,
	// the hold level.
	Settings config.Settings
	// Limits bound what is read and how long rules may take.
	Source source.Limits
	Policy policy.Limits
	// Compute is how long the facts of one plan may take; 0 means
	// [DefaultCompute].
	Compute time.Duration
}

// DefaultCompute is many times what the largest garden takes.
const DefaultCompute = time.Minute

// Folder is a folder of house rules.
type Folder struct {
	Name string
	// FS should be confined to the folder.
	FS fs.FS
}

// Checker checks plans. It is safe for concurrent use.
type Checker struct {
	options   Options
	catalogue *policy.Catalogue
	metas     map[string]rule.Meta
	on        []string // ids of the rules that judge
	profiles  *profile.Set
	validator func() (*validate.Validator, error)
	// program is the compiled rules, nil when nothing compiled, and what is
	// wrong with those that are left out.
	program func() (*policy.Program, []policy.Problem)
	lights  *facts.Lights // of fixture types, which plans have in common
	// underWay counts the checks that are.
	underWay *atomic.Int64
}

// RuleError says that rules could not be used and were left out; each problem
// has its place. The other rules judge all the same.
type RuleError struct{ Problems []policy.Problem }

// Error lists the problems, one a line.
func (e *RuleError) Error() string {
	lines := make([]string, len(e.Problems))
	for i, p := range e.Problems {
		lines[i] = p.Error()
	}
	return strings.Join(lines, "\n")
}

// New reads people's own rules and begins to compile them; compiling goes on while
// the first plan is read and computed. The program's rules come compiled. Rules that
// cannot be used are a *RuleError from [Checker.Ready] and [Checker.Check]; New fails
// only where the options cannot be used, and then names broken rule files as well,
// since a setting may speak of a rule in one of them.
func New(options Options) (*Checker, error) {
	if _, err := time.Parse(time.DateOnly, options.Today); err != nil {
		return nil, fmt.Errorf("date of the check: want YYYY-MM-DD, have %q", options.Today)
	}
	var houses []policy.Source
	for _, folder := range options.RuleFolders {
		houses = append(houses, policy.House(folder.Name, folder.FS))
	}
	catalogue, problems := policy.Open(houses...)
	c := &Checker{options: options, catalogue: catalogue, metas: make(map[string]rule.Meta, len(catalogue.Rules)), lights: facts.NewLights(), underWay: new(atomic.Int64)}
	for i := range catalogue.Rules {
		c.metas[catalogue.Rules[i].ID] = catalogue.Rules[i].Meta
	}
	if err := c.choose(); err != nil {
		if len(problems) > 0 {
			err = errors.Join(&RuleError{problems}, err)
		}
		return nil, err
	}
	if c.profiles = options.ProfileSet; c.profiles == nil {
		set, err := profile.Bundled()
		if err != nil {
			return nil, err
		}
		c.profiles = set
	}
	c.program = sync.OnceValues(func() (*policy.Program, []policy.Problem) {
		program, more := c.compile()
		return program, slices.Concat(problems, more)
	})
	c.validator = planValidator
	go func() { _, _ = c.program() }() // kept until somebody asks
	go func() { _, _ = c.validator() }()
	return c, nil
}

// planValidator makes the plan schema ready once for the whole program.
var planValidator = sync.OnceValues(func() (*validate.Validator, error) {
	return validate.Trusted(map[string][]byte{schema.Plan: schema.PlanBytes()}, schema.Plan), nil
})

// choose works out which rules judge.
func (c *Checker) choose() error {
	for _, id := range c.options.Only {
		if _, known := c.metas[id]; !known {
			return fmt.Errorf("unknown rule %q%s", id, c.Suggest(id))
		}
	}
	for _, setting := range c.options.Settings.Rules {
		if err := c.allowed(setting); err != nil {
			return err
		}
	}
	c.on = []string{} // none is not nil: nil would mean every rule
	for id := range c.metas {
		setting, _ := c.options.Settings.Rule(id)
		off := setting.Off || slices.Contains(c.options.Without, id)
		if !off && (len(c.options.Only) == 0 || slices.Contains(c.options.Only, id)) {
			c.on = append(c.on, id)
		}
	}
	slices.Sort(c.on)
	return nil
}

// allowed reports a setting of a rule that does not exist, or that switches a
// danger rule off without a reason.
func (c *Checker) allowed(setting config.Rule) error {
	meta, known := c.metas[setting.ID]
	switch {
	case !known:
		return fmt.Errorf("unknown rule %q%s", setting.ID, c.Suggest(setting.ID))
	case setting.Off && meta.Severity == finding.Danger && strings.TrimSpace(setting.Reason) == "":
		return fmt.Errorf("rule %s is a danger rule; say why it is skipped: %s=REASON", setting.ID, setting.ID)
	}
	return nil
}

// compile compiles the Rego rules that are on, and type-checks them when some of
// them are people's own.
func (c *Checker) compile() (*policy.Program, []policy.Problem) {
	options := policy.Options{Only: c.on, Limits: c.options.Policy}
	if len(c.options.RuleFolders) > 0 {
		factsSchema, err := factsSchema()
		if err != nil {
			return nil, []policy.Problem{{File: "facts.schema.json", Message: err.Error()}}
		}
		options.Facts = factsSchema
	}
	return c.catalogue.Compile(options)
}

// factsSchema decodes the schema that rules are type-checked against.
func factsSchema() (decoded any, err error) {
	raw, err := schema.Files.ReadFile("facts.schema.json")
	if err != nil {
		return nil, fmt.Errorf("read the facts schema: %w", err)
	}
	if err := json.Unmarshal(raw, &decoded); err != nil {
		return nil, fmt.Errorf("decode the facts schema: %w", err)
	}
	return decoded, nil
}

// Ready waits until the rules are compiled and says which of them cannot be
// used (*RuleError).
func (c *Checker) Ready(ctx context.Context) error {
	done := make(chan error, 1)
	go func() {
		if _, problems := c.program(); len(problems) > 0 {
			done <- &RuleError{problems}
			return
		}
		done <- nil
	}()
	select {
	case err := <-done:
		return err
	case <-ctx.Done():
		return ctx.Err()
	}
}

// Rules returns the metadata of every rule, sorted by id.
func (c *Checker) Rules() []rule.Meta { return c.catalogue.Metas() }

// Rule returns one rule with its examples.
func (c *Checker) Rule(id string) (policy.Rule, bool) { return c.catalogue.Rule(id) }

// judged reports whether a rule is on.
func (c *Checker) judged(id string) bool {
	_, found := slices.BinarySearch(c.on, id)
	return found
}

// EngineRules are the ids of rules that the engine itself judges: about the
// plan as a file, not about the system it describes.
func EngineRules() []string {
	return []string{"plan.cannot-judge", "plan.conflict", "plan.dangling", "plan.variance"}
}

// NativeRules are the ids of all rules that are not written in Rego.
func NativeRules() []string {
	ids := append(numeric.IDs(), EngineRules()...)
	slices.Sort(ids)
	return ids
}

func keys[V any](m map[string]V) []string {
	out := make([]string, 0, len(m))
	for k := range m {
		out = append(out, k)
	}
	slices.SortFunc(out, cmp.Compare)
	return out
}
