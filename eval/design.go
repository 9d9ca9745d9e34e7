package eval

import (
	"fmt"
	"math"
	"strings"

	"foredge/eval/kind"
	"foredge/eval/relation"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Design is a solved design as plain numbers, ready to be drawn. Lengths are
// in millimetres.
type Design struct {
	Name    string // of the file, without its ending
	Unit    unit.Unit
	At      source.Span
	Panels  []Panel // those of the built file, in its order
	Spreads []Spread
	Laser   Laser
}

// A Panel is a board to make. Distances in it are from its named edges, as
// seen from the outside with the title upright.
type Panel struct {
	Name          string
	At            source.Span
	Mirrored      bool // the spine is on the right
	Width, Height float64
	Thick         float64   // NaN if nothing says it
	Corners       [4]Corner // head-spine, head-foredge, tail-spine, tail-foredge
	Rows          []Row
	Regions       []Region
	Cutouts       []Cutout
	Lines         []Line
	Lattices      []Lattice
	Copies        int
	Stock         *Stock
	InSpread      bool // it is drawn in a spread
	Quiet         Quiet
	// Overhangs past what it covers; 0 where it covers nothing.
	OverHead, OverTail, OverSpine, OverForedge float64
}

// A CornerForm is how a corner is cut.
type CornerForm uint8

const (
	Square  CornerForm = iota
	Round              // Size is the radius
	Chamfer            // Size is cut off each edge, at 45 degrees
)

// A Corner is one corner of a panel.
type Corner struct {
	Form CornerForm
	Size float64
	At   source.Span
}

// An OpeningForm is the form of a hole or a cutout.
type OpeningForm uint8

const (
	RectHole OpeningForm = iota
	RoundHole
	SlotHole
)

// A Row is the holes along one edge.
type Row struct {
	Name          string // its own, without the panel's
	At, HoleAt    source.Span
	Edge          string
	Form          OpeningForm
	Along, Across float64
	Radius        float64 // of a rect hole's corners
	Inset         float64
	Neck          Neck
	// Centers are the distances of the holes' centres from the starting edge:
	// the head, or the spine for a row along head or tail.
	Centers []float64
	// Measured says that the row lies on one of a notebook.
	Measured bool
}

// A Box is where something lies on a panel.
type Box struct {
	Name                       string
	At                         source.Span
	Width, Height              float64
	Head, Tail, Spine, Foredge float64
	Clear                      float64 // distance to keep from every cut; 0 where not stated
	ClearAt                    source.Span
}

// A Region is an area for marks.
type Region struct {
	Box
	Inside bool // on the panel's inner face
	Marks  []Mark
}

// A Mark is lettering, artwork or a frame in a region.
type Mark struct {
	Engrave bool // filled; else a line on the surface
	Cut     bool // text cut through
	Frame   bool
	Art     bool
	Text    string  // of artwork the name of its file
	Font    string  // "" for the usual one
	Data    []byte  // of a font file or of artwork
	Cap     float64 // height of a capital letter, 0 where not stated
	Fit     string  // shrink, fill or ""
	Align   string  // left, centre, right or "", for artwork also head and tail, for text spread
	Radius  float64 // of a frame's corners, or of the circle along which text runs
	// Of text: what is added between letters; the height that capitals must have
	// at least and the breadth of bridges, 0 where not stated; whether its lines may
	// be broken; what it runs along, arc, circle or "", and whether inside it.
	Spacing, Least, Bridge float64
	Wrap, Inside           bool
	Along                  string
	// Of artwork: the operation for all of it, or "" for what is filled engraved and
	// lines marked; degrees by which it is turned clockwise; across or along if it is
	// mirrored; width on the board, 0 where not stated; and of pictures of dots the
	// distance of their lines, 0 where not stated, and the shade: diffusion, ordered,
	// levels or "".
	As, Mirror, Shade     string
	Turn, Width, Interval float64
	// Inlay says that pieces of Stock, never nil then, are laid in: less than their
	// recess by Ease, half of it on each side. The recess goes Through the board, or
	// is engraved. Text is then Cut or Engrave as well, as its recess is.
	Inlay, Through bool
	Ease           float64
	Stock          *Stock
	At             source.Span
	TextAt         source.Span
	FontAt         source.Span // the name of the font, or the whole line
}

// A Cutout is an opening.
type Cutout struct {
	Box
	Form   OpeningForm
	Radius float64
	Neck   Neck
}

// A Line is a straight score, crease or cut across the panel, parallel to an
// edge.
type Line struct {
	Name     string
	At       source.Span
	From     string  // the edge from which At is measured
	Distance float64 // from that edge
	Op       string  // score, mark or cut
}

// A Lattice is a field of slots parallel to the spine that lets the board bend.
type Lattice struct {
	Box
	Turn      float64 // of the whole bend, in degrees
	Bend      float64 // inside radius
	Links     int     // across the bend, between Links + 1 columns of slots
	Clearance float64 // width of a slot
	Kerf      float64 // to which slots are opened if they aren't wider; 0 if unknown
	Rows      int     // of links along the bend
	Link      float64 // length over which a link twists
	Bridge    float64 // between slots that follow one another
	End       float64 // of the bridges at head and tail
	// ShearModulus and AllowedShear are in N/mm², 0 where not stated.
	ShearModulus, AllowedShear float64
}

// A Spread is panels and gaps side by side, as seen from outside.
type Spread struct {
	Name          string
	At            source.Span
	Width, Height float64
	TurnIn        float64 // 0 where nothing wraps round it
	// Mitre is how far from a board's corner the covering is cut off, at 45
	// degrees; NaN where not stated.
	Mitre float64
	// Lining is how far inside the edges of what is laid the lining stays; NaN
	// where there is none.
	Lining float64
	// CoveringStock and LiningStock are what those are cut from; nil where not
	// stated.
	CoveringStock, LiningStock *Stock
	Quiet                      Quiet
	Parts                      []SpreadPart
}

// A SpreadPart is a panel (Panel is its index in Design.Panels) or a gap
// (Panel is -1).
type SpreadPart struct {
	Panel int
	Name  string
	Width float64
	At    source.Span // where lay names it
	Of    source.Span // where it is declared
}

// A Stock is what panels are cut from.
type Stock struct {
	Name     string
	Material string
	// Known says that the design knows the material; OnShelf is what the shelf
	// calls one that it doesn't know, "" if it isn't there either.
	Known      bool
	OnShelf    string
	MaterialAt source.Span
	Allow      string // why a material that must not be cut is cut
	Grain      string // width or height of the sheet, "" where not stated
	Quiet      Quiet
	// What the material says of a sheet of this thickness, in mm; NaN where
	// nothing says it.
	UsualKerf             float64
	ThickOver, ThickUnder float64 // by how much a sheet may be thicker or thinner than stated
	LeastWeb, LeastDetail float64 // the least that may be left between cuts, and of a detail
	GivesOff, Never       string  // what it gives off when cut; why it must not be cut
	Width, Height         float64 // of a sheet; 0 where not stated
	Kerf                  float64 // NaN where not stated
	Thick                 float64 // NaN if nothing says it
	At                    source.Span
}

// A Laser is the machine.
type Laser struct {
	BedWidth, BedHeight float64 // 0 where not stated
	Kerf                float64 // NaN where not stated
	ScaleX, ScaleY      float64 // 1 where not stated
	// Colours are the drawing colours as #RRGGBB, "" for the usual ones.
	EngraveColour, MarkColour, ScoreColour, CutColour string
	Quiet                                             Quiet
	At                                                source.Span
}

// Design gives the solved design. It must only be asked of a sound solution.
func (s *Solution) Design() *Design {
	main := s.info.Main
	d := &Design{Name: baseName(main.Source.Name()), Unit: main.Unit, At: source.Span{File: main.Source},
		Laser: s.laserDesign()}
	index := map[*item]int{}
	for _, it := range s.items {
		if it.thing.Kind.Name == "panel" && it.thing.File == main {
			index[it] = len(d.Panels)
			d.Panels = append(d.Panels, s.panelDesign(it))
		}
	}
	for _, it := range s.items {
		if it.thing.Kind.Name != "spread" || it.thing.File != main {
			continue
		}
		sp := Spread{Name: it.thing.Name, At: it.thing.At, Width: s.of(it, "width"), Height: s.of(it, "height")}
		if t := s.of(it, "turn-in"); !math.IsNaN(t) {
			sp.TurnIn = t
		}
		sp.Mitre, sp.Lining, sp.Quiet = s.of(it, "mitre"), s.of(it, "lining"), s.quietOf(it)
		if st := it.sheets["covering-stock"]; st != nil {
			sp.CoveringStock = s.stockDesign(st)
		}
		if st := it.sheets["lining-stock"]; st != nil {
			sp.LiningStock = s.stockDesign(st)
		}
		for i, part := range it.lay {
			p := SpreadPart{Panel: -1, Name: part.thing.Path(), Width: s.of(part, "width"), At: it.layAt[i], Of: part.thing.At}
			if i, ok := index[part]; ok {
				p.Panel = i
			}
			sp.Parts = append(sp.Parts, p)
		}
		d.Spreads = append(d.Spreads, sp)
	}
	return d
}

func baseName(path string) string {
	if i := strings.LastIndexAny(path, `/\`); i >= 0 {
		path = path[i+1:]
	}
	return strings.TrimSuffix(path, ".fore")
}

func (s *Solution) panelDesign(it *item) Panel {
	p := Panel{Name: it.thing.Name, At: it.thing.At, Mirrored: it.thing.Mirrored, Width: s.of(it, "width"),
		Height: s.of(it, "height"), Thick: s.of(it, "thick"), Copies: 1, InSpread: it.spread != nil, Quiet: s.quietOf(it)}
	over := func(edge string) float64 {
		if v := s.of(it, "over-"+edge); !math.IsNaN(v) {
			return v
		}
		return 0
	}
	p.OverHead, p.OverTail, p.OverSpine, p.OverForedge = over("head"), over("tail"), over("spine"), over("foredge")
	for i, name := range kind.Corners() {
		p.Corners[i] = s.cornerDesign(it, name)
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
			cut := Cutout{Box: s.boxDesign(c)}
			cut.Form, cut.Radius = s.formDesign(c, "shape")
			cut.Neck = s.cutoutNeck(c, cut.Box)
			p.Cutouts = append(p.Cutouts, cut)
		case "line":
			l := Line{Name: t.Name, At: t.At, From: "spine", Op: "score", Distance: s.of(c, "at")}
			if w, ok := propWord(c.props["from"]); ok {
				l.From = w
			}
			if w, ok := propWord(c.props["op"]); ok {
				l.Op = w
			}
			p.Lines = append(p.Lines, l)
		case "lattice":
			p.Lattices = append(p.Lattices, s.latticeDesign(c))
		}
	}
	return p
}

// cornerDesign is the form of a corner: its own line, else that for all.
func (s *Solution) cornerDesign(it *item, name string) Corner {
	key := "corner " + name
	p, ok := it.props[key]
	if !ok {
		key = "corners"
		if p, ok = it.props[key]; !ok {
			return Corner{At: it.thing.At}
		}
	}
	c := Corner{At: p.line.Span()}
	x, sized := it.exprs[key]
	if sh, ok := p.value.(*ast.Shape); ok && sized {
		c.Size = s.eval(x)
		c.Form = Round
		if sh.Word.Name == "chamfer" {
			c.Form = Chamfer
		}
	}
	if c.Size == 0 {
		c.Form = Square
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

func (s *Solution) rowDesign(it *item) Row {
	r := Row{Name: it.thing.Name, At: it.thing.At, HoleAt: it.thing.At, Edge: it.thing.Edge, Along: s.of(it, "hole.along"),
		Across: s.of(it, "hole.across"), Inset: s.of(it, "inset"), Measured: it.thing.CoverOf != nil}
	r.Form, r.Radius = s.formDesign(it, "hole")
	r.Neck = s.rowNeck(it)
	if p, ok := it.props["hole"]; ok {
		r.HoleAt = p.line.Span()
	}
	n := int(math.Round(s.of(it, "count")))
	at := s.of(it, "first") + r.Along/2
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

func (s *Solution) boxDesign(it *item) Box {
	b := Box{Name: it.thing.Name, At: it.thing.At, Width: s.of(it, "width"), Height: s.of(it, "height"),
		Head: s.of(it, "head"), Tail: s.of(it, "tail"), Spine: s.of(it, "spine"), Foredge: s.of(it, "foredge")}
	if x, ok := it.exprs["clear"]; ok {
		b.Clear, b.ClearAt = s.eval(x), it.props["clear"].line.Span()
	}
	return b
}

func (s *Solution) latticeDesign(it *item) Lattice {
	l := Lattice{Box: s.boxDesign(it), Turn: s.of(it, "turn"), Bend: s.of(it, "bend"), Clearance: s.of(it, "clearance"), Kerf: s.kerf(it.parent),
		Links: int(math.Round(s.of(it, "links"))), Rows: int(math.Round(s.of(it, "rows"))),
		Link: s.of(it, "link"), Bridge: s.of(it, "bridge"), End: s.of(it, "end")}
	l.ShearModulus, l.AllowedShear, _ = s.shear(it)
	return l
}

func (s *Solution) regionDesign(it *item) Region {
	r := Region{Box: s.boxDesign(it)}
	if face, ok := propWord(it.props["face"]); ok {
		r.Inside = face == "inside"
	}
	number := func(e *relation.Expr) float64 {
		if e == nil {
			return 0
		}
		return s.eval(*e)
	}
	for _, m := range it.marks {
		mark := Mark{Engrave: m.verb == "engrave", Cut: m.verb == "cut" && m.what == "text", Frame: m.what == "frame", Art: m.what == "art", Text: m.text, Font: m.font,
			Data: m.data, Cap: number(m.cap), Fit: m.fit, Align: m.align, Radius: number(m.round),
			Spacing: number(m.spacing), Least: number(m.least), Bridge: number(m.bridge), Wrap: m.wrap == "yes", Inside: m.side == "inside", Along: m.along,
			As: m.as, Mirror: m.mirror, Shade: m.shade, Turn: number(m.turn), Width: number(m.width), Interval: number(m.interval), At: m.at, TextAt: m.where, FontAt: m.fontAt}
		if m.verb == "inlay" {
			mark.Inlay, mark.Through, mark.Ease, mark.Stock = true, m.recess == "through", number(m.ease), s.stockDesign(m.stock)
			mark.Engrave, mark.Cut = !mark.Through, mark.Through && m.what == "text"
		}
		r.Marks = append(r.Marks, mark)
	}
	return r
}

func (s *Solution) stockDesign(it *item) *Stock {
	st := &Stock{Name: it.thing.Name, Kerf: s.number(it, "kerf"), Thick: s.of(it, "thick"), At: it.thing.At}
	s.materialOf(it, st)
	if p, ok := it.props["material"]; ok {
		st.Material, st.MaterialAt = strings.Trim(p.at().Text(), `"`), p.at()
	}
	if t, ok := it.props["allow"].value.(*ast.String); ok {
		st.Allow = strings.TrimSpace(t.Value)
	}
	if g, ok := it.props["grain"].value.(*ast.Grain); ok {
		st.Grain = g.Along.Name
	}
	st.Quiet = s.quietOf(it)
	st.Width, st.Height = s.pair(it, "size")
	return st
}

func (s *Solution) laserDesign() Laser {
	l := Laser{Kerf: math.NaN(), ScaleX: 1, ScaleY: 1}
	if s.laser == nil {
		return l
	}
	it := s.laser
	l.At, l.Quiet = it.thing.At, s.quietOf(it)
	l.BedWidth, l.BedHeight = s.pair(it, "bed")
	l.Kerf = s.number(it, "kerf")
	if x := s.number(it, "scale-x"); !math.IsNaN(x) {
		l.ScaleX = x
	}
	if y := s.number(it, "scale-y"); !math.IsNaN(y) {
		l.ScaleY = y
	}
	for key, to := range map[string]*string{"engrave-colour": &l.EngraveColour, "mark-colour": &l.MarkColour,
		"score-colour": &l.ScoreColour, "cut-colour": &l.CutColour} {
		if t, ok := it.props[key].value.(*ast.String); ok {
			*to = t.Value
		}
	}
	return l
}

// number is the value of a property, NaN where it is not stated.
func (s *Solution) number(it *item, key string) float64 {
	if x, ok := it.exprs[key]; ok {
		return s.eval(x)
	}
	return math.NaN()
}

// pair is the two lengths of a property such as size, 0 where not stated.
func (s *Solution) pair(it *item, key string) (a, b float64) {
	a, b = s.number(it, key+" 1"), s.number(it, key+" 2")
	if math.IsNaN(a) || math.IsNaN(b) {
		return 0, 0
	}
	return a, b
}

func propWord(p prop) (string, bool) {
	n, ok := p.value.(*ast.Name)
	if !ok {
		return "", false
	}
	return n.Dotted(), true
}
