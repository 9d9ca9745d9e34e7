package batch

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"foredge/cmd/internal/cutplan"
	"foredge/cmd/internal/driver"
	"foredge/eval/design"
	"foredge/eval/orders"
	"foredge/lang/data"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/advise"
)

// A ticket goes with an order to the bench.
type ticket struct {
	order, from string
	line        int
	item        string      // as in "2 of 3"; "" of an order of one row
	cells       [][2]string // what the table says
	cleaned     []string    // what was cleaned of each, "" where nothing was
	remarks     []string    // what is told of the row
	copies      int
	files       []string
	often       []often // of these, what is run several times for one making
	pieces      []piece // on which these lie, where there is something to mind
	places      []Place
	parts       []Part
	lettered    []string
	texts       []string
	stocks      []string // what the parts are cut from, in words
	materials   []Material
	hazards     []string // what is said of each material
	inside      bool
	hangsLeft   bool // a sheet on which it lies hangs over the bed at the left
	together    bool
	charge      charge
}

// An often is what is run so many times to make an order once, without an ending.
type often struct {
	name string
	runs int
}

// A piece is a sheet or an offcut that has to be the right one, to lie the right way, or to be cut
// by a knife.
type piece struct {
	file string // without ending
	is   string
	cuts []string // of the knife, in their order
}

// piece notes on which piece a file's parts lie, if there is something to mind about it.
func (t *ticket) piece(file string, s *layout.Sheet) {
	if s == nil || !s.Offcut && s.Grain == 0 && len(s.Knife) == 0 && s.Sawn == nil {
		return
	}
	t.hangsLeft = t.hangsLeft || s.HangsLeft
	its := cutplan.SheetOf(s)
	said := its.On(unit.MM)
	if !t.together { // else their page says where it is sawn
		if said += its.HowSawn(unit.MM); s.Sawn != nil && t.copies > 1 {
			said += "; each further time it is that of another sheet, sawn in the same way"
		}
	}
	if len(s.Others) > 0 {
		of, times := make([]string, len(s.Others)), "second time"
		for i, o := range s.Others {
			of[i] = fmt.Sprintf("one of %s by %s%s", unit.FormatLength(o.Size.X, unit.MM), unit.FormatLength(o.Size.Y, unit.MM), cutplan.GoneAt(o, unit.MM))
		}
		if len(of) > 1 {
			times = "further times"
		}
		said += fmt.Sprintf("; the %s it is cut on %s, laid with head and left edge where this one has them", times, strings.Join(of, " and on "))
	}
	t.pieces = append(t.pieces, piece{file, line(said), layout.KnifeOrder(s.Knife, func(mm float64) string { return unit.FormatLength(mm, unit.MM) })})
}

