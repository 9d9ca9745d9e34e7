package compile

import (
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/lang/unit"
)

// A lattice is a field of slots parallel to the spine that lets a board bend.
// Between two columns of slots stand links of square section, as wide as the
// board is thick (t), which twist. What follows is the torsion model of lattice
// hinges by Patrick Fenner, published in his blog Deferred Procrastination: "Lattice
// Hinge Test Results", 2011 (links, clearance, width, length), "Lattice Hinge Design:
// Minimum Bend Radius", 2012, and "Lattice Hinge Design: Choosing Torsional Stress",
// 2012 (angles in radians):
//
//	turn of one link      θ = turn / links
//	clearance they need   k = -t + 2 sqrt(t²/2) cos(π/4 - θ)
//	width                 t * links + k * (links + 1)
//	inside radius         links * t / turn
//	length of a link      at most 4t, so that the bend doesn't splay
//	shear stress          0.676125 * G * t * θ / length of a link
//
// The clearance is that of two links which turn by θ each way from the bridge
// between them: then their inner corners touch. It grows with θ up to 45°, so a
// link may turn that far and no further.
//
// How many links there are is the least whole number that
//
//   - reaches the stated radius: links >= radius * turn / t;
//   - needs no more than the stated clearance, or, where nothing but the turn is
//     stated, no more than the kerf, so that each slot is a single cut:
//     links >= turn / (π/4 - arccos((k + t) / (sqrt(2) t)));
//   - turns no link further than 45°.
//
// With a radius stated the slots are opened to the clearance that the links need
// where that is wider than the kerf. So t = 3 mm, a radius of 14 mm and 180° give
// 15 links (14.66 rounded up), a clearance of 0.558, a radius of 14.32 and a
// width of 53.93; t = 3 mm, 90° and a kerf of 0.2 alone give Fenner's 23
// links (22.73) and a radius of 43.9, which he rounds to 44.
//
// The radius leaves out the slots beside the bridges, which stay open on the
// inside of the bend: until its links touch, a board of opened slots bends less
// tightly than it says, by up to 10 % at 20° a link; at 41° the two are alike.

// radians is how many radians an angle is.
func radians(angle relation.Expr) relation.Expr {
	return relation.Mul(relation.Div(relation.C(math.Pi), relation.Degrees(180)), angle)
}

// latticeRunsThrough is where a lattice lies between head and tail if nothing
// says so: from edge to edge, as what is left uncut at its ends doesn't bend. Where its
// height is decided it is so as nearly as can be in the middle.
func (c *compiler) latticeRunsThrough(d *draft) {
	for _, n := range []dim.Name{dim.Head, dim.Tail} {
		c.place(d, dim.Height, boxPhase, relation.Default{Left: d.V(n), Right: relation.C(0), Vars: dimsOf(d, n), Why: "it runs from edge to edge"})
	}
}

// latticeOf adds what holds of a lattice, which depends on the kerf too.
func (c *compiler) latticeOf(d *draft, n *model.Lattice, lines lineIndex) {
	l := &latticeTerms{compiler: c, lines: lines, d: d, lattice: n, thick: n.Panel.V(dim.Thick), kerf: c.kerfOf(n.Panel)}
	if l.possible() {
		c.need(d, dim.Turn, dim.Links, dim.Clearance, dim.Bend, dim.Rows, dim.Link, dim.Bridge, dim.End)
		l.across()
		l.along()
	}
}

// kerfOf is the full width of cut in a panel: the stock's, else the laser's, else
// 0.
func (c *compiler) kerfOf(panel *model.Panel) float64 {
	return c.Kerf(panel.Stock).Width.Or(0)
}

// A latticeTerms holds what the relations of one lattice are made of.
type latticeTerms struct {
	*compiler
	lines   lineIndex
	d       *draft
	lattice *model.Lattice
	thick   relation.Expr
	kerf    float64 // 0 where nothing says it
}

func (l *latticeTerms) v(n dim.Name) relation.Expr { return l.d.V(n) }

// states reports whether a line states one of the lattice's dimensions.
func (l *latticeTerms) states(n dim.Name) bool {
	_, ok := l.stating(n)
	return ok
}

// stating is the relation that states one of the lattice's dimensions.
func (l *latticeTerms) stating(n dim.Name) (relation.Relation, bool) {
	id, ok := l.d.Dim(n)
	if !ok {
		return relation.Relation{}, false
	}
	r, ok := l.lines.fixed[id]
	return r, ok
}

