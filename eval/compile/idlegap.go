package compile

import (
	"foredge/eval/kind"
	"foredge/eval/resolve"
)

// idleGaps warns of gaps of the design that nothing names, where it has a case: one that was left out
// of what a case lays, whose covering then comes out too narrow by as much.
func (c *compiler) idleGaps() {
	if c.info.Broken {
		return // what can't be read may lay them
	}
	var laidIn *resolve.Thing
	for _, t := range c.info.Main.Things {
		if t.Kind.ID == kind.Case {
			laidIn = t
		}
	}
	if laidIn == nil {
		return
	}
	used := c.topNamesUsed()
	for _, t := range c.info.Main.Things {
		if t.Kind.ID != kind.Gap || len(t.When) > 0 || used[t.Name] {
			continue
		}
		c.Diags.Warnf("idle-gap", t.At, "no case lays the gap %s", t.Name).
			Note(laidIn.At, "%s is here", laidIn.Name).
			WithHelp("name it in the lay of a case, between the two boards that it parts, or take it out")
	}
}
