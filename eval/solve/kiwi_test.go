package solve_test

import (
	"bytes"
	"encoding/json"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// kiwi solves a linear system by @lume/kiwi, an implementation of the Cassowary
// algorithm. Its node_modules folder is named by FOREDGE_KIWI. Readings and
// wishes become its weak equations; as it weighs deviations by their size and
// not by their square, both find the same only where all can be met.
func kiwi(t testing.TB, s *solvetest.Shop) (x []float64, seconds float64) {
	modules := os.Getenv("FOREDGE_KIWI")
	if modules == "" {
		if foretest.CI() {
			t.Fatal("FOREDGE_KIWI does not name the folder that holds @lume/kiwi")
		}
		t.Skip("FOREDGE_KIWI does not name a node_modules folder that holds @lume/kiwi")
	}
	type row struct {
		At    []int     `json:"at"`
		By    []float64 `json:"by"`
		Right float64   `json:"right"`
		Sign  string    `json:"sign"`
		Wish  bool      `json:"wish"`
	}
	var in struct {
		Vars int   `json:"vars"`
		Rows []row `json:"rows"`
	}
	in.Vars = len(s.Vars)
	add := func(f relation.Form, sign string, wish bool) {
		r := row{Right: -f.Const, Sign: sign, Wish: wish}
		for _, term := range f.Terms {
			r.At, r.By = append(r.At, int(term.Var)), append(r.By, term.Coef)
		}
		in.Rows = append(in.Rows, r)
	}
	for v := range s.Vars {
		if !s.Vars[v].Signed {
			add(relation.Form{Terms: []relation.Term{{Var: relation.VarID(v), Coef: 1}}}, ">=", false)
		}
	}
	// It is many times faster where the equation that closes a chain, the last
	// of each of our systems, comes after the wishes.
	last := len(s.Relations) - 1
	must := func(r *relation.Relation) {
		f, _ := r.Difference(relation.Nothing)
		add(f, map[relation.Sign]string{relation.EQ: "=", relation.GE: ">=", relation.LE: "<="}[r.Sign], false)
	}
	for i := range last {
		must(&s.Relations[i])
	}
	for _, w := range s.Wishes {
		l, _ := w.Left.Linear(relation.Nothing)
		r, _ := w.Right.Linear(relation.Nothing)
		add(l.Plus(r, -1), "=", true)
	}
	for _, r := range s.Readings {
		f, _ := r.Left.Linear(relation.Nothing)
		f.Const -= r.Value
		add(f, "=", true)
	}
	must(&s.Relations[last])
	data, err := json.Marshal(in)
	if err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command("node", "testdata/kiwi.mjs", filepath.Join(modules, "@lume", "kiwi", "dist", "kiwi.js"))
	cmd.Stdin = bytes.NewReader(data)
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatalf("%v\n%s", err, stderr.String())
	}
	var answer struct {
		X       []float64 `json:"x"`
		Seconds float64   `json:"seconds"`
	}
	if err := json.Unmarshal(out, &answer); err != nil {
		t.Fatal(err)
	}
	return answer.X, answer.Seconds
}

// BenchmarkBesideKiwi solves a thousand boxes in a row in three forms and
// reports how many times faster that is than @lume/kiwi in the same run: once
// as a design has them, no size below 0, and once bare, where both are spared
// that rule for every size. Both must find the same, and what we find must hold
// to 1e-6 mm.
func BenchmarkBesideKiwi(b *testing.B) {
	for _, c := range []struct {
		name  string
		build func(int) *solvetest.Shop
	}{{"shared gap", solvetest.BoxesInARow}, {"least gaps and wishes", solvetest.EvenBoxes}, {"redundant readings", solvetest.AgreeingReadings}} {
		for _, bare := range []bool{false, true} {
			name := c.name
			if bare {
				name += ", bare"
			}
			b.Run(name, func(b *testing.B) {
				s := c.build(1000)
				for v := range s.Vars {
					s.Vars[v].Signed = bare
				}
				want, seconds := kiwi(b, s)
				var sol *solve.Solution
				for b.Loop() {
					sol = s.Solve()
				}
				if err := solvetest.HoldsAll(s, sol); err != nil {
					b.Fatal(err)
				}
				for v := range s.Vars {
					if d := math.Abs(sol.Values[v] - want[v]); !(d <= 1e-6) {
						b.Fatalf("%s is %.9g here and %.9g there", s.Vars[v].Name, sol.Values[v], want[v])
					}
				}
				b.ReportMetric(seconds/(b.Elapsed().Seconds()/float64(b.N)), "x-kiwi")
			})
		}
	}
}
