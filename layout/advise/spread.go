package advise

import (
	"foredge/eval/design"
	"foredge/layout/geom"
)

// Spread warns of gaps in which its boards can't swing and of a lining
// that leaves turned-in edges bare.
func Spread(n *Notes, d *design.Design, s *design.Spread) {
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
				WithHelp("it takes twice the board, %s, and the covering (common practice, no source; thin board that folds one way only makes do with 1/16 in, by a scrapbook maker's page)%s",
					n.Length(2*thick), Silence("tight-joint", "spread"))
		}
	}
	lining, lined := s.Lining.Get()
	if turnIn := s.TurnIn.Or(0); lined && lining > turnIn-geom.Tol && turnIn > 0 {
		n.Warn(s.Quiet, "short-lining", s.At, "the lining of %s stays %s inside its edges, but the covering turns in by only %s: its raw edge shows", s.Name, n.Length(lining), n.Length(turnIn)).
			WithHelp("a lining is to lie over the turned-in edges: make lining smaller than turn-in%s", Silence("short-lining", "spread"))
	}
}