// usually gives one of the lattice's dimensions a value: by default where a wish speaks
// of it or a limit is about it, so that these count, else as a must.
func (l *latticeTerms) usually(n dim.Name, right relation.Expr) {
	if id, ok := l.d.Dim(n); !ok || !l.lines.asked[id] {
		l.says(l.v(n), right, "")
		return
	}
	l.need(l.d, n)
	l.byDefault(radiusPhase, relation.Default{Left: l.v(n), Right: right, Given: right.Vars(), Vars: dimsOf(l.d, n),
		At: l.d.At, Why: "as is usual"})
}

// speaks reports whether any line speaks of a dimension of a thing.
func (l *latticeTerms) speaks(t *model.Thing, n dim.Name) bool {
	id, ok := t.Dim(n)
	return ok && l.lines.spoken[id]
}

// possible reports what a lattice can't do without and what can't be.
func (l *latticeTerms) possible() bool {
	good := true
	wrong := func() { good = false }
	l.checkTurn(wrong)
	l.checkClearance(wrong)
	l.checkShear(wrong)
	l.checkWishes(wrong)
	if l.Diags.HasErrors() {
		return good // what seems to be missing may stand in a broken line
	}
	return l.complete() && good
}

func (l *latticeTerms) checkTurn(wrong func()) {
	r, ok := l.stating(dim.Turn)
	if !ok {
		return
	}
	if turn, known := r.Right.Constant(); known && (turn <= 0 || turn > 360) {
		l.Diags.Errorf("turn", r.At, "%s can't turn by %s", l.d.Path, unit.FormatNumber(turn, 3)+" deg").
			WithHelp("state how far the board bends in all, above 0 and up to 360 deg")
		wrong()
	}
}

func (l *latticeTerms) checkClearance(wrong func()) {
	r, ok := l.stating(dim.Clearance)
	if !ok {
		return
	}
	if clear, known := r.Right.Constant(); known && clear >= 0 && clear < l.kerf {
		in := l.UnitOf(r.At)
		l.Diags.Errorf("clearance", r.At, "a slot of %s can't be cut: the laser's cut is %s wide", unit.FormatLength(clear, in), unit.FormatLength(l.kerf, in)).
			WithHelp("state at least the kerf, or leave the clearance to the radius")
		wrong()
	}
}

func (l *latticeTerms) checkShear(wrong func()) {
	modulus, allowed := l.lattice.ShearOf()
	if modulus.Present() == allowed.Present() {
		return
	}
	has, lacks, own := "shear-modulus", "allowed-shear", l.lattice.ShearModulus
	if allowed.Present() {
		has, lacks, own = lacks, has, l.lattice.AllowedShear
	}
	at := l.d.At
	if own.Value.Present() {
		at = own.At
	}
	l.Diags.Errorf("shear", at, "%s alone doesn't say how far the links of %s may twist", has, l.d.Path).
		WithHelp("state %s too, in N/mm² (MPa), in the lattice or in its material", lacks)
	wrong()
}

// checkWishes reports wishes that speak of a link that isn't stated: how many rows there
// are, and so how long the links are, follows from the height in whole steps, over which
// no wish reaches.
func (l *latticeTerms) checkWishes(wrong func()) {
	link, ok := l.d.Dim(dim.Link)
	if !ok || l.states(dim.Link) {
		return
	}
	for _, w := range l.System.Wishes {
		if !slices.Contains(w.Left.Vars(), link) && !slices.Contains(w.Right.Vars(), link) {
			continue
		}
		l.Diags.Errorf("prefer", w.At, "the link of %s can't be wished for", l.d.Path).
			WithHelp("state it, as in link = %s, and the ends take up what is left; or leave it out, and it is as long as suits the board", unit.Example(12, l.UnitOf(w.At)))
		wrong()
	}
}

