package advice

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/diag/codes"
)

// sizes warns of cutouts whose width or height nothing states, so that it is what
// is left of the board once they are centred.
func (a *adviser) sizes() {
	const code = "unsaid-size"
	for _, n := range a.Things {
		c, ok := n.(*model.Cutout)
		if !ok || c.Panel == nil || !c.Panel.Built || c.Field != nil || outcome.Quiet(a.Solution, c.Panel).Has(code) {
			continue
		}
		for _, axis := range []struct{ size, near, far dim.Name }{{dim.Width, dim.Spine, dim.Foredge}, {dim.Height, dim.Head, dim.Tail}} {
			size, _ := c.Dim(axis.size)
			by, left := a.leftOver(c, size, axis.near, axis.far)
			if !left {
				continue
			}
			a.diags.Warnf(code, c.At, "nothing states the %s of %s, so it is all that is left: %s", axis.size, c.Path,
				a.Format(a.Value(size), axis.size.Kind(), c.At)).
				Note(c.At, "%s = %s is by default", by, a.Format(a.Of(&c.Thing, by), by.Kind(), c.At)).
				WithHelp("state its %s, or %s too if it is to reach that far%s", axis.size, by, codes.Silence(code, "panel"))
		}
	}
}

// leftOver reports whether a size of a cutout follows from a distance that only its
// being centred gives, and which. One that runs from a stated distance to the edge to
// which it is open is meant.
func (a *adviser) leftOver(c *model.Cutout, size relation.VarID, distances ...dim.Name) (by dim.Name, ok bool) {
	cause := a.Numbers.Cause[size]
	if cause.Kind != solve.ByRelation {
		return dim.None, false
	}
	for _, n := range distances {
		id, _ := c.Dim(n)
		of := a.Numbers.Cause[id]
		if of.Kind != solve.ByDefaultLine || !slices.Contains(cause.From, id) {
			continue
		}
		if def := &a.System.Defaults[of.Index]; def.At == c.At && def.Right.Op == relation.Ref {
			return n, true
		}
	}
	return dim.None, false
}
