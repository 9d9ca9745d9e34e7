package solve_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/solvetest"
	"foredge/lang/foretest"

	"gonum.org/v1/gonum/mat"
)

// A truth is a design made from known values: its dimensions and the kinds'
// own relations, with nothing stated yet.
type truth struct {
	*solvetest.Shop
	value []float64
	rng   *rand.Rand
}

func (w *truth) set(name string, v float64) float64 {
	id := w.Id(name)
	for len(w.value) <= int(id) {
		w.value = append(w.value, 0)
	}
	w.value[id] = v
	return v
}

// newTruth makes up a panel with rows and boxes.
func newTruth(seed uint64) *truth {
	w := &truth{Shop: solvetest.NewShop(), rng: rand.New(rand.NewPCG(seed, 7))}
	r := w.rng
	between := func(a, b float64) float64 { return a + r.Float64()*(b-a) }
	height := w.set("front.height", 0)
	width := w.set("front.width", between(80, 300))
	for i := range 1 + r.IntN(3) {
		name := fmt.Sprintf("front.row%d", i+1)
		n := 2 + r.IntN(40)
		hole, web := between(1, 8), between(1, 6)
		first, last := between(2, 20), between(2, 20)
		if i > 0 { // later rows fit the height that the first gave
			last = height - first - hole - float64(n-1)*(hole+web)
			if last < 0 {
				continue
			}
		}
		w.set(name+".count", float64(n))
		w.set(name+".hole.along", hole)
		w.set(name+".web", web)
		w.set(name+".pitch", hole+web)
		w.set(name+".run", float64(n-1)*(hole+web))
		w.set(name+".first", first)
		w.set(name+".last", last)
		if i == 0 {
			height = w.set("front.height", first+hole+float64(n-1)*(hole+web)+last)
		}
		w.Row(name, "front.height")
	}
	for i := range r.IntN(4) {
		name := fmt.Sprintf("front.box%d", i+1)
		for _, d := range []struct {
			near, size, far, all string
			length               float64
		}{{"head", "height", "tail", "front.height", height}, {"spine", "width", "foredge", "front.width", width}} {
			a, b := between(0, d.length/2), between(0, d.length/2)
			w.set(name+"."+d.near, a)
			w.set(name+"."+d.far, b)
			w.set(name+"."+d.size, d.length-a-b)
			w.Own(relation.Add(w.V(name+"."+d.near), w.V(name+"."+d.size), w.V(name+"."+d.far)), w.V(d.all))
		}
	}
	return w
}

// random is a line that is true of the values: a dimension stated, or one by
// others.
func (w *truth) random() (left, right relation.Expr) {
	pick := func() relation.VarID { return relation.VarID(w.rng.IntN(len(w.Vars))) }
	v := pick()
	left = relation.V(v)
	if w.Vars[v].Whole || w.rng.IntN(3) > 0 {
		return left, relation.C(w.value[v])
	}
	a, b := pick(), pick()
	k := float64(1+w.rng.IntN(8)) / 4
	sum := relation.Add(relation.Mul(relation.C(k), relation.V(a)), relation.Div(relation.V(b), relation.C(3)))
	rest := w.value[v] - sum.Eval(w.value)
	return left, relation.Add(sum, relation.C(rest))
}

// rank is the number of independent equations at the true values, by singular
// values: nothing of the package is used for it.
func (w *truth) rank() int {
	m, n := len(w.Relations), len(w.Vars)
	a := mat.NewDense(max(m, 1), n, nil)
	for i := range w.Relations {
		_, terms := w.Relations[i].Gradient(w.value)
		norm := 0.0
		for _, t := range terms {
			norm = max(norm, t.Coef, -t.Coef)
		}
		for _, t := range terms {
			a.Set(i, int(t.Var), t.Coef/norm)
		}
	}
	var svd mat.SVD
	svd.Factorize(a, mat.SVDNone)
	rank := 0
	for _, s := range svd.Values(nil) {
		if s > 1e-9 {
			rank++
		}
	}
	return rank
}

// A thousand designs, each made by hiding most of what is known and stating
// some of it twice, are solved back.
func TestRandomDesigns(t *testing.T) {
	n := uint64(1000)
	if testing.Short() {
		n = 100
	}
	for seed := range n {
		w := newTruth(seed)
		for rank := w.rank(); rank < len(w.Vars); {
			l, r := w.random()
			w.Eq(l, r)
			next := w.rank()
			if next == rank && w.rng.IntN(4) > 0 { // mostly what tells something new
				w.Relations = w.Relations[:len(w.Relations)-1]
			}
			rank = next
		}
		for range w.rng.IntN(5) {
			w.Eq(w.random())
		}
		w.rng.Shuffle(len(w.Relations), func(i, j int) {
			w.Relations[i], w.Relations[j] = w.Relations[j], w.Relations[i]
		})
		sol := w.Solve()
		if !sol.OK() {
			t.Errorf("design %d: %s", seed, solvetest.Wrongs(w.Shop, sol))
			continue
		}
		for v := range w.Vars {
			foretest.Near(t, fmt.Sprintf("design %d: %s", seed, w.Vars[v].Name), sol.Values[v], w.value[v], 1e-6)
		}
		solvetest.CheckCauses(t, w.Shop, sol)
	}
}