func (r *run) ticket(i int, solved *design.Design, sheets []driver.Sheet) ticket {
	row := &r.table.Rows[i]
	t := ticket{order: row.Number, from: r.shown, line: row.Line, copies: r.table.Copies(i), together: r.opts.Together,
		materials: materials(solved), hazards: advise.Hazards(solved), lettered: []string{}}
	if row.Item > 0 {
		t.item = fmt.Sprintf("%d of %d", row.Item, row.Items)
		if spoilt := r.spoilt[row.Order()]; len(spoilt) > 0 {
			t.remarks = append(t.remarks, fmt.Sprintf("this order isn't whole: of its items, %s can't be made", strings.Join(spoilt, ", ")))
		}
	}
	for k, c := range r.table.Columns {
		switch cell := row.Cells[k]; {
		case !r.table.IsCopies(k):
			t.cell(c, cell)
		case cell.Cleaned != nil: // how often it is made is told elsewhere
			t.remarks = append(t.remarks, fmt.Sprintf("%s is %s", c.Name, cleaned(cell)))
		}
	}
	for _, d := range row.Problems {
		t.remarks = append(t.remarks, d.Message)
	}
	thick := thicknesses(solved)
	outer := outerParts(sheets)
	oneStock, outside := (&layout.Drawing{Parts: outer}).OneStock(), false
	for _, p := range outer {
		t.part(p, oneStock, thick)
	}
	if r.opts.Each { // each has its own file, in which the laser cuts it
		for k := range t.parts {
			t.parts[k].knife = false
		}
	}
	for _, s := range sheets {
		if s.Runs() > 1 {
			t.often = append(t.often, often{r.names[i] + s.Suffix, s.Runs()})
		}
		t.piece(r.names[i]+s.Suffix, s.On)
		if s.For == driver.Cutting {
			continue // its parts are those of the whole
		}
		t.inside = t.inside || s.Inside
		if !s.Inside && outside {
			continue // the file of a part holds the texts of the whole
		}
		outside = outside || !s.Inside
		for _, x := range s.Drawing.Texts {
			t.lettered = append(t.lettered, line(x.Text))
			text := fmt.Sprintf("%s.%s: %s, capitals %s mm high", x.Panel, x.Region, line(x.Text), unit.FormatNumber(x.Cap, 2))
			if other := x.OtherFonts(); other != "" {
				text += ", " + line(other)
			}
			t.texts = append(t.texts, text)
			if r.gap(i, x) {
				t.remarks = append(t.remarks, fmt.Sprintf("the text of %s.%s has an empty line between others", x.Panel, x.Region))
			}
		}
	}
	for _, m := range t.materials {
		t.stocks = append(t.stocks, m.String())
	}
	return t
}

// outerParts are the parts of an order, in whichever files they are.
func outerParts(sheets []driver.Sheet) (parts []layout.Part) {
	for _, s := range sheets {
		if !s.Inside && s.For != driver.Cutting { // those of sheets are those of the whole
			parts = append(parts, s.Drawing.Parts...)
		}
	}
	return parts
}

// cell notes a value of the table.
func (t *ticket) cell(c orders.Column, cell orders.Cell) {
	text := cell.Text
	switch c.Kind {
	case unit.Text:
	case unit.Length:
		text = unit.FormatNumber(cell.Number, 3) + " mm"
	case unit.Angle:
		text = unit.FormatNumber(cell.Number, 3) + " deg"
	default:
		text = unit.FormatNumber(cell.Number, 4)
	}
	t.cells = append(t.cells, [2]string{c.Name, line(text)})
	t.cleaned = append(t.cleaned, cleaned(cell))
}

// cleaned says what was cleaned of a value, "" where nothing was.
func cleaned(cell orders.Cell) string {
	if cell.Cleaned == nil {
		return ""
	}
	return fmt.Sprintf("in the table %s: %s", line(strconv.Quote(cell.Cleaned.Was)), line(strings.Join(cell.Cleaned.Changes, ", ")))
}

// part notes a part of the order.
func (t *ticket) part(p layout.Part, oneStock bool, thick map[string]float64) {
	part := Part{Name: p.Name, Width: round(p.Bounds.Width()), Height: round(p.Bounds.Height()),
		grain: p.Grain, knife: p.Of != nil && p.Of.Way.Knife.Yes}
	if !oneStock {
		part.Stock = p.Stock
	}
	if mm, known := thick[p.Stock]; known && p.Stock != "" {
		part.Thick = round(mm)
	} else if mm, known := thick["panel "+p.Name]; known {
		part.Thick = round(mm)
	}
	if p.Copies > 1 {
		part.Copies = p.Copies
	}
	for _, x := range p.Recesses {
		part.Recesses = append(part.Recesses, Recess{x.Name, round(x.Depth), x.Inside})
	}
	t.parts = append(t.parts, part)
}

// thicknesses are those of stocks, by their names, and of panels, by "panel " and
// theirs, as far as they are known.
func thicknesses(solved *design.Design) map[string]float64 {
	all := map[string]float64{}
	for _, s := range solved.Stocks() {
		if mm, known := s.Thick.Get(); known {
			all[s.Name] = mm
		}
	}
	for i := range solved.Panels {
		if mm, known := solved.Panels[i].Thick.Get(); known {
			all["panel "+solved.Panels[i].Name] = mm
		}
	}
	return all
}

