package solve_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"testing"
	"time"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"

	"gonum.org/v1/gonum/mat"
)

// panelOf makes up a panel with rows, boxes and the lines that say true things
// of it; counts are given by relations of the kinds' own, so that all is
// linear.
type panelOf struct {
	*solvetest.Shop
	value map[relation.VarID]float64
	rng   *rand.Rand
	vars  []relation.VarID
}

func (p *panelOf) set(name string, v float64) relation.Expr {
	id := p.Id(name)
	if _, ok := p.value[id]; !ok {
		p.vars = append(p.vars, id)
	}
	p.value[id] = v
	return relation.V(id)
}

func (p *panelOf) make(panel string) {
	r := p.rng
	between := func(a, b float64) float64 { return math.Round(10*(a+r.Float64()*(b-a))) / 10 }
	for i := range 2 {
		name := fmt.Sprintf("%s.row%d", panel, i+1)
		edge := fmt.Sprintf("%s.edge%d", panel, i+1)
		n := 5 + r.IntN(20)
		hole, web, first, last := between(2, 6), between(2, 6), between(3, 20), between(3, 20)
		p.set(name+".hole.along", hole)
		p.set(name+".web", web)
		p.set(name+".pitch", hole+web)
		p.set(name+".run", float64(n-1)*(hole+web))
		p.set(name+".first", first)
		p.set(name+".last", last)
		p.set(edge, first+hole+float64(n-1)*(hole+web)+last)
		p.Row(name, edge)
		p.Own(p.V(name+".count"), relation.C(float64(n)))
	}
	for i := range 6 {
		name := fmt.Sprintf("%s.box%d", panel, i+1)
		a, b, c := between(0, 60), between(0, 60), between(0, 60)
		p.Own(relation.Add(p.set(name+".head", a), p.set(name+".height", b), p.set(name+".tail", c)), p.set(name+".all", a+b+c))
	}
}

// trueLine states something that holds.
func (p *panelOf) trueLine() {
	r := p.rng
	pick := func() relation.VarID { return p.vars[r.IntN(len(p.vars))] }
	a, b := pick(), pick()
	left, right, rest := relation.V(a), relation.Expr{}, p.value[a]
	if r.IntN(2) == 0 && a != b {
		right = relation.Mul(relation.C(0.5), relation.V(b))
		rest -= p.value[b] / 2
	} else {
		right = relation.C(0)
	}
	switch r.IntN(4) {
	case 0:
		p.Eq(left, relation.Add(right, relation.C(rest)))
	case 1, 2:
		p.Ge(left, relation.Add(right, relation.C(rest-float64(r.IntN(6)))))
	default:
		p.Le(left, relation.Add(right, relation.C(rest+float64(r.IntN(6)))))
	}
	if r.IntN(3) == 0 {
		p.Relations[len(p.Relations)-1].Inherited = "front"
	}
}

// measured makes two lengths of the panel facts of a notebook.
func (p *panelOf) measured(panel string) {
	name := "log of " + panel
	b := p.Bench(name)
	of := []string{panel + ".box1.all", panel + ".edge2"}
	for _, d := range of {
		p.Fact(p.V(d), p.V(name+"."+d))
	}
	p.Close(b)
	for _, d := range of {
		p.Read(b, p.V(name+"."+d), 0.03, p.value[p.IDs[d]])
	}
}

// clashWithFact adds n lines that lead away from a measured length, to where
// the last of them doesn't allow.
func (p *panelOf) clashWithFact(panel string, n int) {
	r := p.rng
	at := p.Id(panel + ".box1.all")
	end := p.value[at]
	for _, next := range r.Perm(len(p.vars))[:n-1] {
		if p.vars[next] == at {
			continue
		}
		step := float64(1 + r.IntN(5))
		p.Ge(relation.V(p.vars[next]), relation.Add(relation.V(at), relation.C(step)))
		at, end = p.vars[next], end+step
	}
	p.Le(relation.V(at), relation.C(end-float64(1+r.IntN(5))))
}

// clash adds n lines that go round in a circle and don't close.
func (p *panelOf) clash(n int) {
	r := p.rng
	perm := r.Perm(len(p.vars))[:n]
	sum := 0.0
	for i := range n {
		a, b := p.vars[perm[i]], p.vars[perm[(i+1)%n]]
		step := math.Round(p.value[b] - p.value[a])
		if i == n-1 {
			step = -sum + 1 + float64(r.IntN(5))
		}
		sum += step
		left, right := relation.V(b), relation.Add(relation.V(a), relation.C(step))
		switch {
		case i == 0 || r.IntN(2) == 0:
			p.Ge(left, right)
		case r.IntN(2) == 0:
			p.Le(right, left)
		default:
			p.Eq(left, right)
		}
	}
}

