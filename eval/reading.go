package eval

import (
	"math"

	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/unit"
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
	t, ok := b.tool(it, l, values, within, left.kind)
	if !ok {
		return
	}
	b.addReading(it, left, reads, t, s.Span(), short(left.at))
}

// addReading adds the mean of repeated values with its standard uncertainty.
func (b *builder) addReading(it *item, left value, reads []float64, t tool, at source.Span, what string) {
	if t.gauge == 0 {
		// Repeats alone tell nothing of what the tool does wrong every time.
		b.diags.Errorf("gauge", at, "nothing says how surely %s was read", what).
			WithHelp("state what the caliper promises, as in gauge = 0.03, put ± behind the value, or mark it exact")
		return
	}
	n := float64(len(reads))
	r := relation.Reading{Left: left.expr, Bench: it.bench, Repeats: len(reads), Gauge: t.gauge,
		Resolution: t.resolution, Flat: t.flat, At: at, Text: what}
	for _, v := range reads {
		r.Value += t.widen(v) / n
		if t.flat > 0 {
			r.Read += v / n
		}
	}
	if len(reads) > 1 {
		for _, v := range reads {
			d := t.widen(v) - r.Value
			r.Scatter += d * d
		}
		r.Scatter = math.Sqrt(r.Scatter / (n - 1))
	}
	r.U = t.uncertainty(r.Scatter, len(reads))
	b.sys.Readings = append(b.sys.Readings, r)
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

// measuredStock reports whether a stock's thickness was read rather than named:
// several values, ± or a gauge say so.
func (b *builder) measuredStock(it *item) bool {
	_, gauge := it.props["gauge"]
	for _, l := range it.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 || propKey(it.thing.Kind, r.First) != "" {
			continue
		}
		switch r.Rest[0].Value.(type) {
		case *ast.List, *ast.Stated:
			return true
		case *ast.Number:
			if n, ok := r.First.(*ast.Name); ok && n.Dotted() == "thick" && gauge {
				return true
			}
		}
	}
	return false
}
