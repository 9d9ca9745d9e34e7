package tell

import (
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// radii tells of corners of boards, openings and frames whose size comes out below 0: drawn as
// square ones they would pass for what was meant. Those that are stated as numbers below 0 are
// told where they are read.
func (t *teller) radii() {
	told := map[source.Span]bool{} // what several things inherit is told once
	look := func(what string, size maybe.Of[relation.Expr], at source.Span) {
		v, ok := t.Stated(size).Get()
		if !ok || v >= -nothing || told[at] {
			return
		}
		told[at] = true
		t.diags.Errorf("negative", at, "the %s comes out at %s, and can't be less than 0", what, t.Format(v, unit.Length, at)).
			WithHelp("look at the lines that give it, or take it out for sharp corners")
	}
	hole := func(h *model.Hole) {
		if h != nil {
			look("radius", h.Radius, h.At)
		}
	}
	for _, n := range t.Things {
		switch n := n.(type) {
		case *model.Panel:
			for _, c := range n.Corners {
				if c.Form != 0 {
					look(c.Form.String(), c.Size, c.At)
				}
			}
		case *model.Row:
			hole(n.Hole)
		case *model.Cutout:
			hole(n.Shape)
		case *model.Stitch:
			hole(n.Hole)
		case *model.Tabs:
			look("radius", n.Radius, n.At)
		case *model.Region:
			for _, m := range n.Marks {
				if f, ok := m.(*model.Frame); ok {
					look("radius", f.Radius, f.Known.At)
				}
			}
		}
	}
}
