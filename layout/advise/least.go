package advise

import (
	"math"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/layout/geom"
)

// Numbers of the trade, in mm.
const (
	// A cutting service's page on kerf and another's guidelines: details under
	// 1 mm are very fragile, and lines closer than 0.5 mm may burn away.
	leastDetail = 1
	BurnsAway   = 0.5
	// Common practice, no source: the least capital that reads when engraved.
	LeastCapital = 2
)

// Least is the least that may be left of a panel, in mm. A web or an edge of 0
// says that nothing is known.
type Least struct {
	Web    float64 // between cuts: the material's, else the thickness of the board
	Edge   float64 // between an opening and the board's edge: the material's, else the web
	Detail float64 // of anything: the material's, else 1 mm
}

// LeastOf is the least that may be left of a panel.
func LeastOf(p *design.Panel) Least {
	l := Least{Web: p.Thick.Or(0), Detail: leastDetail}
	if s := p.Stock; s != nil {
		l.Web, l.Detail = s.LeastWeb.Or(l.Web), s.LeastDetail.Or(l.Detail)
	}
	l.Edge = l.Web
	if p.Stock != nil {
		l.Edge = p.Stock.LeastEdge.Or(l.Web)
	}
	return l
}

// Any is the largest of them: what is farther apart needs no look.
func (l Least) Any() float64 { return max(l.Web, l.Edge, l.Detail) }

// Between is the largest of those that may be left between two openings.
func (l Least) Between() float64 { return max(l.Web, l.Detail) }

// Narrow warns of material as wide as gap, if that is less than it should be.
// what says where it is left, do what to do about it. It returns nil where there
// is nothing to say.
func Narrow(n *Notes, p *design.Panel, at source.Span, gap float64, what, do string) *diag.Diagnostic {
	return narrow(n, p, at, gap, LeastOf(p).Web, p.Stock != nil && p.Stock.LeastWeb.Present(), what, do)
}

// NarrowEdge warns of material as wide as gap between an opening and the edge of its
// board. Where the wire of the row lets its holes lie no farther in than the edge
// should be wide, it doesn't say to move them in.
func NarrowEdge(n *Notes, p *design.Panel, row *design.Row, at source.Span, gap float64, what, do string) *diag.Diagnostic {
	l := LeastOf(p)
	if row != nil {
		if most, ok := row.LargestInset.Get(); ok && most < l.Edge {
			do = "its wire lets the holes lie no more than " + n.Length(math.Floor(most*100)/100) + " from the edge, so take a larger ring"
		}
	}
	asks := p.Stock != nil && (p.Stock.LeastEdge.Present() || p.Stock.LeastWeb.Present())
	return narrow(n, p, at, gap, l.Edge, asks, what, do)
}

// narrow is what both have in common: web is the least that should be left, and
// asks says that the material asks for it.
func narrow(n *Notes, p *design.Panel, at source.Span, gap, web float64, asks bool, what, do string) *diag.Diagnostic {
	detail := LeastOf(p).Detail
	const guides = "two cutting services' guides: details under 1 mm are very fragile, and what is under 0.5 mm may burn away"
	switch {
	case gap < detail-geom.Tol:
		why := "less than the " + n.Length(detail) + " that it takes to last"
		if gap < BurnsAway-geom.Tol {
			why = "which may burn away"
		}
		return n.Warn(p.Quiet, "thin-detail", at, "only %s is left %s, %s", n.Length(gap), what, why).
			WithHelp("%s, so that %s is left (%s)%s", do, n.Length(max(web, detail)), guides, Silence("thin-detail", "panel"))
	case gap < web-geom.Tol:
		whose := "the thickness of the board, according to a cutting service's guide"
		if asks {
			whose = "what " + p.Stock.Material.Name + " asks for"
		}
		return n.Warn(p.Quiet, "thin-web", at, "only %s is left %s, less than %s", n.Length(gap), what, n.Length(web)).
			WithHelp("%s is %s; %s, or use a thinner board%s", n.Length(web), whose, do, Silence("thin-web", "panel"))
	}
	return nil
}

// Capitals warns of lettering too small to be read.
func Capitals(n *Notes, q design.Quiet, at source.Span, height float64) {
	if height < LeastCapital-1e-3 {
		n.Warn(q, "small-text", at, "the capitals of this text are %s high: that hardly reads", n.Length(math.Round(height*100)/100)).
			WithHelp("make them 2 mm high or more (common practice, no source); a larger region or a shorter text gives them room%s", Silence("small-text", "panel"))
	}
}