func clashing(seed uint64) (*solvetest.Shop, int) {
	s := solvetest.NewShop()
	rng := rand.New(rand.NewPCG(seed, 3))
	fronts := 1 + rng.IntN(2)
	for i := range fronts {
		p := &panelOf{Shop: s, value: map[relation.VarID]float64{}, rng: rng}
		panel := []string{"front", "back"}[i]
		p.make(panel)
		p.measured(panel)
		n := 2 + rng.IntN(7)
		for range 100/fronts - n {
			p.trueLine()
		}
		if rng.IntN(3) == 0 {
			p.clashWithFact(panel, n)
		} else {
			p.clash(n)
		}
	}
	rng.Shuffle(len(s.Relations), func(i, j int) { s.Relations[i], s.Relations[j] = s.Relations[j], s.Relations[i] })
	return s, fronts
}

type sparseRow [3]any

func rowOf(s *solvetest.Shop, r int) sparseRow {
	rel := &s.Relations[r]
	f, ok := rel.Difference(func(v relation.VarID) (float64, bool) {
		if !s.Vars[v].Whole {
			return 0, false
		}
		for _, x := range s.Relations {
			if x.Role == relation.Own && x.Left.Op == relation.Ref && x.Left.Var == v && x.Right.Op == relation.Const {
				return x.Right.Value, true
			}
		}
		return 0, false
	})
	if !ok {
		panic("not linear")
	}
	terms := map[string]float64{}
	for _, t := range f.Terms {
		terms[strconv.Itoa(int(t.Var))] = t.Coef
	}
	return sparseRow{terms, [...]string{"=", ">", "<"}[rel.Sign], -f.Const}
}

// Clashing designs: each reported set is a clash, and without any one of its
// lines it is none, by SciPy's HiGHS.
func TestClashesAgainstSciPy(t *testing.T) {
	n := uint64(40)
	if foretest.CI() {
		n = 300
	}
	type set struct {
		N       int         `json:"n"`
		Own     []sparseRow `json:"own"`
		Members []sparseRow `json:"members"`
	}
	var sets []set
	var names []string
	sizes, readings, inherited := map[int]int{}, 0, 0
	for seed := range n {
		s, fronts := clashing(seed)
		sol := s.Solve()
		if len(sol.Clashes) < fronts {
			t.Errorf("design %d: %d clashes found of %d", seed, len(sol.Clashes), fronts)
		}
		var own []sparseRow
		for r := range s.Relations {
			if s.Relations[r].Role.Background() {
				own = append(own, rowOf(s, r))
			}
		}
		panels := map[string]bool{}
		for _, c := range sol.Clashes {
			x := set{N: len(s.Vars), Own: own}
			for _, r := range c.Relations {
				x.Members = append(x.Members, rowOf(s, r))
				if s.Relations[r].Inherited != "" {
					inherited++
				}
				panels[s.Vars[s.Relations[r].Vars()[0]].Name[:4]] = true
			}
			for _, r := range c.Carried.Readings { // each is of one dimension
				readings++
				at := s.Readings[r].Left.Var
				x.Members = append(x.Members, sparseRow{map[string]float64{strconv.Itoa(int(at)): 1}, "=", sol.Values[at]})
			}
			if !slices.IsSortedFunc(c.Relations, func(a, b int) int {
				return s.Relations[a].At.Start - s.Relations[b].At.Start
			}) {
				t.Errorf("design %d: %v is not in source order", seed, c.Relations)
			}
			if !(c.Miss > 0) {
				t.Errorf("design %d: clash %+v has no miss", seed, c)
			}
			sizes[len(x.Members)]++
			sets = append(sets, x)
			names = append(names, fmt.Sprintf("design %d: clash %v", seed, c.Relations))
		}
		if len(panels) < fronts {
			t.Errorf("design %d: clashes in %v only", seed, panels)
		}
	}
	t.Logf("sizes %v, %d readings, %d inherited lines among them", sizes, readings, inherited)
	if readings < int(n)/5 || inherited < int(n)/5 {
		t.Errorf("only %d readings and %d inherited lines are members", readings, inherited)
	}
	var answers []struct {
		All     bool
		Without []bool
	}
	foretest.AskScript(t, "testdata/clashes.py", sets, &answers, "scipy.optimize")
	for i, a := range answers {
		if a.All {
			t.Errorf("%s is no clash", names[i])
		}
		for k, ok := range a.Without {
			if !ok {
				t.Errorf("%s is one without its line %d too", names[i], k)
			}
		}
	}
}

