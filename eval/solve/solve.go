package solve

import (
	"context"

	"foredge/eval/relation"
	"foredge/eval/solve/adjust"
	"foredge/eval/solve/level"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
)

// Solve finds the values of all dimensions of a system. It does not change the
// system, keeps nothing of it, and gives the same answer each time.
func Solve(sys *relation.System) *Solution { return Within(context.Background(), sys) }

// Within is [Solve] for as long as a context lasts. Of a system that takes more
// work than one may, or longer than that, the solution holds nothing but Spent.
func Within(ctx context.Context, sys *relation.System) (sol *Solution) {
	defer func() {
		switch p := recover().(type) {
		case nil:
		case must.Spent:
			sol = emptySolution(len(sys.Vars))
			sol.Spent = &p
		default:
			panic(p)
		}
	}()
	p := plan.Of(sys)
	s := must.NewSolver(ctx, p)
	t := &telling{sol: emptySolution(len(sys.Vars))}
	adj := adjust.New(s)
	var wished []*level.Design
	for i := range sys.Benches {
		b := adj.Next()
		t.bench(b)
		b.Close()
		if len(p.Wishes[i+1]) > 0 {
			wished = append(wished, level.Bench(s, adj, i+1))
		}
	}
	limitTogether(t.sol.Benches)
	t.Design = level.New(s, adj, wished)
	for r, broken := range p.Broken {
		if broken {
			t.sol.Tangles = append(t.sol.Tangles, Tangle{Vars: p.Sound(r), Relations: []int{r}})
		}
	}
	t.musts()
	t.Design.Later()
	t.sol.Counts = append(t.sol.Counts, countProblems(t.NotWhole)...)
	t.collect()
	t.givenUp(wished)
	t.verify()
	known := len(t.Pinned)
	t.freedom()
	t.verifyPinned(t.Pinned[known:])
	t.explain()
	return t.sol
}
