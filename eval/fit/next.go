package fit

import (
	"math"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/eval/outcome"
	"foredge/eval/relation"
)

// A Next is the one further reading that would narrow the fit most.
type Next struct {
	// Reading is what to read, as the left side of a line in the row (or in the
	// notebook, where Row is ""): run, first + run.
	Reading string
	Row     string
	// Accuracy is the half width of what the notebook's caliper promises.
	Accuracy float64
	// Target is what governs whether the holes clear, in words, and TargetRow
	// the row whose target it is: of all rows the place of the first hole, of
	// the last, or the distance of the holes from their edge, whichever is the
	// least sure; where the wire is stated, in proportion to the room it has.
	Target    string
	TargetRow string
	// Before and After are the standard uncertainty of the target without and
	// with the reading; absent where nothing gives the target yet.
	Before, After maybe.Of[float64]
}

// An aim is something that decides whether a row's holes clear.
type aim struct {
	row  string
	what string
	expr relation.Expr
	room float64  // to each side; 1 where it is not known
	open []string // what nothing decides of it
}

// aims lists what decides whether the holes of a row clear, with the least room
// that a cover gives them.
func (a *analysis) aims(r *Row, p places) []aim {
	along, across := 1.0, 1.0
	for i, c := range r.Covers {
		if roomAlong, roomAcross := c.RoomAlong.Or(0), c.RoomAcross.Or(0); roomAlong > 0 && roomAcross > 0 && (i == 0 || roomAlong < along) {
			along, across = roomAlong, roomAcross
		}
	}
	last := len(p.holes) - 1
	return []aim{
		{row: r.Name, what: "the place of the first hole", expr: p.holes[0], room: along, open: p.open},
		{row: r.Name, what: "the place of the last hole", expr: p.holes[last], room: along, open: p.open},
		{row: r.Name, what: "how far the holes are from the " + r.Edge.String(), expr: p.across, room: across, open: p.open},
	}
}

// worthwhile is the share of its uncertainty that a target must lose for a further
// reading to be worth taking.
const worthwhile = 0.02

// next finds the reading that would narrow the governing aim most: that of which
// the least is known, in proportion to its room. If v is the variance of the aim,
// w that of what would be read, c their covariance and g the variance of the
// reading, the reading leaves v - c²/(w + g): least squares with one more row.
func (a *analysis) next(aims []aim) *Next {
	accuracy := a.measured.Caliper.Accuracy.Or(0)
	var governing aim
	worst := 0.0
	for _, aim := range aims {
		if len(aim.open) > 0 {
			return &Next{Reading: aim.open[0], Row: aim.row, Accuracy: accuracy, Target: "where the holes are", TargetRow: aim.row}
		}
		if u := math.Sqrt(a.solution.Numbers.Covariance(aim.expr)[0][0]) / aim.room; u > worst*(1+1e-9) {
			governing, worst = aim, u
		}
	}
	if worst == 0 || accuracy == 0 {
		return nil
	}
	resolution := a.measured.Caliper.Resolution.Or(0)
	tool := accuracy*accuracy/3 + resolution*resolution/12 // the variance of one more reading
	var best *Next
	least := math.Inf(1) // what a reading must get below to be the best so far
	with := a.solution.Numbers.CovarianceWith(governing.expr)
	variance := a.solution.Numbers.Covariance(governing.expr)[0][0]
	for _, c := range a.candidates() {
		// Even if nothing else were unsure of what it reads, it would leave so much.
		part := with(c.expr)
		if left := math.Sqrt(max(0, variance-part*part/tool)); left > min(least, (1-worthwhile)*math.Sqrt(variance))*(1+1e-6) {
			continue
		}
		cov := a.solution.Numbers.Covariance(governing.expr, c.expr)
		before, own := math.Sqrt(cov[0][0]), cov[1][1]
		after := math.Sqrt(max(0, cov[0][0]-cov[0][1]*cov[0][1]/(own+tool)))
		if after < min(least, (1-worthwhile)*before)*(1-1e-9) && !a.read(c.expr, own) {
			best, least = &Next{Reading: c.name, Row: c.row, Accuracy: accuracy, Target: governing.what, TargetRow: governing.row,
				Before: maybe.Is(before), After: maybe.Is(after)}, after
		}
	}
	return best
}

// A candidate is something that a caliper could read.
type candidate struct {
	name, row string
	expr      relation.Expr
}

// candidates lists what a caliper could read of the notebook: its sizes, the
// dimensions of its rows, and spans over two of them that its jaws take in one
// go.
func (a *analysis) candidates() []candidate {
	var out []candidate
	add := func(row, name string, e relation.Expr) {
		if v := e.Eval(a.solution.Numbers.Values); !math.IsNaN(v) {
			out = append(out, candidate{name, row, e})
		}
	}
	for _, d := range a.measured.Dims {
		add("", d.Name, relation.V(d.ID))
	}
	for i := range a.measured.Rows {
		r := &a.measured.Rows[i]
		for _, d := range r.Dims {
			switch {
			case d.Dim == dim.Count || d.Dim == dim.Wire || d.Dim == dim.Ease || follows(r.Form, d.Dim):
			case d.Dim == dim.Gap:
				add(r.Name, strings.Replace(d.Name, ".", " ", 1), relation.V(d.ID))
			default:
				add(r.Name, d.Name, relation.V(d.ID))
			}
		}
		for _, span := range [][2]dim.Name{{dim.First, dim.Run}, {dim.First, dim.HoleAlong}, {dim.Run, dim.HoleAlong}, {dim.Inset, dim.HoleAcross}} {
			add(r.Name, span[0].String()+" + "+span[1].String(), relation.Add(a.dim(r, span[0]), a.dim(r, span[1])))
		}
	}
	return out
}

// follows reports whether a dimension of a row is a size of its holes that their
// form ties to the other.
func follows(form opening.Form, n dim.Name) bool {
	return n == dim.HoleAlong && form.Ties(opening.Along) || n == dim.HoleAcross && form.Ties(opening.Across)
}

func (a *analysis) dim(r *outcome.MeasuredRow, n dim.Name) relation.Expr {
	if id, ok := r.Dim(n); ok {
		return relation.V(id)
	}
	return relation.C(math.NaN())
}

// read reports whether the caliper has read an expression of the given variance
// already. To read it once more would tell nothing: what the tool does wrong it
// does wrong every time, which is why repeats never take away the accuracy's part.
func (a *analysis) read(e relation.Expr, variance float64) bool {
	accuracy := a.measured.Caliper.Accuracy.Or(0)
	for _, r := range a.measured.Report.Readings {
		rd := a.solution.System.Readings[r.Index]
		if rd.Accuracy > accuracy*(1+1e-9) {
			continue // by a coarser tool
		}
		difference := relation.Minus(e, rd.Left)
		if !(math.Abs(difference.Eval(a.solution.Numbers.Values)) < 1e-6) {
			continue
		}
		if apart := a.solution.Numbers.Covariance(difference)[0][0]; apart <= 1e-12*variance {
			return true
		}
	}
	return false
}
