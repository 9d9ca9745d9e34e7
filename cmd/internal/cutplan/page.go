package cutplan

import (
	_ "embed"
	"fmt"
	"html"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"foredge/cmd/internal/cost"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/pagelook"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
)

//go:embed page.css
var style string

// A writer writes HTML.
type writer struct{ strings.Builder }

// put writes markup, in which each argument that is a text is escaped, and words in it from right to
// left stand by themselves.
func (w *writer) put(format string, args ...any) {
	for i, a := range args {
		if s, ok := a.(string); ok {
			args[i] = html.EscapeString(source.Isolated(directed(s)))
		}
	}
	fmt.Fprintf(w, format, args...)
}

// Page is the plan for whoever cuts it: HTML that asks for nothing else and needs no script.
func (p *Plan) Page() []byte {
	var w writer
	w.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s</title>\n<style>\n", p.Title)
	w.Write(pagelook.CSS())
	w.WriteString(style)
	w.WriteString("</style>\n</head>\n<body>\n<main>\n")
	whole := p.whole()
	w.put("<h1>%s</h1>\n<p>%s on %s</p>\n", p.Title, count(p.Parts, "part"), taken(whole))
	p.saw(&w, whole)
	p.ticks(&w)
	p.stocks(&w)
	p.money(&w)
	w.put("<h2>The sheets</h2>\n")
	switch p.depth() {
	case notAtAll:
		w.put("<p class=\"quiet\">Of more than %d parts there are no pictures.</p>\n", mostPictured)
	case plainly:
		w.put("<p class=\"quiet\">The pictures show what is cut, not what is engraved, marked or scored.</p>\n")
	}
	for i := range p.Sheets {
		p.sheet(&w, &p.Sheets[i])
	}
	p.lots(&w)
	w.WriteString("</main>\n</body>\n</html>\n")
	return []byte(w.String())
}

// ticks is the list to tick off at the laser. An inside is run before its outside.
func (p *Plan) ticks(w *writer) {
	w.put("<h2>To cut</h2>\n<ul class=\"ticks\">\n")
	for i := range p.Sheets {
		s := &p.Sheets[i]
		if s.Inside {
			w.put("<li><label><input type=\"checkbox\"><span><b>%s</b>: first the inside of the sheet, turned over</span></label></li>\n", s.called(s.InsideFiles))
		}
		takes := ""
		if m, ok := s.Minutes.Get(); ok {
			takes = fmt.Sprintf(", %.2f minutes", m)
			if s.Inside {
				takes += " with its inside"
			}
		}
		w.put("<li><label><input type=\"checkbox\"><span><b>%s</b>: %s on %s%s</span></label></li>\n", s.called(s.Files), count(len(s.Parts), "part"), s.On(p.Unit), takes)
	}
	w.put("</ul>\n")
}

// table begins a table that a narrow screen moves sideways; the first column names what the
// others, numbers, are of.
func (w *writer) table(caption, first string, others ...string) {
	w.put("<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"%s\">\n<table>\n<caption>%s</caption>\n<thead><tr><th scope=\"col\">%s</th>", caption, caption, first)
	for _, o := range others {
		w.put("<th scope=\"col\" class=\"number\">%s</th>", o)
	}
	w.put("</tr></thead>\n<tbody>\n")
}

// row is a row of a table, of some class.
func (w *writer) row(class, name string, numbers ...string) {
	w.put("<tr class=\"%s\"><th scope=\"row\">%s</th>", class, name)
	for _, n := range numbers {
		w.put("<td class=\"number\">%s</td>", n)
	}
	w.put("</tr>\n")
}

func (w *writer) end() { w.put("</tbody>\n</table>\n</div>\n") }

// unknown stands where a number isn't known.
const unknown = "–"

// stocks is what is taken of each stock, and what is left of it.
func (p *Plan) stocks(w *writer) {
	if len(p.Stocks) == 0 {
		return
	}
	w.put("<h2>What it takes</h2>\n")
	w.table("By stock", "stock", "pieces", "used", "at least", "price", "charged")
	for _, s := range p.Stocks {
		price, least := unknown, unknown
		if money, ok := s.Cost.Get(); ok {
			price = fmt.Sprintf("%.2f", money)
		}
		if s.Once {
			least = fmt.Sprint(s.LeastSheets)
		}
		w.row("", stockName(s.Stock), fmt.Sprint(s.Sheets), fmt.Sprintf("%.0f %%", 100*s.Used), least, price, money(s.Charged))
	}
	w.end()
	w.put("<p class=\"quiet\">pieces: sheets and offcuts. used: the share of them that parts cover. at least: fewer can't hold the parts, whatever the way they are laid. price: of the sheets; offcuts cost nothing. charged: what the covers pay for it, with what is wasted.</p>\n")
	for _, s := range p.Stocks {
		if left := driver.Offcuts(s.Left, p.Unit); left != "" {
			w.put("<p>Left of %s, for the next job: <code>%s</code></p>\n", stockName(s.Stock), left)
		}
	}
}

