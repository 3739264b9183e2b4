package facts

import "duskproof/checker/plan"

// refused says why a meter cannot be believed at this transformer; empty when it
// can. A meter that works out RMS from the mean, as ordinary ones do, is right for
// a sine wave alone.
func (j *join) refused(set *plan.ReadingSet, n *network) string {
	switch {
	case set.TrueRMS != nil && *set.TrueRMS:
		return ""
	case n.transformer.Type.Output == "hf-ac":
		return "an ordinary meter misreads a high-frequency output; use a true-RMS meter made for it"
	case j.chopped(set, n):
		return "an ordinary meter misreads an output that a dimmer chops; use a true-RMS meter, or read at full light"
	}
	return ""
}

// chopped reports whether the scene that was on dims lamps of a network by chopping
// their supply: the mains wave, or a dc output. A digital dimmer tells the drivers
// and leaves the supply whole.
func (j *join) chopped(set *plan.ReadingSet, n *network) bool {
	for _, scene := range j.plan.Scenes {
		if scene.ID != set.Scene || scene.Control == nil {
			continue
		}
		dimmer := scene.Control.Dimmer
		if n.transformer.Type.PWMHz == nil && (dimmer == nil || dimmer.Method == "" || dimmer.Method == "digital") {
			continue
		}
		for _, f := range j.plan.Fixtures {
			if _, on := n.loads[f.ID]; on && scene.Levels[f.ID] > 0 && scene.Levels[f.ID] < f.Level {
				return true
			}
		}
	}
	return false
}
