package glance

import (
	"fmt"
	"io"
	"math"
	"strings"
	"unicode/utf8"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/lang/unit"
)

// columns is how wide the text may be.
const columns = 80

// least is what counts as nothing, in mm: less than the solver settles.
const least = 1e-5

// rough is how many digits after the point an uncertain length is shown with.
func rough(in unit.Unit) int {
	if in.Imperial() {
		return 3
	}
	return 2
}

// decimals is how many digits after the point are shown of other lengths: in inches
// enough for the sixteenths of a rule.
func decimals(in unit.Unit) int {
	if in.Imperial() {
		return 4
	}
	return 2
}

// number writes a length without its unit, with so many digits more than usual.
func (g *page) number(mm float64, in unit.Unit, more int) string {
	if math.IsNaN(mm) || math.IsInf(mm, 0) {
		return "open"
	}
	return unit.FormatNumber(mm/in.Size, decimals(in)+more)
}

// up writes a length without its unit, rounded up so that it never promises more.
func up(mm float64, in unit.Unit) string {
	scale := math.Pow(10, float64(rough(in)))
	return unit.FormatNumber(math.Ceil(mm/in.Size*scale-1e-6)/scale, rough(in))
}

// plain writes a dimension without its unit.
func (g *page) plain(t *model.Thing, n dim.Name) string { return g.number(g.Of(t, n), t.Unit, 0) }

func (g *page) length(t *model.Thing, n dim.Name) string {
	return g.plain(t, n) + " " + t.Unit.Name
}

// sizes are a width and a height.
func (g *page) sizes(t *model.Thing) string {
	return g.plain(t, dim.Width) + " by " + g.length(t, dim.Height)
}

// count is a number of things.
func (g *page) count(t *model.Thing, n dim.Name) string {
	if v := g.Of(t, n); !math.IsNaN(v) {
		return unit.FormatNumber(v, 4)
	}
	return "open number of"
}

// edges are distances at the four edges, in the order of [word.Edges].
func (g *page) edges(t *model.Thing, names ...dim.Name) string {
	var all []string
	for _, n := range names {
		all = append(all, strings.TrimPrefix(n.String(), "over-")+" "+g.plain(t, n))
	}
	return strings.Join(all, ", ") + " " + t.Unit.Name
}

// likeness remembers what was shown, so that what is alike is told in one line.
type likeness map[string]*group

// write shows a group. One that has the size and corners of an earlier one, and nothing that
// stands on it otherwise, is said to be like that.
func (l likeness) write(w io.Writer, g *group) {
	key := g.about + g.outline
	if first := l[key]; first != nil {
		if without, ok := g.within(first); ok {
			say := g.name + g.also + ": as " + first.name
			if len(without) > 0 {
				say += ", without " + strings.Join(without, ", ")
			}
			paragraph(w, "", say)
			return
		}
	} else {
		l[key] = g
	}
	paragraph(w, "", g.name+g.also+": "+g.about)
	for _, p := range g.parts {
		text := p.text
		if p.name != "" {
			text = p.name + ": " + text
		}
		paragraph(w, "  ", text)
		for _, b := range p.below {
			paragraph(w, "    ", b)
		}
	}
}

// within reports whether all of a group is in another, and what that has more.
func (g *group) within(other *group) (without []string, ok bool) {
	k := 0
	for _, p := range other.parts {
		switch {
		case k < len(g.parts) && p.same(g.parts[k]):
			k++
		case p.name == "":
			return nil, false
		default:
			name, _, _ := strings.Cut(p.name, " ")
			without = append(without, name)
		}
	}
	return without, k == len(g.parts)
}

func (p part) same(q part) bool {
	return p.name == q.name && p.text == q.text && strings.Join(p.below, "\n") == strings.Join(q.below, "\n")
}

// paragraph writes a text in lines that are no wider than they should be, those
// after the first behind indent and two blanks. A number stays with its unit.
func paragraph(w io.Writer, indent, text string) {
	line, wide := indent, utf8.RuneCountInString(indent)
	begun := false
	words := strings.Fields(text)
	for i := 0; i < len(words); i++ {
		word := words[i]
		for i+1 < len(words) && clings(words[i], words[i+1]) {
			i++
			word += " " + words[i]
		}
		n := utf8.RuneCountInString(word)
		if begun && wide+1+n > columns {
			fmt.Fprintln(w, line)
			line, wide, begun = indent+"  ", len(indent)+2, false
		}
		if begun {
			line, wide = line+" ", wide+1
		}
		line, wide, begun = line+word, wide+n, true
	}
	fmt.Fprintln(w, line)
}

// clings reports whether a word stays on the line of the one before it: a unit
// with its number, and what follows ±.
func clings(before, word string) bool {
	if before == "±" || word == "±" {
		return true
	}
	digit := before[len(before)-1] >= '0' && before[len(before)-1] <= '9'
	_, isUnit := unit.Lookup(strings.TrimRight(word, ",.:;"))
	return digit && (isUnit || strings.HasPrefix(word, "%"))
}