// money is what everything takes and costs.
func (p *Plan) money(w *writer) {
	w.put("<h2>Minutes and money</h2>\n")
	all := p.Charge()
	minutes, timed := all.Minutes.Get()
	total, priced := all.Total.Get()
	switch {
	case priced:
		w.put("<p>All of it takes %.2f minutes of the laser and costs %s: the laser %s, wood %s, labour %s, profit %s.</p>\n",
			minutes, cost.Money(total), cost.Money(all.Laser), cost.Money(all.Wood), cost.Money(all.Labour), cost.Money(all.Profit))
	case timed:
		w.put("<p>All of it takes %.2f minutes of the laser.</p>\n", minutes)
	}
	if len(all.Missing) > 0 {
		w.put("<p>Not told, as it isn't stated: %s.</p>\n", strings.Join(all.Missing, ", "))
	}
	if p.untold() {
		return
	}
	w.table("By sheet", "sheet", "minutes", "laser", "wood")
	sum := Sheet{Minutes: maybe.Is(0.0), Laser: maybe.Is(int64(0)), Wood: maybe.Is(int64(0))}
	for i := range p.Sheets {
		s := &p.Sheets[i]
		w.row("", s.Name, time(s.Minutes), money(s.Laser), money(s.Wood))
		sum.Laser, sum.Wood = plus(sum.Laser, s.Laser), plus(sum.Wood, s.Wood)
	}
	w.row("sum", "all sheets", time(all.Minutes), money(sum.Laser), money(sum.Wood))
	w.end()
	w.table("By cover", "cover", "minutes", "cost", "laser", "wood", "labour", "profit")
	for i := range p.Lots {
		l := &p.Lots[i]
		if len(l.Covers) == 1 {
			w.row("lot", l.title(), charged(l.Covers[0].Charge)...)
			continue
		}
		w.row("lot", fmt.Sprintf("%s, all %d", l.title(), len(l.Covers)), charged(l.charge())...)
		for _, c := range l.Covers {
			w.row("cover", c.Name, charged(c.Charge)...)
		}
	}
	w.row("sum", "all covers", charged(all)...)
	w.end()
	w.put("<p class=\"quiet\">The laser is charged for what a part takes by itself and for its share of the way between parts, wood for the rectangle round a part, however parts lie, and what is wasted. Labour and profit are a cover's, not a sheet's.</p>\n")
}

// untold reports whether neither minutes nor money are known of anything.
func (p *Plan) untold() bool {
	for i := range p.Sheets {
		if p.Sheets[i].Minutes.Present() {
			return false
		}
	}
	for i := range p.Lots {
		for _, c := range p.Lots[i].Covers {
			if c.Total.Present() {
				return false
			}
		}
	}
	return true
}

// charged are the numbers of a row on a charge.
func charged(c cost.Charge) []string {
	all := []string{time(c.Minutes), money(c.Total)}
	for _, cents := range []int64{c.Laser, c.Wood, c.Labour, c.Profit} {
		all = append(all, money(maybe.If(cents, c.Total.Present())))
	}
	return all
}

func time(m maybe.Of[float64]) string {
	if minutes, ok := m.Get(); ok {
		return fmt.Sprintf("%.2f", minutes)
	}
	return unknown
}

func money(m maybe.Of[int64]) string {
	if cents, ok := m.Get(); ok {
		return cost.Money(cents)
	}
	return unknown
}

// lots says where each design or order is, to be ticked off when it is complete.
func (p *Plan) lots(w *writer) {
	w.put("<h2>Where each is</h2>\n<ul class=\"ticks\">\n")
	for i := range p.Lots {
		l := &p.Lots[i]
		say := l.title()
		if l.Say != "" {
			say += " (" + line(l.Say) + ")"
		}
		times := ""
		if len(l.Covers) > 1 {
			times = fmt.Sprintf(", %d times", len(l.Covers))
		}
		w.put("<li><label><input type=\"checkbox\"><span><b>%s</b>%s: %s on %s</span></label></li>\n", say, times, count(l.Parts, "part"), strings.Join(l.Sheets, ", "))
	}
	w.put("</ul>\n")
}

