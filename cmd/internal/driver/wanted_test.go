package driver_test

import (
	"fmt"
	"math"
	"sort"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/design"
	"foredge/eval/opening"
	"foredge/eval/word"
	"foredge/export/exporttest"
	"foredge/layout"
	"foredge/layout/geom"
)

// What a cut file must hold, worked out from the solved dimensions alone: this
// file shares nothing with package layout but points and boxes, and what the
// pieces of inlays are, which is the lettering's.

// A wanted is one shape of the design as the maker wants it, in place on the
// drawing, before kerf: a rectangle whose corners may be round or cut off, or a
// line.
type wanted struct {
	center geom.Point
	w, h   float64
	// round and chamfer are what is taken off each edge at the corners: left
	// upper, right upper, right lower, left lower.
	round, chamfer [4]float64
	// grow is by how much its edge lies further out in the file.
	grow float64
	// head and tail are slots with round ends that run out through the upper and
	// the lower side.
	head, tail []slot
	// hex says that it is a regular hexagon, of which the longer size is the one
	// across its corners.
	hex bool
	// mouths are openings that are open to a side.
	mouths []mouth
	// line, if it is one, is from corner to corner of the box.
	line bool
	// drawn is its edge in the file where that is no rectangle.
	drawn []exporttest.Segment
	// within says that the shape is lettering, of which only the place is known.
	within bool
}

// A slot runs out through a side: at is the X of its middle, wide its width and
// end how far its round end lies from that side.
type slot struct{ at, wide, end float64 }

func (s wanted) box() geom.Box {
	d := geom.Pt(s.w/2, s.h/2)
	return geom.Box{Min: s.center.Sub(d), Max: s.center.Add(d)}
}

// edges are the straight lines and the arcs of a shape's edge in the file,
// clockwise from its upper side.
func (s wanted) edges() []exporttest.Segment {
	b := s.box()
	if s.line {
		return []exporttest.Segment{{From: b.Min, End: b.Max}}
	}
	b.Min, b.Max = b.Min.Sub(s.grown()), b.Max.Add(s.grown())
	if s.drawn != nil {
		return s.drawn
	}
	if s.hex {
		return hexagonIn(b)
	}
	corners := [4]geom.Point{b.Min, {X: b.Max.X, Y: b.Min.Y}, b.Max, {X: b.Min.X, Y: b.Max.Y}}
	along := [4]geom.Point{{X: 1}, {Y: 1}, {X: -1}, {Y: -1}}
	var off [4]float64
	for i := range off {
		switch {
		case s.round[i] > 0: // a round corner grows with its edge
			off[i] = max(0, s.round[i]+s.grow)
		case s.chamfer[i] > 0: // so does a chamfer, whose ends move along the sides
			off[i] = s.chamfer[i] + s.grow*(2-math.Sqrt2)
		}
	}
	var list []exporttest.Segment
	for i := range 4 {
		j := (i + 1) % 4
		from, end := corners[i].Add(along[i].Mul(off[i])), corners[j].Sub(along[i].Mul(off[j]))
		switch i {
		case 0:
			list = append(list, s.notched(from, end, s.head, 1)...)
		case 2:
			list = append(list, s.notched(from, end, s.tail, -1)...)
		default:
			list = append(list, exporttest.Segment{From: from, End: end})
		}
		turn := exporttest.Segment{From: corners[j].Sub(along[i].Mul(off[j])), End: corners[j].Add(along[j].Mul(off[j]))}
		if s.round[j] > 0 {
			turn.Kind, turn.R, turn.Sweep = geom.ArcTo, off[j], math.Pi/2
			turn.Center = turn.From.Add(along[j].Mul(off[j]))
		}
		if off[j] > 0 {
			list = append(list, turn)
		}
	}
	return opened(list, s.mouths, s.box().Min, s.grow)
}

