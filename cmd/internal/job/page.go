package job

import (
	_ "embed"
	"fmt"
	"html"
	"path/filepath"
	"strings"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/pagelook"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
)

//go:embed page.css
var style string

// mostInDetail is up to how many parts a job's pictures show what is engraved, marked and
// scored; of more they show what is cut, for a page that a telephone can open.
const mostInDetail = 300

// A page shows a job to whoever cuts it. It asks for nothing else and needs no script.
type page struct {
	Title  string
	Unit   unit.Unit
	Parts  int
	Plain  bool // only cuts are drawn
	Uses   []layout.Use
	Sheets []pageSheet
	Lots   []pageLot
}

// A pageSheet is a sheet with its files and its parts in the order of their places.
type pageSheet struct {
	layout.Sheet
	Name               string
	Files, InsideFiles []string
	Rows               []pagePart
}

type pagePart struct {
	Place  int
	Part   string
	Of     string  // the order, "" where its design has none
	Turned float64 // degrees
}

// A pageLot is a design or an order, and where its parts lie.
type pageLot struct {
	Title, Say    string
	Copies, Parts int
	Sheets        []string
}

// A writer writes HTML.
type writer struct{ strings.Builder }

// put writes markup, in which each argument that is a text is escaped.
func (w *writer) put(format string, args ...any) {
	for i, a := range args {
		if s, ok := a.(string); ok {
			args[i] = html.EscapeString(s)
		}
	}
	fmt.Fprintf(w, format, args...)
}

func (p *page) html() []byte {
	var w writer
	w.put("<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<title>%s</title>\n<style>\n", p.Title)
	w.Write(pagelook.CSS())
	w.WriteString(style)
	w.WriteString("</style>\n</head>\n<body>\n<main>\n")
	w.put("<h1>%s</h1>\n<p>%s on %s</p>\n", p.Title, count(p.Parts, "part"), count(len(p.Sheets), "sheet"))
	p.ticks(&w)
	p.stocks(&w)
	w.put("<h2>The sheets</h2>\n")
	if p.Plain {
		w.put("<p class=\"quiet\">The pictures show what is cut, not what is engraved, marked or scored.</p>\n")
	}
	for i := range p.Sheets {
		p.Sheets[i].html(&w, p)
	}
	p.lots(&w)
	w.WriteString("</main>\n</body>\n</html>\n")
	return []byte(w.String())
}

// ticks is the list to tick off at the laser. An inside is run before its outside.
func (p *page) ticks(w *writer) {
	w.put("<h2>To cut</h2>\n<ul class=\"ticks\">\n")
	for _, s := range p.Sheets {
		if s.Inside != nil {
			w.put("<li><label><input type=\"checkbox\"><span><b>%s</b>: first the inside of the sheet, turned over</span></label></li>\n", files(s.InsideFiles))
		}
		w.put("<li><label><input type=\"checkbox\"><span><b>%s</b>: %s on %s</span></label></li>\n", files(s.Files), count(len(s.Rows), "part"), s.on(p.Unit))
	}
	w.put("</ul>\n")
}

// stocks is what the job takes of each stock, and what is left of it.
func (p *page) stocks(w *writer) {
	if len(p.Uses) == 0 {
		return
	}
	w.put("<h2>What it takes</h2>\n<div class=\"wide\" tabindex=\"0\" role=\"region\" aria-label=\"What it takes\">\n<table>\n<thead><tr><th scope=\"col\">stock</th><th scope=\"col\" class=\"number\">pieces</th><th scope=\"col\" class=\"number\">used</th><th scope=\"col\" class=\"number\">at least</th><th scope=\"col\" class=\"number\">cost</th></tr></thead>\n<tbody>\n")
	for _, u := range p.Uses {
		cost := "–"
		if money, ok := u.Cost.Get(); ok {
			cost = fmt.Sprintf("%.2f", money)
		}
		w.put("<tr><th scope=\"row\">%s</th><td class=\"number\">%d</td><td class=\"number\">%.0f %%</td><td class=\"number\">%d</td><td class=\"number\">%s</td></tr>\n", stockName(u.Stock), u.Sheets, 100*u.Used, u.LeastSheets, cost)
	}
	w.put("</tbody>\n</table>\n</div>\n<p class=\"quiet\">pieces: sheets and offcuts. used: the share of them that parts cover. at least: fewer can't hold the parts, whatever the way they are laid.</p>\n")
	for _, u := range p.Uses {
		if len(u.Left) == 0 {
			continue
		}
		w.put("<p>Left of %s, for the next job: <code>%s</code></p>\n", stockName(u.Stock), driver.Offcuts(u.Left, p.Unit))
	}
}

