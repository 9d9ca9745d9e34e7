package layout

import (
	"fmt"
	"math"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/unit"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// wayWrong tells what of the way in which parts are cut out of a stock contradicts itself or
// isn't said; lengths are shown in a unit.
func wayWrong(s *design.Stock, in unit.Unit) (diags diag.List) {
	way := s.Way
	for _, other := range []struct {
		asked bool
		line  design.Asked
		word  string
	}{{way.Shared.Yes, way.Shared, "shared-cuts"}, {way.Bridge.Present(), design.Asked{At: way.BridgeAt}, "bridge"}} {
		if way.Knife.Yes && other.asked {
			diags.Errorf("two-ways", other.line.At, "%s is cut by a knife, and %s is about the cuts of a laser", s.Name, other.word).
				Note(way.Knife.At, "the knife is asked for here").
				WithHelp("take one of the two lines out: a knife cuts each edge once for both sides of it, and what it cuts out needs no bridges")
		}
	}
	if cut := s.Spacing.Or(0); way.Knife.Yes {
		for i, o := range s.Offcuts {
			if least := min(o.Gone.Width, o.Gone.Height); least > 0 && cut > 2*least+geom.Tol {
				diags.Errorf("knife-beside", s.Lines.Offcuts[i], "of this offcut %s by %s are gone, and a knife's cut %s wide along that would have its line beside the board",
					unit.FormatLength(o.Gone.Width, in), unit.FormatLength(o.Gone.Height, in), unit.FormatLength(cut, in)).
					WithHelp("state the offcut without what is missing, shorter by that; or let spacing be as wide as the knife or saw really cuts, here at most %s", unit.FormatLength(2*least, in))
			}
		}
	}
	switch {
	case way.Bridge.Present() && !way.BridgeBelow.Present():
		diags.Errorf("bridge-unsaid", way.BridgeAt, "nothing says which parts of %s keep bridges", s.Name).
			WithHelp("say below which length of their longer side, as in bridge-below = %s", unit.Example(30, in))
	case way.BridgeBelow.Present() && !way.Bridge.Present():
		diags.Errorf("bridge-unsaid", way.BridgeAt, "nothing says how broad the bridges of %s are", s.Name).
			WithHelp("say it as they are to be left, as in bridge = %s", unit.Example(0.6, in))
	}
	if broad, ok := way.Bridge.Get(); ok && broad < finestBridge-geom.Tol && !s.Quiet.Has("thin-detail") {
		diags.Warnf("thin-detail", way.BridgeAt, "bridges of %s are to hold the small parts of %s, and burn away", unit.FormatLength(broad, in), s.Name).
			WithHelp("check its unit and its decimal point: %s is usual (common practice, no source)%s", unit.Example(0.6, in), advise.Silence("thin-detail", "stock"))
	}
	return diags
}

// finestBridge is below what breadth in mm nothing is left of a bridge beside the burnt edges of the
// cuts at its ends (common practice, no source).
const finestBridge = 0.2

// checkWays reports stocks whose way of cutting doesn't hold together, or lacks a number.
func (dr *draft) checkWays() {
	woods := map[string]bool{}
	for _, s := range dr.design.Stocks() {
		dr.notes.Add(wayWrong(s, dr.design.Unit))
		if !woods[s.Wood] {
			woods[s.Wood] = true
			dr.notes.Add(offcutsTooLarge(s, dr.design.Unit))
		}
		if s.Way.Shared.Yes && !dr.kerfIn(s).Present() && !s.Way.Knife.Yes {
			dr.notes.Errorf("shared-no-kerf", s.Way.Shared.At, "parts of %s share their cuts, and nothing says how wide the laser cuts", s.Name).
				WithHelp("measure it and state it, as in kerf = %s: edges of parts that share a cut lie as far apart, and with another kerf each part would come out too small or too large", unit.Example(s.UsualKerf.Or(0.2), dr.design.Unit))
		}
		if s.Way.Knife.Yes && !s.Size.Present() && !dr.design.Laser.Bed.Present() {
			dr.notes.Errorf("knife-sheet", s.Way.Knife.At, "%s is cut by a knife from edge to edge, and nothing says how large its sheets are", s.Name).
				WithHelp("state it, as in size = %s by %s", unit.Example(600, dr.design.Unit), unit.Example(400, dr.design.Unit))
		}
	}
}

// stocksApart reports two stocks of one name from which parts are cut: a file's own, and one that it
// brings by what it uses.
func (dr *draft) stocksApart(cut []*design.Stock) {
	called := map[string]*design.Stock{}
	for _, s := range cut {
		if s == nil {
			continue
		}
		if other := called[s.Name]; other == nil {
			called[s.Name] = s
		} else if other.CalledAt != s.CalledAt {
			dr.notes.Errorf("two-stocks", s.CalledAt, "parts are cut from two stocks called %s, and would lie on one sheet", s.Name).
				Note(other.CalledAt, "the other is here").
				WithHelp("give one of them another name")
		}
	}
}

// checkCutOut tells what of a part, once it is drawn, doesn't suit the way in which it is cut
// out; kind is what may silence it.
func (dr *draft) checkCutOut(p *Part, quiet design.Quiet, kind string) {
	if p.Of == nil {
		return
	}
	edge := p.edge()
	if p.Of.Way.Knife.Yes {
		if edge < 0 {
			dr.notes.Errorf("knife-pieces", p.At, "%s is of several pieces, and a knife cuts only from edge to edge", p.Name).
				Note(p.Of.Way.Knife.At, "%s is cut by a knife", p.Of.Name).WithHelp("cut it from a stock without knife = yes")
		} else if _, plain := geom.Plain(p.Shapes[edge].Figure).(geom.Rect); !plain {
			dr.notes.Warn(quiet, "knife-corners", p.At, "%s isn't a rectangle: a knife cuts one of %s by %s, and what is beyond its edge is left to you", p.Name, dr.length(p.Bounds.Width()), dr.length(p.Bounds.Height())).
				Note(p.Of.Way.Knife.At, "%s is cut by a knife", p.Of.Name).
				WithHelp("cut it off afterwards along the line that is marked%s", advise.Silence("knife-corners", kind))
		}
		return
	}
	dr.checkBridges(p, quiet, kind)
}

// checkBridges tells which edges of a part, or of its pieces as an inlay has them, are too short for
// the bridges that they are to keep.
func (dr *draft) checkBridges(p *Part, quiet design.Quiet, kind string) {
	bridges, asked := bridgesOf(p.Of.Way, p.Want.Or(0)).Get()
	if !asked {
		return
	}
	most := math.Inf(1)
	var short []string
	edge := p.edge()
	for i, s := range p.Shapes {
		if s.Op != Cut || s.Hole || open(s.Figure) || !held(p.Of.Way, s.Figure.Bounds()) {
			continue
		}
		round := longest(s.Figure)
		cut := round
		if grown, err := dr.offset.Offset(s.Figure, p.Want.Or(0)/2); err == nil {
			cut = longest(grown)
		}
		if bridges.Width > cut/(2*bridgeEvery) {
			name := p.Name
			if i != edge {
				name = s.ID
			}
			short, most = append(short, fmt.Sprintf("%s, %s round its edge", name, dr.length(round))), min(most, cut/(2*bridgeEvery))
		}
	}
	if len(short) == 0 {
		return
	}
	more := ""
	if len(short) > 1 {
		more = fmt.Sprintf("; %d more are too short as well", len(short)-1)
	}
	dr.notes.Warn(quiet, "broad-bridge", p.At, "%s, is too short for two bridges of %s: it falls out, or hangs by one%s", short[0], dr.length(p.Of.Way.Bridge.Or(0)), more).
		Note(p.Of.Way.BridgeAt, "they are asked for here").
		WithHelp("let them be %s or less, or let bridge-below leave out what is as small%s", dr.length(max(0, most-p.Want.Or(0))), advise.Silence("broad-bridge", kind))
}

// longest is how long the longest of a figure's paths is.
func longest(f geom.Figure) float64 {
	round := 0.0
	for _, path := range geom.Paths(f) {
		round = max(round, geom.Length(path))
	}
	return round
}

// bridgeEvery is how many times as long as a bridge the stretch is of which it takes a part:
// layout/tour leaves no more.
const bridgeEvery = 4

// LaserCuts reports whether a laser cuts any of a part.
func (p *Part) LaserCuts() bool {
	if p.Of == nil || !p.Of.Way.Knife.Yes {
		return true
	}
	edge := p.edge()
	for i, s := range p.Shapes {
		if s.Op == Cut && i != edge {
			return true
		}
	}
	return false
}