// grown is by how much the box of the edge is larger in the file, on each side.
// The corners of a hexagon move by 2/√3 of what its flats move.
func (s wanted) grown() geom.Point {
	by := geom.Pt(s.grow, s.grow)
	switch {
	case s.hex && s.w > s.h:
		by.X *= 2 / math.Sqrt(3)
	case s.hex:
		by.Y *= 2 / math.Sqrt(3)
	}
	return by
}

// hexagonIn is the edge of the hexagon whose box is given.
func hexagonIn(b geom.Box) []exporttest.Segment {
	c, x, y := b.Center(), b.Width()/2, b.Height()/2
	corners := [6]geom.Point{{X: -x / 2, Y: -y}, {X: x / 2, Y: -y}, {X: x}, {X: x / 2, Y: y}, {X: -x / 2, Y: y}, {X: -x}}
	if y > x {
		corners = [6]geom.Point{{Y: -y}, {X: x, Y: -y / 2}, {X: x, Y: y / 2}, {Y: y}, {X: -x, Y: y / 2}, {X: -x, Y: -y / 2}}
	}
	var list []exporttest.Segment
	for i := range corners {
		list = append(list, exporttest.Segment{From: c.Add(corners[i]), End: c.Add(corners[(i+1)%6])})
	}
	return list
}

// notched is a side with the slots that run out through it, inwards being 1 for
// down and -1 for up. The laser takes half its kerf on both sides of a slot, so
// it is narrower in the file, and its end nearer.
func (s wanted) notched(from, end geom.Point, slots []slot, inwards float64) []exporttest.Segment {
	sort.Slice(slots, func(i, j int) bool { return (slots[i].at-slots[j].at)*inwards < 0 })
	var list []exporttest.Segment
	for _, n := range slots {
		r := n.wide/2 - s.grow
		edge := s.box().Min.Y
		if inwards < 0 {
			edge = s.box().Max.Y
		}
		center := geom.Pt(s.box().Min.X+n.at, edge+inwards*(n.end-n.wide/2))
		in, out := geom.Pt(center.X-inwards*r, from.Y), geom.Pt(center.X+inwards*r, from.Y)
		left, tip, right := geom.Pt(in.X, center.Y), geom.Pt(center.X, center.Y+inwards*r), geom.Pt(out.X, center.Y)
		quarter := exporttest.Segment{Kind: geom.ArcTo, Center: center, R: r, Sweep: -math.Pi / 2}
		first, second := quarter, quarter
		first.From, first.End, second.From, second.End = left, tip, tip, right
		list = append(list, exporttest.Segment{From: from, End: in}, exporttest.Segment{From: in, End: left}, first, second,
			exporttest.Segment{From: right, End: out})
		from = out
	}
	return append(list, exporttest.Segment{From: from, End: end})
}

// distance is how far a point lies from a line or a quarter of a circle.
func distance(p geom.Point, s exporttest.Segment) float64 {
	if s.Kind == geom.ArcTo {
		d := p.Sub(s.Center)
		if from, end := s.From.Sub(s.Center), s.End.Sub(s.Center); d.Dot(from) >= 0 && d.Dot(end) >= 0 {
			return math.Abs(d.Norm() - s.R)
		}
		return min(p.Distance(s.From), p.Distance(s.End))
	}
	d := s.End.Sub(s.From)
	t := 0.0
	if n := d.Dot(d); n > 0 {
		t = max(0, min(1, p.Sub(s.From).Dot(d)/n))
	}
	return p.Distance(s.From.Lerp(s.End, t))
}

