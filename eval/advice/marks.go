package advice

import (
	"strings"

	"foredge/eval/model"
	"foredge/eval/outcome"
)

// mostNamed is how many lost marks a warning names.
const mostNamed = 4

// marks warns of lettering and artwork that aren't there because a region that
// was to have them has other marks of its own, and fewer.
func (a *adviser) marks() {
	for _, n := range a.Things {
		region, ok := n.(*model.Region)
		if tabs, are := n.(*model.Tabs); are {
			region, ok = &tabs.Region, true // their labels
		}
		if !ok || len(region.Lost) == 0 || region.Panel == nil || !region.Panel.Built || outcome.Quiet(a.Solution, region.Panel).Has("lost-mark") {
			continue
		}
		lost, more := region.Lost, ""
		if len(lost) > mostNamed {
			lost, more = lost[:mostNamed], " and others"
		}
		what := make([]string, len(lost))
		for i, l := range lost {
			what[i] = l.What
		}
		d := a.diags.Warnf("lost-mark", region.At, "%s has marks of its own, so these of what it is like are not there: %s", region.Path, strings.Join(what, ", ")+more)
		for _, l := range lost {
			d.Note(l.At, "this is not there")
		}
		d.WithHelp("repeat in its braces what is to stay; if it is to go, quiet = lost-mark in the panel says so")
	}
}
