package compile

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"
	"unicode"

	"foredge/eval/caliper"
	"foredge/eval/dim"
	"foredge/eval/expr"
	"foredge/eval/kind"
	"foredge/eval/model"
	"foredge/eval/relation"
	"foredge/eval/resolve"
	"foredge/eval/word"
	"foredge/lang/ast"
	"foredge/lang/source"
	"foredge/lang/spell"
	"foredge/lang/unit"
)

// onlyNumbers reports whether a value holds numbers and named numbers only, so
// that in a notebook it is what was read of the other side. What is wrong with it
// is told where it is compiled.
func (c *compiler) onlyNumbers(e ast.Expr, s *resolve.Scope) bool {
	if _, ok := e.(*ast.Number); ok {
		return true // as most are
	}
	numbers := true
	ast.Walk(e, func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Indexed, *ast.BadExpr:
			numbers = false
		case *ast.Name:
			sym, known := s.Means(n)
			switch {
			case !known || sym.Let == nil && sym.Order == "":
				numbers = false
			case sym.Let != nil:
				numbers = numbers && c.named(sym.Let).numbers
			}
			return false
		}
		return numbers
	})
	return numbers
}

// A named is what a let stands for.
type named struct {
	numbers bool        // it speaks of no dimension
	number  *ast.Number // it is this number and nothing else
	unit    unit.Unit   // of the file in which that is written
}

// named looks into a let, once. In a circle, which is told elsewhere, a let that
// names itself counts as a number.
func (c *compiler) named(l *resolve.Let) named {
	known, ok := c.lets[l]
	if !ok {
		c.lets[l] = named{numbers: true}
		number, in := c.literal(l.Stmt.Value, l.Scope)
		known = named{c.onlyNumbers(l.Stmt.Value, l.Scope), number, in}
		c.lets[l] = known
	}
	return known
}

// readsRight reports whether the right of two sides of a line is what was read of
// the left one. Several values, and one with ±, are always meant so.
func (c *compiler) readsRight(d *draft, l *resolve.Line, left ast.Expr, side ast.Side) bool {
	if !measures(d, l, side) || c.onlyNumbers(left, l.Scope) {
		return false
	}
	values, within, _ := unwrap(side.Value)
	return len(values) > 1 || within != nil || c.onlyNumbers(side.Value, l.Scope)
}

// readsLeft reports whether it is the other way round, as in 148.2 = width. A
// count isn't read.
func (c *compiler) readsLeft(d *draft, l *resolve.Line, left ast.Expr, side ast.Side, right expr.Value) bool {
	if _, exact := side.Value.(*ast.Stated); exact || c.isCounted(right) {
		return false
	}
	return measures(d, l, side) && c.onlyNumbers(left, l.Scope) && !c.onlyNumbers(side.Value, l.Scope)
}

// measures reports whether two sides of a line can be a reading at all.
func measures(d *draft, l *resolve.Line, side ast.Side) bool {
	return d != nil && d.Bench > 0 && side.Op == ast.Eq && !ofPattern(l.From)
}

// isCounted reports whether a value is made of counts alone.
func (c *compiler) isCounted(v expr.Value) bool {
	return v.Plain() && !v.Expr.Mentions(func(id relation.VarID) bool { return !c.System.Vars[id].Whole })
}

