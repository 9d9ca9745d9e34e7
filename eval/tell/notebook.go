package tell

import (
	"fmt"
	"math"
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/eval/word"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A fault is what no notebook is like.
type fault struct {
	says string // a sentence, with its numbers
	// of are the expressions that make it so: readings that move one of them may
	// be to blame. The first moves the fault most.
	of []relation.Expr
	at source.Span // where no reading is to blame
	// odd says that it is only unusual: told where a reading in another unit, or
	// with its point elsewhere, would put it right.
	odd bool
	// small says that all of a notebook is small: told in any case, if odd.
	small bool
	// asks is what to ask in place of another unit, told in any case too.
	asks string
}

// notebooks tells of what was read of a notebook that can't be, or of no likely
// size, one fault of each. bad are the benches whose readings contradict each other,
// which says enough. It returns the notebooks that can't be or are bad, with the
// panels and rows that lie on them: what clashes with what was measured of those
// follows from it.
func (t *teller) notebooks(bad map[int]bool) set {
	wrong := set{}
	for _, n := range t.Things {
		book, ok := n.(*model.Notebook)
		if !ok {
			continue
		}
		if bad[book.Bench] {
			wrong[book] = true
			continue
		}
		if faults := t.faultsOf(t.Solution, book); len(faults) > 0 {
			t.tellFault(book, faults)
			wrong[book] = !faults[0].odd
		}
	}
	for _, n := range t.Things {
		row, ok := n.(*model.Row)
		if !ok {
			continue
		}
		on := row
		if row.Covers != nil {
			on = row.Covers
		}
		if on.Book != nil && wrong[on.Book] {
			wrong[row] = true
			if row.Panel != nil {
				wrong[row.Panel] = true
			}
		}
	}
	return wrong
}

// faultsOf finds what of a notebook can't be, then what is odd about it.
func (t *teller) faultsOf(s *solution.Solution, book *model.Notebook) []fault {
	var faults []fault
	for _, row := range book.Rows {
		faults = append(faults, t.rowFaults(s, book, row)...)
	}
	faults = append(faults, t.sizeFaults(s, book)...)
	slices.SortStableFunc(faults, func(a, b fault) int {
		switch {
		case a.odd == b.odd:
			return 0
		case b.odd:
			return -1
		}
		return 1
	})
	return faults
}

// rowFaults finds what of a notebook's row can't be.
func (t *teller) rowFaults(s *solution.Solution, book *model.Notebook, row *model.Row) []fault {
	var faults []fault
	of := func(n dim.Name) float64 { return s.Of(&row.Thing, n) }
	write := func(v float64) string { return s.Format(v, unit.Length, row.At) }
	hole, across := of(dim.HoleAlong), of(dim.HoleAcross)
	if web, ok := row.Dim(dim.Web); ok && s.Value(web) <= 1e-6 && !(of(dim.Count) < 2) {
		faults = append(faults, fault{says: fmt.Sprintf("the holes of %s run into each other: each is %s long, and the next begins %s after it", row.Path, write(hole), write(of(dim.Pitch))),
			of: []relation.Expr{row.V(dim.HoleAlong), row.V(dim.Pitch)}, at: row.At})
	}
	for i, gap := range row.Gaps {
		if s.Value(gap) <= hole+1e-6 {
			faults = append(faults, fault{says: fmt.Sprintf("holes %d and %d of %s run into each other: each is %s long, and %s is %s", i+1, i+2, row.Path, write(hole), model.GapName(i+1), write(s.Value(gap))),
				of: []relation.Expr{relation.V(gap), row.V(dim.HoleAlong)}, at: row.At})
			break
		}
	}
	if row.Edge == word.NoEdge {
		return faults
	}
	size, depth := dim.Length(row.Edge), dim.Width
	if size == dim.Width {
		depth = dim.Height
	}
	start, end := row.Edge.Ends()
	past := func(over float64, e fmt.Stringer, of ...relation.Expr) {
		faults = append(faults, fault{says: fmt.Sprintf("the row %s reaches %s past the %s of %s", row.Path, write(over), e, book.Path), of: of, at: row.At})
	}
	clearly := func(n dim.Name) bool {
		id, ok := row.Dim(n)
		return ok && s.Value(id) < -3*s.Numbers.U[id]-1e-6
	}
	for _, at := range []struct {
		gap, other dim.Name
		edge       fmt.Stringer
	}{{dim.First, dim.Last, start}, {dim.Last, dim.First, end}} {
		if !clearly(at.gap) {
			continue
		}
		// What is longer than the edge by itself is to blame first.
		blame := []relation.Expr{row.V(at.other), row.V(dim.Run), row.V(dim.HoleAlong), book.V(size)}
		if of(dim.Run)+hole > s.Of(&book.Thing, size) {
			blame[0], blame[1] = blame[1], blame[0]
		}
		past(-of(at.gap), at.edge, blame...)
	}
	if reach, far := of(dim.Inset)+across, s.Of(&book.Thing, depth); reach > far+1e-6 {
		past(reach-far, row.Edge.Opposite(), row.V(dim.Inset), row.V(dim.HoleAcross), book.V(depth))
	} else if reach > far/2 && of(dim.Count) >= 3 { // one hole, as to hang it by, may be anywhere
		faults = append(faults, fault{odd: true, says: fmt.Sprintf("the holes of %s lie %s from the %s, nearer to the %s", row.Path, write(of(dim.Inset)), row.Edge, row.Edge.Opposite()),
			of: []relation.Expr{row.V(dim.Inset), row.V(dim.HoleAcross), book.V(depth)}, at: row.At})
	}
	// A wire's holes are never that slender; few slots, as for tapes, may be.
	if of(dim.Count) >= many && math.Max(hole/across, across/hole) > slender {
		faults = append(faults, fault{odd: true, says: fmt.Sprintf("the holes of %s are %s by %s", row.Path, write(hole), write(across)),
			of: []relation.Expr{row.V(dim.HoleAlong), row.V(dim.HoleAcross)}, at: row.At})
	}
	return faults
}

// What is odd (common practice, no source). An A sheet with one side in centimetres
// is 7.07 times as long as wide; a slip pad may be five times. A large sheet in
// centimetres or a page in inches stays below 35 mm.
const (
	many      = 10 // holes
	slender   = 7.0
	smallest  = 35.0   // mm, of the longer side
	largest   = 1300.0 // mm
	likeliest = 1.4142 // of the longer side to the shorter
)

// However much a file holds, so many readings of a notebook are looked at and
// blamed, and in so many notebooks it is tried what may have been meant.
const (
	mostLooked = 200
	mostBlamed = 5
	mostMended = 20
)

// sizeFaults finds what is odd about a notebook's size.
func (t *teller) sizeFaults(s *solution.Solution, book *model.Notebook) []fault {
	width, height := s.Of(&book.Thing, dim.Width), s.Of(&book.Thing, dim.Height)
	long, short := math.Max(width, height), math.Min(width, height)
	write := func(v float64) string { return s.Format(v, unit.Length, book.At) }
	says := fmt.Sprintf("%s is %s wide and %s high", book.Path, write(width), write(height))
	of := []relation.Expr{book.V(dim.Width), book.V(dim.Height)}
	if width > height {
		of[0], of[1] = of[1], of[0] // the shorter first
	}
	switch thick := s.Of(&book.Thing, dim.Thick); {
	case short > 0 && long > slender*short && !(thick > 2*short):
		f := fault{odd: true, says: says, of: of, at: book.At}
		if thick > 0.7*short {
			f.asks = fmt.Sprintf("it is %s thick: was the thickness read for its shorter side?", write(thick))
		}
		return []fault{f}
	case long < smallest:
		return []fault{{odd: true, small: true, says: says + ", smaller than notebooks are", of: of, at: book.At}}
	case long > largest:
		return []fault{{odd: true, says: says + ", larger than notebooks are", of: []relation.Expr{of[1], of[0]}, at: book.At}}
	case thick > 1.5*short:
		return []fault{{odd: true, says: fmt.Sprintf("%s is %s thick, and only %s by %s large", book.Path, write(thick), write(width), write(height)),
			of: []relation.Expr{book.V(dim.Thick), of[0], of[1]}, at: book.At}}
	}
	return nil
}

// tellFault tells of the first fault of a notebook at the reading that is likeliest
// to blame.
func (t *teller) tellFault(book *model.Notebook, faults []fault) {
	f := faults[0]
	add, code := t.diags.Errorf, diag.Code("row-misfit")
	if f.odd {
		add, code = t.diags.Warnf, "wrong-scale"
	}
	blame := t.blamed(book, f)
	if k, p := t.mend(book, blame); p != nil && f.asks == "" {
		r := &t.System.Readings[k]
		d := add(code, r.At, "%s: %s was taken as %s, and all would fit as %s", f.says, r.Text, p.Was(), p.As())
		d.WithHelp("write %s = %s if that is meant, else measure it once more", r.Text, p.As())
		return
	}
	small := slices.IndexFunc(faults, func(f fault) bool { return f.small })
	switch {
	case f.odd && (len(blame) == 0 || small < 0 && f.asks == ""):
	case len(blame) == 0:
		add(code, f.at, "%s", f.says).WithHelp("check the numbers of %s", book.Path)
	case f.asks != "":
		add(code, t.System.Readings[blame[0]].At, "%s", f.says).WithHelp("%s", f.asks)
	case small >= 0:
		says := faults[small].says
		blame = t.blamed(book, faults[small])
		if small > 0 {
			says = f.says + "; " + says
		}
		d := add(code, t.System.Readings[blame[0]].At, "%s", says)
		d.WithHelp("write the unit after the numbers if they are not %s, as in 14.8 cm", t.UnitOf(f.at).Name)
	default:
		r := &t.System.Readings[blame[0]]
		d := add(code, r.At, "%s; take %s again, which was read as %s", f.says, r.Text, t.readAs(*r, t.KindOf(r.Left)))
		for _, k := range blame[1:] {
			other := &t.System.Readings[k]
			d.Note(other.At, "%s was read as %s", other.Text, t.readAs(*other, t.KindOf(other.Left)))
		}
		d.WithHelp("measure it once more; if it comes out the same, look at the others, and count the holes")
	}
}

// blamed lists the readings that move what is at fault, those that move the first
// expression first.
func (t *teller) blamed(book *model.Notebook, f fault) []int {
	var blame []int
	reports := t.Numbers.Benches[book.Bench-1].Readings
	for _, e := range f.of {
		for _, report := range reports[:min(len(reports), mostLooked)] {
			i := report.Index
			if len(blame) == mostBlamed {
				return blame
			}
			if slices.Contains(blame, i) {
				continue
			}
			if cov := t.Numbers.Covariance(e, t.System.Readings[i].Left); cov[0][1]*cov[0][1] > 1e-6*cov[0][0]*cov[1][1] {
				blame = append(blame, i)
			}
		}
	}
	return blame
}

// mend finds the reading, and what may have been meant by it, with which nothing of
// the notebook would be at fault. Of several that would do it is the one blamed
// first, and of what may be meant by a side the one that makes the
// notebook's shape most usual.
func (t *teller) mend(book *model.Notebook, blame []int) (reading int, found *Slip) {
	if t.mended++; t.mended > mostMended {
		return 0, nil
	}
	for _, k := range blame {
		r := t.System.Readings[k]
		if t.KindOf(r.Left) != unit.Length || r.Flat > 0 {
			continue
		}
		best := math.Inf(1)
		for _, p := range t.slipsOf(r.At, r.Value) {
			s := t.WithReading(k, r.Value*p.factor())
			if len(t.faultsOf(s, book)) > 0 || tiny(s, book) || len(s.Numbers.Counts) > 0 || contradicts(s.Numbers, book.Bench) {
				continue
			}
			width, height := s.Of(&book.Thing, dim.Width), s.Of(&book.Thing, dim.Height)
			odd := math.Abs(math.Log(math.Max(width, height) / math.Min(width, height) / likeliest))
			if math.IsNaN(odd) {
				odd = 0
			}
			if odd < best-1e-9 {
				best, found, reading = odd, &p, k
			}
		}
		if found != nil {
			return reading, found
		}
	}
	return 0, nil
}

// tiny reports whether a notebook has holes, or distances of them from the edge,
// that may be but are not likely to be meant.
func tiny(s *solution.Solution, book *model.Notebook) bool {
	return slices.ContainsFunc(book.Rows, func(row *model.Row) bool {
		return s.Of(&row.Thing, dim.HoleAlong) < 1 || s.Of(&row.Thing, dim.HoleAcross) < 1 || s.Of(&row.Thing, dim.Inset) < 2
	})
}

// contradicts reports whether the readings of a bench contradict each other.
func contradicts(s *solve.Solution, bench int) bool {
	b := s.Benches[bench-1]
	return b.Freedom > 0 && b.ChiSquare > b.Limit999
}
