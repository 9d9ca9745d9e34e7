package job

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
)

// A taken is what a design takes a stock to be: its parts are drawn for the kerf, and lie
// along the grain.
type taken struct {
	kerf    maybe.Of[float64]
	ofLaser bool // the stock states no kerf, so the laser's is meant
	cuts    bool // the laser cuts some of it
	grain   word.Grain
	greys   string // by which it engraves pictures, as text; "" where it has none
	from    string
	at      source.Span
}

// take notes what a design takes its stocks to be, which were met before.
func (s *shelf) take(kerfed *layout.Drawing, faces []layout.Face, name string, at source.Span) {
	raster := func(p layout.Part) bool {
		return slices.ContainsFunc(p.Shapes, func(s layout.Shape) bool { return s.Raster != nil })
	}
	within := map[string]bool{} // the panels with pictures on their inside
	for _, f := range faces {
		within[f.Panel] = slices.ContainsFunc(f.Drawing.Parts, raster)
	}
	for _, p := range kerfed.Parts {
		k := s.of[p.Stock]
		if k == nil {
			continue
		}
		t := taken{kerf: p.Want, ofLaser: p.Of == nil || !p.Of.Kerf.Present(), cuts: p.LaserCuts(), from: name, at: at}
		if p.Of != nil {
			t.grain = p.Of.Grain
			if raster(p) || within[p.Name] {
				t.greys = fmt.Sprint(p.Of.Greys)
			}
		}
		if !slices.Contains(k.taken, t) {
			k.taken = append(k.taken, t)
		}
	}
}

// drawn says for which kerf the parts of a design are drawn.
func (s *shelf) drawn(t taken) string {
	if kerf, known := t.kerf.Get(); known {
		return "for " + unit.FormatLength(kerf, s.own.Unit)
	}
	return "without one"
}

// oneKerf sees that what shares the sheets of a stock is drawn for one kerf, that of the job's
// laser where this states one: a machine cuts a board by one kerf. It says so once.
func (s *shelf) oneKerf(diags *diag.List, name string, k *stock) {
	if s.ownStock(name).Kerf.Present() {
		return // asTaken sees to it
	}
	own := s.own.Laser.Kerf
	var first *taken
	for i, t := range k.taken {
		if !t.cuts {
			continue // a knife takes nothing away
		}
		if a, stated := own.Get(); stated && t.ofLaser && math.Abs(a-t.kerf.Or(math.Inf(1))) > geom.Tol {
			diags.Errorf("job-laser", t.at, "the kerf of the job's laser is %s, and %s is drawn %s", unit.FormatLength(a, s.own.Unit), t.from, s.drawn(t)).
				WithHelp("parts are cut by the kerf of their own design: let both use one file for the laser, as in use \"shop.fore\"")
			return
		}
		if first == nil {
			first = &k.taken[i]
		}
		if math.Abs(first.kerf.Or(-1)-t.kerf.Or(-1)) > geom.Tol {
			one, other := first.from, t.from
			if one == other {
				one, other = "one", "the other"
			}
			diags.Errorf("job-laser", t.at, "%s are drawn for two kerfs, and their parts would lie on one sheet: %s %s, %s %s",
				both(first.from, t.from), one, s.drawn(*first), other, s.drawn(t)).
				Note(first.at, "%s is made here", first.from).
				WithHelp("a machine cuts a board by one kerf: let both use one file for the laser, as in use \"shop.fore\"")
			return
		}
	}
}

// asTaken sees that a stock of the job's file is as all designs take it to be: what it says
// of kerf, grain and greys changes none of their parts.
func (s *shelf) asTaken(diags *diag.List, own *design.Stock, by []taken) {
	for _, t := range by {
		if a, ok := own.Kerf.Get(); ok && math.Abs(a-t.kerf.Or(math.Inf(1))) > geom.Tol {
			diags.Errorf("job-stock", own.At, "the kerf of %s is %s here, and %s is drawn %s", own.Declared, unit.FormatLength(a, s.own.Unit), t.from, s.drawn(t)).
				Note(t.at, "%s is made here", t.from).WithHelp("parts are cut by the kerf of their own design: state it once, in a file that the designs use")
			return
		}
		if own.Grain != 0 && own.Grain != t.grain {
			runs := "nothing is said of it"
			if t.grain != 0 {
				runs = "along its " + t.grain.String()
			}
			diags.Errorf("job-stock", own.At, "the grain of %s runs along its %s here, and in %s %s", own.Declared, own.Grain, t.from, runs).
				Note(t.at, "%s is made here", t.from).WithHelp("parts lie by the grain of their own design: state it once, in a file that the designs use")
			return
		}
		if own.Greys != nil && t.greys != "" && fmt.Sprint(own.Greys) != t.greys {
			diags.Errorf("job-stock", own.At, "the greys of %s here aren't those by which the pictures of %s are engraved", own.Declared, t.from).
				Note(t.at, "%s is made here", t.from).WithHelp("pictures are engraved by the greys of their own design: state them once, in a file that the designs use")
			return
		}
	}
}
