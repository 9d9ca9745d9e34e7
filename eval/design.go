package eval

import (
	"fmt"
	"math"
	"strings"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// An OpeningForm is the form of a hole or a cutout.
type OpeningForm uint8

const (
	RectHole OpeningForm = iota
	RoundHole
	SlotHole
)

func (f OpeningForm) form() opening.Form {
	return [...]opening.Form{RectHole: opening.Rect, RoundHole: opening.Round, SlotHole: opening.Slot}[f]
}

// Design gives the solved design. It must only be asked of a sound solution.
func (s *Solution) Design() *design.Design {
	main := s.info.Main
	d := &design.Design{Name: baseName(main.Source.Name()), Unit: main.Unit, At: source.Span{File: main.Source},
		Laser: s.laserDesign()}
	index := map[*item]int{}
	for _, it := range s.items {
		if it.thing.Kind.Name == "panel" && it.thing.File == main {
			index[it] = len(d.Panels)
			d.Panels = append(d.Panels, s.panelDesign(it))
		}
	}
	for _, it := range s.items {
		if it.thing.Kind.Name == "spread" && it.thing.File == main {
			d.Spreads = append(d.Spreads, s.spreadDesign(it, index))
		}
	}
	return d
}

func baseName(path string) string {
	if i := strings.LastIndexAny(path, `/\`); i >= 0 {
		path = path[i+1:]
	}
	return strings.TrimSuffix(path, ".fore")
}

// spreadDesign is a spread; index is where its panels stand in the design.
func (s *Solution) spreadDesign(it *item, index map[*item]int) design.Spread {
	sp := design.Spread{Name: it.thing.Name, At: it.thing.At, Width: s.of(it, "width"), Height: s.of(it, "height"),
		TurnIn: known(s.of(it, "turn-in")), Mitre: known(s.of(it, "mitre")), Lining: known(s.of(it, "lining")), Quiet: s.quietOf(it)}
	if st := it.sheets["covering-stock"]; st != nil {
		sp.CoveringStock = s.stockDesign(st)
	}
	if st := it.sheets["lining-stock"]; st != nil {
		sp.LiningStock = s.stockDesign(st)
	}
	for i, part := range it.lay {
		at, isPanel := index[part]
		sp.Parts = append(sp.Parts, design.SpreadPart{Panel: maybe.If(at, isPanel), Name: part.thing.Path(), Width: s.of(part, "width"),
			At: it.layAt[i], Of: part.thing.At})
	}
	return sp
}

func (s *Solution) panelDesign(it *item) design.Panel {
	p := design.Panel{Name: it.thing.Name, At: it.thing.At, Mirrored: it.thing.Mirrored, Width: s.of(it, "width"),
		Height: s.of(it, "height"), Thick: known(s.of(it, "thick")), Copies: 1, InSpread: it.spread != nil, Quiet: s.quietOf(it)}
	over := func(edge word.Edge) float64 { return known(s.of(it, "over-"+edge.String())).Or(0) }
	p.OverHead, p.OverTail, p.OverSpine, p.OverForedge = over(word.Head), over(word.Tail), over(word.Spine), over(word.Foredge)
	for i, corner := range word.Corners() {
		p.Corners[i] = s.cornerDesign(it, corner.String())
	}
	if n := s.number(it, "copies"); !math.IsNaN(n) {
		p.Copies = int(n)
	}
	if it.stock != nil {
		p.Stock = s.stockDesign(it.stock)
	}
	for _, t := range it.thing.Children {
		c := s.byPath[t.Path()]
		if c == nil || c.out {
			continue
		}
		switch t.Kind.Name {
		case "row":
			p.Rows = append(p.Rows, s.rowDesign(c))
		case "region":
			p.Regions = append(p.Regions, s.regionDesign(c))
		case "cutout":
			cut := design.Cutout{Box: s.boxDesign(c)}
			cut.Opening = s.openingDesign(c, "shape", cut.Width, cut.Height)
			cut.Neck = s.cutoutNeck(c, cut.Box)
			p.Cutouts = append(p.Cutouts, cut)
		case "line":
			l := design.Line{Name: t.Name, At: t.At, From: word.Spine, Op: word.Score, Distance: s.of(c, "at")}
			if w, ok := propWord(c.props["from"]); ok {
				l.From = choice(w, word.Edges())
			}
			if w, ok := propWord(c.props["op"]); ok {
				l.Op = choice(w, word.OfLines())
			}
			p.Lines = append(p.Lines, l)
		case "lattice":
			p.Lattices = append(p.Lattices, s.latticeDesign(c))
		}
	}
	return p
}

// cornerDesign is the form of a corner: its own line, else that for all.
func (s *Solution) cornerDesign(it *item, name string) design.Corner {
	key := "corner " + name
	p, ok := it.props[key]
	if !ok {
		key = "corners"
		if p, ok = it.props[key]; !ok {
			return design.Corner{Form: word.Square, At: it.thing.At}
		}
	}
	c := design.Corner{Form: word.Square, At: p.line.Span()}
	x, sized := it.exprs[key]
	if sh, ok := p.value.(*ast.Shape); ok && sized {
		c.Size = s.eval(x)
		c.Form = word.Radius
		if sh.Word.Name == "chamfer" {
			c.Form = word.Chamfer
		}
	}
	if c.Size == 0 {
		c.Form = word.Square
	}
	return c
}

// formDesign is the form of an opening, with the radius of a rect's corners.
func (s *Solution) formDesign(it *item, key string) (OpeningForm, float64) {
	source := it
	p, ok := it.props[key]
	if !ok && it.thing.CoverOf != nil {
		source = s.byPath[it.thing.CoverOf.Path()]
		p, ok = source.props[key]
	}
	if !ok {
		return RectHole, 0
	}
	e := p.value
	if st, isStated := e.(*ast.Stated); isStated {
		e = st.X
	}
	sh, ok := e.(*ast.Shape)
	if !ok {
		return RectHole, 0
	}
	switch sh.Word.Name {
	case "round":
		return RoundHole, 0
	case "slot":
		return SlotHole, 0
	}
	radius := 0.0
	if x, ok := source.exprs["radius"]; ok {
		radius = s.eval(x)
		if source != it && radius > 0 {
			// The opening grows by half of its ease on each side.
			radius += s.of(it, "ease") / 2
		}
	}
	return RectHole, max(0, radius)
}

// openingDesign is a hole or a cutout of the given sizes.
func (s *Solution) openingDesign(it *item, key string, along, across float64) opening.Opening {
	form, radius := s.formDesign(it, key)
	return opening.Opening{Form: form.form(), Along: along, Across: across, Radius: radius}
}

func (s *Solution) rowDesign(it *item) design.Row {
	r := design.Row{Name: it.thing.Name, At: it.thing.At, HoleAt: it.thing.At, Edge: choice(it.thing.Edge, word.Edges()),
		Opening: s.openingDesign(it, "hole", s.of(it, "hole.along"), s.of(it, "hole.across")),
		Inset:   s.of(it, "inset"), Neck: s.rowNeck(it), Measured: it.thing.CoverOf != nil}
	if p, ok := it.props["hole"]; ok {
		r.HoleAt = p.line.Span()
	}
	n := int(math.Round(s.of(it, "count")))
	at := s.of(it, "first") + r.Opening.Along/2
	pitch := s.of(it, "pitch")
	for i := 0; i < n; i++ {
		switch {
		case it.gaps > 0:
			if i > 0 {
				at += s.of(it, fmt.Sprintf("gap.%d", i))
			}
			r.Centers = append(r.Centers, at)
		case i == 0:
			r.Centers = append(r.Centers, at)
		default:
			r.Centers = append(r.Centers, at+float64(i)*pitch)
		}
	}
	return r
}

func (s *Solution) boxDesign(it *item) design.Box {
	b := design.Box{Name: it.thing.Name, At: it.thing.At, Width: s.of(it, "width"), Height: s.of(it, "height"),
		Head: s.of(it, "head"), Tail: s.of(it, "tail"), Spine: s.of(it, "spine"), Foredge: s.of(it, "foredge")}
	if x, ok := it.exprs["clear"]; ok {
		b.Clear = &design.Clear{Distance: s.eval(x), At: it.props["clear"].line.Span()}
	}
	return b
}

func (s *Solution) latticeDesign(it *item) design.Lattice {
	kerf := s.kerf(it.parent)
	modulus, allowed, sheared := s.shear(it)
	return design.Lattice{Box: s.boxDesign(it), Turn: s.of(it, "turn"), Bend: s.of(it, "bend"), Clearance: s.of(it, "clearance"),
		Kerf: maybe.If(kerf, kerf > 0), Links: int(math.Round(s.of(it, "links"))), Rows: int(math.Round(s.of(it, "rows"))),
		Link: s.of(it, "link"), Bridge: s.of(it, "bridge"), End: s.of(it, "end"),
		Shear: maybe.If(design.Shear{Modulus: modulus, Allowed: allowed}, sheared)}
}

func (s *Solution) regionDesign(it *item) design.Region {
	r := design.Region{Box: s.boxDesign(it)}
	if face, ok := propWord(it.props["face"]); ok {
		r.Inside = face == "inside"
	}
	for i := range it.marks {
		r.Marks = append(r.Marks, s.markDesign(&it.marks[i]))
	}
	return r
}

func (s *Solution) markDesign(m *mark) design.Mark {
	switch m.what {
	case "frame":
		return &design.Frame{At: m.at, Radius: s.stated(m.round).Or(0)}
	case "art":
		return s.artworkDesign(m)
	}
	return s.letteringDesign(m)
}

func (s *Solution) letteringDesign(m *mark) *design.Lettering {
	l := &design.Lettering{At: m.at, Op: choice(m.verb, word.Operations()), Text: m.text, TextAt: m.where,
		Font: design.Font{Name: m.font, Data: m.data, At: m.fontAt}, Cap: s.stated(m.cap), Least: s.stated(m.least),
		Spacing: s.stated(m.spacing).Or(0), Fit: choice(m.fit, word.Fits()), Align: choice(m.align, word.OfText()),
		Wrap: m.wrap == "yes", Bridge: s.stated(m.bridge)}
	if m.along != "" {
		l.Curve = &design.Curve{Form: choice(m.along, word.Curves()), Radius: s.stated(m.round), Inside: m.side == "inside"}
	}
	l.Inlay, l.Op = s.inlayDesign(m, l.Op)
	return l
}

func (s *Solution) artworkDesign(m *mark) *design.Artwork {
	a := &design.Artwork{At: m.at, File: m.text, FileAt: m.where, Data: m.data, Op: choice(m.as, word.Operations()),
		Fit: choice(m.fit, word.Fits()), Align: choice(m.align, word.OfArt()), Width: s.stated(m.width), Turn: s.stated(m.turn).Or(0),
		Mirror: choice(m.mirror, word.Mirrors()), Bridge: s.stated(m.bridge),
		Dots: design.Dots{LineDistance: s.stated(m.interval), Shade: choice(m.shade, word.Shades())}}
	a.Inlay, a.Op = s.inlayDesign(m, a.Op)
	return a
}

// inlayDesign is what is laid into a mark, with the operation that makes its
// recess; nil and the given operation for a mark into which nothing is laid.
func (s *Solution) inlayDesign(m *mark, op word.Operation) (*design.Inlay, word.Operation) {
	if m.verb != "inlay" {
		return nil, op
	}
	in := &design.Inlay{Through: m.recess == "through", Ease: s.stated(m.ease).Or(0), Stock: s.stockDesign(m.stock)}
	if in.Through {
		return in, word.Cut
	}
	return in, word.Engrave
}

func (s *Solution) stockDesign(it *item) *design.Stock {
	st := &design.Stock{Name: it.thing.Name, At: it.thing.At, Quiet: s.quietOf(it), Size: s.pair(it, "size"),
		Kerf: known(s.number(it, "kerf")), Thick: known(s.of(it, "thick"))}
	s.materialOf(it, st)
	if t, ok := it.props["allow"].value.(*ast.String); ok {
		st.Allow = strings.TrimSpace(t.Value)
	}
	if g, ok := it.props["grain"].value.(*ast.Grain); ok {
		st.Grain = choice(g.Along.Name, word.Grains())
	}
	return st
}

func (s *Solution) laserDesign() design.Laser {
	l := design.Laser{ScaleX: 1, ScaleY: 1}
	if s.laser == nil {
		return l
	}
	it := s.laser
	l.At, l.Quiet, l.Bed, l.Kerf = it.thing.At, s.quietOf(it), s.pair(it, "bed"), known(s.number(it, "kerf"))
	l.ScaleX, l.ScaleY = known(s.number(it, "scale-x")).Or(1), known(s.number(it, "scale-y")).Or(1)
	colour := func(key string) maybe.Of[string] {
		if t, ok := it.props[key].value.(*ast.String); ok {
			return maybe.Is(t.Value)
		}
		return maybe.Of[string]{}
	}
	l.EngraveColour, l.MarkColour = colour("engrave-colour"), colour("mark-colour")
	l.ScoreColour, l.CutColour = colour("score-colour"), colour("cut-colour")
	return l
}

// known is a number, absent if it is NaN.
func known(v float64) maybe.Of[float64] { return maybe.If(v, !math.IsNaN(v)) }

// above is a number, absent if it is NaN or not above 0.
func above(v float64) maybe.Of[float64] { return maybe.If(v, v > 0) }

// stated is the number of an option, absent where it isn't stated or is 0, by
// which nothing is asked for.
func (s *Solution) stated(e *relation.Expr) maybe.Of[float64] {
	if e == nil {
		return maybe.Of[float64]{}
	}
	v := s.eval(*e)
	return maybe.If(v, v != 0)
}

// choice is what a word stands for; nothing chosen for "".
func choice[C word.Choice](w string, among []C) C {
	c, _ := word.Find(w, among...)
	return c
}

// number is the value of a property, NaN where it is not stated.
func (s *Solution) number(it *item, key string) float64 {
	if x, ok := it.exprs[key]; ok {
		return s.eval(x)
	}
	return math.NaN()
}

// pair is the two lengths of a property such as size.
func (s *Solution) pair(it *item, key string) maybe.Of[design.Size] {
	size := design.Size{Width: s.number(it, key+" 1"), Height: s.number(it, key+" 2")}
	return maybe.If(size, size.Width > 0 && !math.IsNaN(size.Height))
}

func propWord(p prop) (string, bool) {
	n, ok := p.value.(*ast.Name)
	if !ok {
		return "", false
	}
	return n.Dotted(), true
}
