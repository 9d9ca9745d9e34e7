package level

import (
	"cmp"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
	"foredge/eval/solve/must"
	"foredge/eval/solve/sparse"
)

// outcomes meets the goals of a piece, and says what becomes of what bends in it; ok is
// false where nothing was found.
func (p *piece) outcomes(number, pieces int) (out []outcome, bent bend, ok bool) {
	f := p.solve(pieces)
	if f == nil {
		return nil, bend{}, false
	}
	lies := p.lie(f)
	d := p.design
	var held []int32
	acting := map[int32]bool{}
	for _, i := range f.acting {
		switch l := p.limits[i]; l.from {
		case ofSpace:
			held = append(held, l.at)
		case ofBend:
			acting[l.at] = true
		default:
			acting[-1-l.at] = true
		}
	}
	if p.goals[0].level == Wish {
		out = append(out, d.limitEquations(held)...)
	}
	for i, r := range p.bends {
		rel := &d.Sys.Relations[r]
		form, flat := d.flatForm(&rel.Left, &rel.Right, lies)
		if !flat {
			continue
		}
		if rel.Sign == relation.EQ {
			bent.equations = append(bent.equations, form)
		} else if rel.Sign == relation.LE {
			bent.limits = append(bent.limits, form.Scale(-1))
		} else {
			bent.limits = append(bent.limits, form)
		}
		if p.goals[0].level == Wish && p.runsInto(i, acting, f) {
			out = append(out, outcome{Fixing: Fixing{Level: Wish, Index: int(r), Limit: true, Met: true, Vars: d.varsOf(form)}, form: form})
		}
	}
	by := d.Problem.LimitsOf(held)
	for i, g := range p.goals {
		form := g.straight
		if form.Terms == nil {
			flat := false
			if form, flat = d.flatForm(g.left, g.right, lies); !flat {
				return nil, bend{}, false
			}
		}
		out = d.add(out, openGoal{goal: g, form: form}, f.value[i], by)
	}
	if p.goals[0].level == Wish {
		out = append(out, p.tied(f, lies, out, pieces)...)
	}
	for i := range out {
		out[i].piece = int32(number)
	}
	return out, bent, true
}

// runsInto reports whether wishes run into a limit that bends, or into a kink of an
// equation, each other kink of which lies on one side alone.
func (p *piece) runsInto(i int, acting map[int32]bool, f *find) bool {
	runs, equation := acting[p.bends[i]], p.design.Sys.Relations[p.bends[i]].Sign == relation.EQ
	for j := p.kinksOf[i]; j < p.kinksOf[i+1]; j++ {
		k := &p.kinks[j]
		if acting[int32(-1-j)] {
			runs = runs || equation // a limit may stay off where its kink is put on a side
			continue
		}
		if !k.alone(f.x) {
			return false
		}
	}
	return runs
}

// lie is where the kinks of a piece lie.
func (p *piece) lie(f *find) map[*relation.Expr]side {
	out := make(map[*relation.Expr]side, len(p.kinks))
	for i := range p.kinks {
		k := &p.kinks[i]
		out[k.expr] = side{arg: k.nearest(f.x), height: k.value(f.x)}
	}
	for _, i := range f.acting {
		// Of several arguments that are as large, the one that holds the goals back.
		if l := &p.limits[i]; l.from == ofKink && p.kinks[l.at].step == 0 {
			out[p.kinks[l.at].expr] = side{arg: l.arg}
		}
	}
	for by := f.by; by != nil; by = by.up {
		if by.way == on {
			out[p.kinks[by.kink].expr] = by.side
		}
	}
	return out
}

// settlePieces makes the outcomes of each piece equations, all at once: one after
// another they may leave more than one solution on the way. It returns the others, and
// those of pieces that can't hold so.
func (d *Design) settlePieces(outcomes []outcome) []outcome {
	if !slices.ContainsFunc(outcomes, func(o outcome) bool { return o.piece > 0 }) {
		return outcomes
	}
	slices.SortStableFunc(outcomes, func(a, b outcome) int { return cmp.Compare(a.piece, b.piece) })
	var rest []outcome
	for len(outcomes) > 0 {
		n := 1
		for n < len(outcomes) && outcomes[n].piece == outcomes[0].piece {
			n++
		}
		if part := outcomes[:n]; part[0].piece == 0 || !d.settlePiece(part) {
			rest = append(rest, part...)
		}
		outcomes = outcomes[n:]
	}
	return rest
}

// settlePiece makes the outcomes of a piece equations, if they can hold together.
func (d *Design) settlePiece(outcomes []outcome) bool {
	slices.SortStableFunc(outcomes, func(a, b outcome) int { return a.rank() - b.rank() })
	var rows []must.ExtraRow
	var forms []sparse.Affine
	var fixed []Fixing
	for _, o := range outcomes {
		a := d.Problem.Form(o.form).Plus(-1, o.target)
		if len(a.Terms) > 0 {
			rows, forms, fixed = append(rows, extraOf(o.form, o.target)), append(forms, a), append(fixed, o.Fixing)
		}
	}
	if len(rows) == 0 {
		return true
	}
	refused := len(d.refused)
	if !d.fixRows(rows...) {
		d.refused = d.refused[:refused]
		return false
	}
	for i, took := range takes(forms, fixed) {
		if took {
			d.Fixed = append(d.Fixed, fixed[i])
		}
	}
	return true
}

// takes says which of some forms say something that those of a better rank don't say,
// nor others of its own.
func takes(forms []sparse.Affine, by []Fixing) []bool {
	rows := locally(forms)
	n := 0
	for _, f := range rows {
		for _, t := range f.Terms {
			n = max(n, int(t.At)+1)
		}
	}
	took := make([]bool, len(forms))
	for first := 0; first < len(rows); {
		last := first + 1
		for last < len(rows) && by[last].rank() == by[first].rank() {
			last++
		}
		e := linear.Eliminate(rows[first:last], n)
		for _, r := range e.RowOf {
			if r >= 0 {
				took[first+int(r)] = true
			}
		}
		reduce := newReducer(e)
		for i := last; i < len(rows); i++ {
			rows[i] = reduce.reduce(rows[i])
		}
		first = last
	}
	return took
}

// locally puts forms by as many parameters as they speak of.
func locally(forms []sparse.Affine) []sparse.Affine {
	local := map[int32]int32{}
	out := make([]sparse.Affine, len(forms))
	for i, f := range forms {
		out[i] = sparse.Affine{Const: f.Const, Terms: make([]sparse.Term, len(f.Terms))}
		for j, t := range f.Terms {
			at, ok := local[t.At]
			if !ok {
				at = int32(len(local))
				local[t.At] = at
			}
			out[i].Terms[j] = sparse.Term{At: at, Coef: t.Coef}
		}
		slices.SortFunc(out[i].Terms, func(a, b sparse.Term) int { return cmp.Compare(a.At, b.At) })
	}
	return out
}