// materials are what a design is cut from, each stock once.
func materials(solved *design.Design) []Material {
	all := []Material{}
	for _, s := range solved.Stocks() {
		m := Material{Name: s.Material.Name, Stock: s.Name, GivesOff: s.Material.GivesOff, Burns: s.Material.Burns, Never: s.Material.Never, Ask: s.Material.Ask}
		if mm, known := s.Thick.Get(); known {
			m.Thick = round(mm)
		}
		if m.Never != "" || m.Ask != "" {
			m.Allowed = s.Allow
		}
		if !slices.Contains(all, m) { // one that says nothing of its own is the stock that it is like
			all = append(all, m)
		}
	}
	return all
}

// String is a material as it stands in the rack: ply (birch-ply), 3 mm thick.
func (m Material) String() string {
	words := cmp.Or(m.Stock, m.Name, "a stock without a name")
	if m.Stock != "" && m.Name != "" && m.Name != m.Stock {
		words += fmt.Sprintf(" (%s)", m.Name)
	}
	if m.Thick > 0 {
		words += fmt.Sprintf(", %.4g mm thick", m.Thick)
	}
	return line(words)
}

// round gives a length at the resolution of the cut files, 0.1 µm.
func round(mm float64) data.Number {
	v, _ := strconv.ParseFloat(strconv.FormatFloat(mm, 'f', 4, 64), 64)
	return data.Number(v)
}

// line is a text on one line, with nothing in it that could steer a terminal or
// turn what follows round.
func line(text string) string {
	return strings.Map(func(c rune) rune {
		switch {
		case c == '\n' || c == 0x2028 || c == 0x2029:
			return '⏎'
		case c == '\t':
			return ' '
		case c < ' ' || c >= 0x7f && c < 0xa0 || c >= 0x202a && c <= 0x202e || c >= 0x2066 && c <= 0x2069:
			return '�'
		}
		return c
	}, text)
}

func (t ticket) text() []byte {
	var b bytes.Buffer
	item := ""
	if t.item != "" {
		item = fmt.Sprintf(", item %s", t.item)
	}
	fmt.Fprintf(&b, ticketBegins+"%s%s (line %d of %s)\n\n", t.order, item, t.line, t.from)
	t.writeCells(&b)
	t.writeFiles(&b)
	t.writeParts(&b)
	for _, x := range t.texts {
		fmt.Fprintf(&b, "  %s\n", x)
	}
	t.charge.write(&b, t.copies)
	switch {
	case t.inside && t.together:
		b.WriteString("\nThe inside comes first, of the whole sheet: lay it with its inner side up against the stops at the head and\n" +
			"at the right edge of the page, and run the -inside file. Then turn it like a page, its head up, so that the\n" +
			"same edge lies against the stop at the left, and run the sheet's own file.\n")
		if t.hangsLeft {
			b.WriteString("Of a sheet that hangs over the bed at the left it is the other way round: against the stop at the left, then at the right.\n")
		}
	case t.inside:
		b.WriteString("\nThe inside: turn the board like a page, its head up, push it into the jig's head corner at the left\n" +
			"and run the -inside file from the jig's own origin.\n")
	}
	b.WriteString("\nBefore you cut:\n")
	for _, h := range t.hazards {
		fmt.Fprintf(&b, "  %s\n", line(h))
	}
	for _, s := range advise.Safety() {
		fmt.Fprintf(&b, "%s\n", strings.TrimRight("  "+s, " "))
	}
	return []byte(source.Isolated(b.String()))
}

// writeCells writes what the table says, with what was changed of it and what to mind.
func (t ticket) writeCells(b *bytes.Buffer) {
	wide := 0
	for _, c := range t.cells {
		wide = max(wide, len([]rune(c[0])))
	}
	for i, c := range t.cells {
		cleaned := ""
		if t.cleaned[i] != "" {
			cleaned = fmt.Sprintf("  (%s)", t.cleaned[i])
		}
		fmt.Fprintf(b, "  %-*s  %s%s\n", wide, c[0], c[1], cleaned)
	}
	for _, r := range t.remarks {
		fmt.Fprintf(b, ticketLook+"%s\n", line(r))
	}
}

