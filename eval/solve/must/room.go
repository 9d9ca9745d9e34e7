package must

import (
	"math"

	"foredge/eval/solve/sparse"
)

// A room is what a problem writes into: a place for each dimension and each
// relation of the system. A problem leaves untouched all that is outside its
// scope, so that a room can be swept and used again for little.
type room struct {
	Value  []float64
	Known  []bool
	Given  []bool // known from the start
	Grad   [][]sparse.Term
	giver  []giver
	FormOf []int32 // dimension to its form in space, -1 if it has none
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
		Value: make([]float64, s.vars), Known: make([]bool, s.vars), Given: make([]bool, s.vars), Grad: make([][]sparse.Term, s.vars),
		giver: make([]giver, s.vars), FormOf: make([]int32, s.vars), seen: make([]bool, s.vars), raised: make([]bool, s.vars),
		open: make([]int32, s.relations), queued: make([]bool, s.relations), dead: make([]bool, s.relations), mine: make([]bool, s.relations),
	}
	for v := range r.Value {
		r.Value[v], r.FormOf[v] = math.NaN(), -1
	}
	return r
}
