package solve

import (
	"fmt"
	"math"
	"testing"

	"foredge/eval/relation"
)

// Designs of n pieces that have nothing to do with each other, of several
// kinds: the time for them should grow as n.
var pieces = []struct {
	name  string
	add   func(s *shop, piece string)
	check func(s *shop, sol *Solution, n int) error
}{
	{"notebooks", func(s *shop, piece string) {
		b := s.bench(piece)
		v := func(d string) relation.Expr { return s.v(piece + "." + d) }
		s.own(v("height"), relation.Add(v("head"), v("box"), v("tail")))
		s.own(v("area"), relation.Mul(v("height"), v("box")))
		s.close(b)
		s.read(b, v("height"), 0.05, 210)
		s.read(b, v("head"), 0.05, 30.1)
		s.read(b, v("box"), 0.05, 150)
		s.read(b, v("tail"), 0.05, 30)
		s.eq(s.v("cover "+piece), relation.Add(v("box"), v("head")))
	}, solved},
	{"counts", func(s *shop, piece string) {
		s.row(piece, piece+".edge")
		s.Vars[s.id(piece+".count")].Most = true
		s.is(piece+".edge", 297)
		s.is(piece+".pitch", 25.4/3)
		s.is(piece+".hole.along", 4)
		s.ge(s.v(piece+".first"), relation.C(5))
		s.standard(s.v(piece+".first"), s.v(piece+".last"))
	}, solved},
	{"wishes", func(s *shop, piece string) {
		s.prefer(s.v(piece+".width"), relation.C(225), 1)
		s.prefer(s.v(piece+".height"), relation.C(305), 1)
		s.le(s.v(piece+".width"), relation.C(215))
		s.eq(s.v(piece+".height"), relation.Mul(s.v(piece+".width"), relation.C(math.Sqrt2)))
	}, solved},
	{"products", func(s *shop, piece string) {
		s.eq(relation.Mul(s.v(piece+".width"), s.v(piece+".height")), relation.C(60000))
		s.eq(s.v(piece+".grid"), relation.Mul(s.v(piece+".width"), relation.C(0.25)))
		s.standard(s.v(piece+".grid"), relation.C(50))
	}, solved},
	{"chains of products", func(s *shop, piece string) {
		v := func(d string) relation.Expr { return s.v(piece + "." + d) }
		s.eq(relation.Mul(v("width"), v("height")), relation.C(60000))
		s.eq(relation.Mul(v("height"), v("depth")), relation.Mul(v("flap"), v("slot")))
		s.eq(v("grid"), relation.Add(v("slot"), v("rest")))
		s.le(v("rest"), relation.Mul(v("flap"), v("flap")))
		s.standard(v("rest"), v("slot")) // joins without setting a product free
		s.standard(v("depth"), relation.C(20))
		s.standard(v("width"), relation.C(240))
		s.standard(v("grid"), relation.C(50))
		s.standard(v("flap"), relation.C(100))
	}, solved},
	{"clashes", func(s *shop, piece string) {
		s.own(s.v(piece+".height"), relation.Add(s.v(piece+".head"), s.v(piece+".box"), s.v(piece+".tail")))
		s.is(piece+".height", 210)
		s.is(piece+".head", 30)
		s.ge(s.v(piece+".box"), relation.C(155))
		s.is(piece+".tail", 30)
	}, func(s *shop, sol *Solution, n int) error {
		if len(sol.Clashes) != n || len(sol.Clashes[n-1].Relations) != 4 {
			return fmt.Errorf("%d clashes for %d", len(sol.Clashes), n)
		}
		return nil
	}},
}

func solved(s *shop, sol *Solution, _ int) error { return holdsAll(s, sol) }

func piecesOf(add func(*shop, string), n int) *shop {
	s := newShop()
	for i := range n {
		add(s, fmt.Sprintf("piece%d", i))
	}
	return s
}

// A piece comes out the same whether it is solved by itself or among others.
func TestPiecesAmongOthers(t *testing.T) {
	all := newShop()
	for i := range 3 {
		for _, p := range pieces {
			p.add(all, fmt.Sprintf("%s%d", p.name, i))
		}
	}
	among := all.solve()
	for _, p := range pieces {
		s := newShop()
		p.add(s, p.name+"1")
		alone := s.solve()
		if err := p.check(s, alone, 1); err != nil {
			t.Errorf("%s: %v", p.name, err)
		}
		for name, v := range s.ids {
			w := all.ids[name]
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
		t.Error(wrongs(all, among))
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
					if err := p.check(s, s.solve(), n); err != nil {
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
