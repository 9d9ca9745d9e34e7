package plan

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/sparse"
)

// Tolerance is how far a relation may be from holding, in mm (or degrees, or
// plain numbers).
const Tolerance = 1e-6

// MostCount is the largest count there may be.
const MostCount = 10000

// SureCount is how uncertain a count that readings give may be: with more the next
// whole number lies within twice its standard uncertainty, too.
const SureCount = 0.5

// Whole is the count that a value with standard uncertainty u stands for; ok is
// false if it is not near enough to a whole number, or none that may be.
func Whole(value, u float64) (n float64, ok bool) {
	n = math.Round(value)
	near := Tolerance
	if u > 0 {
		near = max(near, min(3*u, 0.2))
	}
	return n, !(math.Abs(value-n) > near || n < 0 || n > MostCount)
}

// A Plan is what every solve of one system shares: the system's relations made
// ready. It is not changed once made.
type Plan struct {
	Sys    *relation.System
	Vars   [][]relation.VarID // of each relation
	Forms  []relation.Form    // left - right, where that is linear outright
	Linear []bool
	Broken []bool // can't be computed at all: a quotient by 0, a number that is none
	// Equation and Limit mark the equations and the inequalities that aren't
	// broken.
	Equation, Limit []bool
	// Equations lists the equations that mention a dimension, Limits the
	// inequalities.
	Equations, Limits sparse.Lists[int32]
	Readings          []Reading          // of the system's, ready
	BenchVars         [][]relation.VarID // the dimensions of each bench
	BenchScopes       []Scope            // with all dimensions that the bench's lines mention
	DesignScope       Scope              // what is no bench's, with all dimensions
	Wishes            [][]int            // the system's, of the design and then of each bench
}

// Of makes the relations and readings of a system ready.
func Of(sys *relation.System) *Plan {
	n := len(sys.Relations)
	p := &Plan{
		Sys:      sys,
		Vars:     make([][]relation.VarID, n),
		Forms:    make([]relation.Form, n),
		Linear:   make([]bool, n),
		Broken:   make([]bool, n),
		Equation: make([]bool, n),
		Limit:    make([]bool, n),
		Readings: make([]Reading, len(sys.Readings)),
	}
	kept := keeper{room: make([]relation.Term, 0, 16)}
	for i := range sys.Relations {
		p.addRelation(i, &kept)
	}
	p.index()
	for i := range sys.Readings {
		read := &p.Readings[i]
		left := sys.Readings[i].Solved()
		form, ok := left.LinearIn(kept.room, relation.Nothing)
		if !ok {
			read.Vars = left.Vars()
			continue
		}
		read.Linear = true
		read.Form, read.Vars = kept.keep(form)
	}
	p.divide()
	return p
}

// A keeper stores forms, and the dimensions they mention, in few pieces of
// memory.
type keeper struct {
	terms sparse.Slab[relation.Term]
	ids   sparse.Slab[relation.VarID]
	room  []relation.Term // for a form until it is kept
}

func (k *keeper) keep(form relation.Form) (relation.Form, []relation.VarID) {
	vars := k.ids.Take(len(form.Terms))
	for i, t := range form.Terms {
		vars[i] = t.Var
	}
	return relation.Form{Terms: k.terms.Copy(form.Terms), Const: form.Const}, vars
}

// addRelation makes relation r ready.
func (p *Plan) addRelation(r int, kept *keeper) {
	var vars []relation.VarID
	form, ok := p.Sys.Relations[r].DifferenceIn(kept.room, relation.Nothing)
	if ok {
		p.Linear[r] = true
		p.Forms[r], vars = kept.keep(form)
		p.Broken[r] = !sparse.Finite(form.Const) || slices.ContainsFunc(form.Terms, func(t relation.Term) bool { return !sparse.Finite(t.Coef) })
	} else {
		vars = p.Sys.Relations[r].Vars()
	}
	for _, v := range vars {
		p.Broken[r] = p.Broken[r] || v < 0 || int(v) >= len(p.Sys.Vars)
	}
	if p.Broken[r] {
		return
	}
	p.Vars[r] = vars
	p.Equation[r] = p.Sys.Relations[r].Sign == relation.EQ
	p.Limit[r] = !p.Equation[r]
}

// index files the relations that aren't broken by the dimensions they mention.
func (p *Plan) index() {
	equations, limits := sparse.NewLister[int32](len(p.Sys.Vars)), sparse.NewLister[int32](len(p.Sys.Vars))
	under := func(r int) *sparse.Lister[int32] {
		if p.Equation[r] {
			return equations
		}
		return limits
	}
	for r, vars := range p.Vars {
		for _, v := range vars {
			under(r).Expect(int32(v))
		}
	}
	for r, vars := range p.Vars {
		for _, v := range vars {
			under(r).Put(int32(v), int32(r))
		}
	}
	p.Equations, p.Limits = equations.Done(), limits.Done()
}

// A Reading is what was read, as an expression in dimensions.
type Reading struct {
	Vars   []relation.VarID
	Linear bool // outright; then form is it
	Form   relation.Form
}

// Sound lists the dimensions that there are of those that relation r mentions.
func (p *Plan) Sound(r int) []relation.VarID {
	return slices.DeleteFunc(p.Sys.Relations[r].Vars(), func(v relation.VarID) bool {
		return v < 0 || int(v) >= len(p.Sys.Vars)
	})
}

// divide finds the scope of every bench and that of the design.
func (p *Plan) divide() {
	p.DesignScope.Vars = make([]relation.VarID, len(p.Sys.Vars))
	vars := sparse.NewLister[relation.VarID](len(p.Sys.Benches) + 1)
	at := func(bench int) int32 { // where what is no bench's comes last
		if bench >= 1 && bench <= len(p.Sys.Benches) {
			return int32(bench - 1)
		}
		return int32(len(p.Sys.Benches))
	}
	for v := range p.Sys.Vars {
		p.DesignScope.Vars[v] = relation.VarID(v)
		vars.Expect(at(p.Sys.Vars[v].Bench))
	}
	for v := range p.Sys.Vars {
		vars.Put(at(p.Sys.Vars[v].Bench), relation.VarID(v))
	}
	p.BenchVars = vars.Done().Apart()[:len(p.Sys.Benches)]
	p.BenchScopes = make([]Scope, len(p.Sys.Benches))
	for i := range p.BenchScopes {
		p.BenchScopes[i].Vars = p.BenchVars[i]
	}
	p.Wishes = make([][]int, len(p.BenchScopes)+1)
	for i := range p.Sys.Wishes {
		if b := p.Sys.Wishes[i].Bench; b >= 0 && b <= len(p.BenchScopes) {
			p.Wishes[b] = append(p.Wishes[b], i)
		}
	}
	for r := range p.Sys.Relations {
		switch b := p.Sys.Relations[r].Bench; {
		case b == 0:
			p.DesignScope.Relations = append(p.DesignScope.Relations, int32(r))
		case b >= 1 && b <= len(p.BenchScopes):
			s := &p.BenchScopes[b-1]
			s.Relations = append(s.Relations, int32(r))
			s.Also(p.Sys, b, p.Vars[r])
		}
	}
}
