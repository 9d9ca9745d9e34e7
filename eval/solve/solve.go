package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
)

// Solve finds the values of all dimensions of a system. It does not change the
// system, keeps nothing of it, and gives the same answer each time.
func Solve(sys *relation.System) *Solution {
	n := len(sys.Vars)
	sol := &Solution{
		Values: make([]float64, n),
		U:      make([]float64, n),
		From:   make([]Origin, n),
		Cause:  make([]Cause, n),
	}
	for v := range sol.Values {
		sol.Values[v] = math.NaN()
		sol.Cause[v].Index = -1
	}
	p := planOf(sys)
	d := &design{plan: p, adj: adjust(p, sol), sol: sol}
	d.active = make([]bool, len(sys.Relations))
	for i := range sys.Relations {
		d.active[i] = sys.Relations[i].Bench == 0 && d.factual(p.vars[i])
		if p.broken[i] {
			sol.Tangles = append(sol.Tangles, Tangle{Vars: p.sound(i), Relations: []int{i}})
		}
	}
	d.musts()
	d.wishes()
	d.defaults()
	d.collect()
	d.freedom()
	d.explain()
	return sol
}

// factual reports whether the benches know all of their own dimensions among
// the given ones. What they don't know is no fact: a line that leans on it says
// nothing, and never decides anything on the bench.
func (d *design) factual(vars []relation.VarID) bool {
	for _, v := range vars {
		if v >= 0 && int(v) < len(d.sys.Vars) && d.sys.Vars[v].Bench != 0 && !d.adj.known[v] {
			return false
		}
	}
	return true
}

// A design is the system's part that is no bench, on its way through the
// levels. Each level leaves its decisions as equations to the next.
type design struct {
	*plan
	adj     *adjustments
	sol     *Solution
	active  []bool
	q       *problem
	stage   []level // of each dimension, the level that decided it
	fixed   []fixing
	counted map[relation.VarID]float64 // what `most` has found
	because map[relation.VarID]Cause
	pinned  []pinning
	extraOf map[relation.VarID][]int // places in q.extra, by dimension, of the first filed
	filed   int
	pairs   map[relation.VarID][]int // defaults that set two dimensions equal, by the first
	// wishForms are left - right of the wishes, where that is linear outright
	// and was asked for.
	wishForms []relation.Form
}

// A level is one of the three that decide a design.
type level uint8

const (
	noLevel level = iota
	mustLevel
	wishLevel
	defaultLevel
)

// A pinning is a dimension to which limits alone leave no room, and one of
// them; -1 if they are sign rules.
type pinning struct {
	at    relation.VarID
	limit int32
}

// A fixing is an equation that a wish or a default has become.
type fixing struct {
	level level
	index int // into System.Wishes or System.Defaults
	vars  []relation.VarID
	// held are the limits (relations) at which it stopped, if it could not be
	// met.
	held  []int32
	met   bool
	limit bool // index is a limit (a relation, -1 for a sign rule) that acts
}

// begin solves the musts with some further equations.
func (d *design) begin(extra []extraRow) *problem {
	q := newProblem(d.plan, d.design, d.active, true)
	q.give(d.adj.value, d.adj.known, d.adj.grad)
	for v, n := range d.counted {
		q.value[v], q.known[v], q.given[v] = n, true, true
	}
	q.uncertainty = d.adj.uncertainty
	q.extra = extra
	q.musts()
	return q
}

// musts solves the first level. Where it can't be, each clash is reported and
// its last line left out, so that one mistake doesn't hide the next.
func (d *design) musts() {
	taken := map[int]bool{}
	for range 1 + len(d.active) {
		d.q = d.begin(nil)
		d.q.bound()
		if len(d.q.wrong) == 0 {
			d.most()
			break
		}
		progress := false
		for _, w := range d.q.wrong {
			if slices.ContainsFunc(w.relations, func(r int32) bool { return r >= 0 && !d.active[r] }) {
				continue // a line it leans on is out; it shows again if it is still there
			}
			c, ok := d.q.clash(w)
			if !ok {
				c = Clash{Relations: d.lines(w), Low: math.Inf(-1), High: math.Inf(1), Asked: math.NaN(), Miss: math.NaN()}
			}
			if len(c.Relations) == 0 {
				continue
			}
			if !slices.ContainsFunc(c.Relations, func(r int) bool { return taken[r] }) {
				d.sol.Clashes = append(d.sol.Clashes, c)
			}
			for _, r := range c.Relations {
				taken[r] = true
			}
			d.active[c.Relations[len(c.Relations)-1]] = false
			progress = true
		}
		if !progress {
			break
		}
	}
	d.sol.Counts = append(d.sol.Counts, d.q.counts...)
	for _, t := range d.q.tangles {
		// With one of a clash's lines left out others may leave several solutions.
		if !slices.ContainsFunc(t.Relations, func(r int) bool { return taken[r] }) {
			d.sol.Tangles = append(d.sol.Tangles, d.q.reduced(t))
		}
	}
	d.stage = make([]level, len(d.sys.Vars))
	d.mark(mustLevel)
}

// reduced leaves of what a block without a solution leans on only what keeps it
// from one.
func (q *problem) reduced(t Tangle) Tangle {
	if len(t.Found) > 0 || len(t.Given) == 0 {
		return t
	}
	var all []int32
	for _, r := range slices.Concat(t.Relations, t.Given) {
		all = append(all, int32(r))
	}
	if c, ok := q.clash(conflict{all}); ok {
		t.Given = slices.DeleteFunc(c.Relations, func(r int) bool { return slices.Contains(t.Relations, r) })
	}
	return t
}

