package compare

import (
	"context"
	"math"
	"slices"
	"strings"

	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout"
	"foredge/layout/geom"
)

// least is what counts as another value: more than solving leaves open, in mm, degrees
// or plain numbers, and less than anybody can cut.
const least = 1e-4

// A Change says what became of something.
type Change string

const (
	Moved Change = "moved"
	New   Change = "new"
	Gone  Change = "gone"
)

// A Difference is what two versions of a design differ in.
type Difference struct {
	Old, New   *Version
	Dimensions []Dimension
	Settings   []Setting
	Shapes     []Shape
	Orders     []Order
	AllOrders  int // in the new table, or the old one if that is gone
	// Otherwise says that the cut files differ in what is none of these, such as the
	// picture that is engraved; of a file that others use, that it says something else.
	Otherwise bool
}

// A Dimension is one that has another value. Of one that is new or gone, or was open or
// is, a value is NaN.
type Dimension struct {
	Name     string
	Change   Change
	Old, New float64 // mm, degrees or a plain number
	Kind     unit.Kind
	At       source.Span // the line that gives it, in the new version if it is there
}

// A Shape is a hole, an outline or a mark that differs.
type Shape struct {
	Part, Name string
	Change     Change
	Op         layout.Op
	Hole       bool
	// By is how far a point of one is from the other at the most, in mm.
	By float64
	// Right and Down are how far its middle has gone, Wider and Higher how much it has
	// grown, in mm; below 0 the other way.
	Right, Down, Wider, Higher float64
	At                         source.Span
}

// An Order is one of the table that comes out otherwise, or is made another number of times.
type Order struct {
	Number string
	Change Change
	By     float64 // the farthest that a shape of it moved, in mm; NaN where one came or went, or none did
}

// Same reports whether nothing differs.
func (d *Difference) Same() bool {
	return len(d.Dimensions)+len(d.Settings)+len(d.Shapes)+len(d.Orders) == 0 && !d.Otherwise
}

// Of holds two versions against each other, both without errors. The error is that of
// the context.
func Of(ctx context.Context, old, now *Version) (*Difference, error) {
	d := &Difference{Old: old, New: now}
	d.dimensions()
	d.settings()
	d.Shapes = shapes(old.parts, now.parts)
	if err := d.orders(ctx); err != nil {
		return nil, err
	}
	switch {
	case len(d.Shapes)+len(d.Settings) > 0: // the files are others anyway
		d.Otherwise = d.repainted()
	case old.Shared() && now.Shared():
		d.Otherwise = len(d.Dimensions) == 0 && saysOtherwise(old.Result.Tree.Source, now.Result.Tree.Source)
	default:
		d.Otherwise = !cutAlike(old.cut(), now.cut())
	}
	return d, ctx.Err()
}

// repainted reports whether a picture that is as large in both versions has other dots, which neither
// a shape nor a setting tells.
func (d *Difference) repainted() bool {
	said := map[string]bool{}
	for _, s := range d.Settings {
		said[s.Name] = true
	}
	was := map[string]layout.Shape{}
	for _, p := range d.Old.parts {
		for _, s := range p.shapes {
			if s.Raster != nil {
				was[p.name+" "+s.ID] = s
			}
		}
	}
	grown := func(a, b geom.Box) bool { return math.Hypot(a.Width()-b.Width(), a.Height()-b.Height()) > least }
	for _, p := range d.New.parts {
		for _, s := range p.shapes {
			old, both := was[p.name+" "+s.ID]
			if both && s.Raster != nil && !said[s.ID] && !grown(old.Figure.Bounds(), s.Figure.Bounds()) && !samePicture(old.Raster, s.Raster) {
				return true
			}
		}
	}
	return false
}

func (d *Difference) dimensions() {
	was := map[string]float64{}
	for _, o := range d.Old.solution().Dimensions() {
		was[o.Name] = o.Value
	}
	for _, n := range d.New.solution().Dimensions() {
		old, there := was[n.Name]
		delete(was, n.Name)
		switch {
		case !there:
			d.Dimensions = append(d.Dimensions, Dimension{n.Name, New, math.NaN(), n.Value, n.Kind, n.At})
		case math.Abs(old-n.Value) > least, math.IsNaN(old) != math.IsNaN(n.Value):
			d.Dimensions = append(d.Dimensions, Dimension{n.Name, Moved, old, n.Value, n.Kind, n.At})
		}
	}
	for _, o := range d.Old.solution().Dimensions() {
		if _, left := was[o.Name]; left {
			d.Dimensions = append(d.Dimensions, Dimension{o.Name, Gone, o.Value, math.NaN(), o.Kind, o.At})
		}
	}
	slices.SortStableFunc(d.Dimensions, func(a, b Dimension) int { return strings.Compare(a.Name, b.Name) })
}

// A key finds a shape in the other version.
type key struct {
	part string
	op   layout.Op
	id   string
}