// sheet shows a sheet, with what lies on it.
func (p *Plan) sheet(w *writer, s *Sheet) {
	w.put("<section class=\"sheet\">\n<h3>%s</h3>\n", s.Name)
	said := fmt.Sprintf("%s; parts take up %.0f %% of it", s.On(p.Unit), 100*s.Used)
	if m, ok := s.Minutes.Get(); ok {
		said += fmt.Sprintf("; the laser runs %.2f minutes", m)
	}
	s.outer.html(w, s.Size, fmt.Sprintf("%s with %s", s.On(p.Unit), count(len(s.Parts), "part")), said)
	if s.Inside {
		turned := s.turnedOver()
		s.inside.html(w, s.Size, "the inside of "+turned.On(p.Unit)+", as it lies turned over", "its inside, as it lies turned over like a page"+turned.goneAt(p.Unit)+". It comes first: "+s.insideFirst())
	}
	s.cuts(w, p.Unit)
	w.put("<ol class=\"parts\">\n")
	for _, r := range s.Parts {
		more := p.Lots[r.Lot].ofOrder()
		if r.Turned != 0 {
			more += fmt.Sprintf(", turned by %.4g° clockwise", r.Turned)
		}
		w.put("<li><b>%d</b><span>%s <span class=\"quiet\">%s</span></span></li>\n", r.Place, r.Name, strings.TrimPrefix(more, ", "))
	}
	w.put("</ol>\n</section>\n")
}

// cuts lists the cuts of a knife in their order, as the picture numbers them.
func (s *Sheet) cuts(w *writer, in unit.Unit) {
	if len(s.Knife) == 0 {
		return
	}
	w.put("<p>Cut it by a knife, each time from edge to edge of what is left together, in this order; places are from the left edge and from the head:</p>\n<ol class=\"knife\">\n")
	for _, said := range layout.KnifeOrder(s.Knife, func(mm float64) string { return unit.FormatLength(mm, in) }) {
		w.put("<li>%s</li>\n", said)
	}
	w.put("</ol>\n")
}

// called are the files of one side, of which one is run: market-day-birch-1.svg or .dxf.
func (s *Sheet) called(names []string) string {
	if len(names) == 0 {
		return s.Name
	}
	said := names[0]
	for _, name := range names[1:] {
		said += " or " + filepath.Ext(name)
	}
	return said
}

func stockName(name string) string {
	if name == "" {
		return "what has no stock"
	}
	return name
}

// On says what a sheet is: an offcut of ply, 330 mm by 240 mm, the grain along the width.
func (s *Sheet) On(in unit.Unit) string {
	what := "a sheet"
	switch {
	case s.Sawn != nil:
		what = "a piece"
	case s.Offcut:
		what = "an offcut"
	}
	if s.Stock != "" {
		what += " of " + s.Stock
	}
	size, hangs := s.Size, s.Hangs.Size != (geom.Point{})
	if hangs {
		size = s.Hangs.Size
	}
	what = fmt.Sprintf("%s, %s by %s%s", what, unit.FormatLength(size.X, in), unit.FormatLength(size.Y, in), s.goneAt(in))
	if hangs {
		what += ", which hangs over the bed"
		if s.HangsLeft {
			what += " at the left"
		}
	}
	if s.Sawn != nil {
		what += ", sawn from " + s.of()
	}
	if s.Grain != 0 {
		what += ", the grain along the " + s.Grain.String()
	}
	return what
}

// goneAt says what is gone of a sheet, and at which corner.
func (s *Sheet) goneAt(in unit.Unit) string {
	at, ok := layout.CornerGone(s.Gone)
	size := geom.Pt(s.Gone.Width(), s.Gone.Height())
	if s.Hangs.Size != (geom.Point{}) {
		at, size = s.Hangs.At(), s.Hangs.Gone
		ok = size != geom.Point{}
	}
	if !ok {
		return ""
	}
	return goneAt(size, at, in)
}

// GoneAt says what is gone of an offcut, and at which corner; "" where nothing is.
func GoneAt(o layout.Offcut, in unit.Unit) string {
	if o.Gone == (geom.Point{}) {
		return ""
	}
	return goneAt(o.Gone, o.At(), in)
}

func goneAt(size geom.Point, at word.SheetCorner, in unit.Unit) string {
	return fmt.Sprintf(", %s by %s of it gone at %s", unit.FormatLength(size.X, in), unit.FormatLength(size.Y, in), at)
}

// insideFirst says how a sheet is run that has an inside, as the tickets of its orders do. One that hangs over the bed
// at the left has its other edge at the stops.
func (s *Sheet) insideFirst() string {
	first, then := "right", "left"
	if s.HangsLeft {
		first, then = then, first
	}
	return "lay it with its inner side up against the stops at the head and at the " + first + " edge of the page, and run the -inside file. " +
		"Then turn it like a page, its head up, so that the same edge lies against the stop at the " + then + ", and run the sheet's own file."
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// directed is a text with nothing in it that turns what follows round.
func directed(text string) string {
	return strings.Map(func(c rune) rune {
		if c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069 {
			return utf8.RuneError
		}
		return c
	}, text)
}

// line is a text of a customer on one line.
func line(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\n':
			return ' '
		case c < ' ' || c >= 0x7f && c < 0xa0:
			return utf8.RuneError
		}
		return c
	}, text)
}
