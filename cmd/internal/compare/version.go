package compare

import (
	"bytes"
	"context"
	"maps"
	"math"
	"slices"

	"foredge/cmd/internal/driver"
	"foredge/eval"
	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/eval/word"
	"foredge/layout"
	"foredge/layout/geom"
	"foredge/layout/raster"
)

// A Version is a design as it is in one of two versions.
type Version struct {
	Name   string // what it is told as
	Result *driver.Result

	session *driver.Session
	parts   []part
}

// A part is one piece on one face, in the order of the drawing.
type part struct {
	name   string
	at     geom.Point // of its left upper corner in the drawing
	size   geom.Box   // from there
	shapes []layout.Shape

	recesses []design.Recess
	// What else of it no shape tells: how often it is cut, from what, how its grain runs.
	copies      int
	stock       string
	material    string // that the stock says it is of
	grain       word.Grain
	kerf, thick maybe.Of[float64]
	knife       bool
	held        int     // outlines that keep bridges
	bridge      float64 // how broad each of these is, mm
}

// Take solves and draws a design of a session. Whether it could, its result says.
func Take(ctx context.Context, session *driver.Session, path, name string) *Version {
	v := &Version{Name: name, session: session, Result: session.Check(ctx, path)}
	if v.Result.OK() {
		v.parts, _ = v.draw(v.Result.Solution.Design())
	}
	return v
}

// draw is the parts of a solved design, those of inner faces after the others; ok is false if they
// can't be cut.
func (v *Version) draw(solved *design.Design) (all []part, ok bool) {
	drawing, wrong := v.session.Drawer().Draw(solved)
	faces, more := v.session.Drawer().Inside(solved)
	all = partsOf(drawing, "")
	for _, f := range faces {
		all = append(all, partsOf(f.Drawing, " inside")...)
	}
	return all, !wrong.HasErrors() && !more.HasErrors()
}

func partsOf(d *layout.Drawing, face string) (all []part) {
	for _, p := range d.Parts {
		back := geom.Pt(-p.Bounds.Min.X, -p.Bounds.Min.Y)
		out := part{name: p.Name + face, at: p.Bounds.Min, size: geom.Box{Max: geom.Pt(p.Bounds.Width(), p.Bounds.Height())},
			recesses: p.Recesses, copies: max(1, p.Copies), stock: p.Stock, grain: p.Grain, kerf: p.Want, thick: p.Thick}
		if p.Of != nil {
			out.thick, out.knife, out.material = p.Of.Thick, p.Of.Way.Knife.Yes, p.Of.Material.AsName
		}
		out.held, out.bridge = p.Held()
		for _, s := range p.Shapes {
			s.Figure = s.Figure.Move(back)
			out.shapes = append(out.shapes, s)
		}
		all = append(all, out)
	}
	return all
}

// A sheet is what is cut in one go.
type sheet struct {
	suffix  string
	drawing *layout.Drawing
}

// cut are the sheets for the laser; none if they can't be made. What they are wanted as is
// let go, as large designs need the memory.
func (v *Version) cut() (all []sheet) {
	sheets, _ := v.session.Draw(context.Background(), v.solution().Design(), driver.Options{Whole: true})
	for _, s := range sheets {
		all = append(all, sheet{s.Suffix, s.Drawing})
	}
	return all
}

// cutAlike reports whether two versions are cut alike as far as no dimension and no shape
// tells: the allowance for the cut, colours, pictures, stocks, numbers of copies. Where parts stand
// in the design, or lie in its drawing, is all the same.
func cutAlike(a, b []sheet) bool {
	return slices.EqualFunc(a, b, func(x, y sheet) bool {
		p, q := x.drawing, y.drawing
		if x.suffix != y.suffix || p.Colors != q.Colors || p.LineWidth != q.LineWidth || len(shapes(partsOf(p, ""), partsOf(q, ""))) > 0 {
			return false
		}
		name := func(p layout.Part) string { return p.Name }
		return maps.EqualFunc(by(name, p.Parts), by(name, q.Parts), func(m, n layout.Part) bool {
			return m.Copies == n.Copies && m.Stock == n.Stock && m.Grain == n.Grain && slices.EqualFunc(pictures(m.Shapes), pictures(n.Shapes), samePicture)
		})
	})
}

// by gives parts by their names.
func by[P any](name func(P) string, all []P) map[string]P {
	named := map[string]P{}
	for _, p := range all {
		named[name(p)] = p
	}
	return named
}

// depths are those of the recesses of parts, of which no shape tells it.
func depths(parts []part) map[string]float64 {
	all := map[string]float64{}
	for _, p := range parts {
		for _, r := range p.recesses {
			all[p.name+"."+r.Name] = r.Depth
		}
	}
	return all
}

// madeAlike reports whether parts of the same shapes are cut alike otherwise, too: as often, from the same stocks, as
// deep, with the same kerf, knife and bridges and the same pictures.
func madeAlike(a, b []part) bool {
	size := func(a, b maybe.Of[float64]) bool { return a.Present() == b.Present() && alike(a.Or(0), b.Or(0)) }
	name := func(p part) string { return p.name }
	same := maps.EqualFunc(by(name, a), by(name, b), func(p, q part) bool {
		return p.copies == q.copies && p.stock == q.stock && p.material == q.material && p.grain == q.grain && size(p.kerf, q.kerf) && size(p.thick, q.thick) &&
			p.knife == q.knife && p.held == q.held && alike(p.bridge, q.bridge) &&
			slices.EqualFunc(pictures(p.shapes), pictures(q.shapes), samePicture)
	})
	return same && maps.EqualFunc(depths(a), depths(b), alike)
}

// alike reports whether two sizes are the same.
func alike(a, b float64) bool { return math.Abs(a-b) <= least }

// pictures are those of some shapes that are engraved in dots.
func pictures(shapes []layout.Shape) (all []*raster.Image) {
	for _, s := range shapes {
		if s.Raster != nil {
			all = append(all, s.Raster)
		}
	}
	return all
}

func samePicture(a, b *raster.Image) bool {
	return a.W == b.W && a.H == b.H && a.Shade == b.Shade && bytes.Equal(a.Grey, b.Grey)
}

// copies is how often an order is made.
func (v *Version) copies(row int) int { return v.Result.Prepared.Orders.Copies(row) }

// order is one row of the table, drawn; ok is false if it can't be made.
func (v *Version) order(ctx context.Context, row int) (parts []part, ok bool) {
	model, diags := v.Result.Prepared.Build(row)
	if diags.HasErrors() {
		return nil, false
	}
	solution, diags := model.SolveWithin(ctx)
	if diags.HasErrors() || solution == nil || !solution.Sound {
		return nil, false
	}
	return v.draw(solution.Design())
}

// solution is that of a version that is sound.
func (v *Version) solution() *eval.Solution { return v.Result.Solution }
