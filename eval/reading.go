package eval

import (
	"math"

	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/unit"
	"foredge/lang/ast"
	"foredge/lang/source"
)

// onlyNumbers reports whether a right side speaks of no name, so that in a
// notebook it is a reading.
func onlyNumbers(e ast.Expr) bool {
	numbers := true
	ast.Walk(e, func(n ast.Node) bool {
		switch n.(type) {
		case *ast.Name, *ast.String, *ast.BadExpr:
			numbers = false
		}
		return numbers
	})
	return numbers
}

// readings compiles a notebook's line whose right side is numbers only: a
// reading, repeated readings, or what was marked exact.
func (b *builder) readings(it *item, l *resolve.Line, s *ast.Relation) {
	left, ok := b.value(s.First, l.Scope)
	if !ok {
		return
	}
	b.reading(it, l, left, s.Rest[0].Value, s)
}

// reading adds what was read of one expression. Counts, and values marked
// exact, are musts.
func (b *builder) reading(it *item, l *resolve.Line, left value, right ast.Expr, s *ast.Relation) {
	values, within, exact := unwrap(right)
	if left.kind == unit.Count || exact {
		if len(values) > 1 && left.kind == unit.Count {
			b.diags.Errorf("reading", right.Span(), "a count is counted once, not read several times").
				WithHelp("state one number")
			return
		}
		for _, e := range values {
			if right, ok := b.value(e, l.Scope); ok {
				b.must(it, l, s, left, ast.Side{Op: ast.Eq, OpAt: s.Rest[0].OpAt}, right)
			}
		}
		return
	}
	if left.plain() {
		b.diags.Errorf("reading", s.Span(), "only lengths and angles can be read").
			WithHelp("state something that a tool can measure")
		return
	}
	if left.kind == unit.Length && left.power != 1 {
		b.diags.Errorf("reading", s.First.Span(), "%s is %s; a caliper reads lengths", short(left.at), left.describe())
		return
	}
	var reads []float64
	for _, e := range values {
		x, ok := b.expr(e, l.Scope, left.kind, short(left.at))
		if !ok {
			return
		}
		v, known := constant(x)
		if !known {
			b.diags.Errorf("reading", e.Span(), "%s gives no number", short(e.Span()))
			return
		}
		if v < 0 && left.kind == unit.Length && left.expr.Op == relation.Ref && !b.sys.Vars[left.expr.Var].Signed {
			b.diags.Errorf("negative", e.Span(), "%s can't be less than 0", short(left.at)).
				WithHelp("measure from the edge inwards; distances have no minus")
			return
		}
		reads = append(reads, v)
	}
	gauge, ok := b.gauge(it, l, within, left.kind)
	if !ok {
		return
	}
	b.addReading(it, left, reads, gauge, s.Span(), right.Span(), short(left.at))
}

// addReading adds the mean of repeated values with its standard uncertainty,
// u² = g²/3 + s²/n (JCGM 100:2008, 4.2.3 and 4.3.7).
func (b *builder) addReading(it *item, left value, reads []float64, gauge float64, line, at source.Span, what string) {
	n := float64(len(reads))
	mean := 0.0
	for _, v := range reads {
		mean += v / n
	}
	scatter := 0.0
	if len(reads) > 1 {
		for _, v := range reads {
			scatter += (v - mean) * (v - mean)
		}
		scatter = math.Sqrt(scatter / (n - 1))
	}
	u := math.Sqrt(gauge*gauge/3 + scatter*scatter/n)
	if gauge == 0 {
		// Repeats alone tell nothing of what the tool does wrong every time.
		b.diags.Errorf("gauge", line, "nothing says how surely %s was read", what).
			WithHelp("state what the caliper promises, as in gauge = 0.03, put ± behind the value, or mark it exact")
		return
	}
	b.sys.Readings = append(b.sys.Readings, relation.Reading{Left: left.expr, Bench: it.bench, Value: mean, U: u,
		Repeats: len(reads), Scatter: scatter, Gauge: gauge, At: line, Text: what})
}

// gauge is the half width g of what the tool promises: the line's own ±, else
// the notebook's gauge, else 0.
func (b *builder) gauge(it *item, l *resolve.Line, within ast.Expr, k unit.Kind) (float64, bool) {
	e, scope, what := within, l.Scope, "what stands behind ±"
	if within == nil {
		for top := it; top != nil; top = top.parent {
			if p, ok := top.props["gauge"]; ok {
				e, scope, what, k = p.value, p.scope, "gauge", unit.Length
				break
			}
		}
	}
	if e == nil {
		return 0, true
	}
	x, ok := b.expr(e, scope, k, what)
	if !ok {
		return 0, false
	}
	g, known := constant(x)
	if !known || g <= 0 {
		b.diags.Errorf("gauge", e.Span(), "%s must be a number above 0", what).
			WithHelp("it is the half width of what the tool promises, as in gauge = 0.03")
		return 0, false
	}
	return g, true
}

// unwrap takes a right side apart into its values and what is said of them.
func unwrap(e ast.Expr) (values []ast.Expr, within ast.Expr, exact bool) {
	if st, ok := e.(*ast.Stated); ok {
		within, exact, e = st.Within, st.Exact, st.X
	}
	if list, ok := e.(*ast.List); ok {
		return list.Elems, within, exact
	}
	return []ast.Expr{e}, within, exact
}

// measuredStock reports whether a stock's thickness was read rather than named.
func (b *builder) measuredStock(it *item) bool {
	_, gauge := it.props["gauge"]
	for _, l := range it.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 {
			continue
		}
		switch v := r.Rest[0].Value.(type) {
		case *ast.List:
			return true
		case *ast.Stated:
			return true
		case *ast.Number:
			if n, ok := r.First.(*ast.Name); ok && n.Dotted() == "thick" && gauge {
				return true
			}
			_ = v
		}
	}
	return false
}
