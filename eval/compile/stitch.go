package compile

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/kind"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/opening"
	"foredge/eval/relation"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/unit"
)

// stitch adds what holds of a line of stitches. It comes after all lines: which corners
// the outline has, they say. All of it works forwards, so that stitches never decide how
// large anything is:
//
//	run = the length of the line, of one part or several
//	stitches of a part = its length / stitch-length, to the nearest whole number
//	count = the stitches of all parts, and one more where the line doesn't close
//	pitch = run / the stitches of all parts
func (c *compiler) stitch(d *draft, n *model.Stitch, lines func() lineIndex) {
	if n.Panel == nil {
		return
	}
	if p, ok := d.props["hole"]; ok {
		n.Hole = c.opening(d, p, dim.HoleAlong, dim.HoleAcross)
	} else if !unsure(d) {
		c.Diags.Errorf("stitch", n.At, "nothing says how large the holes of %s are", d.Path).
			WithHelp("state their form in its braces, as in hole = round %s", unit.Example(1, n.Unit))
	}
	line, found := c.stitched(d, n)
	length, stated := c.stitchLength(d, n)
	if !found || !stated {
		return
	}
	if inset, _ := d.Dim(dim.Inset); !lines().spoken[inset] && !c.Diags.HasErrors() {
		c.Diags.Errorf("stitch", n.At, "nothing says how far from the outline the line of %s runs", d.Path).
			WithHelp("state it in its braces, as in inset = %s", unit.Example(4, n.Unit))
		return
	}
	n.Length, n.LengthAt = maybe.Is(length), d.props["stitch-length"].at()
	c.need(d, dim.Inset, dim.HoleAlong, dim.HoleAcross, dim.Count, dim.Pitch)
	var runs, stitches []relation.Expr
	parts, open := line.parts()
	for i, pieces := range parts {
		run := c.stitchRun(d, line, pieces, length, maybe.If(i+1, len(parts) > 1))
		n.Runs = append(n.Runs, run.StitchRun)
		runs, stitches = append(runs, run.long), append(stitches, relation.V(run.Stitches))
	}
	run, _ := d.Dim(dim.Run)
	pitch, _ := d.Dim(dim.Pitch)
	c.System.Vars[run].Signed, c.System.Vars[pitch].Signed = true, true // too large an inset is told of the outline
	if len(parts) > 1 {
		c.own(d, d.V(dim.Run), relation.Add(runs...), "")
	}
	c.own(d, d.V(dim.Count), relation.Add(append(stitches[:len(stitches):len(stitches)], relation.C(float64(open)))...), "")
	c.own(d, d.V(dim.Pitch), relation.Div(d.V(dim.Run), relation.Add(stitches...)), "")
}

// stitchesApart reads the stitches of what is compiled apart, of which nothing comes after
// its lines.
func (c *compiler) stitchesApart() {
	for _, d := range c.present {
		n, ok := d.node.(*model.Stitch)
		if !ok {
			continue
		}
		done := func() {}
		if c.apart != nil {
			done = c.listen(d.thing)
		}
		c.stitch(d, n, func() lineIndex { return lineIndex{} })
		done()
	}
}

// A lengthRun is a part of a line with its length.
type lengthRun struct {
	model.StitchRun
	long relation.Expr
}

// stitchRun adds what holds of a part of a line: of one of several, whose number is
// then known, or of the whole.
func (c *compiler) stitchRun(d *draft, line *stitchLine, pieces []int, length relation.Expr, number maybe.Of[int]) lengthRun {
	one := relation.Expr{Op: relation.Const, Kind: unit.Count, Value: 1}
	named := func(name string, v relation.Var) relation.Expr {
		if k, ok := number.Get(); ok {
			name += fmt.Sprintf(".%d", k)
		}
		v.Name, v.At = d.Path+"."+name, d.At
		return relation.V(c.Add(v, d.node))
	}
	long := d.V(dim.Run)
	if number.Present() {
		long = named("run", relation.Var{Kind: unit.Length, Signed: true})
	}
	c.own(d, long, line.length(pieces), "")
	stitches := named("stitches", relation.Var{Kind: unit.Count, Whole: true, Needed: true})
	c.own(d, stitches, relation.Call(relation.Max, one, relation.Call(relation.Nearest, relation.Div(long, length), one)),
		"as many as come nearest to the stitch-length")
	if number.Present() {
		c.own(d, named("pitch", relation.Var{Kind: unit.Length, Signed: true}), relation.Div(long, stitches), "")
	}
	return lengthRun{model.StitchRun{Pieces: pieces, Closed: line.closes(pieces), Stitches: stitches.Var,
		Ends: !line.there[(pieces[len(pieces)-1]+1)%len(line.pieces)]}, long}
}

