package outcome

import (
	"math"

	"foredge/eval/design"
	"foredge/eval/dim"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/eval/solution"
	"foredge/eval/word"
)

// Design gives the solved design. It must only be asked of one without errors.
func Design(s *solution.Solution) *design.Design {
	d := &design.Design{Name: s.Name, Unit: s.Unit, At: s.At, Laser: laser(s), Shared: s.Shared}
	index, on := map[*model.Panel]int{}, boardsOn(s)
	for _, n := range s.Things {
		if p, ok := n.(*model.Panel); ok && p.Built {
			index[p] = len(d.Panels)
			d.Panels = append(d.Panels, dividers(s, p, panel(s, p, on))...)
		}
	}
	d.Notebooks = notebooks(s)
	for _, n := range s.Things {
		if sp, ok := n.(*model.Case); ok && sp.Built {
			d.Cases = append(d.Cases, caseOf(s, sp, func(p *model.Panel) (board *design.Panel, cut bool) {
				if at, ok := index[p]; ok {
					return &d.Panels[at], true
				}
				used := panel(s, p, on)
				return &used, false
			}))
		}
	}
	for _, n := range s.Things {
		if m, ok := n.(*model.Stock); ok && m.Built {
			d.Declared = append(d.Declared, stock(s, m))
		}
	}
	return d
}

// notebooks are those with rows on which no panel's row lies: of the others the
// panels have all that a guide shows.
func notebooks(s *solution.Solution) (all []design.Notebook) {
	covered := map[*model.Row]bool{}
	for _, n := range s.Things {
		if r, ok := n.(*model.Row); ok && r.Covers != nil {
			covered[r.Covers] = true
		}
	}
	for _, n := range s.Things {
		m, ok := n.(*model.Notebook)
		if !ok || !m.Built {
			continue
		}
		book := design.Notebook{Name: m.Name, At: m.At, Width: s.Maybe(&m.Thing, dim.Width), Height: s.Maybe(&m.Thing, dim.Height)}
		for _, r := range m.Rows {
			if !covered[r] {
				book.Rows = append(book.Rows, row(s, r, boards{}))
			}
		}
		if len(book.Rows) > 0 {
			all = append(all, book)
		}
	}
	return all
}

// caseOf is a case; boardOf gives its panels, and whether the design cuts them.
func caseOf(s *solution.Solution, m *model.Case, boardOf func(*model.Panel) (*design.Panel, bool)) design.Case {
	sp := design.Case{Name: m.Name, At: m.At, Width: s.Of(&m.Thing, dim.Width), Height: s.Of(&m.Thing, dim.Height),
		TurnIn: s.Maybe(&m.Thing, dim.TurnIn), Mitre: s.Maybe(&m.Thing, dim.Mitre), Lining: s.Maybe(&m.Thing, dim.Lining),
		CoveringStock: stock(s, m.CoveringStock), SpineStock: stock(s, m.SpineStock), LiningStock: stock(s, m.LiningStock), Quiet: Quiet(s, m)}
	if m.Bound == word.QuarterBound || m.Bound == word.HalfBound {
		sp.Bound = maybe.Is(design.Bound{SpineReach: s.Of(&m.Thing, dim.SpineReach), Overlap: s.Of(&m.Thing, dim.Overlap),
			CornerReach: s.Maybe(&m.Thing, dim.CornerReach)})
	}
	for _, laid := range m.Lay {
		part := laid.Part.Base()
		out := design.CasePart{Name: part.Path, Width: s.Of(part, dim.Width), At: laid.At, Of: part.At}
		if p, ok := laid.Part.(*model.Panel); ok {
			out.Board, out.Cut = boardOf(p)
		}
		sp.Parts = append(sp.Parts, out)
	}
	return sp
}

