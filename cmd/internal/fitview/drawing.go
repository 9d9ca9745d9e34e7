package fitview

import (
	"fmt"
	"math"
	"strings"
	"unicode/utf8"

	"foredge/eval/fit"
	"foredge/eval/word"
)

// The notebook is drawn as a box with its spine at the left. Each row stands
// along its edge, its holes as a few marks, the readings where they were taken.
const (
	boxLeft   = 6  // columns before the box
	boxInside = 64 // columns within it
	rowLines  = 9  // lines of a row along spine or foredge
	headLines = 4  // lines of a row along head or tail
	sizeLines = 4  // lines of the notebook's own readings
)

// A sheet is lines of characters to write on.
type sheet [][]rune

// put writes a text from a place on; what lies outside is cut off.
func (s sheet) put(x, y int, text string) {
	if y < 0 || y >= len(s) {
		return
	}
	for _, r := range text {
		if x >= 0 && x < len(s[y]) {
			s[y][x] = r
		}
		x++
	}
}

func newSheet(lines int) sheet {
	s := make(sheet, lines)
	for i := range s {
		s[i] = []rune(strings.Repeat(" ", columns))
	}
	return s
}

// draw draws the notebook.
func (p *page) draw() {
	byEdge := map[word.Edge]*fit.Row{}
	for i := range p.notebook.Rows {
		if r := &p.notebook.Rows[i]; byEdge[r.Edge] == nil {
			byEdge[r.Edge] = r // a further row on the same edge is in the table alone
		}
	}
	top, high := 2, sizeLines
	if byEdge[word.Spine] != nil || byEdge[word.Foredge] != nil {
		high = rowLines
	}
	own := 0
	for _, r := range p.notebook.Readings {
		if r.Row == "" {
			own++
		}
	}
	high = max(high, 2*(own-1)) // they begin in the middle, a line above it
	if byEdge[word.Head] != nil {
		top += headLines + 1
	}
	bottom := top + high
	if byEdge[word.Tail] != nil {
		bottom += headLines + 1
	}
	s := newSheet(bottom + 2)
	rule := "+" + strings.Repeat("-", boxInside) + "+"
	s.put(boxLeft+boxInside/2-1, 0, "head")
	s.put(boxLeft, 1, rule)
	for y := 2; y < bottom; y++ {
		s.put(boxLeft, y, "|")
		s.put(boxLeft+boxInside+1, y, "|")
	}
	s.put(boxLeft, bottom, rule)
	s.put(boxLeft+boxInside/2-1, bottom+1, "tail")
	s.put(0, top+high/2, "spine")
	s.put(boxLeft+boxInside+3, top+high/2, "foredge")

	p.sizes(s, top+high/2-1)
	if r := byEdge[word.Head]; r != nil {
		p.across(s, r, 2, 1)
	}
	if r := byEdge[word.Tail]; r != nil {
		p.across(s, r, bottom-1, -1)
	}
	if r := byEdge[word.Spine]; r != nil {
		p.along(s, r, top, false)
	}
	if r := byEdge[word.Foredge]; r != nil {
		p.along(s, r, top, true)
	}
	for _, line := range s {
		fmt.Fprintln(p.out, strings.TrimRight(string(line), " "))
	}
}

// sizes writes the readings of the notebook's own sizes into the middle.
func (p *page) sizes(s sheet, y int) {
	for i, r := range p.notebook.Readings {
		if r.Row == "" && y < len(s) {
			text := p.label(i, r.Name)
			s.put(boxLeft+1+boxInside*2/3-utf8.RuneCountInString(text)/2, y, text)
			y++
		}
	}
}

// label writes a reading: "first 5.62", with a question mark if it is one to
// take again.
func (p *page) label(i int, name string) string {
	r := p.notebook.Readings[i]
	text := name + " " + p.plain(r.Read)
	if p.suspect(i) {
		text += " ?"
	}
	return text
}

// A place in a row at which readings are taken.
type place int

const (
	atFirst place = iota
	atHole
	atWeb
	atInset
	atRun
	atWire
	atLast
)