// stitchLength reads how far the holes are wished to be apart.
func (c *compiler) stitchLength(d *draft, n *model.Stitch) (relation.Expr, bool) {
	p, ok := d.props["stitch-length"]
	if !ok && unsure(d) {
		return relation.Expr{}, false // what it is like may say it
	}
	if !ok {
		c.Diags.Errorf("stitch", n.At, "nothing says how far the holes of %s are to be apart", d.Path).
			WithHelp("state it in its braces, as in stitch-length = %s; what comes out is its pitch", unit.Example(4, n.Unit))
		return relation.Expr{}, false
	}
	x, ok := c.As(p.value, p.scope, unit.Length, "stitch-length")
	if !ok {
		return x, false
	}
	if v, known := x.Constant(); known && v <= 0 {
		c.Diags.Errorf("positive", p.at(), "a stitch-length must be above 0").
			WithHelp("state how far the middles of two holes are to be apart")
		return x, false
	}
	c.needExpr(x)
	return x, true
}

// A stitchLine is the line that stitches follow, as the lengths of its pieces.
type stitchLine struct {
	pieces []relation.Expr
	there  []bool // which pieces are stitched
	// sharp says of each piece that its beginning is a sharp corner of the line.
	sharp []bool
}

// length is that of some of its pieces.
func (l *stitchLine) length(pieces []int) relation.Expr {
	var all []relation.Expr
	for _, i := range pieces {
		all = append(all, l.pieces[i])
	}
	return relation.Add(all...)
}

// closes reports whether some pieces are all there are, without a sharp corner.
func (l *stitchLine) closes(pieces []int) bool {
	return !slices.Contains(l.sharp, true) && len(pieces) == len(l.pieces)
}

// parts are the pieces between two sharp corners or ends, and how often the line
// begins anew.
func (l *stitchLine) parts() (parts [][]int, open int) {
	n := len(l.pieces)
	joins := func(i int) bool { return l.there[i] && l.there[(i+n-1)%n] }
	start := max(0, slices.Index(l.sharp, true))
	for i := range n {
		if l.there[i] && !joins(i) {
			start = i
			break
		}
	}
	for k := range n {
		i := (start + k) % n
		switch {
		case !l.there[i]:
		case k == 0 || !joins(i) || l.sharp[i]:
			parts = append(parts, []int{i})
			if !joins(i) {
				open++
			}
		default:
			parts[len(parts)-1] = append(parts[len(parts)-1], i)
		}
	}
	return parts, open
}

// stitched is the line that a stitch follows; false for what is told.
func (c *compiler) stitched(d *draft, n *model.Stitch) (*stitchLine, bool) {
	inset := d.V(dim.Inset)
	line := &outlineOf{corners: n.Panel.Corners, inset: inset, w: n.Panel.V(dim.Width), h: n.Panel.V(dim.Height)}
	if arch, ok := n.Panel.Arch.Get(); ok {
		rise, known := arch.Constant()
		line.arch, line.arched = arch, !known || rise != 0
	}
	if _, around := d.props["around"]; n.Panel.Tabs != nil && !around {
		c.Diags.Errorf("stitch", n.At, "%s stands for a set of dividers, and stitches don't follow the edge of one with a tab", n.Panel.Path).
			Note(n.Panel.Tabs.At, "its tabs are here").WithHelp("leave out the one or the other, or stitch around a region")
		return nil, false
	}
	if p, ok := d.props["around"]; ok {
		t := c.namedSide(d, p)
		if t == nil {
			return nil, false
		}
		n.Around = t.node
		switch box := t.node.(type) {
		case *model.Cutout:
			if box.Open != word.NoEdge {
				c.Diags.Errorf("stitch", p.at(), "%s is open to an edge, so its outline doesn't close", t.Path).
					Note(box.OpenAt, "it is opened here").WithHelp("stitch around a closed cutout, or along the edges of the panel")
				return nil, false
			}
			line = &outlineOf{inset: relation.Neg(inset), w: box.V(dim.Width), h: box.V(dim.Height)}
			if box.Shape != nil {
				if made := line.form(box.Shape); made != nil {
					return made, c.noEdges(d)
				}
			}
		case *model.Region:
			line = &outlineOf{inset: inset, w: box.V(dim.Width), h: box.V(dim.Height)}
		}
	}
	made := line.make()
	return made, c.along(d, made)
}

