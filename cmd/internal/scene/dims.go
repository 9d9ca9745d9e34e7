package scene

import (
	"math"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/solve"
	"foredge/eval/word"
	"foredge/layout"
	"foredge/layout/geom"
)

// The sorts of dimension.
const (
	ofBoard   = "board"
	ofThing   = "thing"
	ofReading = "reading"
)

// The levels of lines beside a board, the nearest first.
const (
	holes = iota
	pitches
	runs
	boards
)

// A placer lays the dimensions of a design over one view.
type placer struct {
	*builder
	view *View
	sort string
	part int
	read map[*model.Notebook]bool // whose readings are placed
}

// placeDims says where on a view the dimensions lie of what is drawn there.
func (b *builder) placeDims(v *View, d *layout.Drawing) {
	p := &placer{builder: b, view: v, read: map[*model.Notebook]bool{}}
	for _, n := range b.solved.Things {
		switch n := n.(type) {
		case *model.Panel:
			if i, f, ok := p.board(d, n); ok {
				p.part = i
				p.panel(n, f)
			}
		case *model.Case:
			if n.Built && v.Kind == Outside {
				p.casing(d, n)
			}
		}
	}
}

// board finds where a panel lies, the first of a set of dividers.
func (p *placer) board(d *layout.Drawing, n *model.Panel) (part int, f frame, ok bool) {
	for i := range d.Parts {
		if q := &d.Parts[i]; n.Built && q.At == n.At {
			return i, frame{layout.Frame{Origin: q.Bounds.Min, Width: q.Bounds.Width(), Height: q.Bounds.Height(), Mirrored: n.Mirrored != (p.view.Kind == Inside)}}, true
		}
	}
	return 0, frame{}, false
}

// of is a dimension of a thing; NaN where it has none or that is open.
func (p *placer) of(t *model.Thing, n dim.Name) float64 {
	if id, ok := t.Dim(n); ok {
		return p.solved.Value(id)
	}
	return math.NaN()
}

// put places one dimension between two points; one that isn't there, is open, or as
// good as nothing has no place.
func (p *placer) put(t *model.Thing, n dim.Name, from, to geom.Point, away string, level int) {
	if id, ok := t.Dim(n); ok {
		p.putNamed(t.Path+"."+n.String(), p.solved.Numbers.From[id], from, to, away, level)
	}
}

func (p *placer) putNamed(name string, origin solve.Origin, from, to geom.Point, away string, level int) {
	i, ok := p.values[name]
	long := from.Distance(to)
	if !ok || !(long > least) || math.IsInf(long, 0) || p.sort == ofReading && origin != solve.Reading {
		return
	}
	p.view.Dimensions = append(p.view.Dimensions, Dim{Value: i, Part: p.part, From: [2]float64{tidy(from.X), tidy(from.Y)},
		To: [2]float64{tidy(to.X), tidy(to.Y)}, Away: away, Level: level, Sort: p.sort})
}

// panel places the dimensions of a board and of all that stands on it.
func (p *placer) panel(n *model.Panel, f frame) {
	p.sort = ofBoard
	p.sizes(&n.Thing, f, n)
	p.sort = ofThing
	for _, part := range n.Parts {
		switch part := part.(type) {
		case *model.Row:
			if p.view.Kind == Outside {
				p.row(part, f)
			}
		case *model.Region:
			if (part.Face == word.Inside) == (p.view.Kind == Inside) {
				p.box(&part.Thing, f)
			}
		case *model.Cutout:
			recess := part.Depth.Present()
			if p.view.Kind == Outside && part.Face != word.Inside || p.view.Kind == Inside && recess && part.Face == word.Inside {
				p.box(&part.Thing, f)
			}
		case *model.Lattice:
			if p.view.Kind == Outside {
				p.box(&part.Thing, f)
			}
		case *model.Field:
			if p.view.Kind == Outside {
				p.field(part, f)
			}
		case *model.Line:
			if p.view.Kind == Outside {
				p.line(part, f)
			}
		}
	}
	if n.Covers != nil && p.view.Kind == Outside {
		p.covered(n, f)
	}
}