// complete reports what nothing says of a lattice.
func (l *latticeTerms) complete() bool {
	panel := &l.lattice.Panel.Thing
	switch {
	case !l.speaks(l.d.Thing, dim.Turn):
		l.Diags.Errorf("no-turn", l.d.At, "nothing says how far %s turns", l.d.Path).
			WithHelp("state the whole angle of the bend, as in turn = 180 deg")
	case !l.speaks(panel, dim.Thick):
		l.Diags.Errorf("thickness", l.d.At, "nothing says how thick %s is, and the links of %s are as wide as it is thick",
			panel.Path, l.d.Path).WithHelp("state thick = %s in the panel, or the stock that it is cut from", unit.Example(3, l.UnitOf(l.d.At)))
	case !l.hasRadius() && !l.states(dim.Links) && !l.states(dim.Clearance) && !(l.kerf > 0):
		l.Diags.Errorf("radius", l.d.At, "nothing says how tightly %s bends", l.d.Path).
			WithHelp("state the least inside radius, as in radius = %s; where the laser's kerf is known and no radius is stated, it bends as tightly as slots of a single cut allow", unit.Example(20, l.UnitOf(l.d.At)))
	default:
		return true
	}
	return false
}

// hasRadius reports whether any line speaks of a least radius.
func (l *latticeTerms) hasRadius() bool { return l.speaks(l.d.Thing, dim.Radius) }

func (l *latticeTerms) says(left, right relation.Expr, why string) { l.own(l.d, left, right, why) }

func (l *latticeTerms) atLeast(left, right relation.Expr, why string) {
	l.ownLeast(l.d, left, right, why)
}

// across adds what holds across the bend: links, clearance, width, radius.
func (l *latticeTerms) across() {
	turn, links, clear := l.v(dim.Turn), l.v(dim.Links), l.v(dim.Clearance)
	bounds := []relation.Expr{relation.Div(turn, relation.Degrees(45))}
	hasRadius, hasClear := l.hasRadius(), l.states(dim.Clearance)
	if hasRadius {
		l.need(l.d, dim.Radius) // a wish about the width may keep it from being decided
		l.byDefault(radiusPhase, relation.Default{Left: l.v(dim.Radius), Right: relation.C(0), Vars: dimsOf(l.d, dim.Radius),
			At: l.d.At, Why: "as small as its limits allow"})
		bounds = append(bounds, relation.Div(relation.Mul(l.v(dim.Radius), radians(turn)), l.thick))
	}
	switch {
	case hasClear:
		bounds = append(bounds, l.linksWithin(clear))
	case !hasRadius && l.kerf > 0:
		bounds = append(bounds, l.linksWithin(relation.C(l.kerf)))
	}
	if l.states(dim.Links) {
		l.atLeast(links, bounds[0], "no link turns further than 45 deg")
		if hasRadius {
			l.atLeast(l.v(dim.Bend), l.v(dim.Radius), "")
		}
	} else {
		l.says(links, relation.Call(relation.Ceil, most(bounds...)), "as few as reach the radius within the clearance")
	}
	if hasClear {
		l.atLeast(clear, relation.C(l.kerf), "the kerf")
		l.atLeast(clear, l.needed(), "what the turn of the links needs")
	} else {
		l.says(clear, most(relation.C(l.kerf), l.needed()), "what the turn of the links needs, at least the kerf")
	}
	l.says(l.v(dim.Width), relation.Add(relation.Mul(links, l.thick), relation.Mul(clear, relation.Add(links, relation.C(1)))), "")
	l.says(l.v(dim.Bend), relation.Div(relation.Mul(links, l.thick), radians(turn)), "")
}

// needed is the clearance that links need to turn by turn / links.
func (l *latticeTerms) needed() relation.Expr {
	angle := relation.Minus(relation.Degrees(45), relation.Div(l.v(dim.Turn), l.v(dim.Links)))
	return relation.Mul(l.thick, relation.Minus(relation.Mul(sqrt2(), relation.Call(relation.Cos, angle)), relation.C(1)))
}

// linksWithin is how many links need no more than a clearance. Beyond 0.41
// thicknesses a link is free to turn however far.
func (l *latticeTerms) linksWithin(clear relation.Expr) relation.Expr {
	cosine := relation.Div(relation.Add(clear, l.thick), relation.Mul(sqrt2(), l.thick))
	cosine = relation.Call(relation.Min, cosine, relation.C(1))
	angle := relation.Minus(relation.Degrees(45), relation.Call(relation.Acos, cosine))
	return relation.Div(l.v(dim.Turn), angle)
}

