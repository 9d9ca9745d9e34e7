package outcome

import (
	"fmt"
	"math"

	"foredge/eval/design"
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/solution"
)

// field puts the members of a field onto a panel, row after row from the head,
// each row from the spine: as cutouts or regions like any other, called by the
// field's name and their number across and down. The marks of all are the same.
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
				place(&r.Box)
				p.Regions = append(p.Regions, r)
				continue
			}
			c := cut
			place(&c.Box)
			p.Cutouts = append(p.Cutouts, c)
		}
	}
}