// sizes places the width and height of a board, or of what it covers, below it and
// beside it. In a case the boards are as high as the first.
func (p *placer) sizes(t *model.Thing, f frame, n *model.Panel) {
	left, right, tail := f.Origin, f.Origin.Add(geom.Pt(f.Width, 0)), geom.Pt(0, f.Height)
	p.put(t, dim.Width, left.Add(tail), right.Add(tail), "down", boards)
	first := n.Case == nil || len(n.Case.Lay) > 0 && n.Case.Lay[0].Part.Base() == &n.Thing
	switch {
	case !first:
		if p.sort == ofBoard {
			p.sort = ofThing
		}
		p.put(t, dim.Height, left.Add(geom.Pt(f.Width/2, 0)), left.Add(geom.Pt(f.Width/2, f.Height)), "", boards)
	case p.part == 0 || n.Case != nil:
		p.put(t, dim.Height, left, left.Add(tail), "left", boards)
	default: // on its left another board stands near
		p.put(t, dim.Height, right, right.Add(tail), "right", boards)
	}
}

// row places the dimensions of a row of holes: those along it beside its edge, the
// others at its second and third hole.
func (p *placer) row(r *model.Row, f frame) {
	t := &r.Thing
	first, along, across, inset := p.of(t, dim.First), p.of(t, dim.HoleAlong), p.of(t, dim.HoleAcross), p.of(t, dim.Inset)
	pitch, count, run, last := p.of(t, dim.Pitch), p.of(t, dim.Count), p.of(t, dim.Run), p.of(t, dim.Last)
	side, long := f.side(r.Edge), f.length(r.Edge)
	put := func(n dim.Name, from, to float64, level int) {
		p.put(t, n, f.Along(r.Edge, from, 0), f.Along(r.Edge, to, 0), side, level)
	}
	put(dim.First, 0, first, holes)
	put(dim.HoleAlong, first, first+along, pitches)
	if len(r.Gaps) == 0 && count > 1.5 {
		put(dim.Web, first+along, first+pitch, holes)
		put(dim.Pitch, first+along/2+pitch, first+along/2+2*pitch, holes)
	}
	at := first + along/2
	for i, id := range r.Gaps {
		next := at + p.solved.Value(id)
		p.putNamed(t.Path+"."+model.GapName(i+1), p.solved.Numbers.From[id], f.Along(r.Edge, at, 0), f.Along(r.Edge, next, 0), side, pitches)
		at = next
	}
	put(dim.Run, first, first+run, runs)
	put(dim.Last, long-last, long, holes)
	second := at
	if len(r.Gaps) == 0 && count > 2.5 {
		second += pitch
	}
	p.put(t, dim.Inset, f.Along(r.Edge, second, 0), f.Along(r.Edge, second, inset), "", holes)
	if len(r.Gaps) == 0 && count > 2.5 {
		second += pitch
	}
	p.put(t, dim.HoleAcross, f.Along(r.Edge, second, inset), f.Along(r.Edge, second, inset+across), "", holes)
}

// box places the size of something on a board and how far it lies from the edges,
// and gives its frame.
func (p *placer) box(t *model.Thing, f frame) frame {
	spine, head, w, h := p.of(t, dim.Spine), p.of(t, dim.Head), p.of(t, dim.Width), p.of(t, dim.Height)
	p.put(t, dim.Width, f.At(spine, head+h*0.75), f.At(spine+w, head+h*0.75), "", holes)
	p.put(t, dim.Height, f.At(spine+w*0.75, head), f.At(spine+w*0.75, head+h), "", holes)
	p.put(t, dim.Head, f.At(spine+w/2, 0), f.At(spine+w/2, head), "", holes)
	p.put(t, dim.Tail, f.At(spine+w/2, head+h), f.At(spine+w/2, f.Height), "", holes)
	p.put(t, dim.Spine, f.At(0, head+h/2), f.At(spine, head+h/2), "", holes)
	p.put(t, dim.Foredge, f.At(spine+w, head+h/2), f.At(f.Width, head+h/2), "", holes)
	return f.within(spine, head, w, h)
}

