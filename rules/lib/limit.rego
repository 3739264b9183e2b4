package lib

# limits_by_name holds the effective limits.
limits_by_name := {entry.name: entry | some entry in input.limits}

# limit returns the number of a limit, in its SI unit. It is undefined when no
# profile in force gives the limit, and then the rule is silent. The rule's
# metadata lists every name that it looks up.
limit(name) := limits_by_name[name].value

# least returns the smallest value that does not break a lower limit: the limit
# less the tolerance of its unit. Look it up before a loop, and compare inside
# it directly; a function that takes a fact as its argument costs far more there
# than a comparison:
#
#	least := lib.least("cover_buried")
#	some leg in input.legs
#	leg.cover_m < least
least(name) := given if {
	given := limits_by_name[name].least
} else := short(limits_by_name[name].value - tolerances[limits_by_name[name].unit])

# most returns the largest value that does not break an upper limit.
most(name) := given if {
	given := limits_by_name[name].most
} else := short(limits_by_name[name].value + tolerances[limits_by_name[name].unit])

# short is a number of few digits: those compare faster.
short(value) := to_number(number(value, 6))

# limit_text returns the word of a limit that is a word.
limit_text(name) := limits_by_name[name].text

# limit_flag returns true or false of a limit that is yes or no.
limit_flag(name) := limits_by_name[name].flag

# limit_row returns the number of one row of a limit that is a table.
limit_row(name, key) := rows_by_limit[name][key]

rows_by_limit := {entry.name: rows |
	some entry in input.limits
	rows := {row.key: row.value | some row in entry.table}
}

# limit_source returns the clause or listing behind a limit.
limit_source(name) := limits_by_name[name].source

# has_limit is true when a profile in force gives the limit.
has_limit(name) if limits_by_name[name]
