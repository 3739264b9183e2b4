package main

// The examples that --help prints below the flags. A test parses each.

// Help gives examples.
func (checkCommand) Help() string {
	return `Examples:

    duskproof check garden.lighting.json
    duskproof check --brief plans
    duskproof check --as html=garden.html --as text garden.lighting.json
    duskproof check --watch --as html=garden.html garden.lighting.json
    duskproof check --hold danger --skip light.glare plans
    duskproof check --skip power.gfci=supply_is_not_ours garden.lighting.json
    duskproof check --changed-since origin/main
    duskproof check --profile shore-wildlife --today 2026-06-01 -

The exit status is 0 when nothing holds or there are no plans, 1 when a plan is held, 2 when a plan, rule or flag cannot be used, 3 when the program failed or an output could not be written, and 130 when it was interrupted.`
}

// Help gives examples.
func (carryCommand) Help() string {
	return `Examples:

    duskproof carry --to carried.json --reason older_than_the_check plans
    duskproof carry --to carried.json --expires 2027-12-31 plans
    duskproof carry --to carried.json plans

The last one takes off what is no longer found and adds nothing.`
}

// Help gives examples.
func (mendCommand) Help() string {
	return `Examples:

    duskproof mend garden.lighting.json
    duskproof mend --apply garden.lighting.json`
}

// Help gives examples.
func (drawCommand) Help() string {
	return `Examples:

    duskproof draw --to garden.svg garden.lighting.json
    duskproof draw --layers plan,volts --to volts.svg garden.lighting.json`
}

// Help gives examples.
func (scheduleCommand) Help() string {
	return `Examples:

    duskproof schedule garden.lighting.json
    duskproof schedule --table purchase --as csv --to shopping.csv garden.lighting.json
    duskproof schedule --table commissioning garden.lighting.json`
}

// Help gives examples.
func (editorCommand) Help() string {
	return `Examples:

    duskproof editor
    duskproof editor --profile us-nec-2020 --settle 50ms

An editor starts it and speaks to it on standard input and output.`
}

// Help gives examples.
func (rulesCommand) Help() string {
	return `Examples:

    duskproof rules
    duskproof rules power.gfci
    duskproof rules --profile us-nec-2020 --profile lz1`
}

// Help gives examples.
func (beginCommand) Help() string {
	return `Examples:

    duskproof begin garden

The tutorial is docs/first-hour.md.`
}

// Help gives examples.
func (factsCommand) Help() string {
	return `Examples:

    duskproof facts garden.lighting.json`
}

// Help gives examples.
func (readingsCommand) Help() string {
	return `Examples:

    duskproof readings garden.lighting.json`
}

// Help gives examples.
func (tryrulesCommand) Help() string {
	return `Examples:

    duskproof tryrules house/rules`
}
