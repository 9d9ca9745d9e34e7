package tell

import (
	"cmp"
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
	// below says that a size would be below 0.
	below bool
	// odd says that it is only unusual: told where a reading in another unit, or
	// with its point elsewhere, would put it right.
	odd bool
	// small says that all of a notebook is small: told in any case, if odd, as is
	// what is never so.
	small, never bool
	// asks is what to ask in place of another unit, told in any case too.
	asks string
	// allMM says that all would be usual if its numbers, in inches, were mm.
	allMM bool
}

// order is that in which faults are told: what can't be, what is never so, and what
// is only odd.
func (f fault) order() int {
	switch {
	case !f.odd:
		return 0
	case f.never:
		return 1
	}
	return 2
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
		faults := faultsOf(t.Solution, book)
		if t.Broken { // a line that can't be read may be what is missing
			faults = slices.DeleteFunc(faults, func(f fault) bool { return !f.odd })
		}
		if len(faults) > 0 {
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
func faultsOf(s *solution.Solution, book *model.Notebook) []fault {
	own, others := belowZero(s, book.Bench)
	faults := own
	for _, row := range book.Rows {
		faults = append(faults, measuredRow{s, book, row}.faults()...)
	}
	faults = append(faults, others...)
	faults = append(faults, sizeFaults(s, book)...)
	slices.SortStableFunc(faults, func(a, b fault) int { return cmp.Compare(a.order(), b.order()) })
	return faults
}

// A measuredRow is a notebook's row with its numbers.
type measuredRow struct {
	*solution.Solution
	book *model.Notebook
	row  *model.Row
}

func (m measuredRow) of(n dim.Name) float64 { return m.Of(&m.row.Thing, n) }

func (m measuredRow) write(n dim.Name) string { return m.writeLength(m.of(n)) }

func (m measuredRow) writeLength(v float64) string { return m.Format(v, unit.Length, m.row.At) }

// fault is one of the row, which the expressions make.
func (m measuredRow) fault(says string, of ...relation.Expr) fault {
	return fault{says: says, of: of, at: m.row.At}
}

// past is the fault of reaching past an edge.
func (m measuredRow) past(over float64, e word.Edge, of ...relation.Expr) fault {
	return m.fault(fmt.Sprintf("the row %s reaches %s past the %s of %s", m.row.Path, m.writeLength(over), e, m.book.Path), of...)
}

// faults finds what of the row can't be or is odd.
func (m measuredRow) faults() []fault {
	faults := m.overlaps()
	if m.row.Edge != word.NoEdge {
		faults = append(faults, m.ends()...)
		faults = append(faults, m.across()...)
	}
	// A wire's holes are never that slender; few slots, as for tapes, may be.
	along, across := m.of(dim.HoleAlong), m.of(dim.HoleAcross)
	if m.of(dim.Count) >= many && math.Max(along/across, across/along) > slender {
		f := m.fault(fmt.Sprintf("the holes of %s are %s by %s", m.row.Path, m.write(dim.HoleAlong), m.write(dim.HoleAcross)),
			m.row.V(dim.HoleAlong), m.row.V(dim.HoleAcross))
		f.odd = true
		faults = append(faults, f)
	}
	return faults
}

// overlaps finds holes that run into each other.
func (m measuredRow) overlaps() []fault {
	hole := m.of(dim.HoleAlong)
	if math.IsNaN(hole) {
		return nil // what is missing is told
	}
	if web, ok := m.row.Dim(dim.Web); ok && m.Value(web) <= 1e-6 && !(m.of(dim.Count) < 2) {
		return []fault{m.fault(fmt.Sprintf("the holes of %s run into each other: each is %s long, and the next begins %s after it",
			m.row.Path, m.write(dim.HoleAlong), m.write(dim.Pitch)), m.row.V(dim.HoleAlong), m.row.V(dim.Pitch))}
	}
	for i, gap := range m.row.Gaps {
		if m.Value(gap) <= hole+1e-6 {
			return []fault{m.fault(fmt.Sprintf("holes %d and %d of %s run into each other: each is %s long, and %s is %s", i+1, i+2, m.row.Path,
				m.write(dim.HoleAlong), model.GapName(i+1), m.writeLength(m.Value(gap))), relation.V(gap), m.row.V(dim.HoleAlong))}
		}
	}
	return nil
}

// ends finds whether the row clearly reaches past where its edge begins or ends.
func (m measuredRow) ends() []fault {
	var faults []fault
	size := dim.Length(m.row.Edge)
	start, end := m.row.Edge.Ends()
	if math.IsNaN(m.of(dim.First)) && math.IsNaN(m.of(dim.Last)) {
		length := relation.Add(m.row.V(dim.Run), m.row.V(dim.HoleAlong))
		if m.clearlyMore(length, m.book.V(size)) {
			return []fault{m.fault(fmt.Sprintf("the row %s is %s long with its holes, and its edge only %s", m.row.Path, m.writeLength(m.Eval(length)),
				m.writeLength(m.Of(&m.book.Thing, size))), m.row.V(dim.Run), m.row.V(dim.HoleAlong), m.book.V(size))}
		}
	}
	for _, at := range []struct {
		gap, other dim.Name
		edge       word.Edge
	}{{dim.First, dim.Last, start}, {dim.Last, dim.First, end}} {
		id, ok := m.row.Dim(at.gap)
		if !ok || !(m.Value(id) < -3*m.Numbers.U[id]-1e-6) {
			continue
		}
		// What is longer than the edge by itself is to blame first.
		blame := []relation.Expr{m.row.V(at.other), m.row.V(dim.Run), m.row.V(dim.HoleAlong), m.book.V(size)}
		if m.of(dim.Run)+m.of(dim.HoleAlong) > m.Of(&m.book.Thing, size) {
			blame[0], blame[1] = blame[1], blame[0]
		}
		faults = append(faults, m.past(-m.Value(id), at.edge, blame...))
	}
	return faults
}

// clearlyMore reports whether a length is more than another by more than what was read leaves open.
func (m measuredRow) clearlyMore(length, than relation.Expr) bool {
	over := relation.Add(length, relation.Mul(relation.C(-1), than))
	by := m.Eval(over)
	return by > 1e-6 && by > 3*math.Sqrt(m.Numbers.Covariance(over)[0][0])+1e-6
}

// across finds whether the holes clearly reach past the opposite edge, or lie at an odd
// distance from their own.
func (m measuredRow) across() []fault {
	depth := dim.Width
	if dim.Length(m.row.Edge) == dim.Width {
		depth = dim.Height
	}
	inset, count, far := m.of(dim.Inset), m.of(dim.Count), m.Of(&m.book.Thing, depth)
	reach := inset + m.of(dim.HoleAcross)
	of := []relation.Expr{m.row.V(dim.Inset), m.row.V(dim.HoleAcross), m.book.V(depth)}
	switch id, ok := m.row.Dim(dim.Inset); {
	case ok && inset < -3*m.Numbers.U[id]-1e-6:
		return []fault{m.past(-inset, m.row.Edge, of...)}
	case m.clearlyMore(relation.Add(of[0], of[1]), of[2]):
		return []fault{m.past(reach-far, m.row.Edge.Opposite(), of...)}
	case count >= few && (reach > far/2 || inset > 0 && inset < shallowest), count >= many && inset > deepest:
		f := m.fault(fmt.Sprintf("the holes of %s lie %s from the %s", m.row.Path, m.write(dim.Inset), m.row.Edge), of...)
		f.odd = true
		return []fault{f}
	}
	return nil
}

// What is odd (common practice, no source). An A sheet with one side in centimetres
// is 7.07 times as long as wide; a slip pad may be five times. A large sheet in
// centimetres or a page in inches stays below 35 mm.
const (
	few, many           = 3, 10 // holes: one or two, as to hang or file it by, may be anywhere
	slender             = 7.0
	never               = 14.0      // times as long as wide
	deepest, shallowest = 25.0, 1.0 // mm, from the edge
	smallest            = 35.0      // mm, of the longer side
	largest             = 1300.0    // mm
	likeliest           = 1.4142    // of the longer side to the shorter
	stout               = 0.5       // times as thick as the shorter side
	cube                = 100.0     // mm: blocks of notes up to that size are as thick as wide
	thickest            = 51.0      // mm: no coil or comb that is sold goes round more
)

// However much a file holds, so many readings of a notebook are looked at and
// blamed, and in so many notebooks it is tried what may have been meant.
const (
	mostLooked = 200
	mostBlamed = 5
	mostMended = 20
)

// sizeFaults finds what is odd about a notebook's size.
func sizeFaults(s *solution.Solution, book *model.Notebook) []fault {
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
		f := fault{odd: true, never: long > never*short, says: says, of: of, at: book.At}
		if thick > 0.7*short {
			f.asks = fmt.Sprintf("it is %s thick: was the thickness read for its shorter side?", write(thick))
		}
		return []fault{f}
	case long < smallest:
		return []fault{{odd: true, small: true, says: says + ", smaller than notebooks are", of: of, at: book.At}}
	case long > largest:
		inMM := long / s.UnitOf(book.At).Size
		return []fault{{odd: true, never: true, says: says + ", larger than notebooks are", of: []relation.Expr{of[1], of[0]}, at: book.At,
			allMM: inMM < long && smallest <= inMM && inMM <= largest}}
	case thick > long && thick > 2*cube:
		return []fault{{odd: true, never: true, says: fmt.Sprintf("%s is %s thick%s", book.Path, write(thick), andOnly(width, height, write)),
			of: []relation.Expr{book.V(dim.Thick), of[0], of[1]}, at: book.At}}
	case thick > short, thick > thickest && (thick > stout*short && short > cube || punched(s, book)):
		return []fault{{odd: true, says: fmt.Sprintf("%s is %s thick%s", book.Path, write(thick), andOnly(width, height, write)),
			of: []relation.Expr{book.V(dim.Thick), of[0], of[1]}, at: book.At}}
	}
	return nil
}

// andOnly tells how wide and high a thick notebook is, as far as that is known.
func andOnly(width, height float64, write func(float64) string) string {
	switch {
	case math.IsNaN(width) && math.IsNaN(height):
		return ", and no wire that is sold goes round that"
	case math.IsNaN(height):
		return fmt.Sprintf(", and only %s wide", write(width))
	case math.IsNaN(width):
		return fmt.Sprintf(", and only %s high", write(height))
	}
	return fmt.Sprintf(", and only %s by %s large", write(width), write(height))
}

// punched reports whether a notebook has a row of as many holes as a wire or a comb.
func punched(s *solution.Solution, book *model.Notebook) bool {
	return slices.ContainsFunc(book.Rows, func(row *model.Row) bool { return s.Of(&row.Thing, dim.Count) >= many })
}

// tellFault tells of the first fault of a notebook at the reading that is likeliest
// to blame.
func (t *teller) tellFault(book *model.Notebook, faults []fault) {
	f := faults[0]
	add, code := t.diags.Errorf, diag.Code("row-misfit")
	switch {
	case f.odd:
		add, code = t.diags.Warnf, "wrong-scale"
	case f.below:
		code = "negative"
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
	case f.odd && small < 0 && !f.never && f.asks == "":
	case len(blame) == 0:
		add(code, f.at, "%s", f.says).WithHelp("check the numbers of %s", book.Path)
	case f.below:
		d := add(code, t.System.Readings[blame[0]].At, "%s", f.says)
		for _, k := range blame {
			r := &t.System.Readings[k]
			d.Note(r.At, "%s was read as %s", r.Text, t.readAs(*r, t.KindOf(r.Left)))
		}
		if c := t.Numbers.Cause[f.of[0].Var]; c.Kind == solve.ByRelation && t.System.Relations[c.Index].Role != relation.Own {
			d.Note(t.System.Relations[c.Index].At, "%s", t.System.Relations[c.Index].At.Short())
		}
		d.WithHelp("measure it once more, and look at the lines that give it")
	case f.allMM:
		add(code, t.System.Readings[blame[0]].At, "%s: all would fit in mm", f.says).
			WithHelp("if the numbers are in mm, write units mm at the top of the file, or mm after each of them")
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
		if d.WithHelp("measure it once more; if it comes out the same, look at the others"); !f.odd {
			d.WithHelp("%s, and count the holes", d.Help)
		}
	}
}

// blamed lists the readings that move what is at fault, those that move the first
// expression first; of what is only odd those of the expressions themselves come
// before all others.
func (t *teller) blamed(book *model.Notebook, f fault) []int {
	var blame []int
	reports := t.Numbers.Benches[book.Bench-1].Readings
	for _, e := range f.of {
		for _, report := range reports[:min(len(reports), mostLooked)] {
			if left := t.System.Readings[report.Index].Left; f.odd && e.Op == relation.Ref && left.Op == relation.Ref && left.Var == e.Var && !slices.Contains(blame, report.Index) {
				blame = append(blame, report.Index)
			}
		}
	}
	for _, e := range f.of {
		for _, report := range reports[:min(len(reports), mostLooked)] {
			i := report.Index
			if len(blame) >= mostBlamed {
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
			if len(faultsOf(s, book)) > 0 || tiny(s, book) || len(s.Numbers.Counts) > 0 || contradicts(s.Numbers, book.Bench) {
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
