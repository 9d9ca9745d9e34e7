package layout

import (
	"fmt"
	"slices"
	"strings"

	"foredge/eval"
	"foredge/lang/diag"
)

// stocks lists what a design is cut from, each once, in the order in which it
// is met.
func stocks(d *eval.Design) []*eval.Stock {
	var all []*eval.Stock
	add := func(s *eval.Stock) {
		if s != nil && !slices.ContainsFunc(all, func(o *eval.Stock) bool { return o.At == s.At }) {
			all = append(all, s)
		}
	}
	for i := range d.Panels {
		add(d.Panels[i].Stock)
		for _, r := range d.Panels[i].Regions {
			for _, m := range r.Marks {
				add(m.Stock)
			}
		}
	}
	for i := range d.Spreads {
		add(d.Spreads[i].CoveringStock)
		add(d.Spreads[i].LiningStock)
	}
	return all
}

// checkMaterials refuses what must never be cut, unless the design says why it
// may, and warns of what nobody knows.
func (dr *drawer) checkMaterials() {
	for _, s := range stocks(dr.design) {
		switch {
		case s.Never != "" && s.Allow == "":
			dr.diags.Errorf("never-cut", s.MaterialAt, "%s must not be cut by a laser: %s", s.Material, s.Never).
				WithHelp("take another material; whoever knows better than foredge writes why into the stock, as in allow = \"the reason\"")
		case s.Never != "":
			dr.warn(s.Quiet, "allowed-material", s.MaterialAt, "%s must not be cut by a laser: %s; here it is allowed because: %s", s.Material, s.Never, s.Allow).
				WithHelp("take allow out if that no longer holds%s", leave("allowed-material", "stock"))
		case s.Material != "" && !s.Known:
			help := fmt.Sprintf("declare it if you know, as in material %s { gives-off = \"...\" }, and don't cut plastics that nobody can name", hyphened(s.Material))
			if s.OnShelf != "" {
				help = "the shelf knows it: write use materials at the top of the file, and material = " + s.OnShelf
			}
			dr.warn(s.Quiet, "unknown-material", s.MaterialAt, "nobody has said what %s gives off when it is cut", s.Material).
				WithHelp("%s%s", help, leave("unknown-material", "stock"))
		}
	}
}

func hyphened(word string) string {
	return strings.ReplaceAll(strings.ToLower(strings.TrimSpace(word)), " ", "-")
}

// Caution is what to say to whoever is about to cut a design: briefly, once a
// build. nil if the design's laser keeps it quiet. A card to try on is of no
// material of the design's.
func Caution(d *eval.Design, card bool) *diag.Diagnostic {
	const code = "caution"
	if d.Laser.Quiet.Has(code) {
		return nil
	}
	var off []string
	for _, s := range stocks(d) {
		if words := s.Material + " gives off " + s.GivesOff; s.GivesOff != "" && !card && !slices.Contains(off, words) {
			off = append(off, words)
		}
	}
	made := "cut only what you can name"
	if len(off) > 0 {
		made = strings.Join(off, "; ")
	}
	var l diag.List
	return l.Infof(code, d.Laser.At, "before you cut: the light blinds, what is cut may burn, its fumes and dust harm eyes and lungs (%s)", made).
		WithHelp("stay with the laser, its guards closed, its exhaust on, an extinguisher at hand; the rules of your workshop and country and its maker come first; quiet = caution in the laser leaves this out")
}
