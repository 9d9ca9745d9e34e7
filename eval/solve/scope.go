package solve

import (
	"math"
	"slices"

	"foredge/eval/relation"
)

// A scope is the part of a system that a problem is about. What is done in a
// scope takes time by its size, not by that of the system.
type scope struct {
	relations []int32          // in order
	vars      []relation.VarID // in order; all that the relations mention are among them
}

// divide finds the scope of every bench and that of the design.
func (p *plan) divide() {
	p.rooms = &rooms{vars: len(p.sys.Vars), relations: len(p.sys.Relations)}
	p.design.vars = make([]relation.VarID, len(p.sys.Vars))
	vars := newLister[relation.VarID](len(p.sys.Benches) + 1)
	at := func(bench int) int32 { // where what is no bench's comes last
		if bench >= 1 && bench <= len(p.sys.Benches) {
			return int32(bench - 1)
		}
		return int32(len(p.sys.Benches))
	}
	for v := range p.sys.Vars {
		p.design.vars[v] = relation.VarID(v)
		vars.expect(at(p.sys.Vars[v].Bench))
	}
	for v := range p.sys.Vars {
		vars.put(at(p.sys.Vars[v].Bench), relation.VarID(v))
	}
	p.own = vars.done().apart()[:len(p.sys.Benches)]
	p.benches = make([]scope, len(p.sys.Benches))
	for i := range p.benches {
		p.benches[i].vars = p.own[i]
	}
	for r := range p.sys.Relations {
		switch b := p.sys.Relations[r].Bench; {
		case b == 0:
			p.design.relations = append(p.design.relations, int32(r))
		case b >= 1 && b <= len(p.benches):
			s := &p.benches[b-1]
			s.relations = append(s.relations, int32(r))
			s.also(p, b, p.vars[r])
		}
	}
}

// also adds the dimensions that are not of the bench itself: its own are in
// the scope already.
func (s *scope) also(p *plan, bench int, vars []relation.VarID) {
	for _, v := range vars {
		if p.sys.Vars[v].Bench != bench {
			s.vars = append(s.vars, v)
		}
	}
}

func (s *scope) sort() {
	if !slices.IsSorted(s.relations) {
		slices.Sort(s.relations)
	}
	if !slices.IsSorted(s.vars) {
		slices.Sort(s.vars)
	}
	s.relations, s.vars = slices.Compact(s.relations), slices.Compact(s.vars)
}

// connected is what hangs together with some dimensions: the relations in play
// that mention them, what else is unknown in those, and so on. If also is not
// nil, it says what else hangs together with an unknown dimension.
func (q *problem) connected(todo []relation.VarID, also func(relation.VarID) []relation.VarID) scope {
	marks := newProblem(q.plan, scope{}, nil, q.signs)
	defer marks.leave()
	s := &marks.scope
	see := func(v relation.VarID) {
		if !marks.seen[v] {
			marks.seen[v] = true
			s.vars = append(s.vars, v)
		}
	}
	for _, v := range todo {
		see(v)
	}
	for i := 0; i < len(s.vars); i++ {
		v := s.vars[i]
		if q.known[v] {
			continue
		}
		if also != nil {
			for _, w := range also(v) {
				see(w)
			}
		}
		for _, of := range [2]lists[int32]{q.equations, q.limits} {
			for _, r := range of.of(int32(v)) {
				if q.active[r] && !marks.active[r] {
					marks.active[r] = true
					s.relations = append(s.relations, r)
					for _, w := range q.vars[r] {
						see(w)
					}
				}
			}
		}
	}
	s.sort()
	return *s
}

// A room is what a problem writes into: a place for each dimension and each
// relation of the system. A problem leaves untouched all that is outside its
// scope, so that a room can be swept and used again for little.
type room struct {
	value  []float64
	known  []bool
	given  []bool // known from the start
	grad   [][]term
	giver  []giver
	formOf []int32 // dimension to its form in space, -1 if it has none
	seen   []bool  // dimensions in the scope, while that is being found
	raised []bool  // a stated limit keeps it at 0 or more, so that its sign rule says nothing

	open   []int32 // of each equation, how many of its dimensions are unknown
	queued []bool
	dead   []bool // equations found wrong, left out of what follows
	mine   []bool // the relations in play, where the problem alone says which
}

// rooms keeps the rooms that are not in use.
type rooms struct {
	vars, relations int
	free            []*room
}

func (s *rooms) take() *room {
	if n := len(s.free); n > 0 {
		r := s.free[n-1]
		s.free = s.free[:n-1]
		return r
	}
	r := &room{
		value: make([]float64, s.vars), known: make([]bool, s.vars), given: make([]bool, s.vars), grad: make([][]term, s.vars),
		giver: make([]giver, s.vars), formOf: make([]int32, s.vars), seen: make([]bool, s.vars), raised: make([]bool, s.vars),
		open: make([]int32, s.relations), queued: make([]bool, s.relations), dead: make([]bool, s.relations), mine: make([]bool, s.relations),
	}
	for v := range r.value {
		r.value[v], r.formOf[v] = math.NaN(), -1
	}
	return r
}

// leave sweeps the problem's room and gives it back. Nothing may be asked of
// the problem afterwards.
func (q *problem) leave() {
	r := q.room
	for _, v := range q.scope.vars {
		r.value[v], r.known[v], r.given[v], r.grad[v], r.giver[v], r.formOf[v], r.seen[v] = math.NaN(), false, false, nil, giver{}, -1, false
		r.raised[v] = false
	}
	for _, i := range q.scope.relations {
		r.open[i], r.queued[i], r.dead[i], r.mine[i] = 0, false, false, false
	}
	q.rooms.free = append(q.rooms.free, r)
	q.room = nil
}