// lines lists the relations of a conflict that may stand in a clash, all of
// them if there are only the kinds' own.
func (d *design) lines(w conflict) []int {
	var lines, all []int
	for _, r := range w.relations {
		all = append(all, int(r))
		if d.sys.Relations[r].Role != relation.Own {
			lines = append(lines, int(r))
		}
	}
	if len(lines) == 0 {
		return all
	}
	return lines
}

// mark notes the level of what has become decided.
func (d *design) mark(l level) {
	for v := range d.stage {
		if d.stage[v] == noLevel && d.decided(relation.VarID(v)) {
			d.stage[v] = l
		}
	}
}

// decided reports whether nothing is left open in a dimension.
func (d *design) decided(v relation.VarID) bool {
	if d.q.known[v] {
		return true
	}
	f := d.q.formOf[v]
	return f >= 0 && len(d.q.space.forms[f].terms) == 0
}

// collect puts what is decided into the solution.
func (d *design) collect() {
	grad := make([][]term, len(d.sys.Vars))
	for v := range d.sys.Vars {
		v := relation.VarID(v)
		value := math.NaN()
		switch {
		case d.sys.Vars[v].Bench != 0:
			value, grad[v] = d.adj.value[v], d.adj.grad[v]
		case d.q.known[v]:
			value, grad[v] = d.q.value[v], d.q.grad[v]
		case d.decided(v):
			f := d.q.varForm(v)
			value, grad[v] = f.c, f.g
		}
		if finite(value) {
			d.sol.Values[v] = value
		}
	}
	if d.q.rough {
		d.regrade(grad)
	}
	d.sol.uncertain = uncertain{d.adj, grad} // for Covariance
	for v := range grad {
		if finite(d.sol.Values[v]) && len(grad[v]) > 0 {
			d.sol.U[v] = d.adj.uncertainty(grad[v])
		}
	}
	d.verify()
}

// regrade works out how all dimensions of the design move with the benches,
// from all equations linearised at the final values.
func (d *design) regrade(grad [][]term) {
	col := make([]int32, len(d.sys.Vars))
	var cols []relation.VarID
	var rows []affine
	for i := range col {
		col[i] = -1
	}
	add := func(terms []relation.Term, g []term) {
		row := affine{g: g}
		for _, t := range terms {
			switch {
			case !finite(t.Coef) || !finite(d.sol.Values[t.Var]):
				return
			case d.adj.known[t.Var]:
				row.g = combine(row.g, t.Coef, d.adj.grad[t.Var], 0)
				continue
			case d.sys.Vars[t.Var].Whole:
				continue
			}
			if col[t.Var] < 0 {
				col[t.Var] = int32(len(cols))
				cols = append(cols, t.Var)
			}
			row.terms = append(row.terms, term{col[t.Var], t.Coef})
		}
		slices.SortFunc(row.terms, func(a, b term) int { return int(a.at) - int(b.at) })
		rows = append(rows, row)
	}
	for r := range d.sys.Relations {
		if d.active[r] && !d.broken[r] && d.sys.Relations[r].Sign == relation.EQ {
			_, terms := d.sys.Relations[r].Gradient(d.sol.Values)
			add(terms, nil)
		}
	}
	for _, x := range d.q.extra {
		add(x.form.Terms, x.g)
	}
	e := eliminate(rows, len(cols))
	for c, v := range cols {
		if len(e.forms[c].terms) == 0 {
			grad[v] = e.forms[c].g
		}
	}
}

// verify holds every relation against the values found. It is there so that
// no value goes out that breaks a line without a word.
func (d *design) verify() {
	for r := range d.sys.Relations {
		rel := &d.sys.Relations[r]
		if !d.active[r] && rel.Bench == 0 || d.broken[r] {
			continue
		}
		miss, terms := d.forms[r].Const, d.forms[r].Terms
		if !d.linear[r] {
			miss, terms = rel.Gradient(d.sol.Values)
		}
		scale := 0.0
		for _, t := range terms {
			part := t.Coef * d.sol.Values[t.Var]
			if d.linear[r] {
				miss += part
			}
			if finite(part) { // the root of 0 has no finite slope
				scale = max(scale, math.Abs(part))
			}
		}
		if !finite(miss) {
			continue // not known, or reported where it could not be computed
		}
		allowed := 2*d.q.allowed(int32(r)) + 1e-9*scale
		if rel.Sign == relation.GE && miss >= -allowed || rel.Sign == relation.LE && miss <= allowed ||
			rel.Sign == relation.EQ && math.Abs(miss) <= allowed {
			continue
		}
		if slices.ContainsFunc(d.sol.Tangles, func(t Tangle) bool { return slices.Contains(t.Relations, r) }) {
			continue
		}
		c, ok := Clash{}, false
		if rel.Bench == 0 {
			c, ok = d.q.clash(conflict{d.q.behind([]int32{int32(r)}, nil)})
		} else if slices.ContainsFunc(d.sol.Clashes, func(c Clash) bool { return slices.Contains(c.Relations, r) }) {
			continue
		}
		if !ok {
			left, right := rel.Left.Eval(d.sol.Values), rel.Right.Eval(d.sol.Values)
			c = Clash{Relations: []int{r}, Low: left, High: left, Asked: right, Miss: math.Abs(miss),
				Chosen: rel.Bench == 0 && rel.Sign != relation.EQ}
		}
		d.sol.Clashes = append(d.sol.Clashes, c)
	}
}