// matches reports how a measured element differs from what is wanted, by more
// than a micrometre anywhere; nil if it doesn't.
func (s wanted) matches(m exporttest.Measured) error {
	got, want := m.Box(), s.box()
	if s.within {
		if got.Min.X < want.Min.X-1e-3 || got.Min.Y < want.Min.Y-1e-3 || got.Max.X > want.Max.X+1e-3 || got.Max.Y > want.Max.Y+1e-3 || got.Empty() {
			return fmt.Errorf("lettering from %.4f to %.4f leaves its region from %.4f to %.4f", got.Min, got.Max, want.Min, want.Max)
		}
		return nil
	}
	// The kerf undone: what is left when the laser has taken its half on each side.
	got.Min, got.Max = got.Min.Add(s.grown()), got.Max.Sub(s.grown())
	if d := max(got.Min.Distance(want.Min), got.Max.Distance(want.Max)); d > 1e-3 {
		return fmt.Errorf("from %.4f to %.4f with its kerf undone, want %.4f to %.4f", got.Min, got.Max, want.Min, want.Max)
	}
	if len(m.Contours) != 1 {
		return fmt.Errorf("%d contours", len(m.Contours))
	}
	edges, c := s.edges(), m.Contours[0]
	segments := c.Segments
	if c.Circle != nil { // as four quarters
		for k := range 4 {
			a := float64(k) * math.Pi / 2
			at := func(a float64) geom.Point {
				return c.Circle.Center.Add(geom.Pt(c.Circle.R*math.Cos(a), c.Circle.R*math.Sin(a)))
			}
			segments = append(segments, exporttest.Segment{Kind: geom.ArcTo, From: at(a), End: at(a + math.Pi/2), Center: c.Circle.Center, R: c.Circle.R, Sweep: math.Pi / 2})
		}
	}
	if c.Closed == s.line {
		return fmt.Errorf("closed is %v", c.Closed)
	}
	// Every place of the one lies on the other, both ways.
	for _, pass := range [2][2][]exporttest.Segment{{segments, edges}, {edges, segments}} {
		for _, seg := range pass[0] {
			for k := 0.0; k <= 8; k++ {
				p, least := seg.At(k/8), math.Inf(1)
				for _, e := range pass[1] {
					least = min(least, distance(p, e))
				}
				if least > 1e-3 {
					return fmt.Errorf("%.4f is %.4f mm off", p, least)
				}
			}
		}
	}
	return nil
}

// A wantedFile is all that a cut file must hold, by the names of its elements,
// and its size.
type wantedFile struct {
	shapes map[string]wanted
	// art is the regions of artwork, and where the pieces of inlays lie, by the
	// names of their marks or parts without operation.
	art  map[string]wanted
	size geom.Point
}

// want works out the cut file of a solved design.
func want(t *testing.T, r *driver.Result) wantedFile {
	t.Helper()
	b := &wanter{t: t, s: r.Solution, d: r.Solution.Design(), shapes: map[string]wanted{}, art: map[string]wanted{},
		parts: map[string]layout.Part{}, inlaid: geom.EmptyBox()}
	wanted, _ := layout.Draw(b.d)
	for _, p := range wanted.Parts {
		b.parts[p.Name] = p
	}
	if b.d.Laser.ScaleX != 1 || b.d.Laser.ScaleY != 1 {
		t.Fatal("this test doesn't know an axis scale")
	}
	type piece struct {
		at   int
		draw func()
	}
	var pieces []piece
	for i := range b.d.Panels {
		if p := &b.d.Panels[i]; !p.InCase {
			pieces = append(pieces, piece{p.At.Start, func() { b.panel(p); b.x += 10; b.inlays(p) }})
		}
	}
	for i := range b.d.Cases {
		s := &b.d.Cases[i]
		pieces = append(pieces, piece{s.At.Start, func() { b.caseOf(s) }})
	}
	sort.Slice(pieces, func(i, j int) bool { return pieces[i].at < pieces[j].at })
	for _, p := range pieces {
		p.draw()
	}
	// All is moved so that grown outlines have room at the left and at the top, and
	// so have the points of letters.
	box := b.inlaid
	for _, s := range b.shapes {
		own := s.box()
		grow := geom.Pt(s.grow, s.grow)
		box = box.Union(geom.Box{Min: own.Min.Sub(grow), Max: own.Max.Add(grow)})
	}
	by := geom.Pt(max(0, -box.Min.X), max(0, -box.Min.Y))
	for id, s := range b.shapes {
		s.center = s.center.Add(by)
		for i := range s.drawn {
			e := &s.drawn[i]
			e.From, e.End, e.Center = e.From.Add(by), e.End.Add(by), e.Center.Add(by)
		}
		b.shapes[id] = s
	}
	for id, s := range b.art {
		s.center = s.center.Add(by)
		b.art[id] = s
	}
	return wantedFile{b.shapes, b.art, box.Max.Add(by)}
}

