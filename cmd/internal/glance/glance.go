package glance

import (
	"bufio"
	"fmt"
	"io"
	"math"
	"strings"

	"foredge/eval"
	"foredge/eval/dim"
	"foredge/eval/fit"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/lang/unit"
)

// Write shows what a maker reads first of a design: each board with what
// stands on it, then the cases in which boards are laid; of a file without any,
// what was measured and the sheets. file is its name, for the calls that show more.
func Write(w io.Writer, s *eval.Solution, file string) error {
	out := bufio.NewWriter(w)
	g := &page{Solution: s, sure: fit.SureOf(s)}
	for _, b := range s.Numbers.Benches {
		g.contradict = g.contradict || b.Freedom > 0 && b.ChiSquare > b.Limit999
	}
	var shown []*group
	for _, n := range s.Things {
		if p, ok := n.(*model.Panel); ok && p.Built {
			shown = append(shown, g.panel(p))
		}
	}
	for _, n := range s.Things {
		if c, ok := n.(*model.Case); ok && c.Built {
			shown = append(shown, g.casing(c))
		}
	}
	if len(shown) == 0 {
		shown = g.measured()
	}
	as := likeness{}
	for _, group := range shown {
		as.write(out, group)
	}
	if len(shown) > 0 {
		fmt.Fprintln(out)
	}
	if g.contradict {
		fmt.Fprintln(out, "The readings contradict each other: what follows from them is wrong until that is put right.")
	}
	if g.unsure {
		fmt.Fprintln(out, "± is how far the readings leave it open, 95 times in a hundred.")
	}
	if len(shown) > 0 {
		fmt.Fprintf(out, "Lengths are rounded. In full: foredge solve %s %s, or --all for every dimension.\n", file, shown[0].name)
	} else {
		fmt.Fprintf(out, "Nothing is made here. foredge solve %s --all lists every dimension.\n", file)
	}
	return out.Flush()
}

// A page is what is shown of a design.
type page struct {
	*eval.Solution
	sure   map[string]fit.Sure // by the row's name from the top
	unsure bool                // a ± was shown
	// contradict says that there are readings which contradict each other, so that
	// nothing is known of how far what follows from them is off.
	contradict bool
}

// A group is one thing that is shown with all that stands on it.
type group struct {
	name, also, about string // front; mirrored; 148.2 by 210.06 mm
	// outline says what corners a board has, which isn't shown: only like boards are
	// said to be alike.
	outline string
	parts   []part
}

// A part is a line about something that stands on a board, or about the whole of
// it if it has no name, and what belongs below that line.
type part struct {
	name, text string
	below      []string
}

// panel shows a board.
func (g *page) panel(p *model.Panel) *group {
	out := &group{name: p.Path, about: g.board(&p.Thing)}
	if p.Mirrored {
		out.also = ", mirrored"
	}
	if thick, ok := p.Dim(dim.Thick); ok && g.Known(thick) {
		out.about += ", " + g.length(&p.Thing, dim.Thick) + " thick"
	}
	if rise, ok := g.Stated(p.Arch).Get(); ok && rise != 0 {
		out.about += ", its head arched by " + g.number(rise, p.Unit, 0) + " " + p.Unit.Name
	}
	for _, c := range p.Corners {
		out.outline += fmt.Sprintf("%v %.6g;", c.Form, g.Stated(c.Size).Or(0))
	}
	if n := p.Copies.Or(1); n > 1 {
		out.about += fmt.Sprintf(", %d of them", n)
	}
	if p.Covers != nil {
		out.parts = append(out.parts, part{text: g.past(p)})
	}
	for _, n := range p.Parts {
		if t, ok := g.part(n); ok {
			out.parts = append(out.parts, t)
		}
	}
	return out
}

// board is the size of a board, with ± where readings leave it open.
func (g *page) board(t *model.Thing) string {
	in := t.Unit
	size := func(n dim.Name) string {
		id, ok := t.Dim(n)
		if !ok || !g.Known(id) {
			return "open"
		}
		within := 2 * g.Numbers.U[id]
		if !(within > least) || g.contradict {
			return g.number(g.Value(id), in, 0)
		}
		g.unsure = true
		return unit.FormatNumber(g.Value(id)/in.Size, rough(in)) + " ± " + up(within, in)
	}
	return size(dim.Width) + " by " + size(dim.Height) + " " + in.Name
}

// past says how far a board reaches past what it covers.
func (g *page) past(p *model.Panel) string {
	flush := true
	for _, n := range []dim.Name{dim.OverHead, dim.OverTail, dim.OverSpine, dim.OverForedge} {
		flush = flush && math.Abs(g.Of(&p.Thing, n)) <= least
	}
	if flush {
		return "flush with " + p.Covers.Path + " at all edges"
	}
	return "past " + p.Covers.Path + ": " + g.edges(&p.Thing, dim.OverHead, dim.OverTail, dim.OverSpine, dim.OverForedge)
}

