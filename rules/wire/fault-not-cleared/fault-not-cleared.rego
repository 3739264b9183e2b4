# METADATA
# title: Short circuit does not trip the breaker
# description: |
#   Long thin cable holds back the current of a short at its far end. Where it stays below what
#   trips the device, nothing opens. If the cable may not carry that current it overheats in the
#   ground or in the mulch, for hours, with nobody to see it: that is a danger. Where the rating
#   of the device is not above the ampacity of the cable, the cable is protected as the codes ask
#   and may be loaded somewhat beyond its ampacity until the device opens: such a short stays,
#   and is worth knowing of. The device is the one that opens first, on the common, on the tap or
#   on the primary. The short is computed at low supply with a hot cable, the current that heats
#   at high supply with a cold one. A bad contact that holds back its own current stays behind
#   any breaker and is not judged.
# custom:
#   id: wire.fault-not-cleared
#   severity: danger
#   basis: practice
#   source: IEC 60364-4-43, 433.1, and NFPA 70 (2020), 240.4, for what the cable may carry; Ohm's law, and how far above its rating a device is said to trip
#   confidence: practice
#   needs:
#     - each: faults
#       where: {protection: [elsewhere, unknown], supply_reacts: ["false"]}
#       has: [device_amps]
#   limits:
#     - wire.overload_multiple
#     - wire.trip_multiple_breaker
#     - wire.trip_multiple_electronic
#     - wire.trip_multiple_fuse
#   hint: Use thicker cable on run {element}, or a common with a smaller device
#   since: 0.1.0
package rules.wire["fault-not-cleared"]

import data.lib

# Nothing opens, and a cable carries more than it may.
hits contains lib.hit(fault.id, ["from"], {
	"value": fault.heated_amps,
	"limit": fault.heated_allowed_a,
	"unit": "A",
	"message": sprintf("a short on run %s can load leg %s with as much as %s for hours: its %s opens only above %s, and the cable may carry %s%s", [
		fault.id, fault.heated_leg, lib.quantity_apart(fault.heated_amps, fault.heated_allowed_a, "A"),
		device(fault), lib.amps(fault.needed_amps),
		lib.quantity_apart(fault.heated_allowed_a, fault.heated_amps, "A"), until(fault),
	]),
}) if {
	some fault in input.faults
	fault.heated_leg
	fault.device_amps
}

# Nothing opens, and the cable bears it. A supply that reacts to a short by itself shows it.
hits contains lib.hit(fault.id, ["from"], {
	"severity": "advice",
	"value": fault.least_amps,
	"limit": fault.needed_amps,
	"unit": "A",
	"message": sprintf("a short at %s draws only %s (low supply, hot cable), too little to trip the %s of run %s, which needs %s: the cable bears that, but nothing ends it", [
		fault.at, lib.quantity_apart(fault.least_amps, fault.needed_amps, "A"), device(fault),
		fault.id, lib.quantity_apart(fault.needed_amps, fault.least_amps, "A"),
	]),
}) if {
	some fault in input.faults
	fault.clears == false
	fault.supply_reacts == false
	fault.device_amps
	not fault.heated_leg
}

device(fault) := sprintf("%s %s%s", [lib.amps(fault.device_amps), words[fault.device_kind], places[fault.device_where]])

words := {"breaker": "breaker", "fuse": "fuse", "electronic": "electronic limit"}

places := {"common": "", "tap": " on the tap", "primary": " on the primary"}

# until says that more than the ampacity was allowed.
default until(_) := ""

until(fault) := sprintf(" (its %s, and somewhat more until a device opens that is no larger)", [lib.amps(fault.heated_ampacity_a)]) if {
	fault.heated_allowed_a > fault.heated_ampacity_a + lib.tolerances.A
}
