package eval

import (
	"fmt"
	"math"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/source"
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

// torsionFactor is tau * l / (G * t * θ) for a bar of square section t twisted by
// θ over the length l: 0.1406 / 0.208 from the usual tables of torsion (S. Timoshenko
// and J. N. Goodier, Theory of Elasticity, 1951; from memory), to the digits that
// Fenner gives.
const torsionFactor = 0.676125

const degree = math.Pi / 180

// longestLink is how long a link may be, in thicknesses, before the bend splays:
// Fenner's advice of 2011.
const longestLink = 4

// latticeRunsThrough is where a lattice lies between head and tail if nothing
// says so: in the middle if its height is decided, else from edge to edge, as
// what is left uncut at its ends doesn't bend.
func (b *builder) latticeRunsThrough(it *item) {
	v := func(name string) relation.Expr { return relation.V(it.vars[name]) }
	path, height := it.thing.Path(), v("height")
	b.byDefault(boxPhase, relation.Default{Left: v("head"), Right: v("tail"), Given: &height,
		Vars: []relation.VarID{it.vars["head"], it.vars["tail"]}, At: it.thing.At,
		Text: fmt.Sprintf("%s.head = %s.tail (centred)", path, path)})
	for _, n := range []string{"head", "tail"} {
		b.byDefault(boxPhase, relation.Default{Left: v(n), Right: relation.C(0),
			Vars: []relation.VarID{it.vars[n]}, At: it.thing.At, Text: path + "." + n + " = 0 (it runs from edge to edge)"})
	}
}

// lattices adds what holds of each lattice. It must come after all lines, as
// that depends on what is stated of it and on the kerf.
func (b *builder) lattices() {
	var all []*item
	for _, it := range b.items {
		if it.thing.Kind.Name == "lattice" && it.parent != nil {
			all = append(all, it)
		}
	}
	if len(all) == 0 {
		return
	}
	lines := b.indexLines()
	for _, it := range all {
		l := latticeTerms{builder: b, lines: lines, it: it, path: it.thing.Path(),
			thick: relation.V(it.parent.vars["thick"]), kerf: b.kerf(it.parent)}
		if l.possible() {
			b.need(it, "turn", "links", "clearance", "bend", "rows", "link", "bridge", "end")
			l.across()
			l.along()
		}
	}
}

// possible reports what a lattice can't do without and what can't be.
func (l *latticeTerms) possible() bool {
	good := true
	id := l.it.vars["turn"]
	if i, ok := l.lines.fixed[id]; ok {
		at := l.sys.Relations[i].At
		if turn, ok := constant(l.sys.Relations[i].Right); ok && (turn <= 0 || turn > 360) {
			l.diags.Errorf("turn", at, "%s can't turn by %s", l.path, l.format(turn, l.sys.Vars[id].Kind, at)).
				WithHelp("state how far the board bends in all, above 0 and up to 360 deg")
			good = false
		}
	}
	if i, ok := l.lines.fixed[l.it.vars["clearance"]]; ok {
		at := l.sys.Relations[i].At
		if clear, ok := constant(l.sys.Relations[i].Right); ok && clear >= 0 && clear < l.kerf {
			l.diags.Errorf("clearance", at, "a slot of %s can't be cut: the laser's cut is %s wide", l.format(clear, unit.Length, at), l.format(l.kerf, unit.Length, at)).
				WithHelp("state at least the kerf, or leave the clearance to the radius")
			good = false
		}
	}
	if modulus, allowed, both := l.shear(l.it); !both && modulus+allowed > 0 {
		at, has, lacks := l.it.thing.At, "shear-modulus", "allowed-shear"
		if allowed > 0 {
			has, lacks = lacks, has
		}
		if p, ok := l.it.props[has]; ok {
			at = p.line.Span()
		}
		l.diags.Errorf("shear", at, "%s alone doesn't say how far the links of %s may twist", has, l.path).
			WithHelp("state %s too, in N/mm² (MPa), in the lattice or in its material", lacks)
		good = false
	}
	if l.states("link") && l.states("end") && !l.states("rows") {
		at := l.sys.Relations[l.lines.fixed[l.it.vars["end"]]].At
		l.diags.Errorf("rows", at, "with link and end both stated nothing in %s is left to fill its height", l.path).
			Note(l.sys.Relations[l.lines.fixed[l.it.vars["link"]]].At, "the link is stated here").
			WithHelp("take one of them out, or state rows and let the height follow")
		good = false
	}
	if l.diags.HasErrors() {
		return good // what seems to be missing may stand in a broken line
	}
	switch {
	case !l.lines.spoken[id]:
		l.diags.Errorf("turn", l.it.thing.At, "nothing says how far %s turns", l.path).
			WithHelp("state the whole angle of the bend, as in turn = 180 deg")
		good = false
	case !l.lines.spoken[l.it.parent.vars["thick"]]:
		l.diags.Errorf("thickness", l.it.thing.At, "nothing says how thick %s is, and the links of %s are as wide as it is thick",
			l.it.parent.thing.Path(), l.path).WithHelp("state thick = 3 in the panel, or the stock that it is cut from")
		good = false
	case !l.hasRadius() && !l.states("links") && !l.states("clearance") && !(l.kerf > 0):
		l.diags.Errorf("radius", l.it.thing.At, "nothing says how tightly %s bends", l.path).
			WithHelp("state the least inside radius, as in radius = 20; where the laser's kerf is known and no radius is stated, it bends as tightly as slots of a single cut allow")
		good = false
	}
	return good
}

// hasRadius reports whether any line speaks of a least radius.
func (l *latticeTerms) hasRadius() bool {
	id, ok := l.it.vars["radius"]
	return ok && l.lines.spoken[id]
}

// states reports whether a line states one of the lattice's dimensions.
func (l *latticeTerms) states(name string) bool {
	_, ok := l.lines.fixed[l.it.vars[name]]
	return ok
}

// A latticeTerms holds what the relations of one lattice are made of.
type latticeTerms struct {
	*builder
	lines lineIndex
	it    *item
	path  string
	thick relation.Expr
	kerf  float64 // 0 where nothing says it
}

func (l *latticeTerms) v(name string) relation.Expr { return relation.V(l.it.vars[name]) }

func (l *latticeTerms) says(left, right relation.Expr, text string, args ...any) {
	l.own(l.it, left, right, l.path+"."+fmt.Sprintf(text, args...))
}

func (l *latticeTerms) atLeast(left, right relation.Expr, text string) {
	l.sys.Relations = append(l.sys.Relations, relation.Relation{Sign: relation.GE, Left: left, Right: right,
		Role: relation.Own, At: l.it.thing.At, Text: l.path + "." + text})
}

// across adds what holds across the bend: links, clearance, width, radius.
func (l *latticeTerms) across() {
	turn, links, clear := l.v("turn"), l.v("links"), l.v("clearance")
	radians := relation.Mul(relation.C(degree), turn)
	bounds := []relation.Expr{relation.Div(turn, relation.C(45))}
	hasRadius, hasClear := l.hasRadius(), l.states("clearance")
	if hasRadius {
		l.byDefault(rowPhase, relation.Default{Left: l.v("radius"), Right: relation.C(0), Vars: []relation.VarID{l.it.vars["radius"]},
			At: l.it.thing.At, Text: l.path + ".radius = as small as its limits allow"})
		bounds = append(bounds, relation.Div(relation.Mul(l.v("radius"), radians), l.thick))
	}
	switch {
	case hasClear:
		bounds = append(bounds, l.linksWithin(clear))
	case !hasRadius && l.kerf > 0:
		bounds = append(bounds, l.linksWithin(relation.C(l.kerf)))
	}
	if l.states("links") {
		l.atLeast(links, bounds[0], "links >= turn / 45 deg")
		if hasRadius {
			l.atLeast(l.v("bend"), l.v("radius"), "bend >= radius")
		}
	} else {
		l.says(links, relation.Expr{Op: relation.Ceil, Args: []relation.Expr{most(bounds...)}}, "links = as few as reach the radius within the clearance")
	}
	if hasClear {
		l.atLeast(clear, relation.C(l.kerf), "clearance >= the kerf")
		l.atLeast(clear, l.needed(), "clearance >= what the turn of the links needs")
	} else {
		l.says(clear, most(relation.C(l.kerf), l.needed()), "clearance = what the turn of the links needs, at least the kerf")
	}
	l.says(l.v("width"), relation.Add(relation.Mul(links, l.thick), relation.Mul(clear, relation.Add(links, relation.C(1)))),
		"width = links * thick + (links + 1) * clearance")
	l.says(l.v("bend"), relation.Div(relation.Mul(links, l.thick), radians), "bend = links * thick / turn")
}

// needed is the clearance that links need to turn by turn / links.
func (l *latticeTerms) needed() relation.Expr {
	angle := relation.Less(relation.C(45), relation.Div(l.v("turn"), l.v("links")))
	return relation.Mul(l.thick, relation.Less(relation.Mul(relation.C(math.Sqrt2), relation.Expr{Op: relation.Cos, Args: []relation.Expr{angle}}), relation.C(1)))
}

// linksWithin is how many links need no more than a clearance. Beyond 0.41
// thicknesses a link is free to turn however far.
func (l *latticeTerms) linksWithin(clear relation.Expr) relation.Expr {
	cosine := relation.Div(relation.Add(clear, l.thick), relation.Mul(relation.C(math.Sqrt2), l.thick))
	cosine = relation.Expr{Op: relation.Min, Args: []relation.Expr{cosine, relation.C(1)}}
	angle := relation.Less(relation.C(45), relation.Expr{Op: relation.Acos, Args: []relation.Expr{cosine}})
	return relation.Div(l.v("turn"), angle)
}

// along adds what holds along the bend: rows of links, bridges, ends. As long as
// nothing else is stated, bridges and ends are as long as the board is thick
// (common practice, no source), and links as long as the advice against splaying
// allows, but as long as the stress asks.
func (l *latticeTerms) along() {
	rows, link, bridge, end, height := l.v("rows"), l.v("link"), l.v("bridge"), l.v("end"), l.v("height")
	hasLink, hasEnd, hasRows := l.states("link"), l.states("end"), l.states("rows")
	if !l.states("bridge") {
		l.says(bridge, l.thick, "bridge = thick")
	}
	ends := end
	switch {
	case hasEnd:
	case hasLink:
		ends = bridge
		l.atLeast(end, bridge, "end >= bridge")
	default:
		l.says(end, bridge, "end = bridge")
	}
	if !hasRows {
		// One row takes a link and a bridge, but for the last bridge.
		room := relation.Less(relation.Add(height, bridge), relation.Mul(relation.C(2), ends))
		fit := func(op relation.Op, link relation.Expr) relation.Expr {
			return relation.Expr{Op: op, Args: []relation.Expr{relation.Div(room, relation.Add(link, bridge))}}
		}
		n, why := fit(relation.Ceil, relation.Mul(relation.C(longestLink), l.thick)), "rows = as few as keep a link within 4 * thick"
		if hasLink {
			n, why = fit(relation.Floor, link), "rows = as many as there is room for"
		} else if need, ok := l.stressLength(); ok {
			n = relation.Expr{Op: relation.Min, Args: []relation.Expr{n, fit(relation.Floor, need)}}
			why += ", and as the stress allows"
		}
		l.says(rows, most(relation.C(1), n), "%s", why)
	}
	l.says(height, relation.Add(relation.Mul(rows, link), relation.Mul(relation.Less(rows, relation.C(1)), bridge), relation.Mul(relation.C(2), end)),
		"height = rows * link + (rows - 1) * bridge + 2 * end")
}

// stressLength is the least length over which a link may twist by turn / links,
// where the material says what it allows.
func (l *latticeTerms) stressLength() (relation.Expr, bool) {
	modulus, allowed, ok := l.shear(l.it)
	if !ok {
		return relation.Expr{}, false
	}
	angle := relation.Mul(relation.C(degree), relation.Div(l.v("turn"), l.v("links")))
	return relation.Mul(relation.C(torsionFactor*modulus/allowed), l.thick, angle), true
}

// shear is the shear modulus and the shear stress allowed, in N/mm²: a lattice's
// own, else those of the material.
func (m *Model) shear(it *item) (modulus, allowed float64, ok bool) {
	find := func(key string) float64 {
		sources := []*item{it}
		if s := it.parent.stock; s != nil && s.material != nil {
			sources = append(sources, s.material)
		}
		for _, from := range sources {
			if x, ok := from.exprs[key]; ok {
				v, _ := constant(x)
				return v
			}
		}
		return 0
	}
	modulus, allowed = find("shear-modulus"), find("allowed-shear")
	return modulus, allowed, modulus > 0 && allowed > 0
}

// kerf is the full width of cut in a panel: the stock's, else the laser's, else 0.
func (m *Model) kerf(panel *item) float64 {
	for _, it := range []*item{panel.stock, m.laser} {
		if it == nil {
			continue
		}
		if x, ok := it.exprs["kerf"]; ok {
			v, _ := constant(x)
			return v
		}
	}
	return 0
}

// A lineIndex says what the lines of a design speak of.
type lineIndex struct {
	spoken map[relation.VarID]bool // by a line, a reading or a wish
	fixed  map[relation.VarID]int  // alone on the left of an equation: the relation
}

func (b *builder) indexLines() lineIndex {
	x := lineIndex{map[relation.VarID]bool{}, map[relation.VarID]int{}}
	see := func(exprs ...relation.Expr) {
		for _, e := range exprs {
			for _, id := range e.Vars() {
				x.spoken[id] = true
			}
		}
	}
	for i, r := range b.sys.Relations {
		if r.Role == relation.Own {
			continue
		}
		see(r.Left, r.Right)
		if r.Sign == relation.EQ && r.Left.Op == relation.Ref {
			x.fixed[r.Left.Var] = i
		}
	}
	for _, w := range b.sys.Wishes {
		see(w.Left, w.Right)
	}
	return x
}

// most is the greatest of some expressions.
func most(args ...relation.Expr) relation.Expr {
	return relation.Expr{Op: relation.Max, Args: args}
}

// noteLattices says, of lines that clash, what they would make of a lattice that
// they speak of: how many links, how wide.
func (s *Solution) noteLattices(d *diag.Diagnostic, relations []int) {
	spoken := map[*item]bool{}
	s.mention(relations, spoken)
	for _, it := range s.items {
		if it.thing.Kind.Name != "lattice" || !spoken[it] {
			continue
		}
		values := make([]float64, len(s.System.Vars))
		for i := range values {
			values[i] = math.NaN()
		}
		forwards := func(r *relation.Relation) {
			if r.Sign == relation.EQ && r.Left.Op == relation.Ref && math.IsNaN(values[r.Left.Var]) {
				values[r.Left.Var] = r.Right.Eval(values)
			}
		}
		for _, i := range relations {
			forwards(&s.System.Relations[i])
		}
		for i := range s.System.Relations {
			if r := &s.System.Relations[i]; r.Role == relation.Own && r.At == it.thing.At {
				forwards(r)
			}
		}
		links, wide := values[it.vars["links"]], values[it.vars["width"]]
		if !math.IsNaN(links + wide) {
			d.Note(it.thing.At, "they make %s %s links and %s wide, to bend to a radius of %s", it.thing.Path(), unit.FormatNumber(links, 2),
				s.format(wide, unit.Length, it.thing.At), s.format(values[it.vars["bend"]], unit.Length, it.thing.At))
		}
	}
}

// reportLatticeCount reports a number of links or rows that can't be.
func (s *Solution) reportLatticeCount(diags *diag.List, c solve.CountProblem, at source.Span) {
	v := s.System.Vars[c.Var]
	if c.Value > MaxHoles || math.IsInf(c.Value, 1) {
		diags.Errorf("count", at, "%s would be %s, and a lattice has at most %d of them", v.Name, unit.FormatNumber(c.Value, 0), MaxHoles).
			WithHelp("check its radius and how thick the board is; a unit may be missing")
		return
	}
	diags.Errorf("count", at, "%s comes out at %s, and it must be a whole number from 1 up", v.Name, unit.FormatNumber(c.Value, 3)).
		WithHelp("let its width follow from its links, and its height from its rows or be filled by them")
}