// writeFiles writes which files make the order, and of sheets where on them it lies.
func (t ticket) writeFiles(b *bytes.Buffer) {
	files := strings.Join(t.files, ", ")
	switch {
	case t.together && t.copies > 1:
		fmt.Fprintf(b, "\n%s, as all %d of this order lie on them: %s\n", ticketRuns, t.copies, files)
	case t.together:
		fmt.Fprintf(b, "\n%s: %s\n", ticketRuns, files)
	case t.copies > 1:
		fmt.Fprintf(b, "\n%s%d times: %s\n", ticketMakes, t.copies, files)
	default:
		fmt.Fprintf(b, "\n%sonce: %s\n", ticketMakes, files)
	}
	for _, f := range t.often {
		fmt.Fprintf(b, "  %s holds one board: run it%s\n", f.name, inAll(f.runs, t.copies))
	}
	t.writePieces(b)
	for _, p := range t.places {
		turned := ""
		if p.Inside {
			turned = "; on its inside, turned over, from the right"
		}
		switch p.Turned {
		case 90:
			turned += "; turned by a quarter"
		case 180:
			turned += "; upside down"
		case 270:
			turned += "; turned by three quarters"
		}
		fmt.Fprintf(b, "  %s: on %s, number %d (%.5g mm from the left edge, %.5g mm from the top)%s\n",
			p.Part, p.Sheet, p.Place, p.Left, p.Top, turned)
	}
}

// writePieces writes on which pieces the parts lie, and how a knife parts these: in its order where
// they are the order's own, else where that is listed.
func (t ticket) writePieces(b *bytes.Buffer) {
	for _, p := range t.pieces {
		fmt.Fprintf(b, "  %s: %s", p.file, p.is)
		switch {
		case len(p.cuts) == 0:
			b.WriteString("\n")
		case t.together:
			fmt.Fprintf(b, "; it is cut by a knife afterwards, along the lines that the laser marks, in the order of %s\n", pageName)
		default:
			b.WriteString("\n    Then cut it by a knife along the lines that the laser marks, in this order, each time from edge\n" +
				"    to edge of what is left together; places are from the left edge and from the head:\n")
			for i, c := range p.cuts {
				fmt.Fprintf(b, "    %3d  %s\n", i+1, c)
			}
		}
	}
}

// writeParts writes which parts the order has and what they are cut from.
func (t ticket) writeParts(b *bytes.Buffer) {
	for _, s := range t.stocks {
		fmt.Fprintf(b, "  From %s\n", s)
	}
	for _, p := range t.parts {
		of := ""
		if p.Stock != "" {
			of = ", of " + p.Stock
		}
		if p.Thick > 0 && (p.Stock != "" || len(t.stocks) == 0) {
			of += fmt.Sprintf(", %.4g mm thick", p.Thick)
		}
		if p.grain != 0 {
			of += ", the grain along its " + p.grain.String()
		}
		if p.knife {
			of += ", cut out by a knife"
		}
		switch {
		case t.together && max(1, p.Copies)*t.copies > 1:
			of += fmt.Sprintf(", %d of them in all", max(1, p.Copies)*t.copies)
		case p.Copies > 1:
			of += "," + inAll(p.Copies, t.copies)
		}
		fmt.Fprintf(b, "  %s, %.4g by %.4g mm%s\n", p.Name, p.Width, p.Height, of)
		for _, x := range p.Recesses {
			face := ""
			if x.Inside {
				face = " on the inside"
			}
			fmt.Fprintf(b, "    %s: engrave%s to a depth of %.4g mm\n", x.Name, face, x.Depth)
		}
	}
}

// inAll says how often something is done that each of some copies needs so many times.
func inAll(each, copies int) string {
	if copies > 1 {
		return fmt.Sprintf(" %d times each, %d in all", each, each*copies)
	}
	return fmt.Sprintf(" %d times", each)
}
