package batch

import (
	"cmp"
	"maps"
	"slices"

	"foredge/layout"
)

// A further says, by wood and for each size of offcut on which an order is cut once, on which it is cut the further times, as
// [layout.Supply.ForEach] does.
type further map[string]map[layout.Offcut][]layout.Offcut

// larger reports whether some of them are larger than the first.
func (f further) larger() bool {
	for _, its := range f {
		for o, others := range its {
			for _, other := range others {
				if other != o {
					return true
				}
			}
		}
	}
	return false
}

// less reports whether an order takes fewer sheets, then fewer offcuts, then smaller ones in all, than laid otherwise.
func less(a *layout.Laid, aOn further, b *layout.Laid, bOn further, copies int) bool {
	sum := func(l *layout.Laid, on further) (sheets, offcuts int, area float64) {
		for _, wood := range slices.Sorted(maps.Keys(l.Taken)) {
			t := l.Taken[wood].Times(copies, on[wood])
			sheets, offcuts = sheets+t.Sheets, offcuts+len(t.Offcuts)
			for _, o := range t.Offcuts {
				area += o.Size.X*o.Size.Y - o.Gone.X*o.Gone.Y
			}
		}
		return sheets, offcuts, area
	}
	sheets, offcuts, area := sum(a, aOn)
	most, many, all := sum(b, bOn)
	return cmp.Or(cmp.Compare(sheets, most), cmp.Compare(offcuts, many), cmp.Compare(area, all)) < 0
}

// note notes on the sheets of an order where they are cut the further times.
func (f further) note(laid *layout.Laid, supplies map[string]layout.Supply, copies int) {
	type size struct {
		wood string
		layout.Offcut
	}
	met := map[size]int{}
	for i := range laid.Sheets {
		s := &laid.Sheets[i]
		if !s.Offcut || s.Sawn != nil {
			continue
		}
		its := size{supplies[s.Outer.Parts[0].Stock].Wood, s.Of}
		if all, from := f[its.wood][s.Of], met[its]; len(all) >= from+copies-1 {
			s.Further(all[from : from+copies-1])
		}
		met[its] += copies - 1
	}
}
