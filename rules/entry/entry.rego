# METADATA
# title: Entry query
# description: |
#   Finds the rules by package path and hands their hits to the engine. The
#   engine lists the packages of the rules that are on in data.selected. A rule
#   package gives its hits in one partial set, hits; a package without one gives
#   none. engine.begin says which rule comes next and is false for a rule that
#   is to be left out, engine.take receives what the rule found.
package entry

judged contains rule.id if {
	some rule in data.selected.ours
	engine.begin(rule.id)
	engine.take(rule.id, data.rules[rule.family][rule.slug].hits)
}

judged contains rule.id if {
	some rule in data.selected.house
	engine.begin(rule.id)
	engine.take(rule.id, data.house[rule.slug].hits)
}
