package job

import (
	"cmp"
	"slices"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/layout"
)

// together has the designs of a job drawn and judged by the bed and the sheets on which their parts
// will lie, and by how these are cut: by what the job's file and all designs say of them together.
// What contradicts itself there is told later, of the parts that are drawn. It gives, of stocks whose grain
// another design states, where.
func together(own *design.Design, designs []*design.Design) (grained map[*design.Stock]source.Span) {
	s := newShelf(own)
	grained = map[*design.Stock]source.Span{}
	var later diag.List
	for _, d := range designs {
		s.reaches(&d.Laser)
		for _, k := range d.Stocks() {
			s.met(k.Name, k, "", k.At, &later)
		}
	}
	for _, name := range s.order {
		s.over(&later, s.of[name])
	}
	for _, d := range designs {
		d.Laser.Bed = s.bed
		d.EachStock(func(k *design.Stock) {
			said := s.of[k.Name].said
			sheets(k, said)
			ways(k, said)
			sameMaterial(k, said)
			if k.Grain == 0 && said.Grain != 0 {
				k.Grain = said.Grain // of the sheets on which its parts will lie
				grained[k] = s.of[k.Name].whose("grain").at
			}
			k.Quiet = slices.Concat(k.Quiet, s.ownStock(k.Name).Quiet, s.own.Laser.Quiet)
		})
	}
	return grained
}

// sized notes of what is too large where the job's file says how large bed and sheets are, and where
// another design says how the grain runs.
func (s *shelf) sized(found diag.List, wanted *layout.Drawing, grained map[*design.Stock]source.Span) {
	for _, d := range found {
		if d.Code != "too-large" || d.Severity != diag.Error {
			continue
		}
		if s.own.Laser.Bed.Present() {
			d.Note(s.own.Laser.At, "the file of the job says how large the bed is")
		}
		k := slices.IndexFunc(wanted.Parts, func(p layout.Part) bool { return p.At == d.Span && p.Of != nil })
		if k >= 0 {
			if at, of := grained[wanted.Parts[k].Of], wanted.Parts[k].Of; !at.IsZero() {
				d.Note(at, "the grain of %s runs along its %s here", of.Name, of.Grain)
			}
		}
		for _, own := range s.own.Declared {
			if k >= 0 && own.Size.Present() && speaksOf(own, wanted.Parts[k].Of, wanted.Parts[k].Of.Thick) {
				d.Note(own.At, "the file of the job says how large sheets of %s are", own.Name)
			}
		}
	}
}

// sheets lays what one stock says of its sheets and of what is left of earlier ones over what
// another says.
func sheets(k, own *design.Stock) {
	replace(&k.Size, own.Size)
	if len(own.Offcuts) > 0 {
		k.Offcuts, k.Lines.Offcuts = own.Offcuts, own.Lines.Offcuts
	}
}

// sameMaterial has a stock be of the material that another states, where it states none itself: what must
// not be cut mustn't be cut as wood of which nobody says what it is.
func sameMaterial(k, said *design.Stock) {
	if k.Material.AsName == "" {
		k.Material, k.Allow = said.Material, said.Allow
	}
}

// ways lays what one says of how parts lie on them and are cut out.
func ways(k, own *design.Stock) {
	replace(&k.Margin, own.Margin)
	replace(&k.Spacing, own.Spacing)
	k.Lines.Margin = cmp.Or(own.Lines.Margin, k.Lines.Margin)
	k.Lines.Spacing = cmp.Or(own.Lines.Spacing, k.Lines.Spacing)
	k.Way.Knife = cmp.Or(own.Way.Knife, k.Way.Knife)
	k.Way.Shared = cmp.Or(own.Way.Shared, k.Way.Shared)
	if own.Way.Bridge.Present() || own.Way.BridgeBelow.Present() {
		k.Way.BridgeAt = own.Way.BridgeAt
	}
	replace(&k.Way.Bridge, own.Way.Bridge)
	replace(&k.Way.BridgeBelow, own.Way.BridgeBelow)
}
