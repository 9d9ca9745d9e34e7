package compile

import (
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
)

// box adds what holds of a region, a cutout, a lattice or a field:
//
//	head + height + tail = the panel's height
//	spine + width + foredge = the panel's width
func (c *compiler) box(d *draft, box *model.Box) {
	if box.Field != nil {
		c.need(d, dim.Width, dim.Height) // the field says where it lies
		return
	}
	c.need(d, dim.Width, dim.Height, dim.Head, dim.Spine)
	for _, side := range []struct{ near, size, far dim.Name }{{dim.Head, dim.Height, dim.Tail}, {dim.Spine, dim.Width, dim.Foredge}} {
		c.own(d, relation.Add(d.V(side.near), d.V(side.size), d.V(side.far)), box.Panel.V(side.size), "")
		if _, lattice := d.node.(*model.Lattice); lattice && side.near == dim.Head {
			c.latticeRunsThrough(d)
			continue
		}
		c.place(d, side.size, boxPhase, relation.Default{Left: d.V(side.near), Right: d.V(side.far),
			Vars: dimsOf(d, side.near, side.far), Why: "centred"})
	}
}

// cutout reads the form of a cutout.
func (c *compiler) cutout(d *draft, cutout *model.Cutout) {
	if p, ok := d.props["shape"]; ok {
		cutout.Shape = c.opening(d, p, dim.Width, dim.Height)
	}
}

func (c *compiler) lineAcross(d *draft) {
	c.need(d, dim.At)
	if _, ok := d.props["from"]; !ok {
		c.Diags.Errorf("no-edge", d.At, "nothing says which edge %s is measured from", d.Path).
			WithHelp("write from = spine, or another edge, in its braces")
	}
}
