package compile

import (
	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/ast"
)

// box adds what holds of a region, a cutout, a lattice or a field:
//
//	head + height + tail = the panel's height
//	spine + width + foredge = the panel's width
//
// By default it is centred, but what is open to an edge lies at that edge.
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
		def := relation.Default{Left: d.V(side.near), Right: d.V(side.far), Vars: dimsOf(d, side.near, side.far), Why: "centred"}
		open, _ := c.openEdge(d)
		if edge := dim.From(open); edge == side.near || edge == side.far {
			def.Left, def.Right, def.Why = d.V(edge), relation.C(0), "open to that edge"
		}
		c.place(d, side.size, boxPhase, def)
	}
}

// openEdge is the edge to which a cutout is open, or what a field repeats, and whether it
// says that it is to one; what is no edge is told where it is read.
func (c *compiler) openEdge(d *draft) (edge word.Edge, stated bool) {
	if d.Kind == kind.Field {
		if d = c.repeated(d); d == nil {
			return word.NoEdge, false
		}
	}
	p, stated := d.props["open"]
	if !stated {
		return word.NoEdge, false
	}
	if n, ok := p.value.(*ast.Name); ok {
		edge, _ = word.Find(n.Dotted(), word.Edges()...)
	}
	return edge, true
}

// reachesOut lets what is open to an edge reach past it: its distance from there
// may be below 0. So may all distances of what is turned, which are its box's before,
// and of what is open to no edge that is known.
func (c *compiler) reachesOut(d *draft) {
	if d.Kind != kind.Cutout && d.Kind != kind.Field {
		return
	}
	_, turned := d.props["rotate"]
	open, stated := c.openEdge(d)
	for _, edge := range word.Edges() {
		if id, ok := d.Dim(dim.From(edge)); ok && (turned || stated && (open == word.NoEdge || open == edge)) {
			c.System.Vars[id].Signed = true
		}
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
