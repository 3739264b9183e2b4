# METADATA
# title: Entry query
# description: |
#   Finds the rules by package path and hands their hits to the engine. The
#   engine lists the packages of the rules that are on, by their ids, in data.selected. A rule
#   package gives its hits in one partial set, hits; a package without one gives
#   none. engine.begin says which rule comes next and is false for a rule that
#   is to be left out, engine.take receives what the rule found.
package entry

judged contains id if {
	some id, [family, slug] in data.selected.ours
	engine.begin(id)
	engine.take(id, data.rules[family][slug].hits)
}

judged contains id if {
	some id, slug in data.selected.house
	engine.begin(id)
	engine.take(id, data.house[slug].hits)
}
