package layout

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/design"
	"foredge/lang/diag"
	"foredge/lang/diag/codes"
	"foredge/layout/advise"
	"foredge/layout/geom"
)

// A Doing is what the laser does on sheets that may lie in one file: of each stock, and of its
// inner face by itself. The zero value has nothing.
type Doing struct {
	of map[bench][Cut + 1]bool
}

// A bench is what lies under the laser at once.
type bench struct {
	stock  string
	inside bool
}

// Add takes what is done in a drawing as it is wanted, before its parts are laid, and on the
// inner faces of its boards: of a part that a knife cuts out its edge isn't cut, but the lines
// along which to cut are marked.
func (d *Doing) Add(drawing *Drawing, faces []Face) {
	d.add(drawing, false)
	for _, f := range faces {
		d.add(f.Drawing, true)
	}
}

func (d *Doing) add(drawing *Drawing, inside bool) {
	if d.of == nil {
		d.of = map[bench][Cut + 1]bool{}
	}
	for i := range drawing.Parts {
		p := &drawing.Parts[i]
		at, byHand := bench{p.cutFrom(), inside}, -1
		if p.Of != nil && p.Of.Way.Knife.Yes {
			byHand = p.edge()
		}
		done := d.of[at]
		for k, s := range p.Shapes {
			switch {
			case k == byHand:
				done[Mark] = true
			case s.Op <= Cut:
				done[s.Op] = true
			}
		}
		d.of[at] = done
	}
}

// Join takes what another does, too.
func (d *Doing) Join(other Doing) {
	if d.of == nil {
		d.of = map[bench][Cut + 1]bool{}
	}
	for at, more := range other.of {
		done := d.of[at]
		for op := range done {
			done[op] = done[op] || more[op]
		}
		d.of[at] = done
	}
}

// SameLaser reports whether parts of two drawings can stand in one file: both are made for
// one scale, one set of colours and one width of lines.
func (d *Drawing) SameLaser(other *Drawing) bool {
	same := func(a, b float64) bool { return math.Abs(a-b) < geom.Tol } // stated in two units they aren't to the last digit
	return same(d.ScaleX, other.ScaleX) && same(d.ScaleY, other.ScaleY) && d.Colors == other.Colors && same(d.WideLines(), other.WideLines())
}

// Clashes warns of operations that lie in one file in one colour: a laser is told by it what to
// do, and would cut what is to be engraved. So it would what lies on the inside of boards that it
// cuts, where that has the colour of cuts.
func (d *Doing) Clashes(laser *design.Laser, colours Palette) diag.List {
	within, inside := d.clashes(laser, colours)
	return append(within, inside...)
}

// InsideColours warns of what is drawn on the inside of a design's boards in the colour in which
// they are cut. What one drawing has in one colour is told of that.
func InsideColours(d *design.Design, outer *Drawing, faces []Face) diag.List {
	var doing Doing
	doing.Add(outer, faces)
	_, inside := doing.clashes(&d.Laser, outer.Colors)
	return inside
}

// clashes are what [Doing.Clashes] warns of, within a file and on the inside. The two faces of a
// board are run one after the other, and the laser's table of colours is the same: a frame inside
// would be cut through the board. What else is taken for another there spoils no more than itself.
func (d *Doing) clashes(laser *design.Laser, colours Palette) (within, inside diag.List) {
	taken := slices.Clone(colours[:])
	within = d.withinFiles(laser, colours, &taken)
	var ops []Op
	for _, op := range Ops() {
		if op != Cut && colours[op] == colours[Cut] && !d.share(op, Cut) && d.insideOfCut(op) {
			ops = append(ops, op)
		}
	}
	if len(ops) == 0 {
		return within, nil
	}
	var notes advise.Notes
	notes.Warn(laser.Quiet, "same-colour", laser.At, "%s on the inside and what is cut on the outside are drawn in %s alike", named(ops), colours[Cut]).
		WithHelp("state %s: a laser is told by the colour what to do, and would cut the marks of the inside%s", instead([]Op{Cut}, &taken), codes.Silence("same-colour", "laser"))
	return within, notes.List
}

// share says whether some file may have both of two operations.
func (d *Doing) share(one, other Op) bool {
	for _, done := range d.of {
		if done[one] && done[other] {
			return true
		}
	}
	return false
}

// insideOfCut says whether an operation is done on the inside of a stock that is cut.
func (d *Doing) insideOfCut(op Op) bool {
	for at, done := range d.of {
		if at.inside && done[op] && d.of[bench{stock: at.stock}][Cut] {
			return true
		}
	}
	return false
}

// withinFiles are those within a file; colours that are named as free are then taken.
func (d *Doing) withinFiles(laser *design.Laser, colours Palette, taken *[]string) diag.List {
	var notes advise.Notes
	for _, op := range Ops() {
		if all := d.alike(op, colours); len(all) > 1 && all[0] == op {
			each := "both"
			if len(all) > 2 {
				each = "all"
			}
			notes.Warn(laser.Quiet, "same-colour", laser.At, "%s are %s drawn in %s", named(all), each, colours[op]).
				WithHelp("state %s: a laser is told by the colour what to do%s", instead(all[1:], taken), codes.Silence("same-colour", "laser"))
		}
	}
	return notes.List
}

// alike are the operations that stand in a file with others of such a one's colour, in running
// order.
func (d *Doing) alike(op Op, colours Palette) (all []Op) {
	for _, one := range Ops() {
		for _, other := range Ops() {
			if one == other || colours[one] != colours[op] || colours[other] != colours[op] {
				continue
			}
			if d.share(one, other) {
				all = append(all, one)
				break
			}
		}
	}
	return all
}

func named(ops []Op) string {
	done := [...]string{Engrave: "engraved", Mark: "marked", Score: "scored", Cut: "cut"}
	words := make([]string, len(ops))
	for i, op := range ops {
		words[i] = "what is " + done[op]
	}
	return advise.Listed(words)
}

// instead says which colours operations may have in place of theirs, each one that no other
// operation has: its usual one, or another of the usual ones.
func instead(ops []Op, taken *[]string) string {
	usual := DefaultPalette()
	words := make([]string, len(ops))
	for i, op := range ops {
		colour := usual[op]
		if slices.Contains(*taken, colour) {
			colour = usual[slices.IndexFunc(usual[:], func(c string) bool { return !slices.Contains(*taken, c) })]
		}
		*taken = append(*taken, colour)
		words[i] = fmt.Sprintf("%s-colour = %q", op, colour)
	}
	if len(ops) == 1 {
		return "another colour for one of them, as in " + words[0]
	}
	return "other colours for all but one of them, as in " + advise.Listed(words)
}
