package compare

import (
	"fmt"
	"io"
	"math"
	"regexp"
	"strings"
	"sync"

	"foredge/cmd/internal/glance"
	"foredge/lang/spell"
	"foredge/lang/unit"
	"foredge/layout"
)

// Write tells a person what differs.
func (d *Difference) Write(w io.Writer) {
	fmt.Fprintf(w, "%s -> %s\n", d.Old.Name, d.New.Name)
	if d.Same() {
		fmt.Fprintln(w, "  what is cut is the same, and so are all dimensions")
		return
	}
	u := d.New.solution().Unit
	d.writeDimensions(w, u)
	d.writeSettings(w)
	d.writeShapes(w, u)
	switch {
	case d.Otherwise && d.New.Shared():
		fmt.Fprintln(w, "\nit says something else to the designs that use it")
	case d.Otherwise:
		fmt.Fprintln(w, "\nthe cut files differ in something else, as a picture that is engraved")
	}
	d.writeOrders(w)
}

func (d *Difference) writeDimensions(w io.Writer, u unit.Unit) {
	if len(d.Dimensions) == 0 {
		fmt.Fprintln(w, "\nno dimension has another value")
		return
	}
	rows := [][]string{{"dimension", "was", "is", "by", "line"}}
	for _, c := range d.Dimensions {
		by := ""
		if diff := c.New - c.Old; !math.IsNaN(diff) {
			by = signed(unit.Format(diff, c.Kind, u))
		}
		rows = append(rows, []string{c.Name, c.value(c.Old, Gone, u), c.value(c.New, New, u), by, c.At.String()})
	}
	fmt.Fprintln(w)
	glance.Table(w, "  ", rows)
}

// value writes one of the values of a dimension; only says in which of the versions it
// is if it is in one.
func (c Dimension) value(v float64, only Change, u unit.Unit) string {
	switch {
	case c.Change != Moved && c.Change != only:
		return "-"
	case math.IsNaN(v):
		return "open"
	}
	return unit.Format(v, c.Kind, u)
}

func (d *Difference) writeSettings(w io.Writer) {
	if len(d.Settings) == 0 {
		return
	}
	rows := [][]string{{"setting", "was", "is"}}
	for _, s := range d.Settings {
		row := []string{s.Name, s.Old, s.New}
		for i := range row {
			if row[i] == "" {
				row[i] = "-"
			}
		}
		rows = append(rows, row)
	}
	fmt.Fprintln(w)
	glance.Table(w, "  ", rows)
}

func signed(text string) string {
	if strings.HasPrefix(text, "-") {
		return text
	}
	return "+" + text
}

// last are the numbers at the end of the name of one of many: front.wire.7.
var last = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`(\.\d+)+$`) })

// A group is shapes of one sort that differ alike: the holes of a row.
type group struct {
	part, name, what string
	change           Change
	shapes           []Shape
}

// groups are the shapes that differ, in their order, those together that belong so.
func (d *Difference) groups() (all []*group) {
	type key struct {
		part, name, what string
		change           Change
	}
	found := map[key]*group{}
	for _, s := range d.Shapes {
		k := key{s.Part, last().ReplaceAllString(s.Name, ""), what(s), s.Change}
		if found[k] == nil {
			found[k] = &group{part: k.part, name: k.name, what: k.what, change: k.change}
			all = append(all, found[k])
		}
		found[k].shapes = append(found[k].shapes, s)
	}
	return all
}

// what says what a shape is.
func what(s Shape) string {
	switch {
	case s.Op == layout.Cut && s.Hole:
		return "hole"
	case s.Op == layout.Cut:
		return "outline"
	}
	return map[layout.Op]string{layout.Engrave: "engraved", layout.Mark: "marked", layout.Score: "scored"}[s.Op] + " figure"
}

func (d *Difference) writeShapes(w io.Writer, u unit.Unit) {
	if len(d.Shapes) == 0 {
		fmt.Fprintln(w, "\nno hole, outline or mark has moved")
		return
	}
	rows := [][]string{{"part", "what", "", "how"}}
	for _, g := range d.groups() {
		many := fmt.Sprintf("1 %s", g.what)
		if n := len(g.shapes); n > 1 {
			many = fmt.Sprintf("%d %ss", n, g.what)
		}
		rows = append(rows, []string{g.part, g.name, many, g.how(u)})
	}
	fmt.Fprintln(w)
	glance.Table(w, "  ", rows)
}

// how says how the shapes of a group have moved.
func (g *group) how(u unit.Unit) string {
	if g.change != Moved {
		return string(g.change)
	}
	far := g.shapes[0]
	alike := true
	for _, s := range g.shapes {
		if s.By > far.By {
			far = s
		}
		alike = alike && way(s, u) == way(g.shapes[0], u)
	}
	text := fmt.Sprintf("by %s", unit.FormatLength(far.By, u))
	if ways := way(far, u); ways != "" {
		text += ": " + ways
	}
	if !alike {
		text = "by up to " + strings.TrimPrefix(text, "by ") + " (" + far.Name + ")"
	}
	return text
}

// way says where a shape has gone and how it has grown, "" where its box is as it was.
func way(s Shape, u unit.Unit) string {
	var words []string
	say := func(v float64, more, less string) {
		if math.Abs(v) > least {
			word := more
			if v < 0 {
				word = less
			}
			words = append(words, unit.FormatLength(math.Abs(v), u)+" "+word)
		}
	}
	say(s.Wider, "wider", "narrower")
	say(s.Higher, "higher", "lower")
	say(s.Right, "to the right", "to the left")
	say(s.Down, "down", "up")
	return strings.Join(words, ", ")
}

// mostNumbers is how many orders are named.
const mostNumbers = 40

func (d *Difference) writeOrders(w io.Writer) {
	if d.AllOrders == 0 {
		return
	}
	if len(d.Orders) == 0 {
		fmt.Fprintf(w, "\nnone of %d orders is touched\n", d.AllOrders)
		return
	}
	fmt.Fprintf(w, "\norders, of %d:\n", d.AllOrders)
	for _, c := range []struct {
		change Change
		word   string
	}{{Moved, "touched"}, {New, "new"}, {Gone, "gone"}} {
		var numbers []string
		for _, o := range d.Orders {
			if o.Change == c.change {
				numbers = append(numbers, o.Number)
			}
		}
		if n := len(numbers); n > mostNumbers {
			numbers = append(numbers[:mostNumbers], fmt.Sprintf("%d more", n-mostNumbers))
		}
		if len(numbers) > 0 {
			fmt.Fprintf(w, "  %s: %s\n", c.word, spell.And(numbers))
		}
	}
}
