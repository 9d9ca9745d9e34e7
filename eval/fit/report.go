package fit

import (
	"foredge/eval/model"
	"foredge/eval/outcome"
	"foredge/eval/tell"
	"foredge/eval/word"
	"math"
	"slices"

	"foredge/eval"
	"foredge/eval/maybe"
	"foredge/eval/opening"
	"foredge/eval/relation"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Report is what there is to say of a design's readings.
type Report struct {
	Unit      unit.Unit // of the design's own file
	Notebooks []Notebook
	// Turns are the covers on a wire: whether it closes round them and they turn.
	Turns []Turn
}

// A Notebook is what was read of one notebook, or of a stock's thickness.
type Notebook struct {
	Name  string
	Stock bool
	At    source.Span
	Unit  unit.Unit
	// Accuracy, Resolution and JawFlat are what is stated of its caliper; 0 where
	// nothing is.
	Accuracy, Resolution, JawFlat float64
	Readings                      []Reading
	Agreement                     Agreement
	// Suspects are indices into Readings: the reading to take again first, then
	// those that nothing tells apart from it.
	Suspects []int
	// Slip is the reading that only its unit keeps from agreeing, by its place in
	// Readings; nil if there is none.
	Slip  *tell.Slip
	Sizes []Value // width, height, thick
	Rows  []Row
	// Next is the one further reading that would help most; nil if none would.
	Next *Next
}

// A Verdict says how well the readings of a notebook agree.
type Verdict string

const (
	Unchecked  Verdict = "unchecked"  // there is not one reading more than is needed
	Agree      Verdict = "agree"      // as well as the stated accuracy allows
	Doubtful   Verdict = "doubtful"   // worse than chance allows 95 times in a hundred
	Contradict Verdict = "contradict" // worse than 99.9 %
)

// An Agreement is the global test of a notebook's readings.
type Agreement struct {
	Verdict           Verdict
	ChiSquare         float64
	Freedom           int     // how many readings there are more than needed
	Limit95, Limit999 float64 // of ChiSquare; 0 without Freedom
}

// A Reading is one reading and what became of it.
type Reading struct {
	Name     string // wire.web, or what the line says: 10 * pitch
	Row      string // the row in which it stands, "" for none
	At       source.Span
	Kind     unit.Kind
	Read     float64 // the mean as read
	Value    float64 // with what the jaws' flat took away; else Read
	U        float64 // standard uncertainty of Value
	Repeats  int
	Accuracy float64 // half width of what the tool promises for it
	// Adjusted is what the reconciled dimensions give for it. U95 is half the
	// interval that holds the truth with 95 %, by Student's t with Freedom
	// effective degrees of freedom (infinite if nothing rests on repeats).
	Adjusted, AdjustedU, AdjustedU95, Freedom float64
	// Redundancy is 0 for a reading that nothing else checks, up to 1 for one
	// that the others give exactly.
	Redundancy float64
	Checked    bool
	// Normalised is how far it lies from what was adjusted, in units of the
	// standard deviation of that difference.
	Normalised float64
	// Implied is what all others together say it would have to be; absent if
	// nothing else gives it.
	Implied, ImpliedU maybe.Of[float64]
}

// A Value is a dimension with its uncertainty.
type Value struct {
	Name    string // within its thing
	Kind    unit.Kind
	Value   maybe.Of[float64] // absent if nothing decides it
	U, U95  float64
	Freedom float64
}

// A Row is a row of holes as it was measured.
type Row struct {
	Name  string
	Edge  word.Edge
	Form  opening.Form // of its holes
	Gaps  int          // how many it lists; 0 for an even row
	Count int          // 0 if it is not known
	Dims  []Value
	// Pattern is the punching pattern that comes nearest; nil if none has the
	// same pitch.
	Pattern *Pattern
	Wire    *Wire // what goes through its holes; nil where nothing is stated
	Covers  []Clearance
}

// A Wire is what goes through the holes of a row.
type Wire struct {
	Thick float64 // of one wire
	Pair  float64 // how far all that goes through a hole reaches along the row: both wires of a twin loop
	Dim   Value   // the thickness as a dimension of the row
}

// Dim finds a dimension of the row; it has no value if there is none of that name.
func (r *Row) Dim(name string) Value { return find(r.Dims, name) }

// Size finds a size of the notebook.
func (n *Notebook) Size(name string) Value { return find(n.Sizes, name) }

func find(all []Value, name string) Value {
	for _, v := range all {
		if v.Name == name {
			return v
		}
	}
	return Value{Name: name}
}

// Of says what a design's readings are worth. It does not change s.
func Of(s *eval.Solution) *Report {
	r := &Report{Unit: s.Unit, Turns: turns(s)}
	var known []pattern
	for _, m := range s.Measured() {
		if len(m.Rows) > 0 && known == nil {
			known = patterns()
		}
		r.Notebooks = append(r.Notebooks, notebook(s, m, known))
	}
	return r
}

func notebook(s *eval.Solution, m outcome.MeasuredThing, known []pattern) Notebook {
	a := newAnalysis(s, m)
	n := Notebook{Name: m.Name, Stock: m.Stock, At: m.At, Unit: m.Unit, Accuracy: m.Caliper.Accuracy.Or(0), Resolution: m.Caliper.Resolution.Or(0),
		JawFlat: m.Caliper.JawFlat.Or(0), Agreement: agreement(m)}
	n.Readings, n.Suspects = a.readings()
	if n.Slip = s.Slip(m.Report); n.Slip != nil {
		at := s.System.Readings[m.Report.Readings[n.Slip.Reading].Index].At
		n.Slip.Reading = slices.IndexFunc(n.Readings, func(r Reading) bool { return r.At == at })
		n.Suspects = []int{n.Slip.Reading}
	}
	n.Sizes = a.values(m.Dims)
	var aims []aim
	for i := range m.Rows {
		row, own := a.row(&m.Rows[i], known)
		n.Rows = append(n.Rows, row)
		aims = append(aims, own...)
	}
	n.Next = a.next(aims)
	return n
}

func agreement(m outcome.MeasuredThing) Agreement {
	r := m.Report
	a := Agreement{Verdict: Agree, ChiSquare: r.ChiSquare, Freedom: r.Freedom, Limit95: r.Limit95, Limit999: r.Limit999}
	switch {
	case r.Freedom == 0:
		a.Verdict = Unchecked
	case r.ChiSquare > r.Limit999:
		a.Verdict = Contradict
	case r.ChiSquare > r.Limit95:
		a.Verdict = Doubtful
	}
	return a
}

// row reports on a row and names what of it the next reading could narrow.
func (a *analysis) row(m *outcome.MeasuredRow, known []pattern) (Row, []aim) {
	r := Row{Name: m.Name, Edge: m.Edge, Form: m.Form, Gaps: m.Gaps, Dims: a.values(m.Dims)}
	if c := r.Dim("count").Value.Or(0); c >= 1 && c <= model.MaxHoles {
		r.Count = int(math.Round(c))
	}
	r.Pattern = nearest(&r, known)
	if w := r.Dim("wire"); w.Value.Or(0) > 0 {
		thick := w.Value.Or(0)
		r.Wire = &Wire{Thick: thick, Pair: thick, Dim: w}
		if pair, ok := m.Pair.Get(); ok {
			r.Wire.Pair = a.solution.Eval(pair)
		}
	}
	p := a.places(m, r.Count)
	for _, c := range m.Covers {
		r.Covers = append(r.Covers, a.clearance(&r, p, c))
	}
	return r, a.aims(&r, p)
}

// values gives dimensions with their uncertainties.
func (a *analysis) values(dims []model.NamedDim) []Value {
	var out []Value
	for _, d := range dims {
		v := Value{Name: d.Name, Kind: a.solution.System.Vars[d.ID].Kind, Value: known(a.solution.Numbers.Values[d.ID]), Freedom: math.Inf(1)}
		if v.Value.Present() {
			v.U, v.U95, v.Freedom = a.spread(relation.V(d.ID))
		}
		out = append(out, v)
	}
	return out
}
