package solution

import (
	"context"
	"math"
	"slices"
	"sort"

	"foredge/eval/dim"
	"foredge/eval/maybe"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Solution is a design whose dimensions have been worked out.
type Solution struct {
	*model.Design
	Numbers *solve.Solution
}

// Solve works out the dimensions of a design.
func Solve(d *model.Design) *Solution { return Within(context.Background(), d) }

// Within is [Solve] for as long as a context lasts.
func Within(ctx context.Context, d *model.Design) *Solution {
	return &Solution{d, solve.Within(ctx, d.System)}
}

// WithoutMembers solves the design once more without the lines that speak of
// single members of fields: such a line may be what keeps the others out.
func (s *Solution) WithoutMembers() *Solution {
	spoken := map[relation.VarID]bool{}
	for _, c := range s.Cells {
		spoken[c.Var] = true
	}
	return s.Without(func(r *relation.Relation) bool {
		return r.Role != relation.Own && slices.ContainsFunc(r.Vars(), func(v relation.VarID) bool { return spoken[v] })
	})
}

// Without solves the design once more without some of its relations.
func (s *Solution) Without(these func(*relation.Relation) bool) *Solution {
	system := *s.System
	system.Relations = slices.DeleteFunc(slices.Clone(system.Relations), func(r relation.Relation) bool { return these(&r) })
	without := *s.Design
	without.System = &system
	return Solve(&without)
}

// Value is that of a dimension; NaN if nothing decides it.
func (s *Solution) Value(id relation.VarID) float64 { return s.Numbers.Values[id] }

// Known reports whether a dimension has been worked out.
func (s *Solution) Known(id relation.VarID) bool { return !math.IsNaN(s.Numbers.Values[id]) }

// Eval is the value of an expression.
func (s *Solution) Eval(e relation.Expr) float64 { return e.Eval(s.Numbers.Values) }

// Of is a dimension of a thing, NaN if it has none of that name or nothing
// decides it.
func (s *Solution) Of(t *model.Thing, n dim.Name) float64 {
	if id, ok := t.Dim(n); ok {
		return s.Value(id)
	}
	return math.NaN()
}

// Maybe is a dimension of a thing, absent where [Solution.Of] is NaN.
func (s *Solution) Maybe(t *model.Thing, n dim.Name) maybe.Of[float64] {
	v := s.Of(t, n)
	return maybe.If(v, !math.IsNaN(v))
}

// Stated is the value of what may be stated.
func (s *Solution) Stated(e maybe.Of[relation.Expr]) maybe.Of[float64] {
	x, ok := e.Get()
	if !ok {
		return maybe.Of[float64]{}
	}
	v := s.Eval(x)
	return maybe.If(v, !math.IsNaN(v))
}

// Format writes a value for a person, in the unit of the file it stands in.
func (s *Solution) Format(v float64, k unit.Kind, at source.Span) string {
	return unit.Format(v, k, s.UnitOf(at))
}

// KindOf is the kind of an expression's value, from the dimensions in it: none for
// plain numbers, areas and the like.
func (s *Solution) KindOf(e relation.Expr) unit.Kind {
	if e.Op == relation.Ref {
		return s.System.Vars[e.Var].Kind
	}
	k, power := s.kindOf(e)
	if k == unit.Length && power != 1 {
		return unit.None
	}
	return k
}

// kindOf is also the power to which a length stands in a value.
func (s *Solution) kindOf(e relation.Expr) (k unit.Kind, power float64) {
	switch e.Op {
	case relation.Ref:
		if k = s.System.Vars[e.Var].Kind; k == unit.Count || k == unit.Ratio {
			return unit.None, 0
		}
		return k, 1
	case relation.Const:
		return unit.None, 0
	}
	for i, a := range e.Args {
		part, p := s.kindOf(a)
		switch {
		case part == unit.None:
		case k == unit.None:
			k, power = part, p
			if e.Op == relation.Quotient && i > 0 {
				power = -p
			}
		case e.Op == relation.Product:
			power += p
		case e.Op == relation.Quotient:
			power -= p
		}
	}
	if e.Op == relation.Sqrt {
		power /= 2
	}
	if power == 0 {
		return unit.None, 0
	}
	return k, power
}

// Say writes a relation as a maker would, in the unit of its file.
func (s *Solution) Say(r *relation.Relation) string { return s.System.Say(r, s.UnitOf(r.At)) }

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

// Dimensions lists every dimension of the things that take part, by name; not those of a
// thing of a used file whose name means another one in the file that is built.
func (s *Solution) Dimensions() []Dimension {
	out := make([]Dimension, 0, len(s.System.Vars))
	for i, v := range s.System.Vars {
		if id, _ := s.Dimension(v.Name); v.Aside || id != relation.VarID(i) {
			continue
		}
		out = append(out, Dimension{Name: v.Name, Value: s.Numbers.Values[i], Kind: v.Kind, From: s.Numbers.From[i],
			Uncertainty: s.Numbers.U[i], At: s.causeAt(relation.VarID(i))})
	}
	sort.SliceStable(out, func(i, j int) bool { return out[i].Name < out[j].Name })
	return out
}

// Names lists the names of all dimensions.
func (s *Solution) Names() []string {
	names := make([]string, 0, len(s.System.Vars))
	for _, v := range s.System.Vars {
		if !v.Aside {
			names = append(names, v.Name)
		}
	}
	return names
}

// Suspects are the readings of a report that may be off, into its Readings: the
// worst first, then those that nothing tells apart from it in the order of the
// file, as which is nearer may hang on rounding.
func (s *Solution) Suspects(b *solve.BenchReport) []int {
	suspects := slices.Clone(b.Suspects)
	if len(suspects) < 2 {
		return suspects
	}
	at := func(k int) source.Span { return s.System.Readings[b.Readings[k].Index].At }
	rest := suspects[1:]
	sort.Slice(rest, func(i, j int) bool { return at(rest[i]).Before(at(rest[j])) })
	return suspects
}

// WithReading solves the notebook of a reading by itself, once more, as it would be
// if that had been read as another value. Nothing else of the design is solved.
func (s *Solution) WithReading(index int, value float64) *Solution {
	bench := s.System.Readings[index].Bench
	system := relation.System{Vars: slices.Clone(s.System.Vars), Benches: s.System.Benches}
	for i := range system.Vars {
		system.Vars[i].Needed = false
	}
	for _, r := range s.System.Relations {
		if r.Bench == bench {
			system.Relations = append(system.Relations, r)
		}
	}
	for i, r := range s.System.Readings {
		if r.Bench == bench {
			if i == index {
				r.Value = value
			}
			system.Readings = append(system.Readings, r)
		}
	}
	other := *s.Design
	other.System = &system
	return Solve(&other)
}
