package advise

import (
	"fmt"
	"slices"
	"strings"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// Materials refuses what must never be cut, unless the design says why it
// may, and warns of what nobody knows.
func Materials(n *Notes, d *design.Design) {
	for _, s := range d.Stocks() {
		m := s.Material
		switch {
		case m.Never != "" && s.Allow == "":
			n.Errorf("never-cut", m.At, "%s must not be cut by a laser: %s", m.Name, m.Never).
				WithHelp("use another material; if %s, write the reason into the stock, as in allow = \"the reason\"", unless(m))
		case m.Never != "":
			n.Warn(s.Quiet, "allowed-material", m.At, "%s must not be cut by a laser: %s; here it is allowed because: %s", m.Name, m.Never, s.Allow).
				WithHelp("remove allow if that no longer holds%s", Silence("allowed-material", "stock"))
		case m.Name != "" && m.GivesOff == "":
			n.Warn(s.Quiet, "unknown-material", m.At, "nobody has said what %s gives off when it is cut", m.Name).
				WithHelp("%s%s", toBeKnown(m), Silence("unknown-material", "stock"))
		}
	}
}

// unless is when a material that must not be cut may be all the same.
func unless(m design.Material) string {
	if m.Banned != "" && m.Banned != m.AsName {
		return fmt.Sprintf("there is no %s in it, as its name may mean, or you know better than foredge", m.Banned)
	}
	return "you know better than foredge"
}

// toBeKnown is what to do so that something is said of a material.
func toBeKnown(m design.Material) string {
	const unnamed = "; don't cut plastics that nobody can name"
	switch {
	case m.Known:
		return "say it in the braces of the material if you know, as in gives-off = \"wood smoke\"" + unnamed
	case m.Quoted != "":
		return fmt.Sprintf("in quotes it is no more than words: write %s without quotes, material = %[1]s", m.Quoted)
	case m.OnShelf != "":
		return fmt.Sprintf("the shelf knows it: write use materials at the top of the file, and without quotes material = %s", m.OnShelf)
	}
	return fmt.Sprintf("declare it if you know, as in material %s { gives-off = \"wood smoke\" }, and name it without quotes%s", m.AsName, unnamed)
}

// Caution is what to say to whoever is about to cut a design: in one line, once a
// build. nil if the design's laser keeps it quiet. A card to try on is of no
// material of the design's.
func Caution(d *design.Design, card bool) *diag.Diagnostic {
	const code = "caution"
	if d.Laser.Quiet.Has(code) {
		return nil
	}
	var off []string
	for _, s := range d.Stocks() {
		if words := s.Material.Name + " gives off " + s.Material.GivesOff; s.Material.GivesOff != "" && !card && !slices.Contains(off, words) {
			off = append(off, words)
		}
	}
	made := "cut only what you can name"
	if len(off) > 0 {
		made = strings.Join(off, "; ")
	}
	var l diag.List
	return l.Infof(code, source.Span{}, "before you cut: workshop rules first; stay with the laser, exhaust on, extinguisher at hand: light, fumes, fire (%s); see foredge help caution", made)
}