func panel(s *solution.Solution, m *model.Panel, on boards) design.Panel {
	over := func(e word.Edge) float64 { return s.Maybe(&m.Thing, dim.Over(e)).Or(0) }
	p := design.Panel{Name: m.Name, At: m.At, Mirrored: m.Mirrored, Width: s.Of(&m.Thing, dim.Width),
		Height: s.Of(&m.Thing, dim.Height), Thick: s.Maybe(&m.Thing, dim.Thick), Copies: m.Copies.Or(1),
		Stock: stock(s, m.Stock), InCase: m.Case != nil, Quiet: Quiet(s, m),
		OverHead: over(word.Head), OverTail: over(word.Tail), OverSpine: over(word.Spine), OverForedge: over(word.Foredge)}
	p.Corners = corners(s, m)
	if arch, ok := s.Stated(m.Arch).Get(); ok && arch != 0 {
		p.Arch = &design.Arch{Rise: arch, At: m.ArchAt}
	}
	for _, part := range m.Parts {
		switch part := part.(type) {
		case *model.Row:
			p.Rows = append(p.Rows, row(s, part, on))
		case *model.Region:
			p.Regions = append(p.Regions, region(s, part))
		case *model.Cutout:
			addCutout(s, &p, part, cutout(s, part))
		case *model.Line:
			p.Lines = append(p.Lines, line(s, part))
		case *model.Lattice:
			p.Lattices = append(p.Lattices, lattice(s, part))
		case *model.Field:
			field(s, part, &p)
		case *model.Stitch:
			p.Stitches = append(p.Stitches, stitch(s, part))
		}
	}
	return p
}

func corners(s *solution.Solution, m *model.Panel) (all [4]design.Corner) {
	for i := range m.Corners {
		all[i] = corner(s, m, &m.Corners[i])
	}
	return all
}

func corner(s *solution.Solution, p *model.Panel, m *model.Corner) design.Corner {
	if m.Form == 0 {
		return design.Corner{Form: word.Square, At: p.At}
	}
	c := design.Corner{Form: m.Form, Size: s.Stated(m.Size).Or(0), At: m.At}
	if c.Size == 0 {
		c.Form = word.Square
	}
	return c
}

// hole is the form and size of a row's holes, as they are to be cut. Those that
// lie on measured ones have their form, and the radius of their corners grows
// with the ease.
func hole(s *solution.Solution, m *model.Row) opening.Opening {
	o := opening.Opening{Form: m.Form(), Along: s.Of(&m.Thing, dim.HoleAlong), Across: s.Of(&m.Thing, dim.HoleAcross)}
	switch {
	case m.Hole != nil:
		o.Radius = max(0, s.Stated(m.Hole.Radius).Or(0))
	case m.Covers != nil && m.Covers.Hole != nil:
		o.Radius = s.Stated(m.Covers.Hole.Radius).Or(0)
		if o.Radius > 0 {
			o.Radius += s.Of(&m.Thing, dim.Ease) / 2
		}
		o.Radius = max(0, o.Radius)
	}
	return o
}

func row(s *solution.Solution, m *model.Row, on boards) design.Row {
	r := design.Row{Name: m.Name, At: m.At, HoleAt: m.At, Edge: m.Edge, Opening: hole(s, m),
		Inset: s.Of(&m.Thing, dim.Inset), Neck: rowNeck(s, m), Measured: m.Covers != nil, GuideStock: stock(s, m.GuideStock)}
	if m.Hole != nil {
		r.HoleAt = m.Hole.At
	}
	if m.Binding != nil && m.Panel != nil {
		if b := bound(s, m, on); b.Missing == "" {
			most := b.LargestInset()
			r.LargestInset = maybe.If(most, most > 0)
		}
	}
	if r.GuideStock == nil && m.Covers != nil {
		r.GuideStock = stock(s, m.Covers.GuideStock)
	}
	at := s.Of(&m.Thing, dim.First) + r.Opening.Along/2
	pitch := s.Of(&m.Thing, dim.Pitch)
	count := s.Of(&m.Thing, dim.Count)
	if math.IsNaN(count) {
		return r // of a notebook that nobody measured so far
	}
	for i := range int(math.Round(count)) {
		switch {
		case i == 0:
			r.Centers = append(r.Centers, at)
		case len(m.Gaps) > 0:
			at += s.Value(m.Gaps[i-1])
			r.Centers = append(r.Centers, at)
		default:
			r.Centers = append(r.Centers, at+float64(i)*pitch)
		}
	}
	return r
}