// tabs says how many dividers are made of a panel, or which one.
func (g *page) tabs(n *model.Tabs) part {
	first, last, of := n.Set()
	tab := "a tab"
	if out, known := g.Stated(n.Extension).Get(); known {
		tab += " of " + g.number(out, n.Unit, 0) + " " + n.Unit.Name
	}
	if n.Place.Present() {
		return part{name: n.Name, text: fmt.Sprintf("%s in place %d of %d on the %s", tab, first, of, n.Edge)}
	}
	return part{name: n.Name, text: fmt.Sprintf("%d dividers, each with %s in its place of %d on the %s", last-first+1, tab, of, n.Edge)}
}

// part is what there is to show of something that stands on a board.
func (g *page) part(n model.Node) (part, bool) {
	switch n := n.(type) {
	case *model.Row:
		return g.row(n), true
	case *model.Region:
		return g.box(&n.Box, g.sizes(&n.Thing)), true
	case *model.Cutout:
		return g.cutout(n), true
	case *model.Line:
		from := n.From.String()
		if from == "" {
			from = "spine"
		}
		return part{name: n.Name, text: g.length(&n.Thing, dim.At) + " from " + from}, true
	case *model.Lattice:
		return g.box(&n.Box, "lattice, "+g.sizes(&n.Thing)+g.bend(n)), true
	case *model.Field:
		return g.field(n), true
	case *model.Tabs:
		return g.tabs(n), true
	case *model.Stitch:
		return g.stitch(n), true
	}
	return part{}, false
}

// bend says how tightly a lattice bends, if that is known.
func (g *page) bend(l *model.Lattice) string {
	if g.Maybe(&l.Thing, dim.Bend).Present() {
		return ", bends to a radius of " + g.length(&l.Thing, dim.Bend)
	}
	return ""
}

// box is something that lies on a board, and what is left beside it.
func (g *page) box(b *model.Box, what string) part {
	return part{name: b.Name, text: what, below: []string{"left: " + g.edges(&b.Thing, dim.Head, dim.Tail, dim.Spine, dim.Foredge)}}
}

func (g *page) cutout(c *model.Cutout) part {
	form := opening.Rect
	if c.Shape != nil {
		form = c.Shape.Form
	}
	what := "opening"
	depth, deep := g.Stated(c.Depth).Get()
	if deep {
		what = "recess"
	}
	text := g.shape(form, g.Of(&c.Thing, dim.Width), g.Of(&c.Thing, dim.Height), &c.Thing, what)
	if deep {
		text += ", " + g.number(depth, c.Unit, 0) + " " + c.Unit.Name + " deep"
		if c.Face == word.Inside {
			text += " on the inside"
		}
	}
	if turn, ok := g.Stated(c.Rotate).Get(); ok && turn != 0 {
		text += ", turned by " + unit.FormatNumber(turn, 2) + " deg"
	}
	if c.Open != word.NoEdge {
		text += ", open to the " + c.Open.String()
	}
	return g.box(&c.Box, text)
}

func (g *page) field(f *model.Field) part {
	text := g.count(&f.Thing, dim.Across) + " across and " + g.count(&f.Thing, dim.Down) + " down"
	if len(f.Each) == 1 {
		text += ", each " + g.sizes(f.Each[0].Base())
	}
	return g.box(&f.Box, text+"; "+g.sizes(&f.Thing)+" in all")
}

// casing is a case with what is laid in it side by side.
func (g *page) casing(c *model.Case) *group {
	out := &group{name: c.Path, also: ", laid open", about: g.sizes(&c.Thing)}
	var laid []string
	for _, l := range c.Lay {
		t := l.Part.Base()
		laid = append(laid, t.Path+" "+g.plain(t, dim.Width))
	}
	if len(laid) > 0 {
		out.parts = append(out.parts, part{text: "from its left: " + strings.Join(laid, ", ") + " " + c.Unit.Name})
	}
	var more []string
	for _, n := range []dim.Name{dim.TurnIn, dim.Lining, dim.Mitre, dim.SpineReach, dim.CornerReach, dim.Overlap, dim.SpineWidth, dim.SideWidth} {
		if id, ok := c.Dim(n); ok && g.Known(id) && (n != dim.Mitre || g.turnedIn(c)) {
			more = append(more, n.String()+" "+g.length(&c.Thing, n))
		}
	}
	if len(more) > 0 {
		out.parts = append(out.parts, part{text: strings.Join(more, ", ")})
	}
	return out
}

// turnedIn reports whether a case has a covering, whose corners a mitre cuts off.
func (g *page) turnedIn(c *model.Case) bool {
	id, ok := c.Dim(dim.TurnIn)
	return ok && g.Known(id)
}

// measured shows what a file without boards has: its notebooks and sheets.
func (g *page) measured() (all []*group) {
	for _, n := range g.Things {
		switch n := n.(type) {
		case *model.Notebook:
			if !n.Built {
				continue
			}
			out := &group{name: n.Path, also: ", measured", about: g.board(&n.Thing)}
			for _, r := range n.Rows {
				out.parts = append(out.parts, g.row(r))
			}
			all = append(all, out)
		case *model.Stock:
			if n.Built {
				all = append(all, &group{name: n.Path, about: g.length(&n.Thing, dim.Thick) + " thick"})
			}
		}
	}
	return all
}
