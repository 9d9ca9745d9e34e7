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
// is left of the board once they, or the field whose members they are, are centred.
func (a *adviser) sizes() {
	const code = "unsaid-size"
	for _, n := range a.Things {
		c, ok := n.(*model.Cutout)
		if !ok || c.Panel == nil || !c.Panel.Built || outcome.Quiet(a.Solution, c.Panel).Has(code) {
			continue
		}
		placed := &c.Box // what has the distances
		if c.Field != nil {
			placed = &c.Field.Box
		}
		for _, axis := range []struct{ size, near, far dim.Name }{{dim.Width, dim.Spine, dim.Foredge}, {dim.Height, dim.Head, dim.Tail}} {
			size, _ := c.Dim(axis.size)
			by, left := a.leftOver(placed, size, axis.near, axis.far)
			if !left {
				continue
			}
			far := by.String()
			if c.Field != nil {
				far += " of " + placed.Path
			}
			a.diags.Warnf(code, c.At, "nothing states the %s of %s, so it is all that is left: %s", axis.size, c.Path,
				a.Format(a.Value(size), axis.size.Kind(), c.At)).
				Note(placed.At, "%s = %s is by default", by, a.Format(a.Of(&placed.Thing, by), by.Kind(), placed.At)).
				WithHelp("state its %s, or %s too if it is to reach that far%s", axis.size, far, codes.Silence(code, "panel"))
		}
	}
}

// leftOver reports whether a size follows from a distance of a box that only its being
// centred gives, and which. What runs from a stated distance to the edge to which it is
// open is meant.
func (a *adviser) leftOver(placed *model.Box, size relation.VarID, distances ...dim.Name) (by dim.Name, ok bool) {
	for _, n := range distances {
		id, _ := placed.Dim(n)
		of := a.Numbers.Cause[id]
		if of.Kind != solve.ByDefaultLine || !a.followsFrom(size, id) {
			continue
		}
		if def := &a.System.Defaults[of.Index]; def.At == placed.At && def.Right.Op == relation.Ref {
			return n, true
		}
	}
	return dim.None, false
}

// farthest is through how many dimensions a member's size is followed to its field's
// distances: pitch, gap and the field's own size lie between.
const farthest = 16

// followsFrom reports whether relations give one dimension from another.
func (a *adviser) followsFrom(id, from relation.VarID) bool {
	seen := []relation.VarID{id}
	for i := 0; i < len(seen) && len(seen) < farthest; i++ {
		cause := a.Numbers.Cause[seen[i]]
		if cause.Kind != solve.ByRelation {
			continue
		}
		if slices.Contains(cause.From, from) {
			return true
		}
		for _, f := range cause.From {
			if !slices.Contains(seen, f) {
				seen = append(seen, f)
			}
		}
	}
	return false
}
