package checker

import (
	"cmp"
	"maps"
	"slices"

	"duskproof/checker/config"
	"duskproof/checker/finding"
	"duskproof/checker/measure"
	"duskproof/checker/profile"
	"duskproof/checker/report"
)

// weakened lists what local profiles and settings changed so that rules of
// dangers let more pass: limits, then rules that are graded down.
func (s *state) weakened() {
	changes := s.limits.Weakened()
	var readers map[string][]string
	if len(changes) > 0 {
		readers = s.checker.dangerReaders()
	}
	for _, change := range changes {
		rules := slices.DeleteFunc(slices.Clone(readers[change.Name]), func(id string) bool { return !s.judged(id) })
		if len(rules) == 0 {
			continue // nobody reads it, or what does is switched off, which is said
		}
		was, now := valueWords(change.Was, change.Now, s.plan.Units)
		s.result.Weakened = append(s.result.Weakened, report.Weakened{
			Rules: rules, Limit: change.Name, By: cmp.Or(change.Now.Profile, "another code family"),
			Was: was, WasSource: change.Was.Cite(), Now: now, Source: change.Now.Cite(),
		})
	}
	for _, setting := range s.settings.Rules {
		if gravest := s.checker.metas[setting.ID].Severity; gravest == finding.Danger && !setting.Off && setting.Severity < gravest {
			s.result.Weakened = append(s.result.Weakened, report.Weakened{
				Rules: []string{setting.ID}, Was: gravest.String(), Now: setting.Severity.String() + " at most",
				Source: setting.Reason, By: setBy(setting),
			})
		}
	}
}

// dangerReaders lists the rules of dangers that read each limit, or what is
// computed with it, sorted.
func (c *Checker) dangerReaders() map[string][]string {
	readers := map[string][]string{}
	for _, m := range c.profiles.Meanings() {
		readers[m.Name] = slices.Clone(m.Feeds)
	}
	for _, id := range slices.Sorted(maps.Keys(c.metas)) {
		meta := c.metas[id]
		if meta.Severity != finding.Danger {
			continue
		}
		for _, limit := range meta.Limits {
			readers[limit] = append(readers[limit], id)
		}
	}
	for name, ids := range readers {
		slices.Sort(ids)
		readers[name] = slices.Compact(ids)
	}
	maps.DeleteFunc(readers, func(_ string, ids []string) bool { return len(ids) == 0 })
	return readers
}

// valueWords writes the values of two limits, in the plan's units where both are
// numbers, so that they differ when the numbers do.
func valueWords(was, now profile.Limit, units string) (wasWords, nowWords string) {
	if was.Value != nil && now.Value != nil && !now.Withdrawn {
		return measure.Pair(*was.Value, *now.Value, was.Unit, units)
	}
	was.USValue, was.USTable, now.USValue, now.USTable = nil, nil, nil, nil // used already, or not at all
	return was.Words(), now.Words()
}

// setBy says where the setting of a rule stands.
func setBy(setting config.Rule) string {
	if setting.Pointer == "" {
		return "command line"
	}
	return "settings"
}