// shapes are those that differ, in the order of the new drawing and then of the old.
func shapes(old, now []part) (all []Shape) {
	type place struct{ part, shape int }
	was := map[key]place{}
	for i, p := range old {
		for j, s := range p.shapes {
			was[key{p.name, s.Op, s.ID}] = place{i, j}
		}
	}
	for _, p := range now {
		for _, s := range p.shapes {
			if s.Op == layout.Guide {
				continue
			}
			k := key{p.name, s.Op, s.ID}
			o, there := was[k]
			delete(was, k)
			if !there {
				all = append(all, shape(p.name, New, s))
			} else if m := shape(p.name, Moved, s); m.against(old[o.part].shapes[o.shape].Figure, s.Figure) {
				all = append(all, m)
			}
		}
	}
	for _, p := range old {
		for _, s := range p.shapes {
			if _, left := was[key{p.name, s.Op, s.ID}]; left && s.Op != layout.Guide {
				all = append(all, shape(p.name, Gone, s))
			}
		}
	}
	return all
}

func shape(part string, c Change, s layout.Shape) Shape {
	return Shape{Part: part, Name: s.ID, Change: c, Op: s.Op, Hole: s.Hole, By: math.NaN(), At: s.At}
}

// against measures how a shape has moved, and reports whether it has.
func (s *Shape) against(old, now geom.Figure) bool {
	if s.By = apart(old, now); s.By <= least {
		return false
	}
	a, b := old.Bounds(), now.Bounds()
	s.Wider, s.Higher = b.Width()-a.Width(), b.Height()-a.Height()
	s.Right = (b.Min.X+b.Max.X)/2 - (a.Min.X+a.Max.X)/2
	s.Down = (b.Min.Y+b.Max.Y)/2 - (a.Min.Y+a.Max.Y)/2
	return true
}

// apart is how far a point of one figure is from the boundary of the other at the most.
func apart(a, b geom.Figure) float64 {
	d, alike := shifted(a, b)
	if alike && d <= least {
		return d // most often it is the same figure, which is quickly seen
	}
	if alike {
		// Of one that is moved as a whole what lies farthest that way has gone as far: a point of
		// the other can't be nearer.
		by := b.Bounds().Min.Sub(a.Bounds().Min)
		if off, _ := shifted(a.Move(by), b); off <= geom.HausdorffTol {
			return by.Norm()
		}
	}
	return geom.Hausdorff(a, b)
}

// shifted is how far the points by which two figures are drawn are from one another at the
// most; alike is false where they aren't drawn by the same pieces.
func shifted(a, b geom.Figure) (d float64, alike bool) {
	switch a := a.(type) {
	case geom.Rect:
		b, same := b.(geom.Rect)
		return max(a.Min.Distance(b.Min), a.Bounds().Max.Distance(b.Bounds().Max)), same
	case geom.Circle:
		b, same := b.(geom.Circle)
		return a.Center.Distance(b.Center) + math.Abs(a.R-b.R), same
	case geom.Path:
		b, same := b.(geom.Path)
		if !same {
			return 0, false
		}
		return shiftedPath(a, b)
	case geom.Outline:
		b, same := b.(geom.Outline)
		if !same || len(a) != len(b) {
			return 0, false
		}
		for i := range a {
			far, same := shiftedPath(a[i], b[i])
			if !same {
				return 0, false
			}
			d = max(d, far)
		}
		return d, true
	}
	return 0, false
}

func shiftedPath(a, b geom.Path) (d float64, alike bool) {
	if len(a.Segments) != len(b.Segments) || a.Closed != b.Closed {
		return 0, false
	}
	d = a.Start.Distance(b.Start)
	for i, p := range a.Segments {
		q := b.Segments[i]
		if p.Kind != q.Kind || p.Clockwise != q.Clockwise {
			return 0, false
		}
		d = max(d, p.End.Distance(q.End), p.Center.Distance(q.Center), p.C1.Distance(q.C1), p.C2.Distance(q.C2))
	}
	return d, true
}

// orders compares the orders of both tables, by their numbers.
func (d *Difference) orders(ctx context.Context) error {
	rows := func(v *Version) (numbers []string) {
		if !v.Result.Prepared.HasOrders() || v.Result.Prepared.Orders == nil {
			return nil
		}
		for _, r := range v.Result.Prepared.Orders.Rows {
			numbers = append(numbers, r.Number)
		}
		return numbers
	}
	old, now := rows(d.Old), rows(d.New)
	if d.AllOrders = len(now); len(now) == 0 {
		d.AllOrders = len(old)
	}
	where := map[string][]int{}
	for i, n := range old {
		where[n] = append(where[n], i)
	}
	for i, n := range now {
		if err := ctx.Err(); err != nil {
			return err
		}
		same := where[n]
		if len(same) == 0 {
			d.Orders = append(d.Orders, Order{n, New, math.NaN()})
			continue
		}
		where[n] = same[1:]
		a, wasGood := d.Old.order(ctx, same[0])
		b, isGood := d.New.order(ctx, i)
		switch moved := shapes(a, b); {
		case wasGood != isGood, len(moved) == 0 && (d.Old.copies(same[0]) != d.New.copies(i) || !madeAlike(a, b)):
			d.Orders = append(d.Orders, Order{n, Moved, math.NaN()})
		case len(moved) > 0:
			d.Orders = append(d.Orders, Order{n, Moved, farthest(moved)})
		}
	}
	for _, n := range old {
		if left := where[n]; len(left) > 0 {
			where[n] = left[1:]
			d.Orders = append(d.Orders, Order{n, Gone, math.NaN()})
		}
	}
	return ctx.Err()
}

// farthest is how far the shape that moved most has moved, NaN where one came or went.
func farthest(all []Shape) float64 {
	far := 0.0
	for _, s := range all {
		far = math.Max(far, s.By) // NaN wins
	}
	return far
}
