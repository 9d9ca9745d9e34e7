package solve_test

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
)

// Designs of n pieces that have nothing to do with each other, of several
// kinds: the time for them should grow as n.
var pieces = []struct {
	name  string
	add   func(s *solvetest.Shop, piece string)
	check func(s *solvetest.Shop, sol *solve.Solution, n int) error
}{
	{"notebooks", func(s *solvetest.Shop, piece string) {
		b := s.Bench(piece)
		v := func(d string) relation.Expr { return s.V(piece + "." + d) }
		s.Own(v("height"), relation.Add(v("head"), v("box"), v("tail")))
		s.Own(v("area"), relation.Mul(v("height"), v("box")))
		s.Close(b)
		s.Read(b, v("height"), 0.05, 210)
		s.Read(b, v("head"), 0.05, 30.1)
		s.Read(b, v("box"), 0.05, 150)
		s.Read(b, v("tail"), 0.05, 30)
		s.Eq(s.V("cover "+piece), relation.Add(v("box"), v("head")))
	}, solved},
	{"counts", func(s *solvetest.Shop, piece string) {
		s.Row(piece, piece+".edge")
		s.Vars[s.Id(piece+".count")].Most = true
		s.Is(piece+".edge", 297)
		s.Is(piece+".pitch", 25.4/3)
		s.Is(piece+".hole.along", 4)
		s.Ge(s.V(piece+".first"), relation.C(5))
		s.Standard(s.V(piece+".first"), s.V(piece+".last"))
	}, solved},
	{"wishes", func(s *solvetest.Shop, piece string) {
		s.Prefer(s.V(piece+".width"), relation.C(225), 1)
		s.Prefer(s.V(piece+".height"), relation.C(305), 1)
		s.Le(s.V(piece+".width"), relation.C(215))
		s.Eq(s.V(piece+".height"), relation.Mul(s.V(piece+".width"), relation.C(math.Sqrt2)))
	}, solved},
	{"products", func(s *solvetest.Shop, piece string) {
		s.Eq(relation.Mul(s.V(piece+".width"), s.V(piece+".height")), relation.C(60000))
		s.Eq(s.V(piece+".grid"), relation.Mul(s.V(piece+".width"), relation.C(0.25)))
		s.Standard(s.V(piece+".grid"), relation.C(50))
	}, solved},
	{"chains of products", func(s *solvetest.Shop, piece string) {
		v := func(d string) relation.Expr { return s.V(piece + "." + d) }
		s.Eq(relation.Mul(v("width"), v("height")), relation.C(60000))
		s.Eq(relation.Mul(v("height"), v("depth")), relation.Mul(v("flap"), v("slot")))
		s.Eq(v("grid"), relation.Add(v("slot"), v("rest")))
		s.Le(v("rest"), relation.Mul(v("flap"), v("flap")))
		s.Standard(v("rest"), v("slot")) // joins without setting a product free
		s.Standard(v("depth"), relation.C(20))
		s.Standard(v("width"), relation.C(240))
		s.Standard(v("grid"), relation.C(50))
		s.Standard(v("flap"), relation.C(100))
	}, solved},
	{"clashes", func(s *solvetest.Shop, piece string) {
		s.Own(s.V(piece+".height"), relation.Add(s.V(piece+".head"), s.V(piece+".box"), s.V(piece+".tail")))
		s.Is(piece+".height", 210)
		s.Is(piece+".head", 30)
		s.Ge(s.V(piece+".box"), relation.C(155))
		s.Is(piece+".tail", 30)
	}, func(s *solvetest.Shop, sol *solve.Solution, n int) error {
		if len(sol.Clashes) != n || len(sol.Clashes[n-1].Relations) != 4 {
			return fmt.Errorf("%d clashes for %d", len(sol.Clashes), n)
		}
		return nil
	}},
}

func solved(s *solvetest.Shop, sol *solve.Solution, _ int) error { return solvetest.HoldsAll(s, sol) }

func piecesOf(add func(*solvetest.Shop, string), n int) *solvetest.Shop {
	s := solvetest.NewShop()
	for i := range n {
		addPiece(s, add, fmt.Sprintf("piece%d", i))
	}
	return s
}

// addPiece adds a piece, its defaults of the ranks of all others'.
func addPiece(s *solvetest.Shop, add func(*solvetest.Shop, string), name string) {
	first := len(s.Defaults)
	add(s, name)
	for i := first; i < len(s.Defaults); i++ {
		s.Defaults[i].Rank = i - first
	}
}

// A piece comes out the same whether it is solved by itself or among others.
func TestPiecesAmongOthers(t *testing.T) {
	all := solvetest.NewShop()
	for i := range 3 {
		for _, p := range pieces {
			addPiece(all, p.add, fmt.Sprintf("%s%d", p.name, i))
		}
	}
	among := all.Solve()
	for _, p := range pieces {
		s := solvetest.NewShop()
		addPiece(s, p.add, p.name+"1")
		alone := s.Solve()
		if err := p.check(s, alone, 1); err != nil {
			t.Errorf("%s: %v", p.name, err)
		}
		for name, v := range s.IDs {
			w := all.IDs[name]
			if a, b := alone.Values[v], among.Values[w]; a != b && !(math.IsNaN(a) && math.IsNaN(b)) {
				t.Errorf("%s is %.17g alone and %.17g among others", name, a, b)
			}
			if a, b := alone.U[v], among.U[w]; a != b {
				t.Errorf("u(%s) is %g alone and %g among others", name, a, b)
			}
			if a, b := alone.From[v], among.From[w]; a != b || alone.Cause[v].Kind != among.Cause[w].Kind {
				t.Errorf("%s comes from %v %v alone and %v %v among others", name, a, alone.Cause[v], b, among.Cause[w])
			}
		}
	}
	if len(among.Clashes) != 3 || len(among.Tangles) > 0 || len(among.Counts) > 0 {
		t.Error(solvetest.Wrongs(all, among))
	}
}

// BenchmarkPieces solves 10, 100 and 1,000 pieces and reports each time over
// that of 10, which linear growth keeps at 1, 10 and 100.
func BenchmarkPieces(b *testing.B) {
	for _, p := range pieces {
		ten := 0.0
		for _, n := range []int{10, 100, 1000} {
			s := piecesOf(p.add, n)
			b.Run(fmt.Sprintf("%s/%d", p.name, n), func(b *testing.B) {
				for b.Loop() {
					if err := p.check(s, s.Solve(), n); err != nil {
						b.Fatal(err)
					}
				}
				each := b.Elapsed().Seconds() / float64(b.N)
				if n == 10 {
					ten = each
				}
				if ten > 0 {
					b.ReportMetric(each/ten, "x-ten")
				}
			})
		}
	}
}
