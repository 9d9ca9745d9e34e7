package glance

import (
	"fmt"
	"strings"

	"foredge/cmd/internal/fitview"
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/lang/unit"
)

// mostGaps is how many unequal gaps are shown one by one.
const mostGaps = 8

// row shows a row of holes: the holes and how far apart they are, what is left
// beyond them, and how surely they meet what they were measured by.
func (g *page) row(r *model.Row) part {
	t := &r.Thing
	count := g.count(t, dim.Count)
	noun := "holes"
	if count == "1" {
		noun = "hole"
	}
	text := count + " " + g.shape(r.Form(), g.Of(t, dim.HoleAlong), g.Of(t, dim.HoleAcross), t, noun)
	switch {
	case count == "1":
	case len(r.Gaps) > mostGaps:
		text += fmt.Sprintf(", %d unequal gaps", len(r.Gaps))
	case len(r.Gaps) > 0:
		var gaps []string
		for _, id := range r.Gaps {
			gaps = append(gaps, g.number(g.Value(id), t.Unit, 0))
		}
		text += ", gaps " + strings.Join(gaps, ", ") + " " + t.Unit.Name
	default:
		text += ", pitch " + g.number(g.Of(t, dim.Pitch), t.Unit, 1) + " " + t.Unit.Name + ", " + g.length(t, dim.Web) + " between them"
	}
	start, end := r.Edge.Ends()
	out := part{name: r.Name + " on " + r.Edge.String(), text: text, below: []string{fmt.Sprintf("left: %s %s, %s %s, %s %s",
		start, g.plain(t, dim.First), end, g.plain(t, dim.Last), r.Edge, g.length(t, dim.Inset))}}
	if say := g.surely(r); say != "" {
		out.below = append(out.below, say)
	}
	return out
}

// surely says what the readings behind a row mean for how it fits; "" if none are.
func (g *page) surely(r *model.Row) string {
	sure, ok := g.sure[r.Path]
	if !ok || !(sure.Off > least) {
		return ""
	}
	in := r.Unit
	say, only, more := "the readings leave a hole's place open by "+up(sure.Off, in)+" "+in.Name, "", ""
	chance, wired := sure.Clears.Get()
	slack, eased := sure.Slack.Get()
	if wired && chance < 0.99 || !wired && eased && sure.Off > slack {
		only, more = "only ", "; foredge fit says what to do"
	}
	switch {
	case wired:
		say += "; all holes clear the wire with a chance of " + only + fitview.Percent(chance)
	case eased && slack <= least:
		say += ", and no ease takes that up"
	case eased:
		say += "; the ease takes up " + only + g.slack(slack, in) + " " + in.Name + " to each side"
	}
	return say + more
}

// slack is how far holes are larger to each side, with a digit more where little is.
func (g *page) slack(mm float64, in unit.Unit) string {
	if mm < 0.05 {
		return g.number(mm, in, 1)
	}
	return g.number(mm, in, 0)
}

// shape says what form an opening has and how large it is: "round holes, 6 mm wide".
func (g *page) shape(f opening.Form, along, across float64, t *model.Thing, noun string) string {
	if adjective, measure, single := f.Single(); single {
		o := opening.Opening{Form: f, Along: along, Across: across}
		return adjective + " " + noun + ", " + g.number(o.Stated(), t.Unit, 0) + " " + t.Unit.Name + " " + measure
	}
	if f != opening.Rect {
		noun = f.String() + " " + noun
	}
	return noun + ", " + g.number(along, t.Unit, 0) + " by " + g.number(across, t.Unit, 0) + " " + t.Unit.Name
}
