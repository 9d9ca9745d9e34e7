package eval

import (
	"context"

	"foredge/eval/advice"
	"foredge/eval/design"
	"foredge/eval/outcome"
	"foredge/eval/solution"
	"foredge/eval/solve"
	"foredge/eval/tell"
	"foredge/lang/diag"
)

// A Solution is a design whose dimensions have been worked out.
type Solution struct {
	*solution.Solution
	// Sound says that the design can be drawn: nothing clashes, nothing that is
	// needed is open, every check holds.
	Sound bool
}

// Solve works out the dimensions and reports what keeps it from that.
func (m *Model) Solve() (*Solution, diag.List) { return m.SolveWithin(context.Background()) }

// SolveWithin is [Model.Solve] for as long as a context lasts. After that it
// returns what is not sound.
func (m *Model) SolveWithin(ctx context.Context) (*Solution, diag.List) {
	s := &Solution{Solution: solution.Within(ctx, m.Design)}
	diags := tell.Problems(s.Solution)
	if !m.Broken && s.Numbers.OK() {
		diags.Add(tell.Checks(s.Solution))
	}
	s.Sound = !m.Broken && !diags.HasErrors()
	if s.Sound {
		diags.Add(advice.Of(s.Solution))
	}
	return s, diags
}

// Design gives the solved design. It must only be asked of a sound solution.
func (s *Solution) Design() *design.Design { return outcome.Design(s.Solution) }

// BoundRows lists the rows of this design's panels that have a binding.
func (s *Solution) BoundRows() []outcome.BoundRow { return outcome.BoundRows(s.Solution) }

// Measured lists the notebooks and stocks that were measured.
func (s *Solution) Measured() []outcome.MeasuredThing { return outcome.Measured(s.Solution) }

// Slip finds the reading of contradictory ones that only its unit keeps from
// agreeing, nil if there is none or several would do.
func (s *Solution) Slip(b *solve.BenchReport) *tell.Slip { return tell.SlipOf(s.Solution, b) }

// ReadingName is how a person finds a reading within its notebook: wire.web
// for a dimension, and what the line says for anything else.
func (s *Solution) ReadingName(index int) string { return outcome.ReadingName(s.Solution, index) }

// ReadingRow is the name of the row in which a reading stands, "" for one of
// the notebook itself.
func (s *Solution) ReadingRow(index int) string { return outcome.ReadingRow(s.Solution, index) }