type wanter struct {
	t      *testing.T
	s      *eval.Solution
	d      *design.Design
	shapes map[string]wanted
	// art is the regions of artwork, by the names of their marks without operation.
	art    map[string]wanted
	x      float64                // where the next part starts
	parts  map[string]layout.Part // of inlays, for what lettering they hold
	inlaid geom.Box               // that the laser's ways round all of that take up
}

// dim is the value of a dimension.
func (b *wanter) dim(name string) float64 {
	b.t.Helper()
	id, ok := b.s.Dimension(name)
	if m := memberName.FindStringSubmatch(name); !ok && m != nil {
		return b.member(m[1], m[2], m[3], m[4])
	}
	if m := ofDivider.FindStringSubmatch(name); !ok && m != nil {
		return b.dim(m[1] + "." + m[3])
	}
	if !ok {
		b.t.Fatalf("the solution has no dimension %s", name)
	}
	return b.s.Numbers.Values[id]
}

// kerf is that of the stock, of the laser, or none.
func (b *wanter) kerf(p *design.Panel) float64 {
	if p == nil {
		return b.kerfIn(nil)
	}
	return b.kerfIn(p.Stock)
}

func (b *wanter) kerfIn(s *design.Stock) float64 {
	kerf := b.d.Laser.Kerf
	if s != nil {
		kerf = s.Kerf.OrElse(kerf)
	}
	return kerf.Or(0)
}

