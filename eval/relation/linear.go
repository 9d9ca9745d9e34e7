package relation

import (
	"math"
	"slices"
)

// A Term is a multiple of one dimension.
type Term struct {
	Var  VarID
	Coef float64
}

// A Form is Const + the sum of its terms: a linear expression. Terms are in
// order of Var, each Var at most once and with a coefficient other than 0.
type Form struct {
	Terms []Term
	Const float64
}

// Known tells the value of a dimension that is known already.
type Known func(VarID) (value float64, ok bool)

// Nothing is the Known that knows no dimension.
func Nothing(VarID) (float64, bool) { return 0, false }

// Linear gives e as a linear form in the dimensions that are not known; ok is
// false where it is none. Constants are folded, so width * sqrt(2) is linear,
// and so is a product of two dimensions once one of them is known. What can't
// be computed, such as a quotient by 0, makes a form whose Const is not a
// finite number.
func (e Expr) Linear(known Known) (form Form, ok bool) { return e.LinearIn(nil, known) }

// LinearIn is Linear with room for the terms, which may be used for them.
func (e *Expr) LinearIn(room []Term, known Known) (form Form, ok bool) {
	f := Form{Terms: room[:0]}
	if !e.addTo(&f, 1, known) {
		return Form{}, false
	}
	f.Terms = tidy(f.Terms)
	return f, true
}

// addTo adds k times e to f. It reports whether e is linear; if it isn't, f is
// spoilt.
func (e *Expr) addTo(f *Form, k float64, known Known) bool {
	switch e.Op {
	case Const:
		f.Const += k * e.Value
		return true
	case Ref:
		if v, ok := known(e.Var); ok {
			f.Const += k * v
		} else if k != 0 {
			f.Terms = append(f.Terms, Term{e.Var, k})
		}
		return true
	case Sum:
		for i := range e.Args {
			if !e.Args[i].addTo(f, k, known) {
				return false
			}
		}
		return true
	case Product:
		// All factors but one must be constant, unless one of them is 0. Where only one
		// can be anything else it need not be worked out to see: in a chain of products
		// that would double the work at each step.
		only := e.onlyOpen(known)
		open := -1
		for i := range e.Args {
			if i == only {
				open = i
				continue
			}
			c, ok := e.Args[i].constant(known)
			switch {
			case ok && c == 0:
				return true
			case ok:
				k *= c
			case open < 0:
				open = i
			default:
				open = len(e.Args)
			}
		}
		switch {
		case open < 0:
			f.Const += k
			return true
		case open == len(e.Args):
			return false
		}
		return e.Args[open].addTo(f, k, known)
	case Quotient:
		if len(e.Args) != 2 {
			f.Const = math.NaN()
			return true
		}
		under, ok := e.Args[1].constant(known)
		switch {
		case !ok:
			return false
		case under == 0:
			f.Const = math.NaN()
			return true
		}
		return e.Args[0].addTo(f, k/under, known)
	case Min, Max:
		if len(e.Args) == 1 {
			return e.Args[0].addTo(f, k, known)
		}
	}
	c, ok := e.constant(known)
	f.Const += k * c
	return ok
}

// onlyOpen is which of e's arguments alone can be anything but a constant: the
// only one that isn't written as a number, or else the only one that mentions a
// dimension that isn't known. It is -1 if there is no such argument, and where all
// are numbers and names, which are worked out as soon as looked at.
func (e *Expr) onlyOpen(known Known) int {
	only, several, made := -1, false, false
	for i := range e.Args {
		if op := e.Args[i].Op; op != Const {
			several, made = several || only >= 0, made || op != Ref
			only = i
		}
	}
	switch {
	case !several:
		return only
	case !made:
		return -1
	}
	only = -1
	for i := range e.Args {
		switch {
		case !e.Args[i].open(known):
		case only >= 0:
			return -1
		default:
			only = i
		}
	}
	return only
}

// open reports whether e mentions a dimension that isn't known.
func (e *Expr) open(known Known) bool {
	if e.Op == Ref {
		_, ok := known(e.Var)
		return !ok
	}
	for i := range e.Args {
		if e.Args[i].open(known) {
			return true
		}
	}
	return false
}

// constant is the value of e if it is one: if it mentions no dimension that
// isn't known, or those that it does cancel.
func (e *Expr) constant(known Known) (float64, bool) {
	switch e.Op {
	case Const:
		return e.Value, true
	case Ref:
		return known(e.Var)
	case Sum, Product, Quotient:
		var f Form
		if !e.addTo(&f, 1, known) {
			return 0, false
		}
		return f.Const, len(tidy(f.Terms)) == 0
	}
	var few [4]float64
	args := few[:0]
	for i := range e.Args {
		c, ok := e.Args[i].constant(known)
		if !ok {
			return 0, false
		}
		args = append(args, c)
	}
	return e.apply(args), true
}

// Scale is f times k.
func (f Form) Scale(k float64) Form {
	terms := make([]Term, len(f.Terms))
	for i, t := range f.Terms {
		terms[i] = Term{t.Var, t.Coef * k}
	}
	return Form{Terms: terms, Const: f.Const * k}
}

