package job

import (
	"cmp"
	"slices"

	"foredge/eval/design"
)

// before lays what the job's file says of a bed, of sheets and of how parts are cut out of them
// over what a design says, so that the design is drawn and judged by what holds in the job.
func (s *shelf) before(d *design.Design) {
	replace(&d.Laser.Bed, s.own.Laser.Bed)
	stocks := d.Stocks()
	for _, k := range stocks {
		for _, own := range s.own.Declared {
			named := slices.ContainsFunc(stocks, func(o *design.Stock) bool { return o.Name == own.Name })
			switch {
			case own.Name == k.Name, !named && speaksOf(own, k, k.Thick):
				sheets(k, own)
				ways(k, own)
				k.Quiet = append(slices.Clone(k.Quiet), own.Quiet...)
			case k.Wood != k.Name && own.Name == k.Wood:
				sheets(k, own)
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

// ways does so with how parts lie on them and are cut out.
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
