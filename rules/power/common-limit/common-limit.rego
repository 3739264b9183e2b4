# METADATA
# title: Common carries too much, or has no protection
# description: |
#   Everything that returns on one common counts together, whatever tap feeds it.
#   Above the limit of one output circuit the terminal, the cable and the joints
#   get hot, and where a common has no device of its own nothing stops it. Close to the
#   limit a cold start trips it.
# custom:
#   id: power.common-limit
#   severity: danger
#   basis: code
#   source: NFPA 70 (2020), article 411, largest current of an output circuit; listing of the power unit
#   confidence: single
#   needs:
#     - each: commons
#       where: {protection: [unknown]}
#       has: [device_amps]
#   limits:
#     - power.common_advice
#     - power.common_max_a
#     - power.common_max_va
#   hint: Move a run from {element} to another common or another transformer
#   since: 0.1.0
package rules.power["common-limit"]

import data.lib

# More amps than one output circuit may carry.
hits contains lib.hit(common.id, [], object.union(lib.against(common.amps, "power.common_max_a"), {
	"case": "amps",
	"message": sprintf("common %s carries %s of %s (%s); one output circuit may carry %s, and above that its terminal and joints get hot", [
		common.id, lib.quantity_apart(common.amps, limit, "A"), runs(common), common.corner,
		lib.quantity_apart(limit, common.amps, "A"),
	]),
})) if {
	limit := lib.limit("power.common_max_a")
	most := lib.most("power.common_max_a")
	some common in input.commons
	common.amps > most
}

# The terminals are described, and no device stands on this one.
hits contains lib.hit(common.id, [], {
	"case": "no device",
	"basis": "listing",
	"source": "listing of landscape power units: protection of each output circuit",
	"message": sprintf("common %s has no device of its own, and its transformer states no other protection: a short or an overload of %s never stops", [common.id, runs(common)]),
	"hint": "Use a transformer whose commons have breakers, or state what protects {element}",
}) if {
	some common in input.commons
	common.protection == "none"
}

# More VA than the listing allows on one output circuit.
hits contains lib.hit(common.id, [], object.union(allowed, {
	"case": "va",
	"severity": "defect",
	"value": common.va,
	"unit": "VA",
	"message": sprintf("common %s carries %s of %s (%s); the listing of its transformer allows %s on one output circuit", [
		common.id, lib.quantity_apart(common.va, allowed.limit, "VA"), runs(common), common.va_corner,
		lib.quantity_apart(allowed.limit, common.va, "VA"),
	]),
})) if {
	some [common, allowed] in too_many_va
}

too_many_va contains [common, {"limit": common.largest_va, "basis": "listing", "source": "the transformer's own listing"}] if {
	some common in input.commons
	common.va > common.largest_va + lib.tolerances.VA
}

too_many_va contains [common, {"limit": limit, "limit_name": "power.common_max_va"}] if {
	limit := lib.limit("power.common_max_va")
	some common in input.commons
	common.va > limit
	common.va > limit + lib.tolerances.VA
	not common.largest_va
	"landscape-system" in lib.transformers_by_id[common.transformer].listing
}

# Close to what the device or the limit allows.
hits contains lib.hit(common.id, [], object.union(lib.against(common.amps / top, "power.common_advice"), {
	"case": "share",
	"severity": "advice",
	"message": sprintf("common %s carries %s (%s), %s of the %s of its %s; common practice stays at %s, since a cold start or a larger lamp trips it", [
		common.id, lib.amps(common.amps), common.corner, lib.percent_apart(common.amps / top, share), lib.amps(top), what(common, top),
		lib.percent_apart(share, common.amps / top),
	]),
})) if {
	share := lib.limit("power.common_advice")
	some common in input.commons
	top := min([object.get(common, "device_amps", output_limit), output_limit])
	common.amps > top * share
	common.amps > (top * share) + lib.tolerances.A
	common.amps <= output_limit + lib.tolerances.A
}

# output_limit is the largest current of an output circuit, or more than any has
# where no profile gives one.
default output_limit := 1000000

output_limit := lib.limit("power.common_max_a")

what(common, top) := "device" if {
	common.device_amps == top
} else := "limit"

# A device that lets more through than one output circuit may carry.
hits contains lib.hit(common.id, [], object.union(lib.against(common.device_amps, "power.common_max_a"), {
	"case": "device",
	"severity": "advice",
	"message": sprintf("common %s is protected by %s; one output circuit may carry %s, so a larger load would go unnoticed", [
		common.id, lib.quantity_apart(common.device_amps, limit, "A"), lib.quantity_apart(limit, common.device_amps, "A"),
	]),
	"hint": "Use a transformer whose commons are limited to {limit}",
})) if {
	limit := lib.limit("power.common_max_a")
	most := lib.most("power.common_max_a")
	some common in input.commons
	common.device_amps > most
}

runs(common) := sprintf("run %s", [common.runs[0]]) if {
	count(common.runs) == 1
} else := sprintf("runs %s", [lib.listed(common.runs)])
