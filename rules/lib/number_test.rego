package lib_test

import data.lib

test_number[text] if {
	some [value, places, text] in [
		[0, 0, "0"],
		[0, 2, "0.00"],
		[5, 1, "5.0"],
		[0.04, 1, "0.0"],
		[-0.04, 1, "0.0"],
		[-0.06, 1, "-0.1"],
		[1234.5678, 3, "1234.568"],
		[0.999, 2, "1.00"],
		[0.005, 3, "0.005"],
		[1000000, 6, "1000000.000000"],
		[2.6, 0, "3"],
		[-2.25, 1, "-2.2"],
		[-7, 0, "-7"],
	]
	lib.number(value, places) == text
}

test_apart[text] if {
	some [value, other, places, text] in [
		[10.8, 10.8, 1, "10.8"],
		[10.1, 10.8, 1, "10.1"],
		[10.79, 10.8, 1, "10.79"],
		[10.7996, 10.8, 1, "10.7996"],
		[10.798, 10.8, 1, "10.798"],
		[10.79999999, 10.8, 1, "10.8"],
		[0.9999, 1, 6, "0.999900"],
	]
	lib.apart(value, other, places) == text
}

test_quantity[text] if {
	some [value, unit, text] in [
		[10.14, "V", "10.1 V"],
		[7, "A", "7.0 A"],
		[299.6, "VA", "300 VA"],
		[4.4, "W", "4.4 W"],
		[0.96, "lx", "1.0 lx"],
		[2700, "K", "2700 K"],
		[90, "degC", "90 °C"],
		[2.5, "mm2", "2.5 mm²"],
		[4, "%", "4.0 %"],
		[30, "d", "30 days"],
		[0.1234, "ohm", "0.123 Ω"],
		[2, "1", "2.00"],
	]
	lib.quantity(value, unit) == text with input as {"units": "m"}
}

test_quantity_apart if {
	lib.quantity_apart(10.798, 10.8, "V") == "10.798 V"
	lib.quantity_apart(0.799, 0.8, "1") == "0.799"
}

test_quantity_of_a_length if {
	lib.quantity(1.5, "m") == "1.50 m" with input as {"units": "m"}
}

# One inch is 25.4 mm and one foot 304.8 mm exactly (international yard and
# pound agreement, 1959).
test_length_in_feet[text] if {
	some [metres, text] in [
		[0.1524, "6 in"],
		[0.4572, "18 in"],
		[0.0889, "3.5 in"],
		[0.9144, "3 ft"],
		[3.81, "12 ft 6 in"],
		[0, "0 in"],
		[-0.0254, "-1 in"],
		[-0.9144, "-3 ft"],
	]
	lib.length(metres) == text with input as {"units": "ft"}
}

test_length_in_metres[text] if {
	some [metres, text] in [
		[0.15, "150 mm"],
		[0.9994, "999 mm"],
		[1, "1.00 m"],
		[18.288, "18.29 m"],
	]
	lib.length(metres) == text with input as {"units": "m"}
}

test_length_apart if {
	lib.length_apart(0.1519, 0.1524) == "5.98 in" with input as {"units": "ft"}
	lib.length_apart(3.04, 3.048) == "119.7 in" with input as {"units": "ft"}
	lib.length_apart(0.4496, 0.45) == "0.4496 m" with input as {"units": "m"}
	lib.length_apart(1.499, 1.5) == "1.499 m" with input as {"units": "m"}
	lib.length_apart(1.5, 1.5) == "1.50 m" with input as {"units": "m"}
	lib.length_apart(0.1, 0.2) == "100 mm" with input as {"units": "m"}
}

test_named_quantities if {
	lib.volts(12) == "12.0 V"
	lib.amps(16.26) == "16.3 A"
	lib.volt_amps(300) == "300 VA"
	lib.watts(4.5) == "4.5 W"
	lib.lux(0.8) == "0.8 lx"
	lib.lumens(180) == "180 lm"
	lib.kelvin(3000) == "3000 K"
	lib.degrees(35.4) == "35°"
	lib.percent(0.053) == "5.3 %"
	lib.percent_apart(0.0503, 0.05) == "5.03 %"
}

test_below if {
	lib.below(10.79, 10.8, "V")
	not lib.below(10.796, 10.8, "V")
	not lib.below(10.8, 10.8, "V")
	not lib.below(10.9, 10.8, "V")
}

test_above if {
	lib.above(0.1531, 0.1524, "m")
	not lib.above(0.1528, 0.1524, "m")
	not lib.above(0.1, 0.1524, "m")
}

# Every unit that prints has a tolerance, and the other way round.
test_every_unit_is_complete if {
	{unit | some unit, _ in lib.tolerances} == {unit | some unit, _ in lib.decimals} | {"m"}
}
