package fit

import (
	"foredge/eval"
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
}

// turns lists the covers on a wire, in the design's order.
func turns(s *eval.Solution) []Turn {
	var out []Turn
	for _, c := range s.BoundRows() {
		t := Turn{BoundRow: c}
		if c.Missing == "" {
			a := wire.Check(c.Case)
			t.Answer = &a
		}
		out = append(out, t)
	}
	return out
}
