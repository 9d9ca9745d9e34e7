package solve_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"
)

// Every uncertainty is what comes of moving the readings one by one and
// solving again: u² = the sum of (change per reading times its uncertainty)²
// (JCGM 100:2008, 5.1). Nothing of the propagation itself is used for that.
func TestUncertaintyByMovingReadings(t *testing.T) {
	build := func() *solvetest.Shop {
		s, _ := solvetest.Harbour(4.45, true)
		s.Prefer(s.V("front.box"), relation.Mul(relation.C(0.5), s.V("log.width")), 2)
		s.Prefer(s.V("front.box"), s.V("log.wire.run"), 1)
		s.Le(s.V("front.shelf"), relation.Minus(s.V("front.width"), relation.C(40)))
		s.Prefer(s.V("front.shelf"), relation.C(300), 1)
		s.Own(relation.Add(s.V("front.head"), relation.C(24), s.V("front.tail")), s.V("front.height"))
		s.Standard(s.V("front.head"), s.V("front.tail"))
		s.Eq(relation.Mul(s.V("front.ratio"), s.V("front.width")), s.V("front.height"))
		s.Eq(relation.Mul(s.V("front.side"), s.V("front.side")), relation.Mul(s.V("front.width"), s.V("front.height")))
		return s
	}
	s := build()
	base := s.Solve()
	if !base.OK() {
		t.Fatal(solvetest.Wrongs(s, base))
	}
	sum := make([]float64, len(s.Vars))
	for i := range s.Readings {
		h := s.Readings[i].U / 10
		var at [2][]float64
		for k, sign := range []float64{-1, 1} {
			m := build()
			m.Readings[i].Value += sign * h
			at[k] = m.Solve().Values
		}
		for v := range sum {
			d := (at[1][v] - at[0][v]) / (2 * h) * s.Readings[i].U
			sum[v] += d * d
		}
	}
	moved := 0
	for v := range s.Vars {
		foretest.Near(t, "u("+s.Vars[v].Name+")", base.U[v], math.Sqrt(sum[v]), 1e-6)
		if base.U[v] > 1e-4 {
			moved++
		}
	}
	if moved < 20 {
		t.Errorf("only %d dimensions are uncertain", moved)
	}
}

// randomFacts is a system of limits, wishes and defaults about a notebook's
// sizes, so that much of what they come to moves with the readings.
func randomFacts(seed uint64) *solvetest.Shop {
	r := rand.New(rand.NewPCG(seed, 23))
	s := solvetest.NewShop()
	b := s.Bench("log")
	const read, open = 4, 6
	for i := range read {
		s.Id(fmt.Sprintf("log.m%d", i))
	}
	s.Own(s.V("log.m0"), relation.Add(s.V("log.m1"), s.V("log.m2"))) // so that one reading moves several
	s.Close(b)
	point := []float64{60, 25, 35, 40}
	for i := range read {
		s.Read(b, s.V(fmt.Sprintf("log.m%d", i)), 0.01+0.05*r.Float64(), point[i])
	}
	for i := range open {
		s.Id(fmt.Sprintf("x%d", i))
		point = append(point, math.Round(100+r.Float64()*1000)/10)
	}
	// side is a few terms, with what they come to at the point: of dimensions of
	// the design, and of the notebook too if it is to move.
	side := func(moves bool) (relation.Expr, float64) {
		var parts []relation.Expr
		sum := 0.0
		add := func(v int) {
			k := []float64{1, -1, 1, 2, 0.5}[r.IntN(5)]
			parts, sum = append(parts, relation.Mul(relation.C(k), relation.V(relation.VarID(v)))), sum+k*point[v]
		}
		for range 1 + r.IntN(3) {
			add(read + r.IntN(open))
		}
		if moves {
			add(r.IntN(read))
		}
		return relation.Add(parts...), sum
	}
	for range 1 + r.IntN(3) {
		e, sum := side(true)
		s.Eq(e, relation.C(sum))
	}
	for range 1 + r.IntN(5) {
		e, sum := side(r.IntN(3) > 0)
		s.Ge(e, relation.C(sum-math.Round(r.Float64()*10)))
	}
	for range 1 + r.IntN(4) {
		e, sum := side(r.IntN(2) > 0)
		s.Prefer(e, relation.C(sum+math.Round(r.Float64()*80-60)), float64(1+r.IntN(3)))
	}
	for _, i := range r.Perm(open)[:r.IntN(open+1)] {
		s.Standard(relation.V(relation.VarID(read+i)), relation.C(50))
	}
	return s
}

