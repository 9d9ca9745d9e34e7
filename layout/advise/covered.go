package advise

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
)

// thickCovering is from where on a covering hardly goes round a board's edge, in mm:
// cloth and paper are up to 0.5 mm thick, pared leather to 1 (common practice, no
// source).
const thickCovering = 1

// cutOff is how far a corner lies inside of the square one, along the diagonal.
func cutOff(c design.Corner) float64 {
	switch c.Form {
	case word.Chamfer:
		return c.Size / math.Sqrt2
	case word.Radius:
		return c.Size * (math.Sqrt2 - 1)
	}
	return 0
}

// underLining warns of marks on the inside of boards over which a case's lining is pasted.
func underLining(n *Notes, s *design.Case) {
	lining, lined := s.Lining.Get()
	if !lined {
		return
	}
	for _, part := range s.Parts {
		if part.Board == nil {
			continue
		}
		for k := range part.Board.Regions {
			r := &part.Board.Regions[k]
			if r.Inside && len(r.Marks) > 0 && farInside(part.Board, r, lining) {
				n.Warn(s.Quiet, "under-covering", r.At, "%s lies on the inside of %s, which the lining of %s covers: nobody will see it", r.Name, part.Name, s.Name).
					WithHelp("letter a label to be pasted on the lining, or leave the lining out%s", Silence("under-covering", "case"))
			}
		}
	}
}

// farInside reports whether a region lies so far inside all edges of its panel, those of its corners too.
func farInside(p *design.Panel, r *design.Region, margin float64) bool {
	if min(r.Head, r.Tail, r.Spine, r.Foredge) < margin-geom.Tol {
		return false
	}
	for i, near := range [4]geom.Point{{X: r.Spine, Y: r.Head}, {X: r.Foredge, Y: r.Head}, {X: r.Spine, Y: r.Tail}, {X: r.Foredge, Y: r.Tail}} {
		c, inside := p.Corners[i], true
		switch c.Form {
		case word.Chamfer:
			inside = (near.X+near.Y-c.Size)/math.Sqrt2 >= margin-geom.Tol
		case word.Radius:
			if from := geom.Pt(c.Size-near.X, c.Size-near.Y); min(from.X, from.Y) > 0 {
				inside = c.Size-from.Norm() >= margin-geom.Tol
			}
		case word.Scoop:
			inside = near.Norm()-c.Size >= margin-geom.Tol
		}
		if !inside {
			return false
		}
	}
	return true
}

// stiffLining warns of a lining over the joints of a case that is too thick to fold there.
func stiffLining(n *Notes, s *design.Case) {
	if !s.Lining.Present() || s.LiningStock == nil || !slices.ContainsFunc(s.Parts, func(p design.CasePart) bool { return p.Board == nil }) {
		return
	}
	if thick, known := s.LiningStock.Thick.Get(); known && thick >= thickCovering-geom.Tol {
		n.Warn(s.Quiet, "thick-covering", s.At, "the lining of %s is cut from %s, which is %s thick: it hardly folds at the joints", s.Name, s.LiningStock.Name, n.Length(thick)).
			WithHelp("name another stock for it: cloth and paper are thinner than %s (common practice, no source)%s", n.Length(thickCovering), Silence("thick-covering", "case"))
	}
}

// hidden warns of marks that a case's covering hides, of scoops that it can't follow,
// and of coverings too thick to be turned in.
func hidden(n *Notes, s *design.Case) {
	underLining(n, s)
	turnIn, covered := s.TurnIn.Get()
	if !covered {
		return
	}
	for _, part := range s.Parts {
		if part.Board == nil {
			continue
		}
		for _, corner := range part.Board.Corners {
			what := "has a scooped corner"
			if corner.Form != word.Scoop {
				off := cutOff(corner)
				if off <= turnIn+geom.Tol {
					continue
				}
				what = "has a corner cut off by " + n.Length(off)
			} else if corner.Size <= geom.Tol {
				continue
			}
			n.Warn(s.Quiet, "covered-corner", corner.At, "%s %s, and what %s covers it with, drawn for square ones, can't be turned in there", part.Name, what, s.Name).
				WithHelp("make the corner square or less round, or cut and clip the covering there by hand%s", Silence("covered-corner", "case"))
			break
		}
		for k := range part.Board.Regions {
			r := &part.Board.Regions[k]
			if r.Inside || len(r.Marks) == 0 {
				continue // of the inside a lining tells
			}
			n.Warn(s.Quiet, "under-covering", r.At, "%s lies on %s, which %s covers: nobody will see it", r.Name, part.Name, s.Name).
				WithHelp("put it on a panel of its own, a label to be pasted on, or leave out turn-in where nothing wraps round the boards%s", Silence("under-covering", "case"))
		}
	}
	for _, stock := range []*design.Stock{s.CoveringStock, s.SpineStock} {
		if stock == nil || turnIn <= geom.Tol {
			continue // what is flush goes round no edge
		}
		if thick, known := stock.Thick.Get(); known && thick >= thickCovering-geom.Tol {
			n.Warn(s.Quiet, "thick-covering", s.At, "the covering of %s is cut from %s, which is %s thick: it hardly goes round a board's edge", s.Name, stock.Name, n.Length(thick)).
				WithHelp("name another stock for it: cloth and paper are thinner than %s (common practice, no source)%s", n.Length(thickCovering), Silence("thick-covering", "case"))
		}
	}
}
