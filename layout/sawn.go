package layout

import (
	"fmt"
	"slices"
	"strings"

	"foredge/eval/maybe"
	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// offcutOf is a piece of a sheet as an offcut.
func offcutOf(p sheet.Piece) Offcut {
	o := Offcut{Size: geom.Pt(p.Width(), p.Height()), Gone: p.Gone, Corner: p.Corner}
	if o.Gone == (geom.Point{}) {
		o.Corner = sheet.LeftTop
	}
	return o
}

// Where says which piece of its sheet it is.
func (s *Sawn) Where(length func(mm float64) string) string {
	return fmt.Sprintf("from %s to %s across and from %s to %s down", length(s.Piece.Min.X), length(s.Piece.Max.X), length(s.Piece.Min.Y), length(s.Piece.Max.Y))
}

// SawOrder says where a saw cuts, in the order of its cuts: those of one length together, and in columns that
// lie side by side as one line.
func SawOrder(cuts []sheet.Cut, length func(mm float64) string) []string {
	var lines []sheet.Cut
	for _, c := range cuts {
		i := slices.IndexFunc(lines, func(l sheet.Cut) bool {
			return c.From.Y == c.To.Y && l.From.Y == c.From.Y && l.To.Distance(c.From) < geom.Tol
		})
		if i < 0 {
			lines = append(lines, c)
		} else {
			lines[i].To = c.To
		}
	}
	type group struct {
		upright  bool
		from, to float64
	}
	var groups []group
	at := map[group][]string{}
	for _, l := range lines {
		g, where := group{false, l.From.X, l.To.X}, l.From.Y
		if l.From.X == l.To.X {
			g, where = group{true, l.From.Y, l.To.Y}, l.From.X
		}
		if at[g] == nil {
			groups = append(groups, g)
		}
		at[g] = append(at[g], length(where))
	}
	said := make([]string, len(groups))
	for i, g := range groups {
		way := "level"
		if g.upright {
			way = "upright"
		}
		said[i] = fmt.Sprintf("%s at %s, from %s to %s", way, strings.Join(at[g], ", "), length(g.from), length(g.to))
	}
	return said
}

// rest is another piece of the same, on which nothing lies.
func (s *Sawn) rest(p sheet.Piece) Offcut {
	o, its := offcutOf(p), *s
	its.Piece, its.Turned = p.Box, false
	o.Of = &its
	return o
}

// within is what a piece of this piece is a piece of; nil is all of it.
func (s *Sawn) within(piece *Sawn) *Sawn {
	its := *s
	if piece == nil {
		return &its
	}
	corner := s.Piece.Min
	its.Piece, its.Turned = geom.Box{Min: corner.Add(piece.Piece.Min), Max: corner.Add(piece.Piece.Max)}, piece.Turned
	its.Cuts = slices.Clone(s.Cuts)
	for _, c := range piece.Cuts {
		its.Cuts = append(its.Cuts, sheet.Cut{From: corner.Add(c.From), To: corner.Add(c.To)})
	}
	return &its
}

// SameSheet reports whether two of one wood are pieces of one sheet.
func (s *Sawn) SameSheet(other *Sawn) bool {
	return s.Wood == other.Wood && s.Number == other.Number && s.Size == other.Size && (s.Number > 0 || s.offcut == other.offcut)
}

// said says of what sheet or offcut a page is a piece, and how that is sawn.
func (s *Sawn) said() string {
	of := fmt.Sprintf("sheet %d", s.Number)
	if s.Number == 0 {
		of = "an offcut"
	}
	turned := ""
	if s.Turned {
		turned = ", turned by a quarter clockwise"
	}
	return fmt.Sprintf(", sawn from %s, %s mm, in this order: %s; the piece %s%s", of, by(s.Size.X, s.Size.Y),
		strings.Join(SawOrder(s.Cuts, millimetres), "; "), s.Where(millimetres), turned)
}

// hangs is all of the sheet or offcut of a page, as it lies, if some hangs over the bed; else 0 by 0.
func (s Supply) hangs(p page) Offcut {
	of := Offcut{Size: s.Sheet}
	if p.offcut != whole {
		of = s.Offcuts[p.offcut]
	}
	if p.sawn != nil || p.number == noSheet || !s.Known() {
		return Offcut{}
	}
	over := func(o Offcut) bool {
		more := o.Size.Sub(p.size)
		return min(more.X, more.Y) > -geom.Tol && max(more.X, more.Y) < sheet.Overhang+geom.Tol
	}
	if p.turn || !over(of) {
		of = of.turned()
	}
	if of.Size.Distance(p.size) < geom.Tol || !over(of) {
		return Offcut{}
	}
	return of
}

// A rest is a piece of a sheet that was begun for a piece that lies alone, on which nothing lies yet.
type rest struct {
	sheet.Piece
	sheet int // of those that were begun
	is    int // which of its pieces
}

// An opened is a sheet that was begun for pieces that lie alone.
type opened struct {
	way   *sheet.Way
	taken []bool // of its pieces
	page  int    // of those alone, the first of the sheet
}

// alone is what lies alone, as it leaves no margin on a sheet or as it is larger.
type alone struct {
	pages  []page
	sheets int // that are taken
	taken  int // pieces that lie on these
	begun  []opened
	rest   []rest
}

// alone lays what must lie alone, and gives what needn't.
func (s Supply) alone(pieces []laid) (a alone, many []laid, err error) {
	ways, sizes := sheet.Ways(s.stock(Offcut{Size: s.Sheet})), s.sizes()
	blade := s.blade()
	var offcuts []Offcut
	for _, o := range s.Offcuts {
		for _, w := range sheet.Ways(s.stock(o)) {
			for _, p := range w.Pieces {
				offcuts = append(offcuts, offcutOf(p))
			}
		}
	}
	for _, l := range pieces {
		best, on := none, s.upright()
		for _, size := range sizes {
			if its := l.room(size, s.Margin, blade); its > best {
				best, on = its, size
			}
		}
		switch {
		case best == roomy || slices.ContainsFunc(offcuts, func(o Offcut) bool { return l.roomOn(o, s.Margin, blade) }):
			many = append(many, l)
		case best == tight:
			a.add(l, s, ways)
		case l.part.Oversize:
			a.pages = append(a.pages, sideBySide([]laid{l}, 0))
		case best == thin:
			return a, nil, &KnifeError{l.part, on, l.rest(on, blade), s}
		default:
			on = s.upright()
			return a, nil, SheetError{l.part, l.w, l.h, on.X, on.Y, s.Sheet, best == across}
		}
	}
	for i := range a.rest {
		a.rest[i].Piece = s.behind(a.rest[i].Piece)
	}
	a.rest = slices.DeleteFunc(a.rest, func(r rest) bool { return min(r.Width(), r.Height()) <= 0 })
	return a, many, nil
}

// behind is what is there of a piece of a sheet that a knife cuts up: behind its cuts it lacks their width.
func (s Supply) behind(p sheet.Piece) sheet.Piece {
	if blade := s.blade(); p.Gone == (geom.Point{}) {
		if p.Min.X > 0 {
			p.Min.X += blade
		}
		if p.Min.Y > 0 {
			p.Min.Y += blade
		}
	}
	return p
}

// add lays a piece on what is left of a sheet that was begun, or on a new one.
func (a *alone) add(l laid, s Supply, ways []sheet.Way) {
	a.taken++
	fits := func(p sheet.Piece) bool {
		size := geom.Pt(p.Width(), p.Height())
		return p.Gone == geom.Point{} && (l.fits(size, false, 0, s.blade()) || l.turns && l.fits(size, true, 0, s.blade()))
	}
	if i := slices.IndexFunc(a.rest, func(r rest) bool { return fits(r.Piece) }); i >= 0 {
		r := a.rest[i]
		a.rest = slices.Delete(a.rest, i, i+1)
		first := a.pages[a.begun[r.sheet].page]
		a.begun[r.sheet].taken[r.is] = true
		p := s.aloneOn(l, r.Piece)
		its := *first.sawn
		its.Piece = r.Box
		p.sawn, p.number, p.turn = &its, first.number, first.turn
		a.pages = append(a.pages, p)
		return
	}
	for n := range ways {
		w := &ways[n]
		i := slices.IndexFunc(w.Pieces, fits)
		if i < 0 {
			continue
		}
		p := s.aloneOn(l, w.Pieces[i])
		p.number, p.turn = a.sheets, w.Quarter
		if len(w.Cuts) > 0 {
			p.sawn = &Sawn{Number: s.Begun + a.sheets + 1, Wood: s.Wood, Size: s.Sheet, Piece: w.Pieces[i].Box, Cuts: w.Cuts}
		}
		its := opened{w, make([]bool, len(w.Pieces)), len(a.pages)}
		its.taken[i] = true
		for k, other := range w.Pieces {
			if k != i {
				a.rest = append(a.rest, rest{other, len(a.begun), k})
			}
		}
		a.begun = append(a.begun, its)
		a.pages = append(a.pages, p)
		a.sheets++
		return
	}
}

// aloneOn lays a piece in the middle of a piece of a sheet.
func (s Supply) aloneOn(l laid, on sheet.Piece) page {
	size := geom.Pt(on.Width(), on.Height())
	blade := s.blade()
	l.lie(geom.Point{}, !l.fits(size, false, 0, blade))
	rest := size.Sub(l.box().Max)
	l.lie(geom.Pt(beside(rest.X, blade), beside(rest.Y, blade)), l.at.Turn != 0)
	p := page{size: size, offcut: whole, pieces: []laid{l}}
	if s.Way.Knife.Yes {
		p.knife = cutOut(size, l.box(), s.Spacing)
	}
	of := s.stock(Offcut{Size: size})
	p.left = leftOf(sheet.LeftOf(of, on, []geom.Box{l.box()}, p.knife, leastLeft), []geom.Box{l.box()}, of)
	return p
}

// number says of a page of a job which sheet it is: those for pieces alone come first, and what is
// left of them is of theirs.
func (a alone) number(p *page, stock, number int) {
	if p.number = 0; stock == 0 {
		p.number = a.sheets + number
	}
}

// saw says of the pages of a result from what they are sawn, and what of that is left.
func (s Supply) saw(pages []page, result *sheet.Result, a alone) {
	rests := 1 + len(s.Offcuts) // the first stock that is a rest
	used := map[int]bool{}
	for i, its := range result.Sheets {
		if its.Stock < rests {
			continue
		}
		used[its.Stock-rests] = true
		r := a.rest[its.Stock-rests]
		first := a.pages[a.begun[r.sheet].page]
		from := *first.sawn
		from.Piece = geom.Box{Min: r.Min.Add(its.Min), Max: r.Min.Add(its.Max)}
		pages[i].offcut, pages[i].number, pages[i].sawn = whole, first.number, &from
	}
	a.leave(used, pages)
	for _, saw := range result.Sawn {
		told := false
		for i, its := range result.Sheets {
			if its.Stock != saw.Stock || its.Number != saw.Number || saw.Stock >= rests {
				continue
			}
			of := &Sawn{Wood: s.Wood, Size: s.Sheet, Piece: its.Box, Cuts: saw.Cuts, Number: s.Begun + pages[i].number + 1}
			if saw.Stock > 0 {
				of.Size, of.Number, of.offcut = s.Offcuts[saw.Stock-1].Size, 0, saw.Stock
			}
			if pages[i].sawn = of; told {
				continue
			}
			told = true
			for _, r := range saw.Rest {
				pages[i].rest = append(pages[i].rest, of.rest(r))
			}
		}
	}
	for i := range pages {
		p := &pages[i]
		if p.offcut == whole || s.Offcuts[p.offcut].Of == nil {
			continue
		}
		from := s.Offcuts[p.offcut].Of
		for k := range p.rest {
			p.rest[k].Of = from.within(p.rest[k].Of)
		}
		p.sawn = from.within(p.sawn)
	}
}

// leave leaves what isn't used of sheets that were begun, and saws no more of them than it takes; pages are those
// on which pieces don't lie alone, which have used some.
func (a alone) leave(used map[int]bool, pages []page) {
	wanted, cuts := make([][]bool, len(a.begun)), make([][]sheet.Cut, len(a.begun))
	for i, b := range a.begun {
		wanted[i] = slices.Clone(b.taken)
	}
	for i, r := range a.rest {
		if used[i] {
			wanted[r.sheet][r.is] = true
		}
	}
	rests := make([][]sheet.Piece, len(a.begun))
	for i, b := range a.begun {
		cuts[i], rests[i] = b.way.Saw(wanted[i])
	}
	for _, all := range [][]page{pages, a.pages} {
		for i := range all {
			if p := &all[i]; p.sawn != nil && p.offcut == whole && p.sawn.offcut == 0 && p.number < len(cuts) {
				p.sawn.Cuts = cuts[p.number]
			}
		}
	}
	for i, b := range a.begun {
		for _, r := range rests[i] {
			a.pages[b.page].rest = append(a.pages[b.page].rest, a.pages[b.page].sawn.rest(r))
		}
	}
}

// sawWidth is how wide in mm a saw cuts at the most (common practice, no source).
const sawWidth = 4

// nearSaw is how near in mm parts come to a line along which their sheet is sawn, on the side from which the saw
// takes its width; absent where it doesn't reach them.
func (s Supply) nearSaw(pages []page) (near maybe.Of[float64]) {
	reach := float64(sawWidth)
	if s.Way.Knife.Yes {
		reach = s.blade()
	}
	least := reach
	for _, p := range pages {
		if p.sawn == nil {
			continue
		}
		for i := range p.pieces {
			b, from := p.pieces[i].box(), p.sawn.Piece.Min
			left, head := b.Min.X, b.Min.Y
			if p.sawn.Turned { // by a quarter clockwise
				left, head = b.Min.Y, p.size.X-b.Max.X
			}
			if from.X > 0 {
				least = min(least, left)
			}
			if from.Y > 0 {
				least = min(least, head)
			}
		}
	}
	return maybe.If(max(0, least), least < reach-geom.Tol)
}

// sizes are those of what of a sheet lies on the bed at once.
func (s Supply) sizes() (all []geom.Point) {
	for _, w := range sheet.Ways(s.stock(Offcut{Size: s.Sheet})) {
		for _, p := range w.Pieces {
			all = append(all, geom.Pt(p.Width(), p.Height()))
		}
	}
	return all
}

// group is what pages take, held against what nothing can do without.
func (s Supply) group(pages []page, many []laid, a alone) *sheet.Group {
	all := sheet.Group{Sheets: wholeOf(pages)}
	all.Area = float64(all.Sheets) * s.Sheet.X * s.Sheet.Y
	all.Cost = maybe.If(float64(all.Sheets)*s.Price.Or(0), s.Price.Present())
	seen := map[int]bool{}
	covered := 0.0
	for _, p := range pages {
		if p.offcut != whole && !seen[p.offcut] {
			seen[p.offcut] = true
			o := s.Offcuts[p.offcut]
			all.Sheets++
			all.Area += o.Size.X*o.Size.Y - o.Gone.X*o.Gone.Y
		}
		for i := range p.pieces {
			switch l := &p.pieces[i]; {
			case p.number < 0: // it lies on no sheet
			case p.outlined:
				covered += l.area()
			default:
				covered += l.w * l.h
			}
		}
	}
	all.Used = covered / all.Area
	s.least(&all, many, a)
	return &all
}

// beyond is how many pieces lie on more sheets than so many.
func (a alone) beyond(sheets int) (n int) {
	for _, p := range a.pages {
		if p.number >= sheets {
			n += len(p.pieces)
		}
	}
	return n
}

// upTo is what lies alone on so many sheets.
func (a alone) upTo(sheets int) alone {
	a.rest = slices.DeleteFunc(slices.Clone(a.rest), func(r rest) bool { return r.sheet >= sheets })
	return a
}

// pieces are those that lie alone.
func (a alone) pieces() (all []laid) {
	for _, p := range a.pages {
		if p.number >= 0 {
			all = append(all, p.pieces...)
		}
	}
	return all
}
