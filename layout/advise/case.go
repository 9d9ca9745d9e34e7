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
	for _, i := range []int{1, len(s.Parts) - 2} {
		if part := s.Parts[i]; !part.Panel.Present() {
			joint = max(joint, part.Width)
		}
	}
	if holds := b.SpineReach + b.Overlap; holds < joint-geom.Tol {
		n.Warn(s.Quiet, "narrow-cloth", s.At, "the spine's cloth of %s lies on only %s of each board, less than the %s of the joint that hangs on it: it may pull off", s.Name, n.Length(holds), n.Length(joint)).
			WithHelp("make spine-reach or spine-width larger: the cloth should hold each board by at least the width of the joint (common practice, no source)%s", Silence("narrow-cloth", "case"))
	}
}

// Case warns of gaps in which its boards can't swing and of a lining
// that leaves turned-in edges bare.
func Case(n *Notes, d *design.Design, s *design.Case) {
	for i := 1; i+1 < len(s.Parts); i++ {
		gap, before, after := s.Parts[i], s.Parts[i-1], s.Parts[i+1]
		one, isPanel := before.Panel.Get()
		other, isAnother := after.Panel.Get()
		if gap.Panel.Present() || !isPanel || !isAnother {
			continue
		}
		// Where a thickness isn't known, only that of the other board counts.
		thick := max(d.Panels[one].Thick.Or(0), d.Panels[other].Thick.Or(0))
		if gap.Width < 2*thick-geom.Tol {
			n.Warn(s.Quiet, "tight-joint", gap.Of, "%s is %s wide, too narrow for boards of %s to swing right round in it", gap.Name, n.Length(gap.Width), n.Length(thick)).
				WithHelp("a joint needs twice the thickness of the board, %s, plus that of the covering (common practice, no source; 1/16 in is enough for thin board that folds one way only, according to a scrapbook maker's page)%s",
					n.Length(2*thick), Silence("tight-joint", "case"))
		}
	}
	if b, ok := s.Bound.Get(); ok {
		bound(n, s, b)
	}
	lining, lined := s.Lining.Get()
	if turnIn := s.TurnIn.Or(0); lined && lining > turnIn-geom.Tol && turnIn > 0 {
		n.Warn(s.Quiet, "short-lining", s.At, "the lining of %s stays %s inside its edges, but the covering turns in by only %s: its raw edge shows", s.Name, n.Length(lining), n.Length(turnIn)).
			WithHelp("a lining should cover the turned-in edges: make lining smaller than turn-in%s", Silence("short-lining", "case"))
	}
}
