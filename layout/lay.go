package layout

import (
	"context"
	"errors"
	"fmt"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/source"
	"maps"
	"slices"
	"strings"

	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A Sheet is a sheet of one stock with what was laid on it.
type Sheet struct {
	Stock  string // of parts that name none "3 mm stock" and so on, "" where that isn't known either
	Offcut bool   // it is an offcut of it
	// Gone is the corner of it that is gone, 0 by 0 where none is.
	Gone geom.Box
	// Hangs is all of it, as it lies, where some hangs over the bed and isn't drawn; 0 by 0 where none does.
	Hangs Offcut
	// HangsLeft says that it does so at the left, as one that is turned for its grain.
	HangsLeft bool
	// Grain is along which of its sizes the grain runs, as the sheet lies; 0 where nothing
	// says it.
	Grain word.Grain
	Outer *Drawing
	// Inside has the marks of the inner faces as the sheet lies when it is turned
	// over like a page, from the same corner; nil if there are none. Its parts are
	// still one with the sheet: it is run first.
	Inside *Drawing
	// Knife are the cuts of a knife that part it, in their order; nil where the laser cuts it.
	Knife []sheet.Cut
	// outlined says that its parts lie by their outlines.
	outlined bool
	// Sawn says of what sheet or offcut this is a piece, and Number which sheet of its stock, from 1;
	// nil where it isn't sawn, and 0 where it is an offcut or lies on none.
	Sawn   *Sawn
	Number int
	// Of is the offcut as it is stated, and Others are larger ones, as they lie, on which the same is cut the further times.
	Of     Offcut
	Others []Offcut
}

// Further notes on which offcuts, as they are stated, the same is cut the further times, where these are others.
func (s *Sheet) Further(others []Offcut) {
	if !slices.ContainsFunc(others, func(o Offcut) bool { return o != s.Of }) {
		return
	}
	lies := s.Outer.Size
	if s.Hangs.Size != (geom.Point{}) {
		lies = s.Hangs.Size
	}
	for _, o := range others {
		if lies != s.Of.Size {
			o = o.turned()
		}
		s.Others = append(s.Others, o)
	}
}

// A Wanted is a drawing whose parts are to lie on sheets, as [Drawing.Kerfed] gives it.
type Wanted struct {
	Name    string // goes before the names of its parts; "" for nothing
	Drawing *Drawing
	Faces   []Face // the inner faces of its parts, as [Inside] draws them
}

// On says where a part lies.
type On struct {
	Part   string     // as it is called on the sheet
	Of     string     // as it is called in its drawing
	Sheet  int        // which of those that were laid, from 0
	Place  int        // which of the parts on the sheet, from 1: row by row from the head, each from the left
	Inside bool       // on the sheet's inside too
	Turned float64    // by so many degrees, clockwise as seen: 90, 180 or 270
	At     geom.Point // the left upper corner of what is cut, in mm from that of the sheet
}

// A Search says how to look for few sheets.
type Search struct {
	Effort float64 // how much of [sheet.Options]'s is spent
	// KeepBest takes the best that was found when the context ends, and makes no error of that.
	KeepBest bool
	// Progress, if it isn't nil, is told now and then how far the search is that goes on for
	// one stock, the Group. There may be several for one.
	Progress func(sheet.Progress)
}

// of is the search for one stock.
func (s Search) of(stock string) Search {
	if tell := s.Progress; tell != nil {
		s.Progress = func(p sheet.Progress) { p.Group = stock; tell(p) }
	}
	return s
}

// ended is the end of ctx where nothing is to be kept.
func (s Search) ended(ctx context.Context) error {
	if s.KeepBest {
		return nil
	}
	return ctx.Err()
}

// A SheetError says that a part is larger than the sheet.
type SheetError struct {
	Part                       Part
	Width, Height, OnW, OnHigh float64    // mm, kerf included; what of the sheet lies on the bed
	Sheet                      geom.Point // all of it, mm
	Grained                    bool       // it would fit if it were turned, but for the grain
}

func (e SheetError) Error() string {
	said := fmt.Sprintf("%s, %s by %s mm as it is cut, is too large for a sheet of %s by %s mm",
		e.Part.Name, millimetres(e.Width), millimetres(e.Height), millimetres(e.Sheet.X), millimetres(e.Sheet.Y))
	if e.OnW < e.Sheet.X || e.OnHigh < e.Sheet.Y {
		said += fmt.Sprintf(", of which %s by %s mm lie on the bed", millimetres(e.OnW), millimetres(e.OnHigh))
	}
	if e.Grained {
		said += ", as its grain is to run"
	}
	return said
}

// A Laid is what became of [Lay].
type Laid struct {
	Sheets []Sheet
	On     [][]On // where the parts of each drawing lie
	Stocks []Use
	// Taken is what was cut from each wood.
	Taken map[string]Taken
}

// A Use is what is used of a stock of which the sheets are known.
type Use struct {
	Stock string
	part  string      // what parts call it, "" of those that name none
	At    source.Span // a part that is cut from it
	Count bool        // how much there is of it counts: offcuts or a number of sheets are stated
	sheet.Group
	// Shared is the line that asks for shared cuts, and Blocks how often parts share some.
	Shared design.Asked
	Blocks int
	// Left is what is left of offcuts and of sheets that were begun. Its last ones, as many
	// as Untouched says, are offcuts of which nothing was cut.
	Left      []Offcut
	Untouched int
	// Supply is what there was of it; Twice, Wasteful and NearSaw say how its parts lie, which a maker
	// can hardly have meant. NearSaw is how near in mm they come to a line along which their sheet is sawn, where
	// the saw may reach them.
	Supply   Supply
	Twice    Twice
	Wasteful Wasteful
	NearSaw  maybe.Of[float64]
}

// MostLaid is how many parts of a stock are laid at once.
const MostLaid = 20_000

// A Tally counts the parts of each stock that are to be laid at once.
type Tally map[string]int

// Add counts the parts of a drawing that is wanted so many times; the error is a [*ManyError].
func (t Tally) Add(d *Drawing, times int) error {
	for _, p := range d.Parts {
		from := p.cutFrom()
		if t[from] += times * max(1, p.Copies); t[from] > MostLaid {
			return &ManyError{p, from}
		}
	}
	return nil
}

// A ManyError says that there are more parts of a stock than [MostLaid], counted up to one of them.
type ManyError struct {
	Part  Part
	Stock string
}

func (e *ManyError) Error() string {
	of := ""
	if e.Stock != "" {
		of = " of " + e.Stock
	}
	return fmt.Sprintf("there are more than %d parts%s, which are too many to be laid at once", MostLaid, of)
}

// Lay lays the parts of drawings, each as often as it is wanted, on sheets of their own
// stock; what lies on one is of one stock, or of one thickness where no stock is named. Where nothing says how large they are all that is
// of that stock lies side by side. Offcuts and quantities that are used are taken off the
// supplies. The error is a [SheetError], a [*KnifeError], a [*StockError], a [*ManyError] or
// the end of ctx.
func Lay(ctx context.Context, all []Wanted, supplies map[string]Supply, how Search) (*Laid, error) {
	tally := Tally{}
	for _, w := range all {
		if err := tally.Add(w.Drawing, 1); err != nil {
			return nil, err
		}
	}
	var stocks []string
	of := map[string][]laid{}
	for i, w := range all {
		for _, p := range w.Drawing.Parts {
			from := p.cutFrom()
			if _, known := of[from]; !known {
				stocks = append(stocks, from)
			}
			of[from] = append(of[from], w.copies(i, p, supplies[p.Stock].Way)...)
		}
	}
	lots, taken, err := placeAll(ctx, stocks, of, supplies, how)
	if err != nil {
		return nil, err
	}
	out := &Laid{On: make([][]On, len(all)), Taken: taken}
	for _, stock := range stocks {
		l := lots[stock]
		part := l.pieces[0].part
		var twice Twice
		for _, p := range l.pages {
			s := Sheet{Stock: stock, Offcut: p.offcut != whole && (p.sawn == nil || p.sawn.Number == 0), Gone: p.gone, Hangs: l.supply.hangs(p), Knife: p.knife, Grain: p.grain(), Sawn: p.sawn, outlined: p.outlined, Outer: blank(all[0].Drawing, p.size)}
			if p.offcut == whole && p.number != noSheet {
				s.Number = l.supply.Begun + p.number + 1
			} else if p.offcut != whole {
				s.Of = l.supply.Offcuts[p.offcut]
			}
			if p.sawn != nil && p.sawn.Number > 0 {
				s.Number = p.sawn.Number
			}
			s.HangsLeft = p.turn && s.Hangs.Size.X > p.size.X+geom.Tol
			s.Outer.Bridges = l.supply.bridges(part.Kerf)
			p.inReadingOrder(false)
			for k, l := range p.pieces {
				s.add(l, p.size)
				out.On[l.of] = append(out.On[l.of], On{l.part.Name, l.drawn.Name, len(out.Sheets), k + 1, l.inner != nil, l.at.Turn, l.box().Min})
			}
			s.describe(p, len(all) == 1)
			s.addCommon(p)
			if l.supply.Spacing < max(part.Kerf, geom.Tol) {
				twice.addTwice(&s)
			}
			out.Sheets = append(out.Sheets, s)
		}
		if l.use != nil {
			u := l.supply.used(l.pages, *l.use)
			u.Wasteful = wasteful(ctx, l.pieces, l.pages, l.supply)
			u.Stock, u.part, u.At, u.Twice = stock, part.Stock, part.At, twice
			out.Stocks = append(out.Stocks, u)
		}
	}
	out.untouched(supplies)
	out.shared(lots)
	for wood, t := range out.Taken {
		out.Taken[wood] = t.Stated()
	}
	return out, nil
}

// A lot is what is laid of one stock, on what there was of it then.
type lot struct {
	pieces []laid
	supply Supply
	pages  []page
	use    *sheet.Group
}

// placeAll places the pieces of all stocks, and says what is taken of each wood, which is taken off
// the supplies. Of stocks of one wood the first takes what suits it best; where another doesn't find
// enough that one goes first.
func placeAll(ctx context.Context, stocks []string, of map[string][]laid, supplies map[string]Supply, how Search) (map[string]lot, map[string]Taken, error) {
	order, before := slices.Clone(stocks), map[string]bool{}
	var first error
	for {
		left := maps.Clone(supplies)
		lots, taken, err := placeIn(ctx, order, of, left, how)
		var few *StockError
		var large SheetError
		switch {
		case err == nil:
			maps.Copy(supplies, left)
			return lots, taken, nil
		case !errors.As(err, &few) && !errors.As(err, &large):
			return nil, nil, err
		}
		if first == nil {
			first = err
		}
		at := len(lots) // those before the one that doesn't find enough are placed
		short := order[at]
		its := taken[supplies[of[short][0].part.Stock].Wood].Stated()
		if its.Sheets+len(its.Offcuts) == 0 || before[short] {
			return nil, nil, first
		}
		before[short] = true
		order = slices.Insert(slices.Delete(order, at, at+1), 0, short)
	}
}

// placeIn places the pieces of stocks in an order; after an error those of the first of them.
func placeIn(ctx context.Context, order []string, of map[string][]laid, supplies map[string]Supply, how Search) (map[string]lot, map[string]Taken, error) {
	lots, taken := map[string]lot{}, map[string]Taken{}
	for _, stock := range order {
		l := lot{pieces: of[stock]}
		name := l.pieces[0].part.Stock
		l.supply = supplies[name]
		var err error
		if l.pages, l.use, err = placed(ctx, slices.Clone(l.pieces), l.supply, stock, taken[l.supply.Wood], how.of(stock)); err != nil {
			return lots, taken, err
		}
		t := l.supply.taken(l.pages)
		supplies[name] = l.supply.Less(t)
		if wood := l.supply.Wood; wood != "" {
			taken[wood] = taken[wood].Plus(t)
			for other, s := range supplies {
				if other != name && s.Wood == wood {
					supplies[other] = s.Less(t)
				}
			}
		}
		lots[stock] = l
	}
	return lots, taken, nil
}

// untouched adds, to what is left of the last stock of each wood, the offcuts that are there still.
func (l *Laid) untouched(left map[string]Supply) {
	for i := range l.Stocks {
		u := &l.Stocks[i]
		if u.Supply.Wood != "" && slices.ContainsFunc(l.Stocks[i+1:], func(o Use) bool { return o.Supply.Wood == u.Supply.Wood }) {
			continue
		}
		offcuts := slices.Clone(left[u.part].Offcuts)
		for k := range offcuts {
			offcuts[k].Of = nil // it is nobody's piece any more
		}
		u.Left, u.Untouched = append(u.Left, offcuts...), len(offcuts)
	}
}

// shared takes off the area of sheets what is a piece of another stock of their wood, where it counts.
func (l *Laid) shared(lots map[string]lot) {
	for _, use := range l.Stocks {
		taker := lots[use.Stock]
		for _, o := range taker.supply.taken(taker.pages).Offcuts {
			if o.Of == nil || o.Of.Number == 0 {
				continue
			}
			for i := range l.Stocks {
				u := &l.Stocks[i]
				of := lots[u.Stock]
				if its := u.Area - (o.Size.X*o.Size.Y - o.Gone.X*o.Gone.Y); u.Supply.Wood == o.Of.Wood && of.supply.Begun < o.Of.Number && o.Of.Number <= of.supply.Begun+wholeOf(of.pages) {
					u.Used, u.Area, u.LeastArea = u.Used*u.Area/its, its, min(u.LeastArea, its)
				}
			}
		}
	}
}

// used says what of a supply pages take.
func (s Supply) used(pages []page, what sheet.Group) Use {
	u := Use{Count: len(s.Offcuts) > 0 || s.Quantity.Present(), Group: what, Shared: s.Way.Shared, Supply: s, NearSaw: s.nearSaw(pages)}
	for _, p := range pages {
		u.Left = append(u.Left, p.left...)
		u.Blocks += len(p.blocks)
	}
	return u
}

// A laid is one piece, under the name that it has on its sheet, and where it lies.
type laid struct {
	of     int  // which of the drawings
	drawn  Part // as it is drawn there
	part   Part
	inner  *Part // the marks of its inner face
	origin geom.Point
	w, h   float64 // of what is cut
	turns  bool    // a quarter turn is as good
	plain  bool    // its edge can be cut together with that of an equal one
	at     sheet.Placement
	// together says that it is cut together with others.
	together bool
}

// copies are the pieces of a part, as many as are wanted, to be cut out in a way.
func (w *Wanted) copies(of int, p Part, way design.Way) []laid {
	if way.Knife.Yes {
		p = p.byKnife()
	}
	foot := p.Footprint()
	l := laid{of: of, drawn: p, origin: foot.Min, w: foot.Width(), h: foot.Height(), turns: p.Grain == 0, plain: way.Shared.Yes && p.plain(way)}
	all := make([]laid, max(1, p.Copies))
	for i := range all {
		own := p.own(w.Name, i+1)
		l.part = p.named(own)
		for _, f := range w.Faces {
			if f.Panel == p.Name {
				inner := f.Drawing.Parts[0].named(own)
				l.inner = &inner
			}
		}
		all[i] = l
	}
	return all
}

// Footprint is the box round what is cut of a part; of one that a knife cuts out, what this
// cuts.
func (p Part) Footprint() geom.Box {
	if p.Knife {
		return p.Bounds
	}
	box := geom.EmptyBox()
	for _, s := range p.Shapes {
		if s.Op == Cut {
			box = box.Union(s.Figure.Bounds())
		}
	}
	if box.Empty() {
		return p.Bounds
	}
	return box
}

// own is what a part is called on a sheet: name.PART, or PART alone where there is no
// name, and name.PART.2 and so on where several of one are wanted.
func (p Part) own(name string, number int) string {
	own := p.Name
	if name != "" {
		own = name + "." + p.Name
	}
	if number > 1 {
		own = fmt.Sprintf("%s.%d", own, number)
	}
	return own
}

// named is a part under a name of its own, once.
func (p Part) named(own string) Part {
	if own != p.Name {
		p.Shapes = slices.Clone(p.Shapes)
		for i := range p.Shapes {
			p.Shapes[i].ID = own + strings.TrimPrefix(p.Shapes[i].ID, p.Name)
		}
	}
	p.Name, p.Copies = own, 1
	return p
}

// box is what is cut of a piece, on its sheet.
func (l *laid) box() geom.Box {
	return l.at.Transform().Apply(geom.Rect{W: l.w, H: l.h}).Bounds()
}

// blank is an empty sheet for parts of a drawing.
func blank(d *Drawing, size geom.Point) *Drawing {
	return &Drawing{Title: d.Title, Unit: d.Unit, Colors: d.Colors, LineWidth: d.LineWidth, ScaleX: d.ScaleX, ScaleY: d.ScaleY, Pace: d.Pace, Size: size}
}

// add puts a piece on a sheet, and the marks of its inner face on the inside.
func (s *Sheet) add(l laid, size geom.Point) {
	part := l.part.under(geom.Shift(l.origin.Mul(-1)).Then(l.at.Transform()))
	if l.together {
		part = part.together()
	}
	s.Outer.Parts = append(s.Outer.Parts, part)
	if l.inner == nil {
		return
	}
	if s.Inside == nil {
		s.Inside = blank(s.Outer, size)
		s.Inside.Title += " (inside)"
	}
	// The inner face is drawn as wanted, the piece turned like a page: what is cut
	// right of its outline lies left of it there.
	corner := l.inner.Bounds.Min.Sub(geom.Pt(l.origin.X+l.w-l.part.Bounds.Max.X, l.part.Bounds.Min.Y-l.origin.Y))
	s.Inside.Parts = append(s.Inside.Parts, l.inner.under(geom.Shift(corner.Mul(-1)).Then(l.at.Inside(size.X, l.w).Transform())))
}

// under is a part moved and turned by quarters.
func (p Part) under(by geom.Similarity) Part {
	shapes := make([]Shape, len(p.Shapes))
	for i, s := range p.Shapes {
		s.Figure = by.Apply(s.Figure)
		if s.Raster != nil {
			n, _ := by.Quarters() // a part with a picture is turned by no other angle
			s.Raster = s.Raster.Turned(n)
		}
		shapes[i] = s
	}
	p.Shapes = shapes
	p.Bounds = by.Apply(geom.Rect{Min: p.Bounds.Min, W: p.Bounds.Width(), H: p.Bounds.Height()}).Bounds()
	return p
}

// describe says what lies on a sheet: each part, or of many drawings' how many there are.
// The inside is described as it lies, turned over; no knife goes there.
func (s *Sheet) describe(p page, each bool) {
	of, goneOf, wide := "", p.gone, p.size.X
	if s.Stock != "" {
		of = " of " + s.Stock
	}
	if s.Sawn != nil {
		of += s.Sawn.said()
	} else if s.Offcut {
		size := p.size
		if s.Hangs.Size != (geom.Point{}) {
			size, wide = s.Hangs.Size, s.Hangs.Size.X
			goneOf, _ = s.Hangs.gone()
		}
		of += fmt.Sprintf(", on an offcut of %s mm", by(size.X, size.Y))
	}
	inside := of
	turned := slices.ContainsFunc(p.pieces, func(l laid) bool { return l.part.Grain != 0 && l.part.Grain != s.Grain })
	if s.Grain != 0 {
		along := ", the grain along the " + s.Grain.String()
		if inside += along; !each || turned { // else it is said of each part
			of += along
		}
	}
	count := func(d *Drawing) string {
		if len(d.Parts) == 1 {
			return fmt.Sprintf("1 part on %s", by(p.size.X, p.size.Y))
		}
		return fmt.Sprintf("%d parts on %s", len(d.Parts), by(p.size.X, p.size.Y))
	}
	said := count(s.Outer)
	if each {
		said = p.parts()
	}
	s.Outer.Desc = said + " mm" + of + gone(goneOf)
	if len(s.Knife) > 0 {
		s.Outer.Desc += ", cut by a knife in this order: " + strings.Join(KnifeOrder(s.Knife, millimetres), "; ")
	}
	if s.Inside != nil {
		s.Inside.Desc = count(s.Inside) + " mm" + inside + ", turned over like a page, inner side up" + gone(TurnedOver(goneOf, wide))
	}
}

// by writes a size in mm, to four digits, or from 10 m on with all that are before the point.
func by(width, height float64) string {
	one := func(v float64) string {
		if v >= 9999.5 {
			return millimetres(v)
		}
		return fmt.Sprintf("%.4g", v)
	}
	return one(width) + " by " + one(height)
}

// gone says what is gone of a sheet.
func gone(box geom.Box) string {
	at, ok := CornerGone(box)
	if !ok || min(box.Width(), box.Height()) <= geom.Tol {
		return ""
	}
	return fmt.Sprintf(", of which %s mm are gone at %s", by(box.Width(), box.Height()), at)
}

// parts says what lies on a page of one drawing, and how often.
func (p page) parts() string {
	var drawn []Part
	times := map[string]int{}
	for _, l := range p.pieces {
		if times[l.drawn.Name]++; times[l.drawn.Name] == 1 {
			drawn = append(drawn, l.drawn)
		}
	}
	said := make([]string, len(drawn))
	for i, d := range drawn {
		d.Copies = times[d.Name]
		said[i] = d.Described(false)
	}
	return strings.Join(said, ", ")
}
