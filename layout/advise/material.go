package advise

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// Materials refuses what must never be cut, unless the design says why it may,
// which can't be silenced, and warns of what workshops differ over or nobody knows. That
// nobody knows is told once for all stocks of one material that don't silence it.
func Materials(n *Notes, d *design.Design) {
	unknown := map[string]*diag.Diagnostic{}
	for _, s := range d.Stocks() {
		m := s.Material
		switch {
		case m.Never != "" && s.Allow == "":
			n.Errorf("never-cut", m.At, "%s must not be cut by a laser: %s", m.Name, m.Never).
				WithHelp("use another material; if %s, write the reason into the stock, as in allow = \"the reason\"", unless(m))
		case m.Never != "":
			n.Warnf("allowed-material", m.At, "%s must not be cut by a laser: %s; here it is allowed because: %s", m.Name, m.Never, s.Allow).
				WithHelp("remove allow if that no longer holds; this can't be silenced")
		case m.Ask != "" && s.Allow == "":
			n.Warn(s.Quiet, "ask-workshop", m.At, "ask your workshop before you cut %s: %s", m.Name, m.Ask).
				WithHelp("%sif it may be cut there, write so into the stock, as in allow = \"the workshop's list has it\"%s", asks(m), Silence("ask-workshop", "stock"))
		case m.Ask != "" || m.Name == "" || m.GivesOff != "" || s.Quiet.Has("unknown-material"):
		case unknown[m.Name] != nil:
			if first := unknown[m.Name]; first.Span != m.At {
				first.Note(m.At, "%s is made of it too", s.Name)
			}
		default:
			unknown[m.Name] = n.Warn(s.Quiet, "unknown-material", m.At, "nobody has said what %s gives off when it is cut", m.Name)
			unknown[m.Name].WithHelp("%s%s", toBeKnown(m), Silence("unknown-material", "stock"))
		}
	}
}

// unless is when a material that must not be cut may be all the same.
func unless(m design.Material) string {
	switch {
	case m.Meant == "" || m.Meant == m.AsName:
		return "you know better than foredge"
	case m.Words == m.Meant:
		return fmt.Sprintf("there is no %s in it, as its name may mean, or you know better than foredge", m.Meant)
	}
	return fmt.Sprintf("there is no %s in it, as %q may mean, or you know better than foredge", m.Meant, m.Words)
}

// asks says as what a material is asked about, if its name doesn't.
func asks(m design.Material) string {
	if m.Meant == "" || m.Words == m.Meant {
		return ""
	}
	return fmt.Sprintf("by %q it may be %s; ", m.Words, m.Meant)
}

// toBeKnown is what to do so that something is said of a material.
func toBeKnown(m design.Material) string {
	const unnamed = "; don't cut plastics that nobody can name"
	switch {
	case m.Known:
		return "say it in the braces of the material if you know, as in gives-off = \"...\"" + unnamed
	case m.Quoted+m.OnShelf != "" && !strings.HasPrefix(m.At.Text(), `"`): // from a let or a column
		return fmt.Sprintf("a text names no material: write %s; where orders differ, in a stock for each, with a when", inFull(m))
	case m.Quoted != "":
		return fmt.Sprintf("in quotes it is no more than words: write %s without quotes, material = %[1]s", m.Quoted)
	case m.OnShelf != "":
		return fmt.Sprintf("the shelf knows it: write use materials at the top of the file, and without quotes material = %s", m.OnShelf)
	}
	return fmt.Sprintf("declare it if you know, as in material %s { gives-off = \"...\" }, and name it without quotes%s", m.AsName, unnamed)
}

// inFull is how to name the material that a text means.
func inFull(m design.Material) string {
	if m.Quoted != "" {
		return "material = " + m.Quoted
	}
	return fmt.Sprintf("use materials at the top of the file, and material = %s", m.OnShelf)
}

// Caution is what to say to whoever is about to cut a design: in one line, once a
// build. nil if the design's laser keeps it quiet. A card to try on and a jig are cut
// from scrap, of which the design says nothing.
func Caution(d *design.Design, scrap bool) *diag.Diagnostic {
	const code = "caution"
	if d.Laser.Quiet.Has(code) {
		return nil
	}
	if scrap {
		return CautionOf(nil)
	}
	return CautionOf(Hazards(d))
}