// along adds what holds along the bend: rows of links, bridges, ends. As long as
// nothing else is stated, bridges and ends are as long as the board is thick
// (common practice, no source), and links as long as the advice against splaying
// allows, but as long as the stress asks.
func (l *latticeTerms) along() {
	rows, link, bridge, end, height := l.v(dim.Rows), l.v(dim.Link), l.v(dim.Bridge), l.v(dim.End), l.v(dim.Height)
	hasLink := l.states(dim.Link)
	if !l.states(dim.Bridge) {
		l.usually(dim.Bridge, l.thick)
	}
	ends := end
	switch {
	case l.states(dim.End):
		if hasLink {
			l.fills()
		}
	case hasLink:
		ends = bridge
		l.atLeast(end, bridge, "")
	default:
		l.usually(dim.End, bridge)
	}
	if !l.states(dim.Rows) {
		// One row takes a link and a bridge, but for the last bridge.
		room := relation.Minus(relation.Add(height, bridge), relation.Mul(relation.C(2), ends))
		fit := func(op relation.Op, link relation.Expr) relation.Expr {
			return relation.Call(op, relation.Div(room, relation.Add(link, bridge)))
		}
		n, why := fit(relation.Ceil, relation.Mul(relation.C(design.LongestLink), l.thick)), "as few as keep a link within 4 * thick"
		if hasLink {
			n, why = fit(relation.Floor, link), "as many as there is room for"
		} else if need, ok := l.stressLength(); ok {
			n = relation.Call(relation.Min, n, fit(relation.Floor, need))
			why += ", and as the stress allows"
		}
		l.says(rows, most(relation.C(1), n), why)
	}
	l.says(height, relation.Add(relation.Mul(rows, link), relation.Mul(relation.Minus(rows, relation.C(1)), bridge), relation.Mul(relation.C(2), end)), "")
}

// fills has a lattice run from edge to edge where its link and its end are stated and
// no line says otherwise: with nothing left to take up what rows of them leave, it would
// end short of the edges.
func (l *latticeTerms) fills() {
	for _, n := range []dim.Name{dim.Head, dim.Height, dim.Tail} {
		if l.speaks(l.d.Thing, n) {
			return
		}
	}
	for _, n := range []dim.Name{dim.Head, dim.Tail} {
		l.System.Relations = append(l.System.Relations, relation.Relation{Left: l.v(n), Right: relation.C(0), Role: relation.Held,
			At: l.d.At, Why: "it runs from edge to edge"})
	}
}

// stressLength is the least length over which a link may twist by turn / links,
// where the material says what it allows.
func (l *latticeTerms) stressLength() (relation.Expr, bool) {
	modulus, allowed := l.lattice.ShearOf()
	if !modulus.Present() || !allowed.Present() {
		return relation.Expr{}, false
	}
	factor := relation.Div(relation.Mul(relation.C(design.TorsionFactor), relation.C(modulus.Or(0))), relation.C(allowed.Or(1)))
	return relation.Mul(factor, l.thick, radians(relation.Div(l.v(dim.Turn), l.v(dim.Links)))), true
}

// A lineIndex says what the lines of a design speak of.
type lineIndex struct {
	spoken map[relation.VarID]bool              // by a line, a reading or a wish
	asked  map[relation.VarID]bool              // by a wish, or alone on a side of a limit
	fixed  map[relation.VarID]relation.Relation // what an equation is about, turned so that it is on the left
}

func (c *compiler) indexLines() lineIndex {
	x := lineIndex{map[relation.VarID]bool{}, map[relation.VarID]bool{}, map[relation.VarID]relation.Relation{}}
	see := func(by map[relation.VarID]bool, exprs ...relation.Expr) {
		for _, e := range exprs {
			for _, id := range e.Vars() {
				by[id] = true
			}
		}
	}
	for _, r := range c.System.Relations {
		if r.Role == relation.Own {
			continue
		}
		see(x.spoken, r.Left, r.Right)
		if r.Sign != relation.EQ {
			for _, side := range []*relation.Expr{&r.Left, &r.Right} {
				if side.Op == relation.Ref {
					x.asked[side.Var] = true
				}
			}
			continue
		}
		if v, ok := r.Subject(); ok {
			if r.Left.Op != relation.Ref || r.Left.Var != v {
				r.Left, r.Right = r.Right, r.Left
			}
			x.fixed[v] = r
		}
	}
	for _, w := range c.System.Wishes {
		see(x.spoken, w.Left, w.Right)
		see(x.asked, w.Left, w.Right)
	}
	return x
}

// most is the greatest of some expressions.
func most(args ...relation.Expr) relation.Expr { return relation.Call(relation.Max, args...) }

func sqrt2() relation.Expr { return relation.Call(relation.Sqrt, relation.C(2)) }