// lots says where each design or order is, to be ticked off when it is complete.
func (p *page) lots(w *writer) {
	w.put("<h2>Where each is</h2>\n<ul class=\"ticks\">\n")
	for _, l := range p.Lots {
		say := l.Title
		if l.Say != "" {
			say += " (" + line(l.Say) + ")"
		}
		times := ""
		if l.Copies > 1 {
			times = fmt.Sprintf(", %d times", l.Copies)
		}
		w.put("<li><label><input type=\"checkbox\"><span><b>%s</b>%s: %s on %s</span></label></li>\n", say, times, count(l.Parts, "part"), strings.Join(l.Sheets, ", "))
	}
	w.put("</ul>\n")
}

// files are those of one drawing, of which one is run: market-day-birch-1.svg or .dxf.
func files(names []string) string {
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

// on says what a sheet is.
func (s *pageSheet) on(in unit.Unit) string {
	what := "a sheet"
	if s.Offcut {
		what = "an offcut"
	}
	if s.Stock != "" {
		what += " of " + s.Stock
	}
	what = fmt.Sprintf("%s, %s by %s", what, unit.FormatLength(s.Outer.Size.X, in), unit.FormatLength(s.Outer.Size.Y, in))
	if at, ok := layout.CornerGone(s.Gone); ok {
		what += fmt.Sprintf(", %s by %s of it gone at %s", unit.FormatLength(s.Gone.Width(), in), unit.FormatLength(s.Gone.Height(), in), at)
	}
	return what
}

// used is the share of a sheet within the boxes of what is cut of its parts.
func (s *pageSheet) used() float64 {
	sum := 0.0
	for i := range s.Outer.Parts {
		if s.Outer.Parts[i].Common {
			continue
		}
		box := s.Outer.Parts[i].Footprint()
		sum += box.Width() * box.Height()
	}
	return sum / (s.Outer.Size.X*s.Outer.Size.Y - s.Gone.Width()*s.Gone.Height())
}

func (s *pageSheet) html(w *writer, p *page) {
	w.put("<section class=\"sheet\">\n<h3>%s</h3>\n", s.Name)
	s.figure(w, p, s.Outer, fmt.Sprintf("%s with %s", s.on(p.Unit), count(len(s.Rows), "part")),
		fmt.Sprintf("%s; parts take up %.0f %% of it", s.on(p.Unit), 100*s.used()))
	if s.Inside != nil {
		s.figure(w, p, s.Inside, "the inside of "+s.on(p.Unit)+", as it lies turned over", "its inside, as it lies turned over like a page: run it first")
	}
	s.knife(w, p)
	w.put("<ol class=\"parts\">\n")
	for _, r := range s.Rows {
		more := r.Of
		if r.Turned != 0 {
			more += fmt.Sprintf(", turned by %.4g° clockwise", r.Turned)
		}
		w.put("<li><b>%d</b><span>%s <span class=\"quiet\">%s</span></span></li>\n", r.Place, r.Part, strings.TrimPrefix(more, ", "))
	}
	w.put("</ol>\n</section>\n")
}

// knife lists the cuts of a knife in their order, as the picture numbers them.
func (s *pageSheet) knife(w *writer, p *page) {
	if len(s.Knife) == 0 {
		return
	}
	w.put("<p>Cut it by a knife, each time from edge to edge of what is left together, in this order; places are from the left edge and from the head:</p>\n<ol class=\"knife\">\n")
	for _, said := range layout.KnifeOrder(s.Knife, func(mm float64) string { return unit.FormatLength(mm, p.Unit) }) {
		w.put("<li>%s</li>\n", said)
	}
	w.put("</ol>\n")
}

// knifeNumbers writes beside each cut of a knife which it is.
func (s *pageSheet) knifeNumbers(w *writer) {
	for i, c := range s.Knife {
		at := c.From.Lerp(c.To, 0.5)
		w.put("<text class=\"number-on cut-on\" transform=\"translate(%s %s) scale(%s)\"><title>cut %d of the knife</title>%d</text>\n", mm(at.X), mm(at.Y), mm(largestName), i+1, i+1)
	}
}

// figure draws a sheet, its parts with the numbers of their places.
func (s *pageSheet) figure(w *writer, p *page, d *layout.Drawing, alt, caption string) {
	w.put("<figure>\n<svg role=\"img\" aria-label=\"%s\" viewBox=\"%s %s %s %s\">\n", alt, mm(-1), mm(-1), mm(d.Size.X+2), mm(d.Size.Y+2))
	w.put("<rect class=\"board\" x=\"0\" y=\"0\" width=\"%s\" height=\"%s\"/>\n", mm(d.Size.X), mm(d.Size.Y))
	if s.Gone != (geom.Box{}) && d == s.Outer {
		w.put("<rect class=\"gone\" x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\"/>\n", mm(s.Gone.Min.X), mm(s.Gone.Min.Y), mm(s.Gone.Width()), mm(s.Gone.Height()))
	}
	places := map[string]int{}
	for _, r := range s.Rows {
		places[r.Part] = r.Place
	}
	for i := range d.Parts {
		drawPart(w, &d.Parts[i], p.Plain && !d.Parts[i].Common)
	}
	for i := range d.Parts {
		part := &d.Parts[i]
		if part.Common {
			continue
		}
		box := part.Footprint()
		number := fmt.Sprint(places[part.Name])
		high := min(0.5*box.Height(), 1.4*box.Width()/float64(len(number)), largestNumber)
		c := box.Center()
		w.put("<text class=\"number-on\" transform=\"translate(%s %s) scale(%s)\"><title>%s</title>%s</text>\n", mm(c.X), mm(c.Y), mm(high), part.Name, number)
		if small := min(0.2*box.Height(), 1.5*box.Width()/float64(len(part.Name)), largestName); small >= smallestName {
			w.put("<text class=\"number-on name-on\" aria-hidden=\"true\" transform=\"translate(%s %s) scale(%s)\">%s</text>\n", mm(c.X), mm(c.Y+0.5*high+small), mm(small), part.Name)
		}
	}
	if d == s.Outer {
		s.knifeNumbers(w)
	}
	w.put("</svg>\n<figcaption>%s</figcaption>\n</figure>\n", caption)
}

// largestNumber is how high in mm the number of a part stands at the most.
const largestNumber = 28

// largestName and smallestName are how high in mm its name stands below the number; where it
// would be smaller only the list beside the picture has it.
const (
	largestName  = 9
	smallestName = 3
)

// drawPart draws what is done to a part, one path for each way.
func drawPart(w *writer, p *layout.Part, plain bool) {
	paths := map[string]*strings.Builder{}
	for _, s := range p.Shapes {
		class := "line"
		switch {
		case s.Op == layout.Cut:
			class = "cut"
		case plain, s.Op == layout.Guide:
			continue
		case s.Op == layout.Engrave:
			class = "fill"
		}
		b := paths[class]
		if b == nil {
			b = &strings.Builder{}
			paths[class] = b
		}
		for _, path := range geom.Paths(s.Figure) {
			b.WriteString(path.String())
		}
	}
	for _, class := range []string{"fill", "line", "cut"} {
		if b := paths[class]; b != nil {
			w.put("<path class=\"%s\" d=\"%s\"/>\n", class, b.String())
		}
	}
}

// mm writes a length in a picture.
func mm(x float64) string { return unit.FormatNumber(x, 2) }

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// line is a text of a customer on one line, with nothing in it that turns what follows round.
func line(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\n':
			return ' '
		case c < ' ' || c >= 0x7f && c < 0xa0 || c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069:
			return '\ufffd'
		}
		return c
	}, text)
}
