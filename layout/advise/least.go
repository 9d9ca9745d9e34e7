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

// Leasts are the least that may be left of a panel between cuts, and the least
// detail of it: the material's, else the thickness of the board and 1 mm. A web
// of 0 says that nothing is known.
func Leasts(p *design.Panel) (web, detail float64) {
	web, detail = p.Thick.Or(0), leastDetail
	if s := p.Stock; s != nil {
		web, detail = s.LeastWeb.Or(web), s.LeastDetail.Or(detail)
	}
	return web, detail
}

// Narrow warns of material as wide as gap, if that is less than it should be.
// what says where it is left, do what to do about it. It returns nil where there
// is nothing to say.
func Narrow(n *Notes, p *design.Panel, at source.Span, gap float64, what, do string) *diag.Diagnostic {
	web, detail := Leasts(p)
	const guides = "two cutting services' guides: details under 1 mm are very fragile, and what is under 0.5 mm may burn away"
	switch {
	case gap < BurnsAway-geom.Tol:
		return n.Warn(p.Quiet, "thin-detail", at, "only %s is left %s, which may burn away", n.Length(gap), what).
			WithHelp("%s, so that %s is left (%s)%s", do, n.Length(max(web, detail)), guides, Silence("thin-detail", "panel"))
	case gap < detail-geom.Tol:
		return n.Warn(p.Quiet, "thin-detail", at, "only %s is left %s, less than the %s that it takes to last", n.Length(gap), what, n.Length(detail)).
			WithHelp("%s, so that %s is left (%s)%s", do, n.Length(max(web, detail)), guides, Silence("thin-detail", "panel"))
	case gap < web-geom.Tol:
		whose := "the thickness of the board, according to a cutting service's guide"
		if p.Stock != nil && p.Stock.LeastWeb.Present() {
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
