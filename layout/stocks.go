package layout

import (
	"cmp"
	"foredge/eval/maybe"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/word"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A Supply is what there is of a stock: how large its sheets are in mm, as far as the laser
// reaches them, and what is left of earlier ones.
type Supply struct {
	// Sheet is how large a sheet is; 0 by 0 where nothing says it. Bed is how far the laser
	// reaches, without end where that isn't stated.
	Sheet, Bed geom.Point
	Quantity   maybe.Of[int]     // of sheets; absent, as many as it takes
	Begun      int               // how many sheets were taken before
	Price      maybe.Of[float64] // of a sheet
	Offcuts    []Offcut
	// Margin is how far parts stay from the edges of a sheet and Spacing how far from each
	// other, measured from what is cut.
	Margin, Spacing float64
	// Apart says that one of the two is stated.
	Apart bool
	Way   design.Way // in which parts are cut out
	// Lines are those of the stock that state some of this, and Quiet is what is not to be told
	// of it. Stated says that there is such a stock.
	Lines  design.Lines
	Quiet  design.Quiet
	Stated bool
	// Wood is the name of the stock of which all this is; several stocks may be of one wood, which
	// is there once for all of them. "" is no other's.
	Wood string
}

// A Taken is what was cut from a wood.
type Taken struct {
	Sheets  int
	Offcuts []Offcut
	Left    []Offcut // pieces of sheets that were sawn, from which nothing was cut
}

// Plus is what was taken and other things too.
func (t Taken) Plus(other Taken) Taken {
	return Taken{t.Sheets + other.Sheets, slices.Concat(t.Offcuts, other.Offcuts), slices.Concat(t.Left, other.Left)}
}

// Stated is what was taken of what is stated: without the pieces of sheets that were sawn, which are nobody
// else's until a stock states them.
func (t Taken) Stated() Taken {
	return Taken{Sheets: t.Sheets, Offcuts: stated(t.Offcuts)}
}

// stated are the offcuts that a stock states.
func stated(all []Offcut) []Offcut {
	return slices.DeleteFunc(slices.Clone(all), func(o Offcut) bool { return o.Of != nil })
}

// Less is what is left of a supply from which something was taken, with what that has left.
func (s Supply) Less(t Taken) Supply {
	if n, limited := s.Quantity.Get(); limited {
		s.Quantity = maybe.Is(max(0, n-t.Sheets))
	}
	s.Begun += t.Sheets
	s.Offcuts = slices.Concat(s.Offcuts, t.Left)
	for _, o := range t.Offcuts {
		if i := slices.Index(s.Offcuts, o); i >= 0 {
			s.Offcuts = slices.Delete(s.Offcuts, i, i+1)
		}
	}
	return s
}

// Times is what is taken if all of it is cut so many times, the further times on others as [Supply.ForEach] gives
// them, or else on equal ones.
func (t Taken) Times(n int, others map[Offcut][]Offcut) Taken {
	met := map[Offcut]int{}
	var all []Offcut
	for _, o := range t.Offcuts {
		further := slices.Repeat([]Offcut{o}, n-1)
		if from := met[o]; len(others[o]) >= from+n-1 {
			further = others[o][from : from+n-1]
		}
		met[o] += n - 1
		all = append(append(all, o), further...)
	}
	return Taken{t.Sheets * n, all, slices.Repeat(t.Left, n)}
}

// Counted reports whether anything says how many sheets or which offcuts there are.
func (s Supply) Counted() bool { return s.Quantity.Present() || len(s.Offcuts) > 0 }

// ForEach is what there is for each of n times that the same is cut: the n-th part of the sheets, and of n offcuts the smallest where
// the others hold all that lies on it. These are told for each such offcut, n-1 of them each time that there is one of its size. They
// may be larger only where that is asked for; then the largest ones, as many as are to be spared, are used for nothing.
func (s Supply) ForEach(n int, larger bool, spared int) (each Supply, others map[Offcut][]Offcut) {
	if sheets, limited := s.Quantity.Get(); limited {
		s.Quantity = maybe.Is(sheets / n)
	}
	area := func(o Offcut) float64 { return o.Size.X*o.Size.Y - o.Gone.X*o.Gone.Y }
	all := slices.Clone(s.Offcuts)
	if larger {
		slices.SortStableFunc(all, func(a, b Offcut) int { return cmp.Compare(area(b), area(a)) })
		all = all[min(spared, len(all)):]
	}
	others, s.Offcuts = map[Offcut][]Offcut{}, nil
	used := make([]bool, len(all))
	for i, o := range all {
		var its []int // the smallest that hold as much, equal ones first
		for k := len(all) - 1; k >= 0 && len(its) < n-1; k-- {
			if !used[k] && k != i && all[k] == o {
				its = append(its, k)
			}
		}
		for k := len(all) - 1; k >= 0 && len(its) < n-1 && larger; k-- {
			if !used[k] && all[k] != o && s.holds(all[k], o) {
				its = append(its, k)
			}
		}
		if used[i] || len(its) < n-1 {
			continue
		}
		used[i] = true
		s.Offcuts = append(s.Offcuts, o)
		for _, k := range its {
			used[k] = true
			others[o] = append(others[o], all[k])
		}
	}
	return s, others
}

// Takes reports whether one of some parts may lie on an offcut. Beside a corner that is gone it is sure of rectangles only.
func (s Supply) Takes(o Offcut, parts []Part) bool {
	room := geom.Pt(o.Size.X-2*s.Margin+geom.Tol, o.Size.Y-2*s.Margin+geom.Tol)
	return slices.ContainsFunc(parts, func(p Part) bool {
		box := p.Footprint()
		edge := p.edge()
		plain := false
		if edge >= 0 {
			_, plain = geom.Plain(p.Shapes[edge].Figure).(geom.Rect)
		}
		fits := func(w, h float64) bool {
			return w <= room.X && h <= room.Y && (!plain || w <= room.X-o.Gone.X || h <= room.Y-o.Gone.Y)
		}
		return fits(box.Width(), box.Height()) || p.Grain == 0 && fits(box.Height(), box.Width())
	})
}

// holds reports whether all that lies on an offcut lies on another that is larger, in the same corner of the bed.
func (s Supply) holds(larger, o Offcut) bool {
	on, turned := sheet.OnBed(larger.Size, s.Bed, s.Way.Knife.Yes)
	fits, across := sheet.OnBed(o.Size, s.Bed, s.Way.Knife.Yes)
	return on && fits && turned == across && larger.Size.X >= o.Size.X && larger.Size.Y >= o.Size.Y &&
		(larger.Gone == geom.Point{} || larger.lacksLess(o))
}

// lacksLess reports whether what is gone of an offcut is gone of a smaller one too, at the same place.
func (o Offcut) lacksLess(smaller Offcut) bool {
	sameWidth := o.Size.X == smaller.Size.X || o.Corner == sheet.LeftTop || o.Corner == sheet.LeftBottom
	sameHeight := o.Size.Y == smaller.Size.Y || o.Corner == sheet.LeftTop || o.Corner == sheet.RightTop
	return o.Corner == smaller.Corner && sameWidth && sameHeight && o.Gone.X <= smaller.Gone.X && o.Gone.Y <= smaller.Gone.Y
}

// taken is what pages take of a supply.
func (s Supply) taken(pages []page) (t Taken) {
	t.Sheets = wholeOf(pages)
	seen := map[int]bool{}
	for _, p := range pages {
		if p.offcut != whole && !seen[p.offcut] { // of one that is sawn there are several
			seen[p.offcut] = true
			t.Offcuts = append(t.Offcuts, s.Offcuts[p.offcut])
		}
		for _, r := range p.rest {
			if min(r.Size.X, r.Size.Y) >= leastLeft {
				t.Left = append(t.Left, r)
			}
		}
	}
	return t
}

// An Offcut is a sheet that is left of an earlier one, as it lies, in mm. Gone is how much
// of it is gone at a corner, 0 by 0 where nothing is.
type Offcut struct {
	Size, Gone geom.Point
	Corner     sheet.Corner
	// Of says of what it is a piece that was sawn for others of the same design or job, nil of one that is stated.
	Of *Sawn
}

// Area is what is there of it, in mm².
func (o Offcut) Area() float64 { return o.Size.X*o.Size.Y - o.Gone.X*o.Gone.Y }

// turned is an offcut turned by a quarter clockwise.
func (o Offcut) turned() Offcut {
	corner := [...]sheet.Corner{sheet.LeftTop: sheet.RightTop, sheet.RightTop: sheet.RightBottom, sheet.RightBottom: sheet.LeftBottom, sheet.LeftBottom: sheet.LeftTop}
	return Offcut{Size: geom.Pt(o.Size.Y, o.Size.X), Gone: geom.Pt(o.Gone.Y, o.Gone.X), Corner: corner[o.Corner]}
}

// TurnedOver is an offcut turned over like a page.
func (o Offcut) TurnedOver() Offcut {
	o.Corner = [...]sheet.Corner{sheet.LeftTop: sheet.RightTop, sheet.RightTop: sheet.LeftTop, sheet.LeftBottom: sheet.RightBottom, sheet.RightBottom: sheet.LeftBottom}[o.Corner]
	return o
}

// gone is the corner that is missing, from the left upper corner of the whole; not ok where
// none is.
func (o Offcut) gone() (box geom.Box, ok bool) {
	box.Max = o.Gone
	if o.Corner == sheet.RightTop || o.Corner == sheet.RightBottom {
		box.Min.X, box.Max.X = o.Size.X-o.Gone.X, o.Size.X
	}
	if o.Corner == sheet.LeftBottom || o.Corner == sheet.RightBottom {
		box.Min.Y, box.Max.Y = o.Size.Y-o.Gone.Y, o.Size.Y
	}
	return box, min(o.Gone.X, o.Gone.Y) > 0
}

// At is where something is gone, as a design says it.
func (o Offcut) At() word.SheetCorner {
	return [...]word.SheetCorner{sheet.LeftTop: word.HeadLeft, sheet.RightTop: word.HeadRight, sheet.LeftBottom: word.TailLeft, sheet.RightBottom: word.TailRight}[o.Corner]
}

// cornerAt is a corner that a design names.
func cornerAt(c word.SheetCorner) sheet.Corner {
	switch c {
	case word.HeadRight:
		return sheet.RightTop
	case word.TailLeft:
		return sheet.LeftBottom
	case word.TailRight:
		return sheet.RightBottom
	}
	return sheet.LeftTop
}

// Otherwise says by which line of a stock two supplies differ in how large sheets are, how many there are,
// what one costs or how parts lie on them and are cut out; "" where they are the same.
func (s Supply) Otherwise(than Supply) string {
	a, b := s.Way, than.Way
	switch {
	case s.Sheet != than.Sheet:
		return "size"
	case s.Quantity != than.Quantity:
		return "quantity"
	case s.Price != than.Price:
		return "price"
	case !slices.Equal(s.Offcuts, than.Offcuts):
		return "offcuts"
	case a.Knife.Yes != b.Knife.Yes:
		return "knife"
	case s.Margin != than.Margin:
		return "margin"
	case s.Spacing != than.Spacing:
		return "spacing"
	case a.Shared.Yes != b.Shared.Yes:
		return "shared-cuts"
	case a.Bridge != b.Bridge:
		return "bridge"
	case a.BridgeBelow != b.BridgeBelow:
		return "bridge-below"
	}
	return ""
}

// Known reports whether anything says how large the sheets are.
func (s Supply) Known() bool { return s.Sheet != (geom.Point{}) }

// upright is how much of a sheet lies on the bed as it is stated.
func (s Supply) upright() geom.Point {
	return geom.Pt(min(s.Bed.X, s.Sheet.X), min(s.Bed.Y, s.Sheet.Y))
}

// farthest is how far in mm a laser is taken to reach at the most, which is how large a sheet may be.
const farthest = 1e5

// stock is an offcut, or a whole sheet, as it is laid.
func (s Supply) stock(o Offcut) sheet.Stock {
	return sheet.Stock{Width: o.Size.X, Height: o.Size.Y, Gone: o.Gone, Corner: o.Corner, Margin: s.Margin, Spacing: s.Spacing, Bed: maybe.Is(geom.Pt(min(s.Bed.X, farthest), min(s.Bed.Y, farthest))),
		Shared: s.Way.Shared.Yes, Knife: maybe.If(s.Spacing, s.Way.Knife.Yes)}
}

// across is what there is of a stock without a grain: what goes onto the bed only turned by a quarter is
// turned, and parts lie upright on it.
func (s Supply) across() Supply {
	turned := func(size geom.Point) bool {
		_, turned := sheet.OnBed(size, s.Bed, s.Way.Knife.Yes)
		return turned
	}
	if turned(s.Sheet) {
		s.Sheet = geom.Pt(s.Sheet.Y, s.Sheet.X)
	}
	s.Offcuts = slices.Clone(s.Offcuts)
	for i, o := range s.Offcuts {
		if o.Of == nil && turned(o.Size) {
			s.Offcuts[i] = o.turned()
		}
	}
	return s
}

// Supplies is what there is of each stock of a drawing's parts, "" being none: sheets as
// large as is stated, or as the bed.
func Supplies(solved *design.Design, wanted *Drawing) map[string]Supply {
	all := map[string]Supply{}
	for _, p := range wanted.Parts {
		all[p.Stock] = SupplyOf(nil, solved.Laser.Bed)
	}
	for _, s := range solved.Stocks() {
		all[s.Name] = SupplyOf(s, solved.Laser.Bed)
	}
	return all
}

// SupplyOf is what there is of a stock, or of what has none if that is nil, for a laser with
// such a bed.
func SupplyOf(s *design.Stock, bed maybe.Of[design.Size]) Supply {
	supply := Supply{Bed: geom.Pt(math.Inf(1), math.Inf(1)), Margin: sheetMargin, Spacing: Spacing}
	if size, known := bed.Get(); known {
		supply.Bed = geom.Pt(size.Width, size.Height)
		supply.Sheet = supply.Bed
	}
	if s == nil {
		return supply
	}
	if size, ok := s.Size.Get(); ok {
		supply.Sheet = geom.Pt(size.Width, size.Height)
	}
	supply.Quantity, supply.Price = s.Quantity, s.Price
	supply.Lines, supply.Quiet, supply.Stated, supply.Wood = s.Lines, s.Quiet, true, s.Wood
	supply.Margin, supply.Spacing = s.Margin.Or(supply.Margin), s.Spacing.Or(supply.Spacing)
	supply.Apart = s.Margin.Present() || s.Spacing.Present()
	if supply.Way = s.Way; s.Way.Knife.Yes {
		supply.Spacing = s.Spacing.Or(0) // a blade takes nothing away
		supply.Margin = sheet.Stock{Margin: supply.Margin, Knife: maybe.Is(supply.Spacing)}.Clear()
	}
	for _, o := range s.Offcuts {
		supply.Offcuts = append(supply.Offcuts, Offcut{Size: geom.Pt(o.Size.Width, o.Size.Height), Gone: geom.Pt(o.Gone.Width, o.Gone.Height), Corner: cornerAt(o.Corner)})
	}
	return supply
}

// FitsAsDrawn reports whether what is drawn can be cut as it stands: all of it is of one
// stock, each part is wanted once, it is no larger than a sheet, of which there is one and which needn't be sawn
// nor, having a grain, be turned for the bed, no offcut waits to be used, nothing says how far parts are to stay
// apart, and they aren't cut by a knife or together.
func (d *Drawing) FitsAsDrawn(supplies map[string]Supply) bool {
	if !d.OneStock() || slices.ContainsFunc(d.Parts, func(p Part) bool { return p.Copies > 1 }) {
		return false
	}
	if len(d.Parts) == 0 {
		return true
	}
	supply := supplies[d.Parts[0].Stock]
	on := supply.upright()
	if ok, turned := sheet.OnBed(supply.Sheet, supply.Bed, supply.Way.Knife.Yes); supply.Known() && (!ok || turned && d.Parts[0].Grain != 0) {
		return false
	}
	return supply.Quantity.Or(1) > 0 && len(supply.Offcuts) == 0 && !supply.Apart && !supply.Way.Knife.Yes && !supply.Way.Shared.Yes && (!supply.Known() || d.Size.X <= on.X+geom.Tol && d.Size.Y <= on.Y+geom.Tol)
}