// places gives the labels of a row's readings by where they were taken.
func (p *page) places(row *fit.Row) map[place][]string {
	labels := map[place][]string{}
	hole := ""
	for i, r := range p.notebook.Readings {
		if r.Row != row.Name {
			continue
		}
		name := strings.TrimPrefix(r.Name, row.Name+".")
		at := atWeb
		switch name {
		case "first":
			at = atFirst
		case "inset":
			at = atInset
		case "run":
			at = atRun
		case "wire":
			at = atWire
		case "last":
			at = atLast
		case "hole.along":
			hole = p.label(i, "hole")
			continue
		case "hole.across":
			if hole == "" {
				hole = p.label(i, "hole")
			} else {
				hole += " by" + p.label(i, "")
			}
			continue
		}
		labels[at] = append(labels[at], p.label(i, strings.Replace(name, "gap.", "gap ", 1)))
	}
	if hole != "" {
		labels[atHole] = []string{hole}
	}
	if row.Count > 0 {
		labels[atRun] = append([]string{count(row.Count, "hole")}, labels[atRun]...)
	}
	return labels
}

// join puts labels into one line of at most the given width.
func join(labels []string, wide int) string {
	text := strings.Join(labels, ", ")
	if utf8.RuneCountInString(text) > wide {
		text = string([]rune(text)[:wide-3]) + "..."
	}
	return text
}

// along draws a row on the spine (or, at the right, on the foredge).
func (p *page) along(s sheet, r *fit.Row, y int, right bool) {
	labels := p.places(r)
	hole, wide := r.Form.Sign(), boxInside/2-4
	lines := []struct{ mark, text string }{
		{"  ", join(labels[atFirst], wide)},
		{hole, join(labels[atHole], wide)},
		{"  ", join(labels[atWeb], wide)},
		{hole, join(labels[atInset], wide)},
		{": ", join(labels[atRun], wide)},
		{hole, join(labels[atWire], wide)},
		{hole, ""},
		{"  ", join(labels[atLast], wide)},
	}
	if r.Count == 1 {
		lines[3].mark, lines[4].mark, lines[5].mark, lines[6].mark = "  ", "  ", "  ", "  "
	} else if r.Count == 2 {
		lines[3].mark, lines[4].mark, lines[5].mark = "  ", "  ", "  "
	}
	for i, line := range lines {
		if right {
			s.put(boxLeft+boxInside-4-utf8.RuneCountInString(line.text), y+i, line.text)
			s.put(boxLeft+boxInside-2, y+i, line.mark)
		} else {
			s.put(boxLeft+2, y+i, line.mark+" "+line.text)
		}
	}
}

// across draws a row on the head (or, upwards, on the tail).
func (p *page) across(s sheet, r *fit.Row, y, down int) {
	labels := p.places(r)
	last := join(labels[atLast], boxInside/2-2)
	first := join(labels[atFirst], boxInside/2-2)
	marks := row(r.Form.Sign(), r.Count, boxInside-8)
	middle := join(append(append(append([]string{}, labels[atHole]...), labels[atWeb]...), labels[atRun]...), boxInside-4)
	depth := join(append(append([]string{}, labels[atInset]...), labels[atWire]...), boxInside-4)
	s.put(boxLeft+2, y, first)
	s.put(boxLeft+boxInside-utf8.RuneCountInString(last), y, last)
	s.put(boxLeft+1+(boxInside-utf8.RuneCountInString(marks))/2, y+down, marks)
	s.put(boxLeft+1+(boxInside-utf8.RuneCountInString(middle))/2, y+2*down, middle)
	s.put(boxLeft+1+(boxInside-utf8.RuneCountInString(depth))/2, y+3*down, depth)
}

// row is a row of marks over a width: all of them, or some at both ends.
func row(mark string, n, wide int) string {
	const shown = 12
	if n == 0 || n > shown {
		side := strings.TrimRight(strings.Repeat(mark+"  ", shown/2), " ")
		return side + strings.Repeat(" ", wide/2-len(side)-2) + "...." + strings.Repeat(" ", wide/2-len(side)-2) + side
	}
	if n == 1 {
		return mark
	}
	line := []rune(strings.Repeat(" ", wide))
	for i := range n {
		x := int(math.Round(float64(i) * float64(wide-2) / float64(n-1)))
		copy(line[x:], []rune(mark))
	}
	return string(line)
}
