package advise

import (
	"foredge/eval/design"
	"foredge/lang/unit"
	"foredge/layout/geom"
)

// leastOverlap is how far a side must lie over cloth at the least, in mm: paper and
// cloth stretch when they are pasted, and neither is laid down to less than a
// millimetre. Common practice, no source.
const leastOverlap = 2

// bound warns of a case in quarter or half whose sides may leave board bare, or whose
// spine's cloth holds less of a board than the joint is wide that hangs on it.
func bound(n *Notes, s *design.Case, b design.Bound) {
	if b.Overlap < leastOverlap-geom.Tol {
		n.Warn(s.Quiet, "short-overlap", s.At, "the sides of %s lie only %s over the cloth, so board may show between them", s.Name, n.Length(b.Overlap)).
			WithHelp("let them lie over it by %s (common practice, no source), as in overlap = %s%s", n.Length(leastOverlap),
				unit.Example(3, n.Unit), Silence("short-overlap", "case"))
	}
	joint := 0.0
	for _, j := range jointsOf(s) {
		if j.from == 1 || j.to == len(s.Parts)-1 {
			joint = max(joint, j.width)
		}
	}
	if holds := b.SpineReach + b.Overlap; holds < joint-geom.Tol {
		n.Warn(s.Quiet, "narrow-cloth", s.At, "the spine's cloth of %s lies on only %s of each board, less than the %s of the joint that hangs on it: it may pull off", s.Name, n.Length(holds), n.Length(joint)).
			WithHelp("make spine-reach or spine-width larger: the cloth should hold each board by at least the width of the joint (common practice, no source)%s", Silence("narrow-cloth", "case"))
	}
}
