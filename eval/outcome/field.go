package outcome

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/solution"
)

// field puts the members of a field onto a panel, row after row from the head,
// each row from the spine: as cutouts or regions like any other, called by the
// field's name and their number across and down. Listed texts go to them as they
// are read, from left to right.
func field(s *solution.Solution, m *model.Field, p *design.Panel) {
	of := func(n dim.Name) float64 { return s.Of(&m.Thing, n) }
	across, down := int(math.Round(of(dim.Across))), int(math.Round(of(dim.Down)))
	var cut design.Cutout
	var area design.Region
	isRegion := false
	switch each := m.Each[0].(type) {
	case *model.Cutout:
		cut = cutout(s, each)
	case *model.Region:
		area, isRegion = region(s, each), true
	}
	for j := range down {
		for i := range across {
			place := func(b *design.Box) {
				b.Name = fmt.Sprintf("%s.%d.%d", m.Name, i+1, j+1)
				// A pitch that nothing needs may be open.
				b.Spine, b.Head = of(dim.Spine), of(dim.Head)
				if i > 0 {
					b.Spine += float64(i) * of(dim.PitchAcross)
				}
				if j > 0 {
					b.Head += float64(j) * of(dim.PitchDown)
				}
				b.Foredge, b.Tail = p.Width-b.Spine-b.Width, p.Height-b.Head-b.Height
			}
			if isRegion {
				r := area
				k := i
				if p.Mirrored != r.Inside { // the spine is at the right
					k = across - 1 - i
				}
				r.Marks = memberMarks(m.Each[0].(*model.Region), area.Marks, j*across+k)
				place(&r.Box)
				p.Regions = append(p.Regions, r)
				continue
			}
			c := cut
			place(&c.Box)
			addCutout(s, p, m.Each[0].(*model.Cutout), c)
		}
	}
}

// memberMarks are the marks of a field's member, the k-th as one reads: those that
// all have, but for the texts of its own.
func memberMarks(each *model.Region, shared []design.Mark, k int) []design.Mark {
	marks := shared
	for i, m := range each.Marks {
		l, ok := m.(*model.Lettering)
		if !ok || k >= len(l.Each) {
			continue
		}
		own := *shared[i].(*design.Lettering)
		own.Text, own.TextAt = l.Each[k].Text, l.Each[k].At
		if &marks[0] == &shared[0] {
			marks = slices.Clone(shared)
		}
		marks[i] = &own
	}
	return marks
}
