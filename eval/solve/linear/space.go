package linear

import (
	"math"
	"slices"

	"foredge/eval/solve/graph"
	"foredge/eval/solve/sparse"
)

// A Space is what the equations leave open: parameters, and forms in them for
// every dimension and limit. Fixing a form takes one parameter away.
type Space struct {
	Forms []sparse.Affine
	// Floor says of each form that it must not fall below 0.
	Floor []bool
	Uses  [][]int32 // parameter to forms that mention it; may list some that no longer do
	// Stated tells limits that are stated from others, if it is not nil.
	Stated func(form int32) bool
	// Gone are the parameters that are no longer there, in the order in which they went.
	Gone []int32
	// seenParam and seenForm are marked with the round of Around that saw them.
	seenParam, seenForm []int
	round               int
	point               *point // nil if there is none
	// tied has the parameters that hang together through limits in one group; nil
	// until that is asked for. Some may no longer.
	tied *graph.Groups
}

// NewSpace tracks the given forms, in order, without a floor.
func NewSpace(n int, forms []sparse.Affine) *Space {
	return &Space{Forms: forms, Floor: make([]bool, len(forms)), Uses: usesOf(n, forms)}
}

// usesOf lists for each parameter the forms that mention it.
func usesOf(n int, forms []sparse.Affine) [][]int32 {
	uses := sparse.NewLister[int32](n)
	for _, f := range forms {
		for _, t := range f.Terms {
			uses.Expect(t.At)
		}
	}
	for id, f := range forms {
		for _, t := range f.Terms {
			uses.Put(t.At, int32(id))
		}
	}
	return uses.Done().Apart()
}

// Track adds a form and returns its number.
func (s *Space) Track(f sparse.Affine, floor bool) int32 {
	id := int32(len(s.Forms))
	s.Forms = append(s.Forms, f)
	s.Floor = append(s.Floor, floor)
	if floor {
		s.Leave()
		s.tie(f.Terms)
	}
	for _, t := range f.Terms {
		s.Uses[t.At] = append(s.Uses[t.At], id)
	}
	return id
}

// TrackAll adds forms that must not fall below 0, and returns the number of the
// first.
func (s *Space) TrackAll(forms []sparse.Affine) int32 {
	first := int32(len(s.Forms))
	s.Forms = append(slices.Grow(s.Forms, len(forms)), forms...)
	for range forms {
		s.Floor = append(s.Floor, true)
	}
	s.Uses = usesOf(len(s.Uses), s.Forms)
	s.Leave()
	s.tied = nil
	return first
}

// Append takes over the forms and parameters of another space, numbered on after its
// own. It returns the numbers of the first.
func (s *Space) Append(other *Space) (form, param int32) {
	form, param = int32(len(s.Forms)), int32(len(s.Uses))
	used, terms := 0, 0
	for _, uses := range other.Uses {
		used += len(uses)
	}
	for _, f := range other.Forms {
		terms += len(f.Terms)
	}
	// One array each for all of them: there are many, and short.
	ids, moved := make([]int32, 0, used), make([]sparse.Term, 0, terms)
	for _, uses := range other.Uses {
		from := len(ids)
		for _, id := range uses {
			ids = append(ids, id+form)
		}
		s.Uses = append(s.Uses, ids[from:len(ids):len(ids)])
	}
	for i, f := range other.Forms {
		from := len(moved)
		for _, t := range f.Terms {
			moved = append(moved, sparse.Term{At: t.At + param, Coef: t.Coef})
		}
		f.Terms = moved[from:len(moved):len(moved)]
		s.Forms, s.Floor = append(s.Forms, f), append(s.Floor, other.Floor[i])
		if other.Floor[i] {
			s.tie(f.Terms)
		}
	}
	return form, param
}

// Guard says of a form that it must not fall below 0.
func (s *Space) Guard(form int32) {
	s.Floor[form] = true
	s.tie(s.Forms[form].Terms)
}

// tie notes that a limit mentions parameters, or has come to.
func (s *Space) tie(terms []sparse.Term) {
	if s.tied == nil {
		return
	}
	s.tied.Grow(len(s.Uses))
	for _, t := range terms {
		s.tied.Join(terms[0].At, t.At)
	}
}

// Group is a number that a parameter has in common with all that hang together with it
// through limits, and maybe with others.
func (s *Space) Group(param int32) int32 {
	if s.tied == nil {
		tied := graph.NewGroups(len(s.Uses))
		s.tied = &tied
		for id, f := range s.Forms {
			if s.Floor[id] {
				s.tie(f.Terms)
			}
		}
	}
	s.tied.Grow(len(s.Uses))
	return s.tied.Root(param)
}