// rowNeck is the neck of a row's holes; nil for closed ones. A hole that lies on
// a measured one has its neck, opened by the same ease.
func rowNeck(s *solution.Solution, m *model.Row) *design.Neck {
	if m.Neck != nil {
		return &design.Neck{Edge: m.Edge, Wide: s.Eval(m.Neck.Wide), At: m.Neck.At, Stated: true}
	}
	if m.Covers == nil || m.Covers.Neck == nil {
		return nil
	}
	n := m.Covers.Neck
	return &design.Neck{Edge: m.Edge, Wide: s.Eval(n.Wide) + s.Maybe(&m.Thing, dim.Ease).Or(0), At: n.At, Stated: true}
}

func box(s *solution.Solution, m *model.Box) design.Box {
	of := func(n dim.Name) float64 { return s.Of(&m.Thing, n) }
	b := design.Box{Name: m.Name, At: m.At, Width: of(dim.Width), Height: of(dim.Height),
		Head: of(dim.Head), Tail: of(dim.Tail), Spine: of(dim.Spine), Foredge: of(dim.Foredge)}
	if distance, ok := m.Clear.Get(); ok {
		b.Clear = &design.Clear{Distance: s.Eval(distance), At: m.ClearAt}
	}
	return b
}

// addCutout adds what a cutout came out as to a panel: an opening or a recess.
func addCutout(s *solution.Solution, p *design.Panel, m *model.Cutout, c design.Cutout) {
	if depth, ok := s.Stated(m.Depth).Get(); ok {
		p.Recesses = append(p.Recesses, design.Recess{Cutout: c, Depth: depth, DepthAt: m.DepthAt, Inside: m.Face == word.Inside})
		return
	}
	p.Cutouts = append(p.Cutouts, c)
}

func cutout(s *solution.Solution, m *model.Cutout) design.Cutout {
	c := design.Cutout{Box: box(s, &m.Box)}
	c.Opening = opening.Opening{Along: c.Width, Across: c.Height}
	if m.Shape != nil {
		c.Opening.Form, c.Opening.Radius = m.Shape.Form, max(0, s.Stated(m.Shape.Radius).Or(0))
	}
	if m.Open == word.NoEdge {
		c.Rotate = s.Stated(m.Rotate).Or(0)
		return c
	}
	// The neck is as wide as the cutout where nothing else is stated.
	c.Neck = &design.Neck{Edge: m.Open, Wide: c.Height, At: m.OpenAt}
	if m.Open.Level() {
		c.Neck.Wide = c.Width
	}
	if m.Neck != nil {
		c.Neck.Wide, c.Neck.At, c.Neck.Stated = s.Eval(m.Neck.Wide), m.Neck.At, true
	}
	return c
}

func line(s *solution.Solution, m *model.Line) design.Line {
	l := design.Line{Name: m.Name, At: m.At, From: m.From, Op: m.Op, Distance: s.Of(&m.Thing, dim.At)}
	if l.From == word.NoEdge {
		l.From = word.Spine
	}
	if l.Op == 0 {
		l.Op = word.Score
	}
	return l
}

func lattice(s *solution.Solution, m *model.Lattice) design.Lattice {
	of := func(n dim.Name) float64 { return s.Of(&m.Thing, n) }
	kerf := s.Kerf(m.Panel.Stock).Width.Or(0)
	modulus, allowed := m.ShearOf()
	return design.Lattice{Box: box(s, &m.Box), Turn: of(dim.Turn), Bend: of(dim.Bend), Clearance: of(dim.Clearance),
		Kerf: maybe.If(kerf, kerf > 0), Links: int(math.Round(of(dim.Links))), Rows: int(math.Round(of(dim.Rows))),
		Link: of(dim.Link), Bridge: of(dim.Bridge), End: of(dim.End),
		Shear: maybe.If(design.Shear{Modulus: modulus.Or(0), Allowed: allowed.Or(0)}, modulus.Present() && allowed.Present())}
}

func region(s *solution.Solution, m *model.Region) design.Region {
	r := design.Region{Box: box(s, &m.Box), Inside: m.Face == word.Inside}
	for _, mk := range m.Marks {
		r.Marks = append(r.Marks, mark(s, mk))
	}
	return r
}
