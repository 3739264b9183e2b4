// Package takeoff makes the schedules of a plan: what to buy, how deep to dig,
// what each lamp and cable should read on a meter, how to aim, and what to write
// on the lid of a transformer. It judges nothing; it lists what the plan states
// and what package facts computed.
//
// [Of] makes a [Schedule], whose JSON form is schema/schedule.schema.json, in SI
// units. [Tables] turns it into tables in the plan's own units, for people and
// for spreadsheets.
package takeoff