// panel puts a panel at b.x and moves on by its width.
func (b *wanter) panel(p *design.Panel) {
	w, h := b.dim(p.Name+".width"), b.dim(p.Name+".height")
	grow := b.kerf(p) / 2
	// at is a place by its distances from spine and head.
	origin := b.x
	at := func(spine, head float64) geom.Point {
		if p.Mirrored {
			return geom.Pt(origin+w-spine, head)
		}
		return geom.Pt(origin+spine, head)
	}
	outline := wanted{center: geom.Pt(origin+w/2, h/2), w: w, h: h, grow: grow}
	// A design lists head-spine, head-foredge, tail-spine, tail-foredge.
	for i, place := range [4]int{0, 1, 3, 2} {
		if p.Mirrored {
			place = [4]int{1, 0, 2, 3}[i]
		}
		switch c := p.Corners[i]; c.Form {
		case word.Radius:
			outline.round[place] = c.Size
		case word.Chamfer:
			outline.chamfer[place] = c.Size
		}
	}
	corner := geom.Pt(origin, 0)
	switch {
	case p.Arch != nil:
		outline.drawn = archedOutline(corner, p, w, h, grow)
	case p.Tab != nil:
		wide := p.Tab.To - p.Tab.From
		outline.drawn = tabbedOutline(corner, p, w, h, grow, 1+int(math.Round(p.Tab.From/wide)), int(math.Round(w/wide)))
	}
	for _, l := range p.Lattices {
		b.lattice(p, l, &outline, grow, at)
	}
	for _, r := range p.Rows {
		b.row(p, r, w, h, grow, at, &outline)
	}
	for i := range p.Stitches {
		b.stitch(p, &p.Stitches[i], at)
	}
	for _, c := range p.Cutouts {
		name := p.Name + "." + c.Name
		cw, ch := b.dim(name+".width"), b.dim(name+".height")
		if c.Neck != nil {
			run, near, long, deep := b.dim(name+".head")+ch/2, b.dim(name+"."+c.Neck.Edge.String()), ch, cw
			if c.Neck.Edge.Level() {
				run, long, deep = b.dim(name+".spine")+cw/2, cw, ch
			}
			m := b.mouth(c.Neck, run, near, w, h, at, outline.box().Min)
			m.long, m.deep = long, deep
			outline.mouths = append(outline.mouths, m.of(c.Opening))
			continue
		}
		if c.Rotate != 0 {
			b.shapes["cut."+name] = turnedSlot(at(b.dim(name+".spine")+cw/2, b.dim(name+".head")+ch/2), c.Opening, c.Rotate, -b.kerf(p)/2)
			continue
		}
		b.shapes["cut."+name] = openingAt(at(b.dim(name+".spine")+cw/2, b.dim(name+".head")+ch/2), cw, ch, c.Opening, grow)
	}
	for _, r := range p.Recesses {
		if name := p.Name + "." + r.Name; !r.Inside {
			rw, rh := b.dim(name+".width"), b.dim(name+".height")
			b.shapes["engrave."+name] = openingAt(at(b.dim(name+".spine")+rw/2, b.dim(name+".head")+rh/2), rw, rh, r.Opening, 0)
		}
	}
	b.shapes["cut."+p.Name+".outline"] = outline
	for _, l := range p.Lines {
		d := b.dim(p.Name + "." + l.Name + ".at")
		from, end := at(d, 0), at(d, h)
		switch l.From {
		case word.Foredge:
			from, end = at(w-d, 0), at(w-d, h)
		case word.Head:
			from, end = at(0, d), at(w, d)
		case word.Tail:
			from, end = at(0, h-d), at(w, h-d)
		}
		box := geom.EmptyBox().Union(geom.Box{Min: from, Max: from}).Union(geom.Box{Min: end, Max: end})
		b.shapes[l.Op.String()+"."+p.Name+"."+l.Name] = wanted{center: from.Lerp(end, 0.5), w: box.Width(), h: box.Height(), line: true}
	}
	for _, r := range p.Regions {
		if r.Inside {
			continue // it has a file of its own
		}
		name := p.Name + "." + r.Name
		if p.Tab != nil && r.At == p.Tab.At { // the label of a tab, within it
			t := p.Tab
			b.shapes["engrave."+name] = wanted{center: at((t.From+t.To)/2, t.Extension/2), w: t.To - t.From - 2*t.Radius, h: t.Extension - 2*t.Radius, within: true}
			continue
		}
		rw, rh := b.dim(name+".width"), b.dim(name+".height")
		for i, m := range r.Marks {
			id, op, radius := name, word.Mark, 0.0
			switch m := m.(type) {
			case *design.Lettering:
				op = m.Op
			case *design.Frame:
				radius = m.Radius
			}
			if len(r.Marks) > 1 {
				id = fmt.Sprintf("%s.%d", name, i+1)
			}
			s := wanted{center: at(b.dim(name+".spine")+rw/2, b.dim(name+".head")+rh/2), w: rw, h: rh, round: [4]float64{radius, radius, radius, radius}}
			_, framed := m.(*design.Frame)
			s.within = !framed
			if _, ok := m.(*design.Artwork); ok {
				b.art[id] = s
				continue
			}
			b.shapes[op.String()+"."+id] = s
		}
	}
	b.x += w
}