// CautionOf is the caution that names hazards.
func CautionOf(hazards []string) *diag.Diagnostic {
	const code = "caution"
	made := "cut only what you can name"
	if len(hazards) > 0 {
		made = strings.Join(hazards, "; ")
	}
	var l diag.List
	return l.Infof(code, source.Span{}, "before you cut: local rules and licensed practice first; stay with it, exhaust on, extinguisher at hand: light, fumes, fire (%s); see foredge help safety", made)
}

// Hazards says of each material of a design what it gives off and how it burns, of
// what is allowed why it must not be cut and by which reason, and which parts are of
// none.
func Hazards(d *design.Design) (words []string) {
	none := ofNoStock(d)
	for _, s := range d.Stocks() {
		said := cmp.Or(hazard(s), fmt.Sprintf("nobody has said what %s gives off", s.Material.Name))
		switch {
		case s.Material.Name == "" && !slices.Contains(none, s.Name):
			none = append(none, s.Name)
		case s.Material.Name != "" && !slices.Contains(words, said):
			words = append(words, said)
		}
	}
	if len(none) > 0 {
		words = append(words, fmt.Sprintf("nobody has said what %s made of", are(none)))
	}
	return words
}

// ofNoStock are the parts of a design of which nothing says what they are cut from.
func ofNoStock(d *design.Design) (names []string) {
	for i := range d.Panels {
		if p := &d.Panels[i]; p.Stock == nil {
			names = append(names, p.Name)
		}
	}
	for i := range d.Cases {
		c := &d.Cases[i]
		names = append(names, coveredWithNoStock(c)...)
		if c.Lining.Present() && c.LiningStock == nil {
			names = append(names, c.Name+".lining")
		}
	}
	return names
}

// coveredWithNoStock are the pieces that cover a case of which nothing says what they are
// cut from.
func coveredWithNoStock(c *design.Case) (names []string) {
	b, inTwo := c.Bound.Get()
	switch {
	case !inTwo:
		if c.TurnIn.Present() && c.CoveringStock == nil {
			names = append(names, c.Name+".covering")
		}
		return names
	case c.SpineStock == nil:
		names = append(names, c.Name+".spine")
		if b.CornerReach.Present() {
			names = append(names, c.Name+".corner")
		}
	}
	if c.CoveringStock == nil {
		names = append(names, c.Name+".side")
	}
	return names
}

// are lists what is meant, as far as it is few: "front is", "front, back and 3 more are".
func are(names []string) string {
	switch n := len(names); {
	case n == 1:
		return names[0] + " is"
	case n > 3:
		return fmt.Sprintf("%s and %d more are", strings.Join(names[:2], ", "), n-2)
	}
	return Listed(names) + " are"
}

// hazard says what a stock gives off when it is cut and how it burns, and of one
// that is allowed why it must not be cut; "" where nobody has said anything.
func hazard(s *design.Stock) string {
	m := s.Material
	var words []string
	switch {
	case m.Never != "" && s.Allow == "":
		words = append(words, "must not be cut: "+m.Never)
	case m.Never != "":
		words = append(words, fmt.Sprintf("is allowed here (%s), but must not be cut: %s", s.Allow, m.Never))
	case m.Ask != "" && s.Allow != "":
		words = append(words, fmt.Sprintf("is allowed here (%s), though %s", s.Allow, m.Ask))
	case m.Ask != "":
		words = append(words, "is to be asked about: "+m.Ask)
	}
	if m.GivesOff != "" {
		words = append(words, "gives off "+m.GivesOff)
	}
	if m.Burns != "" {
		words = append(words, "burns "+m.Burns)
	}
	if len(words) == 0 {
		return ""
	}
	return m.Name + " " + strings.Join(words, ", and ")
}

// Listed writes words one after another, of which there is one at least: "a, b and c".
func Listed(words []string) string {
	last := len(words) - 1
	if last == 0 {
		return words[0]
	}
	return strings.Join(words[:last], ", ") + " and " + words[last]
}
