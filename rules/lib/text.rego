package lib

# listed writes words as a reader says them: "a", "a and b", "a, b and c".
listed(words) := words[0] if {
	count(words) == 1
} else := sprintf("%s and %s", [concat(", ", array.slice(words, 0, last)), words[last]]) if {
	count(words) > 1
	last := count(words) - 1
} else := ""

# few writes words in order as listed does, at most four of them, and counts the
# rest: "a, b, c, d and 7 more".
few(words) := listed(sort(words)) if {
	count(words) <= 4
} else := sprintf("%s and %d more", [concat(", ", array.slice(sort(words), 0, 4)), count(words) - 4])

# called names a thing by its kind and its id, and does not say the same word
# twice: "drive north-drive", but "the drive" for a drive of that id.
called(kind, id) := sprintf("the %s", [kind]) if {
	id == kind
} else := sprintf("%s %s", [kind, id])

# days_between counts the days from one ISO 8601 date to another; it is
# negative when the second comes first, and undefined for what is not a date.
days_between(from, to) := round((midnight(to) - midnight(from)) / 86400000000000)

midnight(date) := time.parse_rfc3339_ns(concat("", [date, "T00:00:00Z"]))

# expired is true when a date lies before the day of the check.
expired(date) if date < input.today