// reading adds what was read of one expression. Counts, and values marked
// exact, are musts.
func (c *compiler) reading(d *draft, l *resolve.Line, left expr.Value, right ast.Expr, s *ast.Relation) {
	values, within, exact := unwrap(right)
	if c.isCounted(left) || exact {
		c.exactly(d, l, left, values, within, s)
		return
	}
	if left.Plain() {
		c.Diags.Errorf("reading", s.Span(), "only lengths and angles can be read").
			WithHelp("state something that a tool can measure, or mark the value exact")
		return
	}
	if left.Kind == unit.Length && left.Power != 1 {
		c.Diags.Errorf("reading", s.First.Span(), "%s is %s; a caliper reads lengths", left.At.Short(), left.Describe()).
			WithHelp("state a length, or mark the value exact")
		return
	}
	if slices.ContainsFunc(left.Expr.Vars(), left.Expr.Hides) {
		c.Diags.Errorf("backwards", s.First.Span(), "%s can't be read: floor, ceil and nearest only work forwards, and don't say what they were made from", left.At.Short()).
			WithHelp("write what the tool showed of the dimension itself")
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
	tool, ok := c.tool(d, l, values, within, left.Kind)
	if ok && c.ofRoundHole(d, left) {
		tool.Flat, ok = c.promised(d, "jaw-flat")
	}
	if !ok || !c.addReading(d, left, reads, tool, s.Span(), left.At.Short()) || len(values) == 1 {
		return
	}
	added := &c.System.Readings[len(c.System.Readings)-1]
	added.Step = math.Min(c.step(values, l.Scope, left.Kind), coarsest*added.Accuracy)
	for i, e := range values {
		added.Each = append(added.Each, relation.Repeat{Value: reads[i], At: e.Span()})
	}
}

// ofRoundHole reports whether what was read is the size of a round hole of the row
// in which the line stands, or the like, which inside jaws touch on a chord.
func (c *compiler) ofRoundHole(d *draft, left expr.Value) bool {
	row, ok := d.node.(*model.Row)
	return ok && row.Form().JawsReadLow() && left.Expr.Op == relation.Ref &&
		(d.Is(left.Expr.Var, dim.HoleAlong) || d.Is(left.Expr.Var, dim.HoleAcross))
}

// coarsest is how many times what a tool promises a step of the last digit may be: tenths are
// written beside 0.05 mm, but a maker who writes whole millimetres with a tool good to 0.2 mm has
// left out more than zeros (common practice, no source).
const coarsest = 2

// step is that of the last digit to which values are written, the finest of them
// as a 0 at the end is often left out; 0 where that can't be seen. Fractions of a
// rule have none: their division is part of what is promised.
func (c *compiler) step(values []ast.Expr, s *resolve.Scope, k unit.Kind) float64 {
	finest := math.Inf(1)
	for _, e := range values {
		n, in := c.literal(e, s)
		if n == nil || n.Denominator != 0 {
			return 0
		}
		size := 1.0
		if u, ok := unit.Lookup(n.Unit); ok {
			size = u.Size
		} else if k == unit.Length {
			size = in.Size
		}
		finest = min(finest, size*math.Pow10(-n.Decimals))
	}
	return finest
}

// exactly adds a count, or values that are marked exact.
func (c *compiler) exactly(d *draft, l *resolve.Line, left expr.Value, values []ast.Expr, within ast.Expr, s *ast.Relation) {
	if within != nil {
		c.Diags.Errorf("reading", within.Span(), "a count is counted, so it is sure, and ± says nothing of it").
			WithHelp("count again, and state one number without ±")
		return
	}
	if len(values) > 1 && left.Plain() {
		c.Diags.Errorf("reading", s.Rest[0].Value.Span(), "a count is counted once, not read several times").
			WithHelp("state one number")
		return
	}
	for _, e := range values {
		if right, ok := c.Value(e, l.Scope); ok {
			if n, known := right.Expr.Constant(); known && n < 1 && d.Kind == kind.Row && left.Expr.Op == relation.Ref && d.Is(left.Expr.Var, dim.Count) {
				c.Diags.Errorf("positive", e.Span(), "a row has at least one hole").WithHelp("count the holes of %s and write how many there are", d.Path)
				continue
			}
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
		c.Diags.Errorf("reading", e.Span(), "%s speaks of a dimension, so it is nothing that was read", e.Span().Short()).
			WithHelp("state the numbers that the tool has shown; what must hold goes on a line of its own")
		return 0, false
	}
	if v < 0 && left.Kind == unit.Length && left.Expr.Op == relation.Ref && !c.System.Vars[left.Expr.Var].Signed {
		c.Diags.Errorf("negative", e.Span(), "%s can't be less than 0", left.At.Short()).
			WithHelp("write it without the minus; a distance is measured from the edge inwards")
		return 0, false
	}
	return v, true
}

// addReading adds the mean of repeated values with its standard uncertainty. It
// reports whether it could.
func (c *compiler) addReading(d *draft, left expr.Value, reads []float64, t caliper.Tool, at source.Span, what string) bool {
	if !c.staysOnBench(d, at, left.Expr, left.Expr) {
		return false
	}
	if t.Accuracy == 0 {
		// Repeats alone tell nothing of what the tool does wrong every time.
		top := d
		for top.parent != nil {
			top = top.parent
		}
		c.unpromised[top.thing] = append(c.unpromised[top.thing], unpromised{at, what})
		return false
	}
	mean := t.Mean(reads)
	as := c.aside(d, left, at, what)
	c.System.Readings = append(c.System.Readings, relation.Reading{Left: left.Expr, As: as, Bench: d.Bench, Value: mean.Value, Read: mean.Read,
		U: t.Uncertainty(mean.Scatter, len(reads)), Repeats: len(reads), Scatter: mean.Scatter, Accuracy: t.Accuracy,
		Resolution: t.Resolution, Flat: t.Flat, At: at, Text: what})
	return true
}

// aside is a dimension of its own for what was read, with a relation that says what it
// is, where that isn't linear; see [relation.Reading.As].
func (c *compiler) aside(d *draft, left expr.Value, at source.Span, what string) relation.Expr {
	if _, linear := left.Expr.Linear(relation.Nothing); linear {
		return relation.Expr{}
	}
	id := c.Add(relation.Var{Name: c.System.Benches[d.Bench-1].Name + "." + what, Kind: left.Kind, Signed: true, Aside: true, Bench: d.Bench, At: at}, nil)
	c.System.Relations = append(c.System.Relations, relation.Relation{Left: relation.V(id), Right: left.Expr, Bench: d.Bench, At: at})
	return relation.V(id)
}

// An unpromised is a reading of which nothing says how accurate it is.
type unpromised struct {
	at   source.Span
	what string
}

// tellUnpromised tells once of each notebook or stock of whose readings nothing says
// how accurate they are, unless it holds a line that seems to say it and was
// reported.
func (c *compiler) tellUnpromised() {
	if len(c.unpromised) == 0 {
		return
	}
	misspelt := map[*source.File][]int{} // where errors about it stand
	for _, e := range *c.Diags {
		if e.Code == "unknown-name" && saysAccuracy(e.Span.Text()) {
			misspelt[e.Span.File] = append(misspelt[e.Span.File], e.Span.Start)
		}
	}
	for _, at := range misspelt {
		slices.Sort(at)
	}
	for _, d := range c.present {
		list := c.unpromised[d.thing]
		if len(list) == 0 || c.misspeltPromise(d, misspelt) {
			continue
		}
		slices.SortStableFunc(list, func(a, b unpromised) int { return cmp.Compare(a.at.Start, b.at.Start) })
		e := c.Diags.Errorf("accuracy", list[0].at, "nothing says how accurately %s was read", list[0].what)
		if more := len(list) - 1; more > 0 {
			e.Message = fmt.Sprintf("nothing says how accurately %s and %d more of %s were read", list[0].what, more, d.Path)
		}
		e.WithHelp("state what the caliper promises, as in accuracy = %s, put ± after the value, or mark it exact", unit.Example(0.03, c.UnitOf(e.Span)))
	}
}

// misspeltPromise reports whether an error in a thing's braces is about a line that
// seems to state the accuracy.
func (c *compiler) misspeltPromise(d *draft, misspelt map[*source.File][]int) bool {
	if d.thing.Decl == nil || d.thing.Decl.Body == nil {
		return false
	}
	if c.info.Broken {
		for _, s := range d.thing.Decl.Body.Stmts {
			if _, bad := s.(*ast.BadStmt); bad && saysAccuracy(s.Span().Text()) {
				return true
			}
		}
	}
	body := d.thing.Decl.Body.At
	at := misspelt[body.File]
	i, _ := slices.BinarySearch(at, body.Start)
	return i < len(at) && at[i] < body.End
}

// saysAccuracy reports whether a text begins with a word that seems to mean the
// accuracy.
func saysAccuracy(text string) bool {
	end := strings.IndexFunc(text, func(r rune) bool { return !unicode.IsLetter(r) && r != '-' })
	if end >= 0 {
		text = text[:end]
	}
	isAccuracy := func(w string) bool { return w == "accuracy" }
	now, _ := word.Former(text)
	return isAccuracy(text) || isAccuracy(now) || spell.Nearest(text, []string{"accuracy"}) != "" || word.Elsewhere(text, isAccuracy) != ""
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

// listed are the names that a property lists, of which none was read.
func (c *compiler) listed(p property) []ast.Expr {
	values, within, exact := unwrap(p.value)
	if within != nil || exact {
		c.Diags.Errorf("kind-mismatch", p.at(), "± and exact belong to what was read, and this is a list of names").
			WithHelp("take it out")
	}
	return values
}

// statedOf is the value that a line states of one of a thing's dimensions as a
// number, on either side; nil if it does not.
func (c *compiler) statedOf(l *resolve.Line, of *resolve.Thing, n dim.Name) ast.Expr {
	r, ok := l.Stmt.(*ast.Relation)
	if !ok || !isEquation(r) {
		return nil
	}
	values, _, _ := unwrap(r.Rest[0].Value)
	switch right := values[0]; {
	case l.Says(r.First, of, n) && c.onlyNumbers(right, l.Scope):
		return right
	case l.Says(right, of, n) && c.onlyNumbers(r.First, l.Scope):
		return r.First
	}
	return nil
}

// measuredStock reports whether a stock's thickness was read rather than named:
// several values, ± or an accuracy say so. An accuracy by which nothing was read says nothing:
// boards of such a stock decide how thick it is.
func (c *compiler) measuredStock(d *draft) bool {
	_, accuracy := d.props["accuracy"]
	equates := func(l *resolve.Line) bool {
		r, ok := l.Stmt.(*ast.Relation)
		isEqual := func(s ast.Side) bool { return s.Op == ast.Eq }
		return ok && slices.ContainsFunc(r.Rest, isEqual) && d.thing.Property(r.First) == ""
	}
	if accuracy && slices.ContainsFunc(slices.Concat(d.thing.Outside(), d.thing.Lines), equates) {
		return true
	}
	for _, l := range d.thing.Lines {
		r, ok := l.Stmt.(*ast.Relation)
		if !ok || len(r.Rest) != 1 || d.thing.Property(r.First) != "" {
			continue
		}
		values, _, _ := unwrap(r.Rest[0].Value)
		if _, stated := r.Rest[0].Value.(*ast.Stated); stated || len(values) > 1 && !ofProperty(r.Rest[0].Value) {
			return true
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
				WithHelp("it is the half width of what the tool promises, as in width = %s ± %s", unit.Example(148.2, c.UnitOf(within.Span())), unit.Example(0.05, c.UnitOf(within.Span())))
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
	promised := t.Accuracy
	if k == unit.Length {
		for _, e := range values {
			half := c.halfDivision(e, l.Scope)
			if half == 0 && promised == 0 {
				return caliper.Tool{}, true // nothing says how good this one is
			}
			t.Accuracy = max(t.Accuracy, half)
			if half > 0 && c.Glued(c.fraction(e, l.Scope)) {
				continue
			}
			if half >= coarse {
				c.noteCoarse(c.fraction(e, l.Scope), half)
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
func (c *compiler) noteCoarse(n *ast.Number, half float64) {
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
		c.Diags.Errorf("positive", p.at(), "%s must be a number above 0", key).WithHelp("%s, as in %s = %s", map[string]string{
			"accuracy":   "it is the half width of what the tool promises",
			"resolution": "it is the last digit's step of a tool that shows digits",
			"jaw-flat":   "it is how wide both inside jaws are together where they touch a round hole",
		}[key], key, unit.Example(map[string]float64{"accuracy": 0.03, "resolution": 0.01, "jaw-flat": 0.3}[key], c.UnitOf(p.at())))
		return 0, false
	}
	if ok && key == "resolution" && v > coarseStep {
		c.Diags.Warnf("coarse", p.at(), "a resolution of %s is that of no caliper: nothing read with it can be found wrong",
			unit.FormatLength(v, c.UnitOf(p.at()))).
			WithHelp("state the step of its last digit, as in resolution = %s", unit.Example(0.01, c.UnitOf(p.at())))
	}
	if ok && key == "accuracy" && v > coarseTool {
		c.Diags.Warnf("coarse", p.at(), "an accuracy of %s is that of no caliper or rule: nothing read with it can be found wrong",
			unit.FormatLength(v, c.UnitOf(p.at()))).
			WithHelp("state what the tool promises, as in accuracy = %s", unit.Example(0.03, c.UnitOf(p.at())))
	}
	return v, ok
}

// coarseTool is the accuracy, in mm, above which a tool is none to measure a notebook
// with: a tape of class II is good to 0.5 mm over 1 m (directive 2014/32/EU, annex X,
// from memory).
const coarseTool = 1.0

// coarseStep is the resolution, in mm, above which a tool is none to measure a notebook with that
// shows its readings: calipers show 0.01 or 0.02, on a dial 0.05 or 0.1 (common practice, no source).
const coarseStep = 0.5

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

// halfDivision is half a division of the rule on which a fraction was read, in
// mm: a thirty-second of an inch for 4 3/16. It is 0 for other numbers.
func (c *compiler) halfDivision(e ast.Expr, s *resolve.Scope) float64 {
	if n := c.fraction(e, s); n != nil {
		return unit.Inch.Size / float64(n.Denominator) / 2
	}
	return 0
}

// fraction is the fraction of a rule that a value is, or names by a let; nil if it
// is anything else.
func (c *compiler) fraction(e ast.Expr, s *resolve.Scope) *ast.Number {
	if n, _ := c.literal(e, s); n != nil && n.Denominator != 0 {
		return n
	}
	return nil
}

// literal is the number that a value is, or names by a let, with the unit of the
// file in which it is written; nil if it is anything else.
func (c *compiler) literal(e ast.Expr, s *resolve.Scope) (*ast.Number, unit.Unit) {
	switch e := e.(type) {
	case *ast.Paren:
		return c.literal(e.X, s)
	case *ast.Name:
		if sym, known := s.Means(e); known && sym.Let != nil {
			known := c.named(sym.Let)
			return known.number, known.unit
		}
	case *ast.Number:
		return e, s.File().Unit
	}
	return nil, unit.Unit{}
}
