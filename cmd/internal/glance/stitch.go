package glance

import (
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/opening"
)

// stitch is a line of holes to sew through.
func (g *page) stitch(n *model.Stitch) part {
	form := opening.Rect
	if n.Hole != nil {
		form = n.Hole.Form
	}
	what := ", pitch "
	if len(n.Runs) > 1 {
		what = ", mean pitch "
	}
	return part{name: n.Name, text: g.count(&n.Thing, dim.Count) + " " +
		g.shape(form, g.Of(&n.Thing, dim.HoleAlong), g.Of(&n.Thing, dim.HoleAcross), &n.Thing, "holes") + what + g.length(&n.Thing, dim.Pitch)}
}
