package compile

import (
	"fmt"
	"math"

	"foredge/eval/caliper"
	"foredge/eval/dim"
	"foredge/eval/expr"
	"foredge/eval/model"
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
func (c *compiler) readings(d *draft, l *resolve.Line, s *ast.Relation) {
	if left, ok := c.Subject(s.First, l.Scope); ok {
		c.reading(d, l, left, s.Rest[0].Value, s)
	}
}

// reading adds what was read of one expression. Counts, and values marked
// exact, are musts.
func (c *compiler) reading(d *draft, l *resolve.Line, left expr.Value, right ast.Expr, s *ast.Relation) {
	values, within, exact := unwrap(right)
	if left.Kind == unit.Count || exact {
		c.exactly(d, l, left, values, s)
		return
	}
	if left.Plain() {
		c.Diags.Errorf("reading", s.Span(), "only lengths and angles can be read").
			WithHelp("state something that a tool can measure")
		return
	}
	if left.Kind == unit.Length && left.Power != 1 {
		c.Diags.Errorf("reading", s.First.Span(), "%s is %s; a caliper reads lengths", left.At.Short(), left.Describe())
		return
	}
	var reads []float64
	for _, e := range values {
		v, ok := c.readValue(e, l.Scope, left)
		if !ok {
			return
		}
		reads = append(reads, v)
	}
	if tool, ok := c.tool(d, l, values, within, left.Kind); ok {
		c.addReading(d, left, reads, tool, s.Span(), left.At.Short())
	}
}

// exactly adds a count, or values that are marked exact.
func (c *compiler) exactly(d *draft, l *resolve.Line, left expr.Value, values []ast.Expr, s *ast.Relation) {
	if len(values) > 1 && left.Kind == unit.Count {
		c.Diags.Errorf("reading", s.Rest[0].Value.Span(), "a count is counted once, not read several times").
			WithHelp("state one number")
		return
	}
	for _, e := range values {
		if right, ok := c.Value(e, l.Scope); ok {
			c.must(d, l, s, left, ast.Side{Op: ast.Eq, OpAt: s.Rest[0].OpAt}, right)
		}
	}
}

// readValue is one value that was read.
func (c *compiler) readValue(e ast.Expr, s *resolve.Scope, left expr.Value) (float64, bool) {
	x, ok := c.As(e, s, left.Kind, left.At.Short())
	if !ok {
		return 0, false
	}
	v, known := x.Constant()
	if !known {
		c.Diags.Errorf("reading", e.Span(), "%s is not a number", e.Span().Short())
		return 0, false
	}
	if v < 0 && left.Kind == unit.Length && left.Expr.Op == relation.Ref && !c.System.Vars[left.Expr.Var].Signed {
		c.Diags.Errorf("negative", e.Span(), "%s can't be less than 0", left.At.Short()).
			WithHelp("measure from the edge inwards; distances have no minus")
		return 0, false
	}
	return v, true
}

// addReading adds the mean of repeated values with its standard uncertainty.
func (c *compiler) addReading(d *draft, left expr.Value, reads []float64, t caliper.Tool, at source.Span, what string) {
	if t.Accuracy == 0 {
		// Repeats alone tell nothing of what the tool does wrong every time.
		c.Diags.Errorf("accuracy", at, "nothing says how accurately %s was read", what).
			WithHelp("state what the caliper promises, as in accuracy = 0.03, put ± after the value, or mark it exact")
		return
	}
	mean := t.Mean(reads)
	c.System.Readings = append(c.System.Readings, relation.Reading{Left: left.Expr, Bench: d.Bench, Value: mean.Value, Read: mean.Read,
		U: t.Uncertainty(mean.Scatter, len(reads)), Repeats: len(reads), Scatter: mean.Scatter, Accuracy: t.Accuracy,
		Resolution: t.Resolution, Flat: t.Flat, At: at, Text: what})
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
// several values, ± or an accuracy say so.
func (c *compiler) measuredStock(d *draft) bool {
	_, accuracy := d.props["accuracy"]
	for _, l := range d.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 || propKey(d.thing.Kind, r.First) != "" {
			continue
		}
		switch r.Rest[0].Value.(type) {
		case *ast.List, *ast.Stated:
			return true
		case *ast.Number:
			if accuracy && names(r.First, dim.Thick) {
				return true
			}
		}
	}
	return false
}

// tool finds out what read the values of a line. What the notebook states of
// its caliper holds unless the line says more: ± after a value is all that is
// promised for it, and a fraction is as fine as its denominator.
func (c *compiler) tool(d *draft, l *resolve.Line, values []ast.Expr, within ast.Expr, k unit.Kind) (caliper.Tool, bool) {
	if within != nil {
		x, ok := c.As(within, l.Scope, k, "what follows ±")
		if !ok {
			return caliper.Tool{}, false
		}
		accuracy, known := x.Constant()
		if !known || accuracy <= 0 {
			c.Diags.Errorf("positive", within.Span(), "what follows ± must be a number above 0").
				WithHelp("it is the half width of what the tool promises, as in width = 148.2 ± 0.05")
			return caliper.Tool{}, false
		}
		return caliper.Tool{Accuracy: accuracy}, true
	}
	var t caliper.Tool
	var ok bool
	if t.Accuracy, ok = c.promised(d, "accuracy"); !ok {
		return caliper.Tool{}, false
	}
	if t.Resolution, ok = c.promised(d, "resolution"); !ok {
		return caliper.Tool{}, false
	}
	if k == unit.Length {
		for _, e := range values {
			half := halfDivision(e, l.Scope.File().Unit)
			t.Accuracy = max(t.Accuracy, half)
			if half >= coarse {
				c.noteCoarse(e, half)
			}
		}
	}
	return t, true
}

// coarse is half of the divisions, in mm, from which a fraction is more likely
// to be a shortened one: nobody measures a notebook with a rule of halves or
// quarters of an inch.
const coarse = 25.4 / 8

// noteCoarse says how little a fraction is taken to promise.
func (c *compiler) noteCoarse(e ast.Expr, half float64) {
	n, _ := fraction(e)
	whole, rest := math.Modf(n.Value)
	finer := fmt.Sprintf("%.0f/16", 16*rest)
	if whole != 0 {
		finer = fmt.Sprintf("%.0f %s", whole, finer)
	}
	in := ""
	if n.Unit != "" {
		in = " " + n.Unit
	}
	c.Diags.Warnf("coarse", n.Span(), "%s is taken as read on a rule that is divided no finer: ± %s", n.Span().Short(), unit.FormatLength(half, unit.Inch)).
		WithHelp("write the rule's own divisions, as in %s%s, or say how good it is, as in %s ± 1/32%s", finer, in, n.Span().Short(), in)
}

// promised is what a notebook or stock states of its caliper, 0 where it says
// nothing; false if what it says is wrong.
func (c *compiler) promised(d *draft, key string) (float64, bool) {
	for top := d; top != nil; top = top.parent {
		if p, ok := top.props[key]; ok {
			return c.caliperLine(caliperOf(top.node), key, p)
		}
	}
	return 0, true
}

// promise reads one of the properties of a caliper.
func (c *compiler) promise(key string, p property) (float64, bool) {
	v, ok := c.constant(key, p.value, p, unit.Length)
	if ok && v <= 0 {
		c.Diags.Errorf("positive", p.at(), "%s must be a number above 0", key).WithHelp("%s", map[string]string{
			"accuracy":   "it is the half width of what the tool promises, as in accuracy = 0.03",
			"resolution": "it is the last digit's step of a tool that shows digits, as in resolution = 0.01",
			"jaw-flat":   "it is how wide both inside jaws are together where they touch a round hole, as in jaw-flat = 0.3",
		}[key])
		return 0, false
	}
	return v, ok
}

// caliperOf is where a thing keeps what is stated of its caliper.
func caliperOf(n model.Node) *model.Caliper {
	switch n := n.(type) {
	case *model.Notebook:
		return &n.Caliper
	case *model.Stock:
		return &n.Caliper
	}
	return &model.Caliper{}
}

// halfDivision is half a division of the rule on which a fraction was read: a
// thirty-second of an inch for 4 3/16. It is 0 for other numbers.
func halfDivision(e ast.Expr, in unit.Unit) float64 {
	n, ok := fraction(e)
	if !ok {
		return 0
	}
	if u, ok := unit.Lookup(n.Unit); ok && u.Kind == unit.Length {
		in = u
	}
	return in.Size / float64(n.Denominator) / 2
}

// fraction is an expression that is a fraction and nothing else.
func fraction(e ast.Expr) (*ast.Number, bool) {
	for {
		p, ok := e.(*ast.Paren)
		if !ok {
			break
		}
		e = p.X
	}
	n, ok := e.(*ast.Number)
	return n, ok && n.Denominator != 0
}
