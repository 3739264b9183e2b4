package editor

import (
	"strconv"
	"strings"
)

// chainSteps are the words in a run's chain that say where each step ends.
func (b *book) chainSteps(run element) []int {
	chain := b.tree.child(run.node, "chain")
	if chain < 0 || b.tree.kindOf(run) != "run" {
		return nil
	}
	var out []int
	for i := chain + 1; i < len(b.tree.nodes) && b.tree.nodes[i].value.start < b.tree.nodes[chain].value.end; i++ {
		if n := &b.tree.nodes[i]; n.name == "to" && n.kind == word && n.parent >= 0 && b.tree.nodes[n.parent].parent == chain {
			out = append(out, i)
		}
	}
	return out
}

// chainStep is the step of a run's chain that makes the leg with the rest of an
// id, "/P4", or "/P4/2" for the second to the same end; -1 when there is none.
func (b *book) chainStep(run element, rest string) int {
	to, times, _ := strings.Cut(strings.TrimPrefix(rest, "/"), "/")
	left, err := strconv.Atoi(times)
	if err != nil {
		left = 1
	}
	for _, i := range b.chainSteps(run) {
		if b.tree.nodes[i].text != to {
			continue
		}
		if left--; left == 0 {
			return i
		}
	}
	return -1
}

// chainLeg is the leg that a step of a chain makes.
func (b *book) chainLeg(step int) (element, bool) {
	chain := b.tree.nodes[step].parent
	if chain < 0 || b.tree.nodes[chain].name != "chain" || b.tree.nodes[chain].parent < 0 {
		return element{}, false
	}
	run, ok := b.byNode[b.tree.nodes[chain].parent]
	if !ok {
		return element{}, false
	}
	times := map[string]int{}
	for _, i := range b.chainSteps(run) {
		n := &b.tree.nodes[i]
		times[n.text]++
		if n.parent != step {
			continue
		}
		id := run.id + "/" + n.text
		if times[n.text] > 1 {
			id += "/" + strconv.Itoa(times[n.text])
		}
		return element{id: id, node: step, name: i}, true
	}
	return element{}, false
}