// Equations that only together contradict each other, found by elimination:
// the set is a clash, and none without any one of its lines, by the ranks of
// the lines with and without their right sides (Rouché and Capelli).
func TestClashOfCoupledEquations(t *testing.T) {
	sizes := map[int]int{}
	for seed := range uint64(300) {
		r := rand.New(rand.NewPCG(seed, 29))
		s := solvetest.NewShop()
		n := 4 + r.IntN(8)
		point := make([]float64, n)
		for i := range point {
			s.Signed(fmt.Sprintf("x%d", i))
			point[i] = math.Round(100 * r.Float64())
		}
		var rows [][]float64
		for range n + 3 {
			row := make([]float64, n+1)
			var parts []relation.Expr
			for _, i := range r.Perm(n)[:2+r.IntN(3)] {
				row[i] = []float64{1, -1, 2, 0.5}[r.IntN(4)]
				row[n] += row[i] * point[i]
				parts = append(parts, relation.Mul(relation.C(row[i]), relation.V(relation.VarID(i))))
			}
			if len(rows) == n/2 {
				row[n] += 1 + float64(r.IntN(9))
			}
			rows = append(rows, row)
			s.Eq(relation.Add(parts...), relation.C(row[n]))
		}
		rank := func(set []int, columns int) int {
			if len(set) == 0 {
				return 0
			}
			a := mat.NewDense(len(set), columns, nil)
			for i, k := range set {
				for c := range columns {
					a.Set(i, c, rows[k][c]/100)
				}
			}
			var svd mat.SVD
			svd.Factorize(a, mat.SVDNone)
			return svd.Rank(1e-9)
		}
		holds := func(set []int) bool { return rank(set, n) == rank(set, n+1) }
		all := make([]int, len(rows))
		for i := range all {
			all[i] = i
		}
		sol := s.Solve()
		if (len(sol.Clashes) == 0) != holds(all) {
			t.Errorf("system %d: %s, but they hold: %t", seed, solvetest.Wrongs(s, sol), holds(all))
		}
		for _, c := range sol.Clashes {
			sizes[len(c.Relations)]++
			if holds(c.Relations) {
				t.Errorf("system %d: %v is no clash", seed, c.Relations)
			}
			for i := range c.Relations {
				if !holds(slices.Delete(slices.Clone(c.Relations), i, i+1)) {
					t.Errorf("system %d: %v is one without its line %d too", seed, c.Relations, i)
				}
			}
		}
	}
	t.Logf("sizes %v", sizes)
	if sizes[4]+sizes[5]+sizes[6] < 50 {
		t.Errorf("sizes %v", sizes)
	}
}

// A report of clashes beside a solve of the same design with the last line of
// each clash left out, all together and for the design with the largest ratio.
func BenchmarkClash(b *testing.B) {
	const designs = 20
	var broken, mended []*solvetest.Shop
	for seed := range uint64(designs) {
		s, _ := clashing(seed)
		sol := s.Solve()
		m, _ := clashing(seed)
		out := map[int]bool{}
		for len(sol.Clashes) > 0 {
			for _, c := range sol.Clashes {
				out[c.Relations[len(c.Relations)-1]] = true
			}
			m.Relations = nil
			for r, rel := range s.Relations {
				if !out[r] {
					m.Relations = append(m.Relations, rel)
				} else {
					m.Relations = append(m.Relations, relation.Relation{Left: relation.C(0), Right: relation.C(0)})
				}
			}
			sol = m.Solve()
		}
		broken, mended = append(broken, s), append(mended, m)
	}
	report, solve := make([]float64, designs), make([]float64, designs)
	for b.Loop() {
		for i := range designs {
			start := time.Now()
			if len(broken[i].Solve().Clashes) == 0 {
				b.Fatalf("design %d has no clash", i)
			}
			between := time.Now()
			if len(mended[i].Solve().Clashes) > 0 {
				b.Fatalf("design %d still has a clash", i)
			}
			report[i] += between.Sub(start).Seconds()
			solve[i] += time.Since(between).Seconds()
		}
	}
	reports, solves, worst := 0.0, 0.0, 0.0
	for i := range designs {
		reports, solves = reports+report[i], solves+solve[i]
		worst = max(worst, report[i]/solve[i])
	}
	b.ReportMetric(reports/solves, "x-mended")
	b.ReportMetric(worst, "x-worst")
}

// Of a notebook's conflicts that share a line one is told with all its lines;
// the next that shares none is told so too.
func TestClashAfterASharedLine(t *testing.T) {
	s := solvetest.NewShop()
	b := s.Bench("log")
	first := s.Is("log.a", 1)
	s.Is("log.a", 2)
	s.Is("log.a", 3)
	other := s.Is("log.b", 1)
	s.Is("log.b", 2)
	s.Close(b)
	sol := s.Solve()
	for _, lines := range [][]int{{first, first + 1}, {other, other + 1}} {
		if !slices.ContainsFunc(sol.Clashes, func(c solve.Clash) bool { return slices.Equal(c.Relations, lines) }) {
			t.Errorf("lines %v don't clash: %s", lines, solvetest.Wrongs(s, sol))
		}
	}
}
