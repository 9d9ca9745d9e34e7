package solvetest

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// A Shop builds systems for the tests, as a design comes down to them.
type Shop struct {
	relation.System
	IDs  map[string]relation.VarID
	file *source.File
	line int
}

func NewShop() *Shop {
	return &Shop{IDs: map[string]relation.VarID{}, file: source.New("shop.fore", make([]byte, 1<<20))}
}

func (s *Shop) at() source.Span {
	s.line++
	return source.Span{File: s.file, Start: s.line * 10, End: s.line*10 + 9}
}

// Id declares a dimension on first use; over-* and ease may be negative.
func (s *Shop) Id(name string) relation.VarID {
	if id, ok := s.IDs[name]; ok {
		return id
	}
	id := relation.VarID(len(s.Vars))
	s.IDs[name] = id
	s.Vars = append(s.Vars, relation.Var{Name: name, Kind: unit.Length, Needed: true})
	return id
}

func (s *Shop) V(name string) relation.Expr { return relation.V(s.Id(name)) }

func (s *Shop) Signed(name string) relation.Expr {
	s.Vars[s.Id(name)].Signed = true
	return s.V(name)
}

func (s *Shop) Count(name string) relation.Expr {
	s.Vars[s.Id(name)].Whole = true
	s.Vars[s.Id(name)].Kind = unit.Count
	return s.V(name)
}

func (s *Shop) must(role relation.Role, left relation.Expr, sign relation.Sign, right relation.Expr) int {
	s.Relations = append(s.Relations, relation.Relation{Sign: sign, Left: left, Right: right, Role: role, At: s.at()})
	return len(s.Relations) - 1
}

func (s *Shop) Own(left, right relation.Expr) { s.must(relation.Own, left, relation.EQ, right) }

func (s *Shop) Eq(left, right relation.Expr) int {
	return s.must(relation.Stated, left, relation.EQ, right)
}

// Is states name = value.
func (s *Shop) Is(name string, value float64) int { return s.Eq(s.V(name), relation.C(value)) }

func (s *Shop) Ge(left, right relation.Expr) int {
	return s.must(relation.Stated, left, relation.GE, right)
}

func (s *Shop) Le(left, right relation.Expr) int {
	return s.must(relation.Stated, left, relation.LE, right)
}

func (s *Shop) Fact(left, right relation.Expr) int {
	return s.must(relation.Fact, left, relation.EQ, right)
}

func (s *Shop) Prefer(left, right relation.Expr, weight float64) {
	s.Wishes = append(s.Wishes, relation.Wish{Left: left, Right: right, Weight: weight, At: s.at()})
}

// Standard adds a default of a rank of its own.
func (s *Shop) Standard(left, right relation.Expr) *relation.Default {
	s.Defaults = append(s.Defaults, relation.Default{Left: left, Right: right, Rank: len(s.Defaults), At: s.at()})
	return &s.Defaults[len(s.Defaults)-1]
}

// Bench opens a notebook: what is declared with a name that begins with its
// name and a point belongs to it once close is called.
func (s *Shop) Bench(name string) int {
	s.Benches = append(s.Benches, relation.Bench{Name: name})
	return len(s.Benches)
}

// Close gives all dimensions, and the relations among them alone, that begin
// with the bench's name to the bench.
func (s *Shop) Close(bench int) {
	prefix := s.Benches[bench-1].Name + "."
	in := func(v relation.VarID) bool {
		n := s.Vars[v].Name
		return len(n) > len(prefix) && n[:len(prefix)] == prefix
	}
	for v := range s.Vars {
		if in(relation.VarID(v)) {
			s.Vars[v].Bench = bench
			s.Vars[v].Needed = false
		}
	}
	for r := range s.Relations {
		all := true
		for _, v := range s.Relations[r].Vars() {
			all = all && in(v)
		}
		if all {
			s.Relations[r].Bench = bench
		}
	}
}

func (s *Shop) Read(bench int, left relation.Expr, accuracy float64, values ...float64) int {
	n := float64(len(values))
	mean, scatter := 0.0, 0.0
	for _, v := range values {
		mean += v / n
	}
	if n > 1 {
		for _, v := range values {
			scatter += (v - mean) * (v - mean) / (n - 1)
		}
	}
	s.Readings = append(s.Readings, relation.Reading{Left: left, Bench: bench, Value: mean,
		U: math.Sqrt(accuracy*accuracy/3 + scatter/n), Repeats: len(values), Scatter: math.Sqrt(scatter), Accuracy: accuracy, At: s.at()})
	return len(s.Readings) - 1
}

// Row gives a row of holes its own relations.
func (s *Shop) Row(name, edge string) {
	v := func(d string) relation.Expr { return s.V(name + "." + d) }
	s.Count(name + ".count")
	s.Own(v("pitch"), relation.Add(v("hole.along"), v("web")))
	s.Own(v("run"), relation.Mul(relation.Minus(v("count"), relation.C(1)), v("pitch")))
	s.Own(relation.Add(v("first"), v("hole.along"), v("run"), v("last")), s.V(edge))
}

func (s *Shop) Solve() *solve.Solution { return solve.Solve(&s.System) }

func (s *Shop) Value(t *testing.T, sol *solve.Solution, name string) float64 {
	t.Helper()
	id, ok := s.IDs[name]
	if !ok {
		t.Fatalf("no dimension %s", name)
	}
	return sol.Values[id]
}

// Wrongs says in a line what a solution complains of.
func Wrongs(s *Shop, sol *solve.Solution) string {
	out := ""
	for _, c := range sol.Clashes {
		out += fmt.Sprintf("clash %v beside %v [%g %g] asked %g miss %g; ", c.Relations, c.Carried, c.Low, c.High, c.Asked, c.Miss)
	}
	for _, f := range sol.Free {
		out += "free"
		for _, v := range f.Vars {
			out += " " + s.Vars[v].Name
		}
		out += fmt.Sprintf(" (settle %s %g..%g); ", s.Vars[f.Settle].Name, f.Low, f.High)
	}
	for _, c := range sol.Counts {
		out += fmt.Sprintf("count %s = %g; ", s.Vars[c.Var].Name, c.Value)
	}
	for _, c := range sol.Tangles {
		out += fmt.Sprintf("tangle %v %v; ", c.Relations, c.Found)
	}
	return out
}
