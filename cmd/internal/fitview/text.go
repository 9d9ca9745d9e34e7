package fitview

import (
	"bufio"
	"fmt"
	"io"
	"slices"
	"strings"
	"unicode/utf8"

	"foredge/eval/fit"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// columns is how wide the text may be.
const columns = 80

// WriteText writes a report for a person: what to do next, then whether the covers
// turn on their wire, then for each notebook how well its readings agree, how surely
// the holes clear, and a drawing with the readings at their places; with table also
// what became of each reading.
func WriteText(w io.Writer, r *fit.Report, table bool) error {
	out := bufio.NewWriter(w)
	pages := make([]*page, len(r.Notebooks))
	for i := range r.Notebooks {
		pages[i] = &page{out: out, notebook: &r.Notebooks[i]}
	}
	next(pages)
	turns(out, r.Turns)
	if len(pages) == 0 {
		fmt.Fprintln(out, "Nothing in this design was measured, so there is no fit to speak of.")
	}
	for i, p := range pages {
		if i > 0 {
			fmt.Fprintln(out)
		}
		p.write(table)
	}
	if !table && slices.ContainsFunc(pages, func(p *page) bool { return len(p.notebook.Readings) > 0 }) {
		fmt.Fprintln(out, "\nWith --table it lists what became of each reading.")
	}
	return out.Flush()
}

// next writes the advice about all notebooks, each by its name if it isn't the only
// one.
func next(pages []*page) {
	advised := false
	for _, p := range pages {
		for _, s := range p.advice() {
			if len(pages) > 1 {
				s = p.notebook.Name + ": " + strings.ToLower(s[:1]) + s[1:]
			}
			p.paragraph("> ", s)
			advised = true
		}
	}
	if advised {
		fmt.Fprintln(pages[0].out)
	}
}

// A page is the text about one notebook.
type page struct {
	out      *bufio.Writer
	notebook *fit.Notebook
}

func (p *page) write(table bool) {
	p.paragraph("", p.opening())
	if thick := p.notebook.Size("thick"); p.notebook.Stock && thick.Value.Present() {
		p.paragraph("", "It is "+p.within(thick.Value.Or(0), thick.U, thick.U95)+" thick (95 %).")
	}
	for i := range p.notebook.Rows {
		fmt.Fprintln(p.out)
		p.row(&p.notebook.Rows[i])
	}
	if len(p.notebook.Rows) > 0 {
		fmt.Fprintln(p.out)
		p.draw()
	}
	if len(p.notebook.Readings) > 0 && table {
		fmt.Fprintln(p.out)
		p.table()
	}
}

// opening says what was read and how well it agrees.
func (p *page) opening() string {
	n := p.notebook
	what := "a notebook"
	if n.Stock {
		what = "a stock"
	}
	s := fmt.Sprintf("%s, %s: %s", n.Name, what, count(len(n.Readings), "reading"))
	if n.Accuracy > 0 {
		s += " with a caliper good to ± " + p.length(n.Accuracy)
	}
	switch a := n.Agreement; a.Verdict {
	case fit.Unchecked:
		if len(n.Readings) > 0 {
			s += ", none more than needed, so nothing checks them"
		}
	case fit.Agree:
		s += fmt.Sprintf(", %d more than needed. They agree", a.Freedom)
	case fit.Doubtful:
		s += fmt.Sprintf(", %d more than needed. They agree less well than the caliper promises; by chance alone that happens fewer than 5 times in a hundred", a.Freedom)
	case fit.Contradict:
		s += fmt.Sprintf(", %d more than needed. They contradict each other: what follows from them is wrong until that is put right", a.Freedom)
	}
	return s + "."
}

// table lists the readings.
func (p *page) table() {
	rows := [][]string{{"reading", "read", "u", "adjusted", "u", "95 %", "checked", "off"}}
	for i, r := range p.notebook.Readings {
		row := []string{r.Name, p.plain(r.Read), p.fixed(r.U), p.fixed(r.Adjusted), p.fixed(r.AdjustedU), p.fixed(r.AdjustedU95), "no", ""}
		if r.Repeats > 1 {
			row[1] = fmt.Sprintf("%s of %d", p.plain(r.Read), r.Repeats)
		}
		if r.Checked {
			row[6] = fmt.Sprintf("%.0f %%", 100*r.Redundancy)
			row[7] = signed(r.Normalised)
			if p.suspect(i) {
				row[7] += " ?"
			} else if len(p.notebook.Suspects) > 0 {
				row[7] += "  "
			}
		}
		if r.Kind == unit.Angle {
			row[1] += " deg"
		}
		rows = append(rows, row)
	}
	p.columns(rows)
	p.paragraph("", "Lengths are in "+p.unitName()+". u is a standard uncertainty, and 95 % half the width of the interval that "+
		"holds the truth 95 times in a hundred. Checked is how much of a mistake the other readings would show; off is how far the reading "+
		"lies from them, 1 being usual and 3 rare.")
	for _, r := range p.notebook.Readings {
		if r.Read != r.Value {
			p.paragraph("", fmt.Sprintf("%s was read as %s by jaws with a flat of %s, so the hole is %s wide.", r.Name,
				p.length(r.Read), p.length(p.notebook.JawFlat), p.rounded(r.Value, r.U)))
		}
	}
}

// columns writes rows in columns, all but the first to the right.
func (p *page) columns(rows [][]string) {
	wide := make([]int, len(rows[0]))
	for _, row := range rows {
		for i, cell := range row {
			wide[i] = max(wide[i], utf8.RuneCountInString(cell))
		}
	}
	for _, row := range rows {
		line := ""
		for i, cell := range row {
			blank := strings.Repeat(" ", wide[i]-utf8.RuneCountInString(cell))
			if i == 0 {
				line = cell + blank
			} else {
				line += "  " + blank + cell
			}
		}
		fmt.Fprintln(p.out, strings.TrimRight(line, " "))
	}
}

// row says which punching pattern a row has, and how surely its holes clear.
func (p *page) row(r *fit.Row) {
	s := r.Name + ":"
	if r.Count > 0 {
		s += " " + count(r.Count, "hole")
	}
	pitch := r.Dim("pitch")
	if value, known := pitch.Value.Get(); known {
		if s += ", pitch "; pitch.U > 0 {
			s += p.within(value, pitch.U, pitch.U95) + " (95 %)"
		} else {
			s += p.length(value)
		}
	}
	if s == r.Name+":" {
		s += " nothing says how many holes it has, or how far apart"
	}
	s += "."
	if k := r.Pattern; k != nil && k.Same {
		s += fmt.Sprintf(" Spacing and holes are those of the pattern %s.", k.Name)
	} else if k != nil {
		form := ""
		if k.Form != r.Form {
			form = k.Form.String() + ", "
		}
		s += fmt.Sprintf(" The spacing is that of the pattern %s, but its holes are %s%s by %s.", k.Name, form, p.plain(k.Along), p.length(k.Across))
	}
	p.paragraph("", s)
	told := map[string]bool{}
	for i, c := range r.Covers {
		key := p.clearance(r, c)
		if told[key] {
			continue
		}
		told[key] = true
		names := []string{c.Name}
		for _, d := range r.Covers[i+1:] {
			if p.clearance(r, d) == key {
				names = append(names, d.Name)
			}
		}
		p.paragraph("", spell.And(names)+": "+key)
	}
}

// clearance says how surely the holes of a panel's row clear.
func (p *page) clearance(r *fit.Row, c fit.Clearance) string {
	if c.Missing != "" {
		return "how surely the holes clear can't be told, because " + c.Missing + "."
	}
	s := p.roomOf(r, c)
	if p.notebook.Agreement.Verdict == fit.Contradict {
		s += " If the adjusted values were right, the chance that all holes clear would be, with errors taken as normal, "
	} else {
		s += " The chance that all holes clear is, with errors taken as normal, "
	}
	s += percent(c.Probability.Or(0), c.Error)
	if p, unlike := c.Bounded.Get(); unlike {
		s += ", and " + percent(p, 0) + " if they never go beyond what was promised"
	}
	more, enough := c.More99.Get()
	ease, eased := c.Ease99.Get()
	switch {
	case !enough:
		s += "; openings that are wide enough would meet one another: read the run of all holes, or read again with less doubt"
	case eased && ease <= 0:
		s += "; without any ease it would be more than 99 %"
	case eased:
		s += "; for 99 % the ease must be at least " + p.length(ease)
	case more > 0:
		s += "; for 99 % the openings must be larger by " + p.length(more)
	default:
		s += "; for 99 % the openings could be smaller by " + p.length(-more)
	}
	return s + "."
}

// roomOf says how much room the wire has in the openings of a panel's row.
func (p *page) roomOf(r *fit.Row, c fit.Clearance) string {
	openings := fmt.Sprintf("openings of %s by %s", p.about(c.Opening.Along), p.aboutLength(c.Opening.Across))
	if adjective, measure, single := c.Opening.Form.Single(); single {
		openings = fmt.Sprintf("%s openings %s %s", adjective, p.aboutLength(c.Opening.Stated()), measure)
	}
	thick := p.rounded(r.Wire.Thick, r.Wire.Dim.U)
	wire := "a wire of " + thick + " has "
	if r.Wire.Pair > r.Wire.Thick {
		wire = "two wires of " + thick + ", " + p.aboutLength(r.Wire.Pair) + " over both, have "
	}
	along, across := c.RoomAlong.Or(0), c.RoomAcross.Or(0)
	s := "in " + openings + ", " + wire + p.aboutLength(along) + " of room on each side"
	if p.about(along) != p.about(across) {
		s += " along the row and " + p.aboutLength(across) + " across"
	}
	return s + "."
}

// paragraph writes a text in lines of at most 80 columns, each after the first
// under the end of the mark that the first begins with.
func (p *page) paragraph(mark, text string) {
	text = strings.ReplaceAll(text, " %", glue+"%")
	line := mark
	indent := strings.Repeat(" ", len(mark))
	empty := true
	for _, word := range strings.Fields(text) {
		if !empty && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > columns {
			p.line(line)
			line, empty = indent, true
		}
		if !empty {
			line += " "
		}
		line += word
		empty = false
	}
	p.line(line)
}

func (p *page) line(s string) { fmt.Fprintln(p.out, strings.ReplaceAll(s, glue, " ")) }

// suspect reports whether a reading is among those to take again.
func (p *page) suspect(i int) bool {
	for _, k := range p.notebook.Suspects {
		if k == i {
			return true
		}
	}
	return false
}
