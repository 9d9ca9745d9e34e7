package advise

import (
	"foredge/eval/design"
	"foredge/layout/geom"
)

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
	lining, lined := s.Lining.Get()
	if turnIn := s.TurnIn.Or(0); lined && lining > turnIn-geom.Tol && turnIn > 0 {
		n.Warn(s.Quiet, "short-lining", s.At, "the lining of %s stays %s inside its edges, but the covering turns in by only %s: its raw edge shows", s.Name, n.Length(lining), n.Length(turnIn)).
			WithHelp("a lining should cover the turned-in edges: make lining smaller than turn-in%s", Silence("short-lining", "case"))
	}
}
