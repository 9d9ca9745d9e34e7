package nest

import (
	"context"
	"errors"
	"fmt"
	"math"

	"foredge/layout/geom"
	"foredge/layout/sheet"
)

// A Part is what is to be laid, and how often.
type Part struct {
	// Outline is the part's outermost cut, kerf included, about the part's own
	// origin: closed paths. What they hold counts as the part, openings too.
	Outline geom.Figure
	// Turns are the turns that the part may have in degrees, clockwise as seen; without
	// any it lies as it is drawn.
	Turns  []float64
	Copies int
}

// A Job is what is to be laid and how.
type Job struct {
	Parts []Part
	// Spacing is the least distance in mm between two parts, Margin that between a
	// part and the edge of what it is cut from.
	Spacing, Margin float64
	// Tolerance is how far in mm the straight lines that stand for an arc may lie
	// outside of it; 0 stands for 0.05 mm, less than 0.001 mm for that.
	Tolerance float64
	// Seed chooses among results that are as good.
	Seed uint64
	// Steps is how many places are tried in all before the search ends; the start,
	// which always lays all parts if it can, is not counted.
	Steps int
	// Progress, if it isn't nil, is told now and then how far the search is, always by the
	// goroutine that called [Strip] or [Sheets].
	Progress func(Progress)
}

// Progress is how far a search is.
type Progress struct {
	Steps, Of int
	// Used is the length of strip in mm, or the sheets, that the best result so
	// far takes.
	Used float64
}

// ErrEmpty says that a job has no part.
var ErrEmpty = errors.New("there is no part to lay")

// A PartError says what is wrong with a part.
type PartError struct {
	Part int // which of the job's
	Err  error
}

func (e *PartError) Error() string { return fmt.Sprintf("part %d: %v", e.Part, e.Err) }
func (e *PartError) Unwrap() error { return e.Err }

// ErrTooLarge says that a part doesn't lie on anything at any of its turns.
var ErrTooLarge = errors.New("the part is too large at every turn that it may have")

// ErrTooMany says that a job has more parts than can be searched together; in several
// jobs they can be.
var ErrTooMany = fmt.Errorf("more than %d parts in one job", mostParts)

// mostParts is how many parts a job may have: memory grows with its square.
const mostParts = 4000

var errNone = errors.New("a part without an outline")

// most is the largest coordinate in mm: what is larger can't be counted in units.
const most = 1e5

// A load is a job made ready: its pieces, and for each which part and copy it is.
type load struct {
	pieces []piece
	shapes []*shape
	part   []int
	copies []int
	kinds  *catalogue
	area   float64 // of all pieces, mm²
}

// prepare makes a job ready.
func (j *Job) prepare() (*load, error) {
	if !(j.Spacing >= 0 && j.Spacing <= most && j.Margin >= 0 && j.Margin <= most) {
		return nil, fmt.Errorf("a spacing of %g mm and a margin of %g mm mean nothing", j.Spacing, j.Margin)
	}
	l := &load{kinds: &catalogue{known: map[string]*shape{}}}
	for k, p := range j.Parts {
		if p.Copies <= 0 {
			continue
		}
		if p.Outline == nil {
			return nil, &PartError{k, errNone}
		}
		if len(l.pieces)+p.Copies > mostParts {
			return nil, ErrTooMany
		}
		box := p.Outline.Bounds()
		if far := max(-box.Min.X, -box.Min.Y, box.Max.X, box.Max.Y); !(far <= most) {
			return nil, &PartError{k, ErrTooLarge}
		}
		outlines, err := rings(p.Outline, j.Spacing/2, j.tolerance())
		if err != nil {
			return nil, &PartError{k, err}
		}
		turns := make([]float64, 0, len(p.Turns))
		for _, t := range p.Turns {
			if t = math.Mod(t, 360); t < 0 {
				t += 360
			}
			turns = append(turns, t)
		}
		if len(turns) == 0 {
			turns = append(turns, 0)
		}
		s := l.kinds.of(outlines, turns)
		size := math.Sqrt(s.area)
		for c := range p.Copies {
			l.pieces = append(l.pieces, piece{turned: s.turned, size: size, scale: math.Sqrt(math.Sqrt(size))})
			l.shapes = append(l.shapes, s)
			l.part, l.copies = append(l.part, k), append(l.copies, c)
			l.area += math.Abs(geom.Area(p.Outline))
		}
	}
	if len(l.pieces) == 0 {
		return nil, ErrEmpty
	}
	return l, nil
}

// tolerance is the job's, or what stands for none.
func (j *Job) tolerance() float64 {
	if j.Tolerance > 0 {
		return max(j.Tolerance, 1e-3)
	}
	return 0.05
}

// edge is how far in units the bin of grown outlines lies from the edge of its sheet.
func (j *Job) edge() float64 { return units(j.Margin) - units(j.Spacing/2) }

// placements is where the pieces lie in a bin whose corner is at a sheet's corner but
// for an edge all round, in units.
func (l *load) placements(spots []spot, bin int, corner geom.Point) []sheet.Placement {
	var out []sheet.Placement
	for i, s := range spots {
		if s.bin != bin || s.o == nil {
			continue
		}
		out = append(out, sheet.Placement{
			Part: l.part[i], Copy: l.copies[i], Turn: l.shapes[i].turns[s.o.turn],
			At: geom.Point{X: mm(s.x - corner.X), Y: mm(s.y - corner.Y)},
		})
	}
	return out
}

// mm is a length in units as mm: the nearest number to the decimal.
func mm(u float64) float64 { return u / (1 / unit) }

// stopped says whether a context has ended.
func stopped(ctx context.Context) bool { return ctx.Err() != nil }
