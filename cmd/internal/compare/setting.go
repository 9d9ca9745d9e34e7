package compare

import (
	"fmt"
	"slices"
	"strings"

	"foredge/eval"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/parse"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Setting is what a design says that is no dimension, and that no outline need tell:
// the kerf, a text, a stock.
type Setting struct {
	Name     string
	Change   Change
	Old, New string // "" where it isn't there
}

// A Stated is a setting of one version.
type Stated struct{ Name, Value string }

// Settings are those of a solved design, lengths in its own unit.
func Settings(s *eval.Solution) []Stated { return settings(s.Design(), s.Unit) }

func settings(d *design.Design, u unit.Unit) (all []Stated) {
	met := map[string]bool{} // of a stock, what it shares with one that it is like is met twice
	add := func(name, value string) {
		if !met[name] {
			met[name] = true
			all = append(all, Stated{name, value})
		}
	}
	length := func(name string, v maybe.Of[float64]) {
		if mm, ok := v.Get(); ok {
			add(name, unit.FormatLength(mm, u))
		}
	}
	l := d.Laser
	length("laser.kerf", l.Kerf)
	for _, scale := range []Stated{{"laser.scale-x", fmt.Sprint(l.ScaleX)}, {"laser.scale-y", fmt.Sprint(l.ScaleY)}} {
		if scale.Value != "1" {
			add(scale.Name, scale.Value)
		}
	}
	length("laser.line-width", l.LineWidth)
	if bed, ok := l.Bed.Get(); ok {
		add("laser.bed", size(bed, u))
	}
	for _, c := range []struct {
		name string
		of   maybe.Of[string]
	}{{"engrave", l.EngraveColour}, {"mark", l.MarkColour}, {"score", l.ScoreColour}, {"cut", l.CutColour}} {
		if colour, ok := c.of.Get(); ok {
			add("laser."+c.name+"-colour", colour)
		}
	}
	for _, p := range d.Panels {
		if p.Stock != nil {
			add(p.Name+".stock", p.Stock.Name)
		}
		if p.Copies > 1 {
			add(p.Name+".copies", fmt.Sprint(p.Copies))
		}
		for _, r := range p.Recesses {
			length(p.Name+"."+r.Name+".depth", maybe.Is(r.Depth))
		}
		for _, r := range p.Regions {
			for i, m := range r.Marks {
				name := p.Name + "." + r.Name
				if i > 0 {
					name = fmt.Sprintf("%s, mark %d", name, i+1)
				}
				of := ""
				if in := design.InlayOf(m); in != nil && in.Stock != nil {
					of = " of " + in.Stock.Name
				}
				switch m := m.(type) {
				case *design.Lettering:
					add(name, fmt.Sprintf("text %q%s", m.Text, of))
				case *design.Artwork:
					add(name, fmt.Sprintf("art %q%s", m.File, of))
				}
			}
		}
	}
	for _, c := range d.Cases {
		for _, piece := range []struct {
			name string
			of   *design.Stock
		}{{"covering", c.CoveringStock}, {"spine", c.SpineStock}, {"lining", c.LiningStock}} {
			if piece.of != nil {
				add(c.Name+"."+piece.name+"-stock", piece.of.Name)
			}
		}
	}
	for _, s := range stocks(d) {
		for _, said := range ofStock(s, u) {
			add(s.Name+"."+said.Name, said.Value)
		}
	}
	return all
}

// stocks are those from which something is cut, and then the others of the file.
func stocks(d *design.Design) []*design.Stock {
	all := d.Stocks()
	for _, s := range d.Declared {
		if !slices.ContainsFunc(all, func(o *design.Stock) bool { return o.At == s.At }) {
			all = append(all, s)
		}
	}
	return all
}

// ofStock is what a stock says of its sheets and of how parts are laid on them and cut out.
func ofStock(s *design.Stock, u unit.Unit) (all []Stated) {
	add := func(name, value string) { all = append(all, Stated{name, value}) }
	length := func(name string, v maybe.Of[float64]) {
		if mm, ok := v.Get(); ok {
			add(name, unit.FormatLength(mm, u))
		}
	}
	if s.Material.Name != "" {
		add("material", s.Material.Name)
	}
	length("kerf", s.Kerf)
	if sheet, ok := s.Size.Get(); ok {
		add("size", size(sheet, u))
	}
	if s.Grain != 0 {
		add("grain", "along "+s.Grain.String())
	}
	if n, ok := s.Quantity.Get(); ok {
		add("quantity", fmt.Sprint(n))
	}
	var offcuts []string
	for _, o := range s.Offcuts {
		said := size(o.Size, u)
		if o.Gone != (design.Size{}) {
			said += fmt.Sprintf(" less %s at %s", size(o.Gone, u), o.Corner)
		}
		offcuts = append(offcuts, said)
	}
	if len(offcuts) > 0 {
		add("offcuts", strings.Join(offcuts, ", "))
	}
	length("margin", s.Margin)
	length("spacing", s.Spacing)
	if s.Way.Knife.Yes {
		add("knife", "yes")
	}
	if s.Way.Shared.Yes {
		add("shared-cuts", "yes")
	}
	length("bridge", s.Way.Bridge)
	length("bridge-below", s.Way.BridgeBelow)
	return all
}

func size(s design.Size, u unit.Unit) string {
	return unit.FormatLength(s.Width, u) + " by " + unit.FormatLength(s.Height, u)
}

// settings are those that differ, in the order of the new version and then of the old.
func (d *Difference) settings() {
	u := d.New.solution().Unit
	was := map[string]string{}
	old := settings(d.Old.solution().Design(), u)
	for _, o := range old {
		was[o.Name] = o.Value
	}
	for _, n := range settings(d.New.solution().Design(), u) {
		value, there := was[n.Name]
		delete(was, n.Name)
		switch {
		case !there:
			d.Settings = append(d.Settings, Setting{n.Name, New, "", n.Value})
		case value != n.Value:
			d.Settings = append(d.Settings, Setting{n.Name, Moved, value, n.Value})
		}
	}
	for _, o := range old {
		if _, left := was[o.Name]; left {
			d.Settings = append(d.Settings, Setting{o.Name, Gone, o.Value, ""})
			delete(was, o.Name)
		}
	}
}

// Shared reports whether a version is there for others to use: nothing is cut of it.
func (v *Version) Shared() bool { return v.Result.Shared }

// saysOtherwise reports whether two texts differ in more than comments, blanks and empty
// lines. It is for files that others use, of which nothing is drawn that could be compared.
func saysOtherwise(a, b *source.File) bool { return !slices.Equal(Said(a), Said(b)) }

// Said is a text without its comments and blanks.
func Said(file *source.File) (said []string) {
	for _, t := range parse.Tokens(file) {
		if t.Kind != parse.Comment {
			said = append(said, file.Text()[t.Start:t.End])
		}
	}
	return said
}
