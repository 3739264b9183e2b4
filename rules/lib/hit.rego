# METADATA
# title: Hits
# description: |
#   Rules make their hits here and never by hand, so that the form of a hit can
#   change in one place.
package lib

# hit says that something is wrong with an element. field is the path of keys
# and indices below the element in the plan file, [] for the element itself.
# details is an object with a message and, as needed: case, severity, value,
# limit, unit, limit_name, hint, basis, source.
hit(element, field, details) := object.union(details, {
	"element": element,
	"field": field,
})

# against gives the details of a hit that sets a value against a limit: value,
# limit, unit and limit_name. Join them to the rest with object.union.
against(value, limit_name) := {
	"value": value,
	"limit": limits_by_name[limit_name].value,
	"unit": limits_by_name[limit_name].unit,
	"limit_name": limit_name,
}

# severity_rank orders the severities.
severity_rank := {"caution": 1, "advice": 2, "defect": 3, "danger": 4}

# milder returns the less grave of two severities.
milder(a, b) := a if {
	severity_rank[a] <= severity_rank[b]
} else := b

# graver returns the graver of two severities.
graver(a, b) := a if {
	severity_rank[a] >= severity_rank[b]
} else := b
