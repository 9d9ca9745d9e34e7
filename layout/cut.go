package layout

import (
	"errors"
	"slices"

	"foredge/eval/maybe"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
	"foredge/layout/geom"
	"foredge/layout/kerf"
)

// ForLaser gives the drawing as the laser has to cut it: [Drawing.Kerfed], then
// [Drawing.Scaled]. The drawing itself stays as it is.
func (d *Drawing) ForLaser() (*Drawing, diag.List) {
	cut, diags := d.Kerfed()
	return cut.Scaled(), diags
}

// Scaled gives a drawing divided by the machine's axis scale.
func (d *Drawing) Scaled() *Drawing {
	if d.ScaleX == 1 && d.ScaleY == 1 {
		return d
	}
	scaled := *d
	scaled.Sequence = nil
	scaled.Parts = slices.Clone(d.Parts)
	if b, asked := d.bridges().Get(); asked {
		b.Scale = maybe.Is(geom.Pt(d.ScaleX, d.ScaleY))
		scaled.Bridges = maybe.Is(b)
	}
	scaled.scale(1/d.ScaleX, 1/d.ScaleY)
	scaled.ScaleX, scaled.ScaleY = 1, 1
	return &scaled
}

// Kerfed gives the drawing with outlines grown and openings shrunk by half the kerf.
func (d *Drawing) Kerfed() (*Drawing, diag.List) {
	var diags diag.List
	cut := *d
	cut.Sequence = nil
	cut.Parts = make([]Part, len(d.Parts))
	unsaid := map[maybe.Of[float64]]bool{} // by the kerf that is usual there
	laser := atLaser{unit: d.Unit, told: map[source.Span]bool{}, most: d.mostLines}
	for i, p := range d.Parts {
		want, stated := p.Want.Get()
		if !stated {
			if !p.LaserCuts() {
				cut.Parts[i] = p
				continue
			}
			if !unsaid[p.Usual] && (len(unsaid) == 0 || p.Usual.Present()) {
				note := diags.Infof("no-kerf", p.At, "nothing says how wide the laser cuts, so the cut file is drawn without kerf")
				if kerf := unit.Example(p.Usual.Or(0.2), d.Unit); len(unsaid) == 0 {
					note.WithHelp("measure it and state it once, as in laser bench { kerf = %s }: outlines then grow and openings shrink by half of it", kerf)
				} else {
					note.WithHelp("measure it for this material too, and state it in its stock if it is another there, as in kerf = %s", kerf)
				}
				unsaid[p.Usual] = true
			}
			cut.Parts[i] = p
			continue
		}
		cut.Parts[i] = p.withKerf(want, &laser, &diags)
	}
	cut.settle()
	return &cut, diags
}

var errNothingLeft = errors.New("nothing is left of it")

// atLaser is what is known while a drawing is made ready for the laser.
type atLaser struct {
	unit        unit.Unit
	told        map[source.Span]bool // openings too small; mirrored panels share them
	memo        kerf.Memo
	lines, most int // how many lines and curves there are, and may be; 0 for any number
}

// full reports that a shape is one too many, and says so once.
func (l *atLaser) full(s *Shape, diags *diag.List) bool {
	if l.most == 0 || l.lines > l.most {
		return l.most > 0
	}
	if l.lines += linesIn(s.Figure, 0); l.lines <= l.most {
		return false
	}
	diags.Errorf("too-many-shapes", s.At, "this design has more than %d lines and curves as it is cut", l.most).
		WithHelp("split it into several files")
	return true
}

// withKerf offsets all cuts of a part by half a kerf.
func (p Part) withKerf(width float64, laser *atLaser, diags *diag.List) Part {
	p.Kerf = width
	if p.Kerf == 0 {
		return p
	}
	shapes := slices.Clone(p.Shapes)
	for i, s := range p.Shapes {
		if path, ok := s.Figure.(geom.Path); s.Op != Cut || ok && !path.Closed {
			continue
		}
		by := p.Kerf / 2
		if s.Hole {
			by = -by
		}
		fig, err := laser.memo.Offset(s.Figure, by)
		if err == nil {
			if b := fig.Bounds(); !(min(b.Width(), b.Height()) > smallest) {
				err = errNothingLeft
			}
		}
		if err != nil && laser.told[s.At] {
			continue
		}
		if err != nil {
			laser.told[s.At] = true
			what := inPanel(s.ID)
			if o, ok := s.Figure.(geom.Outline); ok && s.Hole && len(o) > 1 {
				what = "an outline in " + what
			}
			diags.Errorf("kerf", s.At, "%s of %s is narrower than the laser's cut of %s", what, p.Name, unit.FormatLength(p.Kerf, laser.unit)).
				WithHelp("the smallest opening that can be cut is as wide as the kerf")
			continue
		}
		shapes[i].Figure = fig
		if laser.full(&shapes[i], diags) {
			break
		}
	}
	p.Shapes = endPartings(shapes, p.Shapes, p.Kerf)
	return p
}

// settle moves the drawing so that nothing lies left of or above its corner,
// where outlines that have grown would be cut off, and works out its size again.
func (d *Drawing) settle() {
	box := geom.EmptyBox()
	for _, p := range d.Parts {
		for _, s := range p.Shapes {
			box = box.Union(s.Figure.Bounds())
		}
	}
	if box.Empty() {
		return
	}
	by := geom.Pt(max(0, -box.Min.X), max(0, -box.Min.Y))
	for i, p := range d.Parts {
		d.Parts[i] = p.moved(by)
	}
	d.Size = geom.Pt(max(d.Size.X, box.Max.X)+by.X, max(d.Size.Y, box.Max.Y)+by.Y)
}

// scale stretches all figures from the drawing's corner.
func (d *Drawing) scale(kx, ky float64) {
	for i, p := range d.Parts {
		shapes := make([]Shape, len(p.Shapes))
		for k, s := range p.Shapes {
			s.Figure = geom.ScaleXY(s.Figure, kx, ky)
			shapes[k] = s
		}
		d.Parts[i].Shapes, d.Parts[i].Moves = shapes, maybe.Is(geom.Pt(1/kx, 1/ky))
	}
	d.Size = geom.Pt(d.Size.X*kx, d.Size.Y*ky)
}
