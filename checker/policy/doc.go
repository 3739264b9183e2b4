// Package policy loads, type-checks, compiles and runs rules written in Rego,
// under tight limits.
//
// The way through is short:
//
//	catalogue, problems := policy.Open(policy.House("house-rules", folder))
//	program, more := catalogue.Compile(policy.Options{Facts: factsSchema})
//	document, err := policy.NewDocument(facts)
//	hits, failures, err := program.Judge(ctx, document)
//	lacks := policy.Lacking(metas, document)
//
// A rule is one Rego package. Rules that come with the program stand in
// rules/<family>/<slug>/ and are packages rules.<family>.<slug>; rules from a
// user's folder are packages house.<slug>, in any file below that folder. A
// hyphen in a slug is written as an underscore or in brackets
// (rules.power["in-use-cover"]). Each rule package defines one partial set,
// hits, whose members are objects made with the helper library (package lib).
// One entry query (package entry) finds the rules by package path and hands
// their hits to the engine, so that a new folder is a new rule.
//
// [Open] takes the rules that come with the program as they were compiled
// beforehand, and package machine runs them; [Load] reads and parses their text,
// and the policy engine runs them. Both say the same. The engine runs people's own
// rules, and those of the program that the machine cannot finish.
//
// Rules are not trusted. They have no network, environment, clock, randomness
// or files: built-in functions are those that builtins.txt allows. Each rule
// has a deadline, a number and a size of hits, and a share of memory; a rule
// that breaks one of them, or whose evaluation fails, becomes a [Failure] that
// names it, and the other rules are judged all the same. Evaluation runs in its
// own goroutine, so a caller gets its answer even when a built-in function
// cannot be interrupted. That goroutine cannot be killed: it is counted by
// [Runaways], and a command should end soon when the count is not zero. A
// library caller gets this weaker guarantee only.
//
// A fact that is absent makes an expression undefined, and an undefined
// expression gives no hit. So that this never passes in silence each rule lists
// in its metadata what it needs, and [Lacking] finds every element that lacks
// it. A rule must not ask for absence with "not element.field" on a field that
// it needs: write "element.field == false".
package policy
