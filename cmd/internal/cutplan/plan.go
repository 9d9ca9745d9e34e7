package cutplan

import (
	"cmp"
	"fmt"
	"slices"

	"foredge/cmd/internal/cost"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A Plan is what lies on which sheet, and what that takes.
type Plan struct {
	Title  string
	Unit   unit.Unit // in which what is left over is told
	Lots   []Lot     // stated before what was laid of them is added
	Sheets []Sheet
	Stocks []Stock
	Parts  int // on all sheets

	drawn depth // what pictures show so far

}

// A Lot is a design, or an order of one, that is made so many times.
type Lot struct {
	Design string // "" where there is only one
	Order  string // its number, "" where its design has no orders
	Say    string // what its texts are, for who looks for it
	Covers []Cover
	Sheets []string // on which its parts lie, as these are called
	Parts  int
}

// title is what a lot is called on the page.
func (l *Lot) title() string {
	switch {
	case l.Order == "":
		return l.Design
	case l.Design == "":
		return "order " + l.Order
	}
	return fmt.Sprintf("%s, order %s", l.Design, l.Order)
}

// ofOrder says of which order a lot is, "" where its design has none.
func (l *Lot) ofOrder() string {
	if l.Order == "" {
		return ""
	}
	return "order " + l.Order
}

// charge is that of all covers of a lot.
func (l *Lot) charge() cost.Charge {
	sum := cost.Nothing()
	for i := range l.Covers {
		sum.Add(l.Covers[i].Charge)
	}
	return sum
}

// A Cover is one making of a lot.
type Cover struct {
	Name string // which begins the names of its parts
	cost.Charge
}

// A Sheet is what is run at once.
type Sheet struct {
	Name   string
	Stock  string
	Offcut bool
	Size   geom.Point // mm
	Used   float64    // the share of it that its parts cover, see [layout.Sheet.Covered]
	Files, // that are run for it, of which one is, and those of its inside
	InsideFiles []string
	Inside    bool          // it has one
	Gone      geom.Box      // the corner of it that is gone
	Hangs     layout.Offcut // all of it where some hangs over the bed, see [layout.Sheet]
	HangsLeft bool          // it does so at the left
	Grain     word.Grain    // along which of its sizes the grain runs, as it lies; 0 where nothing says it
	Knife     []sheet.Cut   // that part it, in their order; none where the laser does
	Sawn      *layout.Sawn  // of what it is a piece; nil where it is whole
	Parts     []Part        // in the order of their places
	// Minutes are those of the laser, Laser and Wood what its parts are charged with, in
	// cents; absent where that isn't known of one of them.
	Minutes     maybe.Of[float64]
	Laser, Wood maybe.Of[int64]

	outer, inside picture
}

// A Part is what lies on a sheet, with its share of what its cover is charged with.
type Part struct {
	Place  int // from 1, row by row from the head
	Name   string
	Lot    int // index of the lot
	Cover  int // index of its cover
	At     geom.Point
	Turned float64 // degrees, clockwise
	Inside bool    // something of it is on the inside too
	cost.Share
}

// A Stock is what is taken of one.
type Stock struct {
	layout.Use
	Once bool // all was laid at once, so that what less can't do is known
	// Charged is what covers are charged with for it, in cents, absent where that isn't known.
	Charged maybe.Of[int64]
}

// A Laid is what was laid at once, a sheet each of what runs it and how its files are called.
type Laid struct {
	*layout.Laid
	Runs  []cost.Run
	Names []Names
	Of    []Wanted // of each drawing that was laid
}

// Names are how the files of a sheet are called.
type Names struct {
	Sheet          string // without an ending
	Outer, Insides []string
}

// A Wanted is the cover that a drawing was laid for.
type Wanted struct {
	Lot     int
	Name    string
	Drawing *layout.Drawing // as it was laid
	Shop    design.Shop     // what it is charged by
}

// Add takes what was laid, and gives what each cover is charged with.
func (p *Plan) Add(laid Laid) []cost.Charge {
	first := len(p.Sheets)
	for i := range laid.Sheets {
		p.addSheet(&laid.Sheets[i], &laid.Runs[i], laid.Names[i])
	}
	covers := make([]cost.Cover, len(laid.Of))
	for i, w := range laid.Of {
		covers[i] = w.cover(laid.On[i])
	}
	charges, shares := cost.OfCovers(laid.Runs, covers)
	for i, w := range laid.Of {
		p.addCover(w, laid.On[i], first, charges[i], shares[i])
	}
	for i := range laid.Sheets {
		s := &p.Sheets[first+i]
		slices.SortFunc(s.Parts, func(a, b Part) int { return cmp.Compare(a.Place, b.Place) })
		s.sum()
		p.draw(s, &laid.Sheets[i])
	}
	for _, u := range laid.Stocks {
		p.addStock(u, p.Sheets[first:])
	}
	return charges
}

// addSheet adds a sheet on which nothing lies yet.
func (p *Plan) addSheet(s *layout.Sheet, run *cost.Run, names Names) {
	for i := range s.Outer.Parts {
		if !s.Outer.Parts[i].Common {
			p.Parts++
		}
	}
	its := SheetOf(s)
	its.Name, its.Files, its.InsideFiles, its.Inside, its.Minutes = names.Sheet, names.Outer, names.Insides, s.Inside != nil, run.Minutes
	p.Sheets = append(p.Sheets, its)
}

// SheetOf is what is known of a sheet by itself.
func SheetOf(s *layout.Sheet) Sheet {
	size := s.Outer.Size
	return Sheet{Stock: s.Stock, Offcut: s.Offcut, Size: size, Gone: s.Gone, Hangs: s.Hangs, HangsLeft: s.HangsLeft, Grain: s.Grain, Knife: s.Knife, Sawn: s.Sawn, Used: s.Covered() / (size.X*size.Y - s.Gone.Width()*s.Gone.Height())}
}

// cover is what lies on sheets for a cover.
func (w *Wanted) cover(on []layout.On) cost.Cover {
	drawn := map[string]layout.Part{}
	for _, part := range w.Drawing.Parts {
		drawn[part.Name] = part
	}
	c := cost.Cover{Shop: w.Shop, Pieces: make([]cost.Piece, len(on))}
	for i, o := range on {
		c.Pieces[i] = cost.Piece{Part: drawn[o.Of], Name: o.Part, On: o.Sheet}
	}
	return c
}

// addCover adds a cover and what its parts have of its charge; they lie on sheets of which the
// first is stated.
func (p *Plan) addCover(w Wanted, on []layout.On, first int, charge cost.Charge, shares []cost.Share) {
	lot := &p.Lots[w.Lot]
	for i, o := range on {
		s := &p.Sheets[first+o.Sheet]
		s.Parts = append(s.Parts, Part{o.Place, o.Part, w.Lot, len(lot.Covers), o.At, o.Turned, o.Inside, shares[i]})
		if !slices.Contains(lot.Sheets, s.Name) {
			lot.Sheets = append(lot.Sheets, s.Name)
		}
	}
	lot.Parts += len(on)
	lot.Covers = append(lot.Covers, Cover{w.Name, charge})
}

// sum adds up what the parts of a sheet are charged with.
func (s *Sheet) sum() {
	s.Laser, s.Wood = maybe.Is(int64(0)), maybe.Is(int64(0))
	for i := range s.Parts {
		s.Laser, s.Wood = plus(s.Laser, s.Parts[i].Laser), plus(s.Wood, s.Parts[i].Wood)
	}
}

func plus(a, b maybe.Of[int64]) maybe.Of[int64] {
	x, known := a.Get()
	y, also := b.Get()
	return maybe.If(x+y, known && also)
}

// addStock adds what was taken of a stock for sheets.
func (p *Plan) addStock(u layout.Use, sheets []Sheet) {
	charged := maybe.Is(int64(0))
	for i := range sheets {
		if sheets[i].Stock == u.Stock {
			charged = plus(charged, sheets[i].Wood)
		}
	}
	for i := range p.Stocks {
		if s := &p.Stocks[i]; s.Stock == u.Stock {
			s.Left = append(slices.Clip(s.Left[:len(s.Left)-s.Untouched]), u.Left...)
			s.Untouched = u.Untouched
			s.Used = (s.Used*s.Area + u.Used*u.Area) / (s.Area + u.Area)
			s.Area += u.Area
			s.Sheets += u.Sheets
			before, known := s.Cost.Get()
			price, also := u.Cost.Get()
			s.Cost = maybe.If(before+price, known && also)
			s.Charged, s.Once = plus(s.Charged, charged), false
			return
		}
	}
	p.Stocks = append(p.Stocks, Stock{u, true, charged})
}

// Charge is what all takes.
func (p *Plan) Charge() cost.Charge {
	sum := cost.Nothing()
	for i := range p.Lots {
		sum.Add(p.Lots[i].charge())
	}
	return sum
}
