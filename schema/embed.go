// Package schema holds the published JSON Schemas (draft 2020-12).
package schema

import "embed"

// Files holds every schema by its file name.
//
//go:embed *.schema.json
var Files embed.FS

//go:embed plan.schema.json
var planBytes []byte

// PlanBytes is the schema of a plan file, without a copy of it. Nobody may change
// it.
func PlanBytes() []byte { return planBytes }

// Names of the schemas in [Files].
const (
	// Carried is the schema of a list of carried findings.
	Carried = "carried.schema.json"
	// Config is the schema of a repository's settings, .duskproof.json.
	Config = "config.schema.json"
	// Plan is the schema of a plan file.
	Plan = "plan.schema.json"
	// Profile is the schema of a profile, a named set of limits.
	Profile = "profile.schema.json"
	// Report is the schema of a report in JSON.
	Report = "report.schema.json"
	// Rule is the schema of a rule's metadata.
	Rule = "rule.schema.json"
	// Schedule is the schema of the schedules of a plan.
	Schedule = "schedule.schema.json"
)