// field places what a field takes up, and the size of its first member and how far
// it is to the next.
func (p *placer) field(n *model.Field, f frame) {
	t := &n.Thing
	in := p.box(t, f)
	if len(n.Each) == 0 {
		return
	}
	e := n.Each[0].Base()
	w, h := p.of(e, dim.Width), p.of(e, dim.Height)
	p.put(e, dim.Width, in.At(0, h/2), in.At(w, h/2), "", holes)
	p.put(e, dim.Height, in.At(w/2, 0), in.At(w/2, h), "", holes)
	p.put(t, dim.GapAcross, in.At(w, h/4), in.At(w+p.of(t, dim.GapAcross), h/4), "", holes)
	p.put(t, dim.GapDown, in.At(w/4, h), in.At(w/4, h+p.of(t, dim.GapDown)), "", holes)
	p.put(t, dim.PitchAcross, in.At(w/2, 0), in.At(w/2+p.of(t, dim.PitchAcross), 0), "up", pitches)
	p.put(t, dim.PitchDown, in.At(0, h/2), in.At(0, h/2+p.of(t, dim.PitchDown)), in.side(word.Spine), pitches)
}

// line places how far a line lies from its edge.
func (p *placer) line(n *model.Line, f frame) {
	from := n.From
	if from == word.NoEdge {
		from = word.Spine
	}
	middle := f.length(from) / 2
	p.put(&n.Thing, dim.At, f.Along(from, middle, 0), f.Along(from, middle, p.of(&n.Thing, dim.At)), "", holes)
}

// covered places how far a board reaches past what it covers and, on the first board
// that does, what was read of that, where it lies below the board.
func (p *placer) covered(n *model.Panel, f frame) {
	over := func(e word.Edge) float64 { return p.of(&n.Thing, dim.Over(e)) }
	for _, e := range word.Edges() {
		middle := f.length(e) / 2
		p.put(&n.Thing, dim.Over(e), f.Along(e, middle, 0), f.Along(e, middle, over(e)), "", holes)
	}
	book := n.Covers
	in := f.within(over(word.Spine), over(word.Head), f.Width-over(word.Spine)-over(word.Foredge), f.Height-over(word.Head)-over(word.Tail))
	if p.read[book] || !(in.Width > 0 && in.Height > 0) {
		return
	}
	p.read[book] = true
	p.view.Books = append(p.view.Books, boxOf(book.Path, geom.Box{Min: in.Origin, Max: in.Origin.Add(geom.Pt(in.Width, in.Height))}))
	p.sort = ofReading
	p.sizes(&book.Thing, in, n)
	for _, r := range book.Rows {
		p.row(r, in)
	}
}

// casing places the sizes of a case and of the gaps in it, and what its covering
// turns in.
func (p *placer) casing(d *layout.Drawing, n *model.Case) {
	p.sort = ofBoard
	x, found := 0.0, false
	var origin geom.Point
	for _, l := range n.Lay {
		if panel, ok := l.Part.(*model.Panel); ok && !found {
			if i, f, ok := p.board(d, panel); ok {
				p.part, origin, found = i, f.Origin.Sub(geom.Pt(x, 0)), true
			}
		}
		x += p.of(l.Part.Base(), dim.Width)
	}
	if !found {
		return
	}
	t := &n.Thing
	p.put(t, dim.Width, origin, origin.Add(geom.Pt(p.of(t, dim.Width), 0)), "up", boards)
	x = 0
	for _, l := range n.Lay {
		base := l.Part.Base()
		w := p.of(base, dim.Width)
		if _, ok := l.Part.(*model.Gap); ok {
			p.put(base, dim.Width, origin.Add(geom.Pt(x, 0)), origin.Add(geom.Pt(x+w, 0)), "up", holes)
		}
		x += w
	}
	p.sort = ofThing
	for i := range d.Parts {
		if q := &d.Parts[i]; q.Name == n.Path+".covering" {
			p.part = i
			start := geom.Pt(q.Bounds.Min.X, q.Bounds.Center().Y)
			p.put(t, dim.TurnIn, start, start.Add(geom.Pt(p.of(t, dim.TurnIn), 0)), "", holes)
		}
	}
}
