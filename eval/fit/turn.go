package fit

import (
	"foredge/eval"
	"foredge/eval/advice"
	"foredge/eval/outcome"
	"foredge/eval/wire"
)

// A Turn says how a cover fares on the wire that is in the notebook: whether the
// ring closes round boards of that thickness, whether the cover turns right
// round, and what would be the most. It takes the reconciled values as they are.
type Turn struct {
	outcome.BoundRow
	// Answer is nil where Missing says why there is none.
	Answer *wire.Answer
	// LargestLeaves is the thickest block of leaves that the wire takes with these
	// boards, mm; NaN if there is none.
	LargestLeaves float64
	// Usual is what binders take for such a book; nil where they have no rule, or
	// nothing says how thick the leaves are.
	Usual *advice.Usual
}

// turns lists the covers on a wire, in the design's order.
func turns(s *eval.Solution) []Turn {
	var out []Turn
	for _, c := range s.BoundRows() {
		t := Turn{BoundRow: c}
		if c.Missing == "" {
			a := wire.Check(c.Case)
			t.Answer, t.LargestLeaves = &a, c.Case.LargestLeaves()
			if u, ok := advice.UsualFor(c); ok {
				t.Usual = &u
			}
		}
		out = append(out, t)
	}
	return out
}
