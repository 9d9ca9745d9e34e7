package tell

import (
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// formed tells of sizes that are no dimensions and come out below 0, as of corners, or at 0 where
// that is none, as of letters: drawn as if nobody had stated them, they would pass for what was
// meant. What is stated as such a number is told where it is read.
func (t *teller) formed() {
	told := map[source.Span]bool{} // what several things inherit is told once
	look := func(what string, size maybe.Of[relation.Expr], at source.Span, noughtToo bool) {
		v, ok := t.Stated(size).Get()
		if !ok || v > nothing || v >= -nothing && !noughtToo || told[at] {
			return
		}
		told[at] = true
		code, must := diag.Code("negative"), "can't be less than 0"
		if noughtToo {
			code, must = "positive", "must be above 0"
		}
		t.diags.Errorf(code, at, "the %s comes out at %s, and %s", what, t.Format(v, unit.Length, at), must).
			WithHelp("look at the lines that give it, or take it out")
	}
	from := func(what string, size maybe.Of[relation.Expr], at source.Span) { look(what, size, at, false) }
	above := func(what string, size maybe.Of[relation.Expr], at source.Span) { look(what, size, at, true) }
	hole := func(h *model.Hole) {
		if h != nil {
			from("radius", h.Radius, h.At)
		}
	}
	for _, n := range t.Things {
		switch n := n.(type) {
		case *model.Panel:
			for _, c := range n.Corners {
				if c.Form != 0 {
					from(c.Form.String(), c.Size, c.At)
				}
			}
		case *model.Row:
			hole(n.Hole)
		case *model.Cutout:
			hole(n.Shape)
		case *model.Stitch:
			hole(n.Hole)
			above("stitch-length", n.Length, n.LengthAt)
		case *model.Tabs:
			from("radius", n.Radius, n.At)
		case *model.Region:
			for _, m := range n.Marks {
				switch m := m.(type) {
				case *model.Frame:
					from("radius", m.Radius, m.Known.At)
				case *model.Lettering:
					from("least", m.Least, m.Known.At)
					above("cap", m.Cap, m.Known.At)
					above("bridge", m.Bridge, m.Known.At)
					above("radius", m.Radius, m.Known.At)
				case *model.Artwork:
					above("width", m.Width, m.Known.At)
					above("bridge", m.Bridge, m.Known.At)
					above("line-distance", m.LineDistance, m.Known.At)
				}
			}
		}
	}
}