// Clone is a copy that can be changed on its own.
func (s *Space) Clone() *Space {
	c := &Space{Forms: slices.Clone(s.Forms), Floor: slices.Clone(s.Floor), Uses: make([][]int32, len(s.Uses)), Stated: s.Stated}
	for i, u := range s.Uses {
		c.Uses[i] = slices.Clone(u)
	}
	return c
}

// FixAll makes all of some forms 0, as far as they don't depend on one another:
// it says which of them took a parameter away.
func (s *Space) FixAll(rows []sparse.Affine) []bool {
	s.Leave()
	s.tied = nil
	e := Eliminate(rows, len(s.Uses))
	took := make([]bool, len(rows))
	for i, r := range e.pivotRow {
		took[r] = true
		s.Gone = append(s.Gone, e.pivotCol[i])
	}
	sum, moves := sparse.NewGatherer(len(s.Uses)), sparse.NewGatherer(0)
	for id, f := range s.Forms {
		if !slices.ContainsFunc(f.Terms, func(t sparse.Term) bool { return e.RowOf[t.At] >= 0 }) {
			continue
		}
		next := sparse.Affine{Const: f.Const}
		moves.Add(1, f.Grad)
		for _, t := range f.Terms {
			sub := e.Forms[t.At]
			next.Const += t.Coef * sub.Const
			sum.Add(t.Coef, sub.Terms)
			moves.Add(t.Coef, sub.Grad)
		}
		next.Terms, next.Grad = sum.Take(sparse.Vanish), moves.Take(0)
		s.Forms[id] = next
	}
	s.Uses = usesOf(len(s.Uses), s.Forms)
	return took
}

// Fix makes f = 0 hold, f in today's parameters, by giving one parameter by
// the others. It does nothing if f has no parameter.
func (s *Space) Fix(f sparse.Affine) {
	if len(f.Terms) == 0 {
		return
	}
	// Of the parameters large enough in f, take the one that fewest mention.
	least := safePivot * sparse.Largest(f.Terms)
	p, a := int32(-1), 0.0
	for _, t := range f.Terms {
		if math.Abs(t.Coef) >= least && (p < 0 || len(s.Uses[t.At]) < len(s.Uses[p])) {
			p, a = t.At, t.Coef
		}
	}
	if p < 0 {
		return
	}
	s.keep(f)
	s.tie(f.Terms)
	ids := s.Uses[p]
	s.Uses[p] = nil
	s.Gone = append(s.Gone, p)
	slices.Sort(ids)
	for _, id := range slices.Compact(ids) {
		old := s.Forms[id]
		i, ok := sparse.Find(old.Terms, p)
		if !ok {
			continue
		}
		k := -old.Terms[i].Coef / a
		next := old.Plus(k, f)
		if i, ok := sparse.Find(next.Terms, p); ok {
			next.Terms = slices.Delete(next.Terms, i, i+1)
		}
		s.Forms[id] = next
		for _, t := range f.Terms {
			if t.At != p && old.Coef(t.At) == 0 && next.Coef(t.At) != 0 {
				s.Uses[t.At] = append(s.Uses[t.At], id)
			}
		}
		if s.Floor[id] {
			s.doubt(id, old.Terms)
		}
	}
}

// upTo makes rounds as many as there are places.
func upTo(n int, rounds []int) []int {
	if len(rounds) >= n {
		return rounds
	}
	return append(rounds, make([]int, n-len(rounds))...)
}

// Around gives the parameters that hang together with those of the given form
// through limits, and the limits among them, all in order.
func (s *Space) Around(f sparse.Affine) (params, limits []int32) {
	s.round++
	s.seenParam, s.seenForm = upTo(len(s.Uses), s.seenParam), upTo(len(s.Forms), s.seenForm)
	see := func(terms []sparse.Term) {
		for _, t := range terms {
			if s.seenParam[t.At] != s.round {
				s.seenParam[t.At] = s.round
				params = append(params, t.At)
			}
		}
	}
	see(f.Terms)
	for i := 0; i < len(params); i++ {
		p := params[i]
		for _, id := range s.Uses[p] {
			if !s.Floor[id] || s.seenForm[id] == s.round || s.Forms[id].Coef(p) == 0 {
				continue
			}
			s.seenForm[id] = s.round
			limits = append(limits, id)
			see(s.Forms[id].Terms)
		}
	}
	slices.Sort(params)
	slices.Sort(limits)
	return params, limits
}

// Unstopped reports whether no limit stops a parameter by itself on one side, so that
// forms with it can be moved as far as one likes. Others may still be, by several.
func (s *Space) Unstopped(param int32) bool {
	low, high := false, false // where a limit stops it
	for _, id := range s.Uses[param] {
		if s.Floor[id] {
			c := s.Forms[id].Coef(param)
			if low, high = low || c > 0, high || c < 0; low && high {
				return false
			}
		}
	}
	return true
}
