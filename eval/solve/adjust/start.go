package adjust

import (
	"math"
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/must"
	"foredge/eval/solve/plan"
	"foredge/eval/solve/root"
	"foredge/eval/solve/sparse"
)

// start finds out which of the musts that aren't linear decide something, or nothing
// but what is known: those that what was read and the other musts leave as many
// unknowns as there are of them, and one solution. It gives every dimension a first
// value, 1 where nothing gives it. Of musts with several solutions, of which no limit
// leaves one, it tells.
func (b *Bench) start(vars []relation.VarID) {
	b.findNulls()
	q := must.NewProblem(b.Solver, b.within, nil, true)
	defer q.Close()
	for _, v := range b.within.Vars {
		switch {
		case b.Known[v]:
			q.Value[v], q.Known[v], q.Given[v] = b.Value[v], true, true
		case sparse.Finite(b.values[v]) && !b.loose(b.VarForm(v).Terms):
			q.Value[v], q.Known[v], q.Given[v] = b.values[v], true, true
		}
	}
	for _, r := range b.Readings {
		if form, ok := b.openReading(r, func(v relation.VarID) bool { return q.Known[v] }); ok {
			q.Extra = append(q.Extra, must.ExtraRow{Form: form})
		}
	}
	q.Solve()
	without := map[int32]bool{} // what can't hold may hold once readings have moved
	for _, u := range q.Undecided {
		if len(u.Found) > 1 {
			b.Undecided = append(b.Undecided, u)
			continue
		}
		b.unsolved = append(b.unsolved, u)
		for _, r := range u.Relations {
			without[r] = true
		}
	}
	for _, r := range b.Pending {
		if b.IsEquation(r) && (without[r] || !slices.ContainsFunc(b.Plan.Vars[r], func(v relation.VarID) bool { return !q.Known[v] })) {
			b.bent = append(b.bent, r)
		}
	}
	b.follow(q)
	for _, v := range vars {
		switch {
		case b.Known[v]:
		case q.Known[v]:
			b.values[v] = q.Value[v]
		default:
			b.values[v] = 1
		}
	}
	b.nearest()
}

// nearest puts the unknowns of musts without a solution where these are nearest to
// holding, of a few places the first.
func (b *Bench) nearest() {
	for _, u := range b.unsolved {
		least, best := math.Inf(1), 1.0
		for _, x := range []float64{1, 10, 100, 1000} {
			for _, v := range u.Vars {
				b.values[v] = x
			}
			sum := 0.0
			for _, r := range u.Relations {
				sum += math.Abs(b.Sys.Relations[r].Residual(b.values))
			}
			if sum < least {
				least, best = sum, x
			}
		}
		for _, v := range u.Vars {
			b.values[v] = best
		}
	}
}

// giveUp tells of musts without a solution that have none either now that the readings
// have moved, and leaves open what they were to decide.
func (b *Bench) giveUp() {
	for _, u := range b.unsolved {
		lost := slices.ContainsFunc(u.Relations, func(r int32) bool {
			return !(math.Abs(b.Sys.Relations[r].Residual(b.values)) <= plan.Tolerance)
		}) || slices.ContainsFunc(u.Vars, func(v relation.VarID) bool { return !(math.Abs(b.values[v]) < root.Far) })
		if !lost {
			continue
		}
		b.Undecided = append(b.Undecided, u)
		for _, v := range u.Vars {
			b.open[v] = true
		}
	}
}

// openReading is what a linear reading was adjusted to, as form = 0; ok is false where
// it isn't linear or all of it is known.
func (b *Bench) openReading(r int, known func(relation.VarID) bool) (form relation.Form, ok bool) {
	read := &b.Plan.Readings[r]
	if form, ok = read.Form, read.Linear; !ok {
		form, ok = b.Sys.Readings[r].Solved().Linear(b.Lookup)
	}
	if !ok || !slices.ContainsFunc(form.Terms, func(t relation.Term) bool { return !known(t.Var) }) {
		return form, false
	}
	form.Const = 0
	for _, t := range form.Terms {
		form.Const -= t.Coef * b.values[t.Var]
	}
	return form, sparse.Finite(form.Const)
}

// openReadings are the readings that leave something of theirs open, at what they were
// adjusted to.
func (b *Bench) openReadings() (rows []must.ExtraRow) {
	known := func(v relation.VarID) bool { return !b.open[v] }
	for _, r := range b.Readings {
		form, ok := b.openReading(r, known)
		if !ok {
			continue
		}
		row := must.ExtraRow{Form: form}
		for _, t := range b.Form(form).Terms {
			row.Grad = append(row.Grad, sparse.Term{At: t.At + b.offset, Coef: -t.Coef})
		}
		rows = append(rows, row)
	}
	return rows
}

// follow works out what readings that aren't linear give, one dimension at a time.
func (b *Bench) follow(q *must.Problem) {
	room := make([]relation.Term, 0, 8)
	for progress := true; progress; {
		progress = false
		for _, r := range b.Readings {
			read := &b.Sys.Readings[r]
			left := read.Solved()
			f, ok := left.LinearIn(room, q.Lookup)
			if !ok || len(f.Terms) != 1 {
				continue
			}
			x := (read.Value - f.Const) / f.Terms[0].Coef
			if v := f.Terms[0].Var; sparse.Finite(x) && !q.Known[v] {
				q.Follow(v, x)
				progress = true
			}
		}
	}
}
