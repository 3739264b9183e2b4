package lib

# Numbers in messages. Each unit has fixed decimals, so that the same quantity
# always looks the same, and a tolerance, so that a value that equals its limit
# but for rounding is no breach. Tolerances are about a tenth of what prints.

# decimals of each unit that limits and facts come in; lengths are separate.
decimals := {
	"%": 1,
	"1": 2,
	"A": 1,
	"Hz": 0,
	"K": 0,
	"V": 1,
	"VA": 0,
	"W": 1,
	"cd": 0,
	"cd/klm": 0,
	"d": 0,
	"deg": 0,
	"degC": 0,
	"lm": 0,
	"lx": 1,
	"mm2": 1,
	"nm": 0,
	"ohm": 3,
}

# tolerances of comparisons for each unit.
tolerances := {
	"%": 0.005,
	"1": 0.0005,
	"A": 0.005,
	"Hz": 0.05,
	"K": 0.05,
	"V": 0.005,
	"VA": 0.05,
	"W": 0.005,
	"cd": 0.05,
	"cd/klm": 0.05,
	"d": 0,
	"deg": 0.05,
	"degC": 0.05,
	"lm": 0.05,
	"lx": 0.005,
	"m": 0.0005,
	"mm2": 0.005,
	"nm": 0.05,
	"ohm": 0.00005,
}

# below is true when a value breaks a lower limit by more than its tolerance. In a
# loop, compare the two facts directly first and ask below only of those few
# that are left: a call with a fact as its argument is dear. For a limit of a
# profile use least and most.
below(value, lower, unit) if value < lower - tolerances[unit]

# above is true when a value breaks an upper limit by more than its tolerance.
above(value, upper, unit) if value > upper + tolerances[unit]

# number writes a number with fixed decimals, 0 to 6. A number that rounds to
# zero has no sign.
number(value, places) := sprintf("%d%s", [whole, zeros[places]]) if {
	whole := floor(value)
	whole == value
} else := concat("", ["0", zeros[places]]) if {
	value < 0
	value > halves[places]
} else := sprintf("%.*f", [places, value])

zeros := ["", ".0", ".00", ".000", ".0000", ".00000", ".000000"]

halves := [-0.5, -0.05, -0.005, -0.0005, -0.00005, -0.000005, -0.0000005]

# quantity writes a value in an SI unit: "10.1 V". Lengths come in the plan's
# own units, and the ratio unit "1" prints alone.
quantity(value, unit) := quantity_apart(value, value, unit)

# quantity_apart writes a value with enough decimals to tell it from another
# one, so that a breach shows: "10.798 V" beside a limit of "10.8 V".
quantity_apart(value, other, unit) := length_apart(value, other) if {
	unit == "m"
} else := apart(value, other, decimals[unit]) if {
	unit == "1"
} else := sprintf("%s %s", [apart(value, other, decimals[unit]), symbol(unit)])

symbol(unit) := symbols[unit] if {
	symbols[unit]
} else := unit

symbols := {"d": "days", "deg": "°", "degC": "°C", "mm2": "mm²", "ohm": "Ω"}

# apart writes a number with at least the given decimals, and up to three more
# when it would otherwise look the same as another one.
apart(value, other, places) := text if {
	text := number(value, places)
	differs(value, other, places, text)
} else := text if {
	text := number(value, places + 1)
	text != number(other, places + 1)
} else := text if {
	text := number(value, places + 2)
	text != number(other, places + 2)
} else := text if {
	text := number(value, places + 3)
	text != number(other, places + 3)
} else := number(value, places)

differs(value, other, _, _) if value == other

differs(_, other, places, text) if text != number(other, places)

# length writes metres in the plan's own units: "6 in" and "12 ft 6 in", or
# "152 mm" and "3.81 m". Lengths under 2 ft are in inches, under 1 m in
# millimetres. The program's own printing says the same.
length(metres) := feet_words(metres / 0.0254) if {
	input.units == "ft"
} else := sprintf("%s mm", [number(metres * 1000, 0)]) if {
	abs(metres) < 1
} else := sprintf("%s m", [number(metres, 2)])

# length_apart writes a length with enough decimals to tell it from another one.
length_apart(metres, other) := length(metres) if {
	length(metres) != length(other)
} else := length(metres) if {
	metres == other
} else := sprintf("%s in", [apart(metres / 0.0254, other / 0.0254, 1)]) if {
	input.units == "ft"
} else := sprintf("%s m", [apart(metres, other, 3)])

feet_words(inches) := sprintf("%s in", [trim_suffix(number(inches, 1), ".0")]) if {
	abs(inches) < 24
} else := sprintf("%s%d ft", [below_nought(inches), floor(whole / 12)]) if {
	whole := round(abs(inches))
	whole % 12 == 0
} else := sprintf("%s%d ft %d in", [below_nought(inches), floor(whole / 12), whole % 12]) if {
	whole := round(abs(inches))
}

below_nought(value) := "-" if {
	value < 0
} else := ""

# The same for the quantities that messages name most.
volts(value) := quantity(value, "V")

amps(value) := quantity(value, "A")

volt_amps(value) := quantity(value, "VA")

watts(value) := quantity(value, "W")

lux(value) := quantity(value, "lx")

lumens(value) := quantity(value, "lm")

kelvin(value) := quantity(value, "K")

degrees(value) := concat("", [number(value, 0), "°"])

# percent writes a share, 0.05, as "5.0 %".
percent(share) := sprintf("%s %%", [number(share * 100, 1)])

# percent_apart writes a share with enough decimals to tell it from another.
percent_apart(share, other) := sprintf("%s %%", [apart(share * 100, other * 100, 1)])
