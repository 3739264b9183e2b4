// Package config holds the settings of a repository of plans: the file
// .duskproof.json at its root, which adds profiles and rules, grades rules
// otherwise or switches them off, and says how strict the check is.
//
//	root, found, err := config.Locate(startDir)
//	settings, problems := config.Load(rootFS)
//	problems = append(settings.CheckRules(metas), settings.CheckProfiles(set)...)
//	in := settings.Effective("clients/tern/garden.lighting.json")
//	severity, on := in.Grade("light.glare", finding.Advice, finding.Advice)
//
// A finding's severity is decided in this order: the rule's own severity for
// the case; the cap by the confidence of its source; the settings of the
// repository; the settings of the matching paths, in the order of the file; the
// command line ([Settings.Over]); a variance in the plan; the hold level. This
// package does the three in the middle.
//
// The file is written by whoever owns the repository, which may be a stranger:
// it names only folders and files inside the repository, and every failure is a
// problem at its line and column.
package config