// noEdges reports edges that are named of what has none.
func (c *compiler) noEdges(d *draft) bool {
	p, ok := d.props["along"]
	if ok {
		c.Diags.Errorf("stitch", p.at(), "the outline that %s follows has no edges to choose from", d.Path).
			WithHelp("leave out this line: it is stitched all round")
	}
	return !ok
}

// namedSide finds the cutout or region that `around` names, on the same board.
func (c *compiler) namedSide(of *draft, p property) *draft {
	name, ok := p.value.(*ast.Name)
	help := "name a cutout or a region of the same panel; without `around` the stitches follow the panel's edge"
	if !ok {
		if _, bad := p.value.(*ast.BadExpr); !bad {
			c.Diags.Errorf("stitch", p.at(), "around must be the name of a cutout or a region").WithHelp("%s", help)
		}
		return nil
	}
	sym, ok := c.lookUp(name, p.scope, kind.Cutout, kind.Region)
	switch {
	case !ok:
		return nil
	case !isThing(sym, kind.Cutout) && !isThing(sym, kind.Region):
		c.Diags.Errorf("stitch", p.at(), "%s is not a cutout or a region", name.Dotted()).WithHelp("%s", help)
		return nil
	}
	t := c.draft(sym.Thing)
	if t.absent {
		c.Diags.Errorf("left-out", p.at(), "%s isn't there: its `when` doesn't hold", name.Dotted()).
			Note(t.At, "it is declared here").WithHelp("put %s under the same `when`", of.Path)
		return nil
	}
	if t.parent != nil && t.parent.Kind == kind.Field {
		c.Diags.Errorf("stitch", p.at(), "%s is repeated by a field, and stitches follow the outline of one thing", t.Path).
			Note(t.At, "it is declared here").WithHelp("name a cutout or a region that stands by itself on the panel")
		return nil
	}
	if t.parent == nil || t.parent != of.parent {
		c.Diags.Errorf("stitch", p.at(), "%s doesn't stand on %s", name.Dotted(), of.parent.Path).WithHelp("%s", help)
		return nil
	}
	return t
}

// along reads the edges that are stitched. A corner is, where both its edges are.
func (c *compiler) along(d *draft, line *stitchLine) bool {
	p, ok := d.props["along"]
	if !ok {
		return true
	}
	values := c.listed(p)
	named := map[word.Edge]bool{}
	for _, e := range values {
		one := p
		one.value = e
		edge, ok := choose(c, one, "an edge", word.Edges()...)
		if !ok {
			return false
		}
		if named[edge] {
			c.Diags.Errorf("stitch", e.Span(), "the %s is named twice", edge).WithHelp("name each edge once")
			return false
		}
		named[edge] = true
	}
	round := []word.Edge{word.Head, word.Foredge, word.Tail, word.Spine}
	for i, edge := range round {
		line.there[2*i] = named[edge]
		line.there[2*i+1] = named[edge] && named[round[(i+1)%4]]
	}
	return true
}

// An outlineOf is a board or an opening with four sides; inset is below 0 for a line
// that lies outside of it.
type outlineOf struct {
	corners     [4]model.Corner
	inset, w, h relation.Expr
	arch        relation.Expr
	arched      bool
}

// form is the line round an opening that has no corners, or six of them; nil for a
// rectangle.
func (o *outlineOf) form(shape *model.Hole) *stitchLine {
	out := relation.Neg(o.inset)
	all := func(n int, sharp bool, long relation.Expr) *stitchLine {
		l := &stitchLine{pieces: slices.Repeat([]relation.Expr{long}, n), there: slices.Repeat([]bool{true}, n), sharp: slices.Repeat([]bool{sharp}, n)}
		return l
	}
	switch shape.Form {
	case opening.Round:
		return all(2, false, relation.Mul(relation.C(math.Pi/2), relation.Add(o.w, relation.Mul(relation.C(2), out))))
	case opening.Hex:
		return all(6, true, relation.Div(relation.Add(o.h, relation.Mul(relation.C(2), out)), relation.C(math.Sqrt(3))))
	case opening.Slot:
		o.round(relation.Div(relation.Call(relation.Min, o.w, o.h), relation.C(2)))
	default:
		if r, ok := shape.Radius.Get(); ok {
			o.round(r)
		}
	}
	return nil
}

func (o *outlineOf) round(r relation.Expr) {
	for i := range o.corners {
		o.corners[i].Form = word.Radius
		o.corners[i].Size = o.corners[i].Size.OrElse(maybe.Is(r))
	}
}
