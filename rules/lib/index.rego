package lib

# Elements by their ids. A look-up costs the same however large the plan is.
# Treads and paths are not here: there is one of them for each scene.

branches_by_id := {e.id: e | some e in input.branches}

commons_by_id := {e.id: e | some e in input.commons}

fixtures_by_id := {e.id: e | some e in input.fixtures}

leaves_by_id := {e.id: e | some e in input.leaves}

legs_by_id := {e.id: e | some e in input.legs}

nodes_by_id := {e.id: e | some e in input.nodes}

receptacles_by_id := {e.id: e | some e in input.receptacles}

runs_by_id := {e.id: e | some e in input.runs}

services_by_id := {e.id: e | some e in input.services}

stairs_by_id := {e.id: e | some e in input.stairs}

transformers_by_id := {e.id: e | some e in input.transformers}
