package eval

import (
	"math"
	"sort"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Solution is a design whose dimensions have been worked out.
type Solution struct {
	*Model
	Numbers *solve.Solution
	// Sound says that the design can be drawn: nothing clashes, nothing that is
	// needed is open, every check holds.
	Sound bool
}

// Solve works out the dimensions and reports what keeps it from that.
func (m *Model) Solve() (*Solution, diag.List) {
	s := &Solution{Model: m, Numbers: solve.Solve(m.System)}
	var diags diag.List
	s.reportBenches(&diags)
	s.reportProblems(&diags)
	if !m.broken && s.Numbers.OK() {
		s.reportImpossible(&diags)
	}
	if !m.broken && s.Numbers.OK() {
		s.decideChecks(&diags)
	}
	s.Sound = !m.broken && !diags.HasErrors()
	if s.Sound {
		s.warnBindings(&diags)
		s.warnTolerance(&diags)
	}
	return s, diags
}

func (s *Solution) value(id relation.VarID) float64 { return s.Numbers.Values[id] }

func (s *Solution) eval(e relation.Expr) float64 { return e.Eval(s.Numbers.Values) }

// of is a dimension of a thing, NaN if it has none of that name.
func (s *Solution) of(it *item, dim string) float64 {
	if id, ok := it.vars[dim]; ok {
		return s.value(id)
	}
	return math.NaN()
}

func (s *Solution) decideChecks(diags *diag.List) {
	for _, c := range s.checks {
		if c.cond.holds(s.Numbers.Values) {
			continue
		}
		message := c.message
		if message == "" {
			message = "this check doesn't hold"
		}
		d := diags.Errorf("check", c.at, "%s", message)
		s.explainCondition(d, c.cond)
	}
}

// explainCondition says what the sides of a failed comparison came to.
func (s *Solution) explainCondition(d *diag.Diagnostic, c condition) {
	for _, a := range c.args {
		s.explainCondition(d, a)
	}
	if c.args != nil || c.l.kind == unit.Text {
		return
	}
	for _, v := range []value{c.l, c.r} {
		if _, known := constant(v.expr); !known {
			d.Note(v.at, "%s is %s", short(v.at), s.format(s.eval(v.expr), v.kind, v.at))
		}
	}
	if d.Help == "" {
		d.WithHelp("change the lines that give it, or the check")
	}
}

// unitOf is the unit of the file in which a place lies.
func (m *Model) unitOf(at source.Span) unit.Unit {
	for _, f := range m.info.All {
		if f.Source == at.File {
			return f.Unit
		}
	}
	return m.info.Main.Unit
}

// format writes a value for a person, in the unit of the file it stands in.
func (m *Model) format(v float64, k unit.Kind, at source.Span) string {
	switch k {
	case unit.Length:
		return unit.FormatLength(v, m.unitOf(at))
	case unit.Angle:
		return unit.FormatNumber(v, 3) + " deg"
	}
	return unit.FormatNumber(v, 4)
}

func (s *Solution) formatVar(id relation.VarID) string {
	v := s.System.Vars[id]
	return s.format(s.value(id), v.Kind, v.At)
}

// A Dimension is one value of a solved design.
type Dimension struct {
	Name  string
	Value float64 // mm, degrees or a plain number; NaN if it is open
	Kind  unit.Kind
	From  solve.Origin
	// Uncertainty is the standard uncertainty in the unit of Value.
	Uncertainty float64
	At          source.Span // the line that gave it, or the thing it belongs to
}

// Dimensions lists every dimension of the things that take part, by name.
func (s *Solution) Dimensions() []Dimension {
	out := make([]Dimension, len(s.System.Vars))
	for i, v := range s.System.Vars {
		out[i] = Dimension{Name: v.Name, Value: s.Numbers.Values[i], Kind: v.Kind, From: s.Numbers.From[i],
			Uncertainty: s.Numbers.U[i], At: s.causeAt(relation.VarID(i))}
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// Dimension finds one dimension by its name.
func (s *Solution) Dimension(name string) (relation.VarID, bool) {
	id, ok := s.dims[name]
	return id, ok
}

// Names lists the names of all dimensions.
func (s *Solution) Names() []string {
	names := make([]string, len(s.System.Vars))
	for i, v := range s.System.Vars {
		names[i] = v.Name
	}
	return names
}

// Unit is the unit of the design's own file.
func (m *Model) Unit() unit.Unit { return m.info.Main.Unit }

// causeAt is the place of what gave a dimension its value.
func (s *Solution) causeAt(id relation.VarID) source.Span {
	at, _ := s.causeText(s.Numbers.Cause[id])
	if at.IsZero() {
		return s.System.Vars[id].At
	}
	return at
}

func (s *Solution) causeText(c solve.Cause) (source.Span, string) {
	switch c.Kind {
	case solve.ByRelation, solve.ByLimit:
		if c.Index >= 0 {
			r := s.System.Relations[c.Index]
			return r.At, r.Text
		}
	case solve.ByReadings:
		if c.Index >= 0 {
			r := s.System.Readings[c.Index]
			return r.At, r.Text
		}
	case solve.ByWishLine:
		w := s.System.Wishes[c.Index]
		return w.At, w.Text
	case solve.ByDefaultLine:
		d := s.System.Defaults[c.Index]
		return d.At, d.Text
	}
	return source.Span{}, ""
}

// A Step is one step of an explanation: how a dimension came to its value.
type Step struct {
	Depth int // how many steps away from the dimension asked for
	Name  string
	Value string // with its unit, for a person
	// Uncertainty is the standard uncertainty, "" for an exact value.
	Uncertainty string
	From        solve.Origin
	Text        string // the relation, the reading, the wish or the default
	At          source.Span
	// With are the lines that give it only together with Text.
	With []With
	// Seen says that the dimension was explained further up.
	Seen bool
}

// A With is a further line of a step.
type With struct {
	Text string
	At   source.Span
}

// Why walks from a dimension to the lines that give it.
func (s *Solution) Why(id relation.VarID) []Step {
	var steps []Step
	seen := map[relation.VarID]bool{}
	var walk func(id relation.VarID, depth int)
	walk = func(id relation.VarID, depth int) {
		v, c := s.System.Vars[id], s.Numbers.Cause[id]
		at, text := s.causeText(c)
		st := Step{Depth: depth, Name: v.Name, Value: s.formatVar(id), From: s.Numbers.From[id], Text: text, At: at, Seen: seen[id]}
		if u := s.Numbers.U[id]; u > 0 {
			st.Uncertainty = s.format(u, v.Kind, v.At)
		}
		if math.IsNaN(s.value(id)) {
			st.Value = "not decided"
		}
		if c.Kind == solve.ByLimit && text != "" {
			st.Text = "held at " + text
		}
		for _, i := range c.Together {
			if r := s.System.Relations[i]; c.Kind != solve.ByRelation || i != c.Index {
				st.With = append(st.With, With{r.Text, r.At})
			}
		}
		steps = append(steps, st)
		if st.Seen {
			return
		}
		seen[id] = true
		for _, from := range c.From {
			if from != id {
				walk(from, depth+1)
			}
		}
	}
	walk(id, 0)
	return steps
}