func (b *wanter) row(p *design.Panel, r design.Row, w, h, grow float64, at func(spine, head float64) geom.Point, outline *wanted) {
	name := p.Name + "." + r.Name
	along, across := b.dim(name+".hole.along"), b.dim(name+".hole.across")
	run, in := b.dim(name+".first")+along/2, b.dim(name+".inset")+across/2
	for i := range int(math.Round(b.dim(name + ".count"))) {
		if i > 0 {
			step, ok := b.s.Dimension(fmt.Sprintf("%s.gap.%d", name, i))
			if ok {
				run += b.s.Numbers.Values[step]
			} else {
				run += b.dim(name + ".pitch")
			}
		}
		if r.Neck != nil {
			m := b.mouth(r.Neck, run, b.dim(name+".inset"), w, h, at, outline.box().Min)
			m.long, m.deep = along, across
			outline.mouths = append(outline.mouths, m.of(r.Opening))
			continue
		}
		var s wanted
		switch r.Edge {
		case word.Spine:
			s = openingAt(at(in, run), across, along, r.Opening, grow)
		case word.Foredge:
			s = openingAt(at(w-in, run), across, along, r.Opening, grow)
		case word.Head:
			s = openingAt(at(run, in), along, across, r.Opening, grow)
		case word.Tail:
			s = openingAt(at(run, h-in), along, across, r.Opening, grow)
		}
		b.shapes[fmt.Sprintf("cut.%s.%d", name, i+1)] = s
	}
}

// lattice puts down the slots of a lattice: columns of them, each with bridges
// at every other of the places between its rows of links, starting with the
// first or the second by turns. What runs out through head or tail belongs to
// the outline.
func (b *wanter) lattice(p *design.Panel, l design.Lattice, outline *wanted, grow float64, at func(spine, head float64) geom.Point) {
	name := p.Name + "." + l.Name
	dim := func(d string) float64 { return b.dim(name + "." + d) }
	thick, clear, rows := b.dim(p.Name+".thick"), dim("clearance"), int(math.Round(dim("rows")))
	if clear < 2*grow+0.01 || dim("head") != 0 || dim("tail") != 0 {
		b.t.Fatalf("this test knows only lattices of open slots from head to tail, not %s", name)
	}
	bridge := func(place int) (from, to float64) {
		switch place {
		case 0:
			return 0, dim("end")
		case rows:
			return dim("height") - dim("end"), dim("height")
		}
		from = dim("end") + float64(place)*dim("link") + float64(place-1)*dim("bridge")
		return from, from + dim("bridge")
	}
	n := 0
	for column := range int(math.Round(dim("links"))) + 1 {
		x := at(dim("spine")+clear/2+float64(column)*(thick+clear), 0).X
		from := 0.0
		for place := column % 2; place <= rows; place += 2 {
			y, next := bridge(place)
			switch {
			case place == 0: // it starts with a bridge
			case from == 0:
				outline.head = append(outline.head, slot{x - outline.box().Min.X, clear, y})
			default:
				n++
				b.shapes[fmt.Sprintf("cut.%s.%d", name, n)] = openingAt(geom.Pt(x, (from+y)/2), clear, y-from, opening.Opening{Form: opening.Slot}, grow)
			}
			from = next
		}
		if from < dim("height") {
			outline.tail = append(outline.tail, slot{x - outline.box().Min.X, clear, dim("height") - from})
		}
	}
}

// openingAt is a hole or cutout about its centre. The laser takes half its kerf
// on each side, so the file holds it smaller.
func openingAt(center geom.Point, w, h float64, o opening.Opening, grow float64) wanted {
	r := cornerRadius(o, w, h)
	return wanted{center: center, w: w, h: h, round: [4]float64{r, r, r, r}, grow: -grow, hex: o.Form == opening.Hex}
}

// cornerRadius is that of an opening of the given size.
func cornerRadius(o opening.Opening, w, h float64) float64 {
	switch o.Form {
	case opening.Rect:
		return o.Radius
	case opening.Slot, opening.Round:
		return min(w, h) / 2
	case opening.Hex:
		return 0
	}
	panic("this test doesn't know the form " + o.Form.String() + ": describe it here and in hexagonIn's way")
}
