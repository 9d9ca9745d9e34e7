package must

import (
	"math"
	"testing"

	"foredge/eval/relation"
	"foredge/eval/solve/sparse"
)

// A long sum that is split says of its terms what it said before: with the sums
// between taken from the parts, one after another, the last has its value.
func TestSplitRow(t *testing.T) {
	const n = longRow + 5
	row := sparse.Affine{Const: -7}
	x, want := make([]float64, n), -7.0
	for i := range x {
		x[i] = float64(1 + i*i%11)
		k := float64(i%3) - 1.5
		row.Terms = append(row.Terms, sparse.Term{At: int32(i), Coef: k})
		want += k * x[i]
	}
	cols := make([]relation.VarID, n)
	parts := splitRow(&row, &cols)
	if len(cols) != n+len(parts) || len(row.Terms) > 3 {
		t.Fatalf("%d parts for %d columns, and %d terms left", len(parts), len(cols)-n, len(row.Terms))
	}
	value := func(a sparse.Affine) float64 {
		sum := a.Const
		for i, term := range a.Terms {
			sum += term.Coef * x[term.At]
			if i > 0 && term.At <= a.Terms[i-1].At {
				t.Fatalf("the columns of %v are not in order", a.Terms)
			}
		}
		return sum
	}
	for _, p := range parts {
		last := p.Terms[len(p.Terms)-1]
		x = append(x, 0)
		if int(last.At) != len(x)-1 || len(p.Terms) > 3 {
			t.Fatalf("%v doesn't give column %d", p.Terms, len(x)-1)
		}
		x[last.At] = -value(p) / last.Coef
	}
	if got := value(row); math.Abs(got-want) > 1e-9 {
		t.Errorf("%v, want %v", got, want)
	}
	short := sparse.Affine{Terms: row.Terms}
	if splitRow(&short, &cols) != nil {
		t.Error("a short sum is split")
	}
}