// The same on random systems, with limits that act in the way of wishes and
// defaults. Where one act and then another as a reading moves, there is no
// slope to compare.
func TestUncertaintyOfRandomWishes(t *testing.T) {
	uncertain, kinks, acting := 0, 0, 0
systems:
	for seed := range uint64(foretest.Sample(200, 40)) {
		s := randomFacts(seed)
		base := s.Solve()
		if len(base.Clashes)+len(base.Tangles)+len(base.Counts) > 0 {
			t.Fatalf("system %d: %s", seed, solvetest.Wrongs(s, base))
		}
		sum := make([]float64, len(s.Vars))
		for i := range s.Readings {
			u := s.Readings[i].U
			h := u / 10
			var at [2][]float64
			for k, sign := range []float64{-1, 1} {
				m := randomFacts(seed)
				m.Readings[i].Value += sign * h
				moved := m.Solve()
				if len(moved.Clashes) > 0 {
					continue systems // it holds with these very readings only
				}
				at[k] = moved.Values
			}
			for v := range sum {
				down, up := base.Values[v]-at[0][v], at[1][v]-base.Values[v]
				if math.Abs(down-up) > 1e-7 {
					sum[v] = math.NaN()
				}
				d := (down + up) / (2 * h) * u
				sum[v] += d * d
			}
		}
		for v := range s.Vars {
			if math.IsNaN(base.Values[v]) {
				continue
			}
			if math.IsNaN(sum[v]) {
				kinks++
				continue
			}
			foretest.Near(t, fmt.Sprintf("system %d: u(%s)", seed, s.Vars[v].Name), base.U[v], math.Sqrt(sum[v]), 1e-6)
			if s.Vars[v].Bench == 0 && base.U[v] > 1e-4 {
				uncertain++
			}
			if base.Cause[v].Kind == solve.ByLimit {
				acting++
			}
		}
	}
	t.Logf("%d uncertain, %d of them at a limit, %d at a kink", uncertain, acting, kinks)
	if uncertain < foretest.Sample(500, 100) || acting < foretest.Sample(150, 40) || kinks > uncertain/10 {
		t.Errorf("%d uncertain, %d of them at a limit, %d at a kink", uncertain, acting, kinks)
	}
}

// What two limits, or a default that stops at limits, leave no room is as
// uncertain as they are.
func TestUncertaintyAtLimits(t *testing.T) {
	s := solvetest.NewShop()
	b := s.Bench("log")
	s.Id("log.width")
	s.Close(b)
	s.Read(b, s.V("log.width"), 0.03, 150)
	u := 0.03 / math.Sqrt(3)
	s.Ge(s.V("a"), relation.Mul(relation.C(2), s.V("log.width")))
	last := s.Le(s.V("a"), relation.Mul(relation.C(2), s.V("log.width")))
	// spine + box + foredge = width, where box is as small as it can be.
	s.Own(relation.Add(s.V("spine"), s.V("box"), s.V("foredge")), s.V("log.width"))
	s.Le(s.V("spine"), relation.C(40))
	s.Le(s.V("foredge"), relation.C(30))
	s.Standard(s.V("box"), relation.C(0))
	sol := s.Solve()
	if !sol.OK() {
		t.Fatal(solvetest.Wrongs(s, sol))
	}
	for _, c := range []struct {
		name     string
		value, u float64
	}{{"a", 300, 2 * u}, {"box", 80, u}, {"spine", 40, 0}, {"foredge", 30, 0}} {
		foretest.Near(t, c.name, s.Value(t, sol, c.name), c.value, 1e-9)
		foretest.Near(t, "u("+c.name+")", sol.U[s.IDs[c.name]], c.u, 1e-12)
		foretest.Near(t, "variance of "+c.name, sol.Covariance(s.V(c.name))[0][0], c.u*c.u, 1e-12)
	}
	if c := sol.Cause[s.IDs["a"]]; c.Kind != solve.ByLimit || c.Index != last-1 {
		t.Errorf("a comes from %+v", c)
	}
}

// Two dimensions that only together follow from what was read: x + y = s and
// x - y = d/x, so x² - (s - x)x = d. By the derivatives of 2x² - sx - d = 0,
// worked out by hand: dx/ds = x/(4x - s), dx/dd = 1/(4x - s).
func TestUncertaintyThroughBlock(t *testing.T) {
	shop := solvetest.NewShop()
	b := shop.Bench("log")
	sum, product := shop.V("log.sum"), shop.V("log.product")
	shop.Close(b)
	shop.Read(b, sum, 0.03, 30)
	shop.Read(b, product, 0.6, 108)
	x, y := shop.V("front.x"), shop.V("front.y")
	shop.Eq(relation.Add(x, y), sum)
	shop.Eq(relation.Mul(x, relation.Minus(x, y)), product)
	sol := shop.Solve()
	if !sol.OK() {
		t.Fatal(solvetest.Wrongs(shop, sol))
	}
	foretest.Near(t, "x", shop.Value(t, sol, "front.x"), 18, 1e-9)
	k := 4*18.0 - 30
	us, ud := 0.03/math.Sqrt(3), 0.6/math.Sqrt(3)
	foretest.Near(t, "u(x)", sol.U[shop.Id("front.x")], math.Hypot(18/k*us, ud/k), 1e-9)
	foretest.Near(t, "u(y)", sol.U[shop.Id("front.y")], math.Hypot((1-18/k)*us, ud/k), 1e-9)
}