// Plus is f + k*g.
func (f Form) Plus(g Form, k float64) Form {
	terms := make([]Term, 0, len(f.Terms)+len(g.Terms))
	terms = append(terms, f.Terms...)
	for _, t := range g.Terms {
		terms = append(terms, Term{t.Var, t.Coef * k})
	}
	return Form{Terms: tidy(terms), Const: f.Const + k*g.Const}
}

// Eval is the value of the form.
func (f Form) Eval(values []float64) float64 {
	sum := f.Const
	for _, t := range f.Terms {
		sum += t.Coef * values[t.Var]
	}
	return sum
}

// cancelled is how small a sum may be beside its parts before it counts as 0:
// well above rounding, well below any coefficient a maker would write.
const cancelled = 1e-13

// tidy sorts terms, adds up those of one dimension and drops what comes to 0.
// It may reuse the slice.
func tidy(terms []Term) []Term {
	if len(terms) < 2 {
		if len(terms) == 1 && terms[0].Coef == 0 {
			return nil
		}
		return terms
	}
	if inOrder(terms) {
		return terms
	}
	slices.SortStableFunc(terms, func(a, b Term) int { return int(a.Var) - int(b.Var) })
	kept := terms[:0]
	for i := 0; i < len(terms); {
		v, sum, size := terms[i].Var, 0.0, 0.0
		for ; i < len(terms) && terms[i].Var == v; i++ {
			sum += terms[i].Coef
			size += math.Abs(terms[i].Coef)
		}
		if !(math.Abs(sum) <= cancelled*size) {
			kept = append(kept, Term{v, sum})
		}
	}
	return kept
}

// inOrder reports whether terms are tidy already.
func inOrder(terms []Term) bool {
	for i, t := range terms {
		if t.Coef == 0 || i > 0 && terms[i-1].Var >= t.Var {
			return false
		}
	}
	return true
}

// Difference is left - right of the relation as a linear form, if it is one.
func (r *Relation) Difference(known Known) (Form, bool) { return r.DifferenceIn(nil, known) }

// DifferenceIn is Difference with room for the terms, which may be used for
// them.
func (r *Relation) DifferenceIn(room []Term, known Known) (Form, bool) {
	f := Form{Terms: room[:0]}
	if !r.Left.addTo(&f, 1, known) || !r.Right.addTo(&f, -1, known) {
		return Form{}, false
	}
	f.Terms = tidy(f.Terms)
	return f, true
}

// Limits gives an inequality as linear forms that must each be at least 0.
// A >= max(B, C) becomes two, and so does abs(A) <= B; ok is false where the
// relation can't be put that way.
func (r *Relation) Limits(known Known) (forms []Form, ok bool) {
	more, less := r.Left, r.Right
	if r.Sign == LE {
		more, less = less, more
	}
	a, ok := more.pieces(known, false)
	if !ok {
		return nil, false
	}
	b, ok := less.pieces(known, true)
	if !ok || len(a)*len(b) > maxPieces {
		return nil, false
	}
	for _, f := range a {
		for _, g := range b {
			forms = append(forms, f.Plus(g, -1))
		}
	}
	return forms, true
}

const maxPieces = 64

// pieces gives e as the greatest (most) or the least of some linear forms.
func (e Expr) pieces(known Known, most bool) ([]Form, bool) {
	if f, ok := e.Linear(known); ok {
		return []Form{f}, true
	}
	switch {
	case e.Op == Max && most, e.Op == Min && !most:
		var all []Form
		for _, a := range e.Args {
			p, ok := a.pieces(known, most)
			if !ok {
				return nil, false
			}
			all = append(all, p...)
		}
		return all, len(all) <= maxPieces
	case e.Op == Abs && most && len(e.Args) == 1:
		up, ok := e.Args[0].pieces(known, true)
		if !ok {
			return nil, false
		}
		down, ok := Neg(e.Args[0]).pieces(known, true)
		return append(up, down...), ok && len(up)+len(down) <= maxPieces
	case e.Op == Sum:
		all := []Form{{}}
		for _, a := range e.Args {
			p, ok := a.pieces(known, most)
			if !ok || len(all)*len(p) > maxPieces {
				return nil, false
			}
			var next []Form
			for _, f := range all {
				for _, g := range p {
					next = append(next, f.Plus(g, 1))
				}
			}
			all = next
		}
		return all, true
	case e.Op == Product:
		k := 1.0
		var rest *Expr
		for i := range e.Args {
			f, ok := e.Args[i].Linear(known)
			switch {
			case ok && len(f.Terms) == 0:
				k *= f.Const
			case rest == nil:
				rest = &e.Args[i]
			default:
				return nil, false
			}
		}
		if rest == nil {
			return nil, false
		}
		return rest.scaledPieces(known, most, k)
	case e.Op == Quotient && len(e.Args) == 2:
		f, ok := e.Args[1].Linear(known)
		if !ok || len(f.Terms) > 0 || f.Const == 0 {
			return nil, false
		}
		return e.Args[0].scaledPieces(known, most, 1/f.Const)
	}
	return nil, false
}

func (e Expr) scaledPieces(known Known, most bool, k float64) ([]Form, bool) {
	p, ok := e.pieces(known, most == (k >= 0))
	if !ok {
		return nil, false
	}
	for i := range p {
		p[i] = p[i].Scale(k)
	}
	return p, true
}
