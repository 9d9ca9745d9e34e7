package solve

import (
	"math"
	"slices"
)

// A space is what the equations leave open: parameters, and forms in them for
// every dimension and limit. Fixing a form takes one parameter away.
type space struct {
	forms []affine
	// floor says of each form that it must not fall below 0.
	floor []bool
	uses  [][]int32 // parameter to forms that mention it; may list some that no longer do
	// seenParam and seenForm are marked with the round of around that saw them.
	seenParam, seenForm []int
	round               int
}

// spaceOf tracks the given forms, in order, without a floor.
func spaceOf(n int, forms []affine) *space {
	return &space{forms: forms, floor: make([]bool, len(forms)), uses: usesOf(n, forms)}
}

// usesOf lists for each parameter the forms that mention it.
func usesOf(n int, forms []affine) [][]int32 {
	uses := newLister[int32](n)
	for _, f := range forms {
		for _, t := range f.terms {
			uses.expect(t.at)
		}
	}
	for id, f := range forms {
		for _, t := range f.terms {
			uses.put(t.at, int32(id))
		}
	}
	return uses.done().apart()
}

// track adds a form and returns its number.
func (s *space) track(f affine, floor bool) int32 {
	id := int32(len(s.forms))
	s.forms = append(s.forms, f)
	s.floor = append(s.floor, floor)
	for _, t := range f.terms {
		s.uses[t.at] = append(s.uses[t.at], id)
	}
	return id
}

// trackAll adds forms that must not fall below 0, and returns the number of the
// first.
func (s *space) trackAll(forms []affine) int32 {
	first := int32(len(s.forms))
	s.forms = append(slices.Grow(s.forms, len(forms)), forms...)
	for range forms {
		s.floor = append(s.floor, true)
	}
	s.uses = usesOf(len(s.uses), s.forms)
	return first
}

// clone is a copy that can be changed on its own.
func (s *space) clone() *space {
	c := &space{forms: slices.Clone(s.forms), floor: slices.Clone(s.floor), uses: make([][]int32, len(s.uses))}
	for i, u := range s.uses {
		c.uses[i] = slices.Clone(u)
	}
	return c
}

// fixAll makes all of some forms 0, as far as they don't depend on one another:
// it says which of them took a parameter away.
func (s *space) fixAll(rows []affine) []bool {
	e := eliminate(rows, len(s.uses))
	took := make([]bool, len(rows))
	for _, r := range e.pivotRow {
		took[r] = true
	}
	sum, moves := newGatherer(len(s.uses)), newGatherer(0)
	for id, f := range s.forms {
		if !slices.ContainsFunc(f.terms, func(t term) bool { return e.rowOf[t.at] >= 0 }) {
			continue
		}
		next := affine{c: f.c}
		moves.add(1, f.g)
		for _, t := range f.terms {
			sub := e.forms[t.at]
			next.c += t.c * sub.c
			sum.add(t.c, sub.terms)
			moves.add(t.c, sub.g)
		}
		next.terms, next.g = sum.take(vanish), moves.take(0)
		s.forms[id] = next
	}
	s.uses = usesOf(len(s.uses), s.forms)
	return took
}

// fix makes f = 0 hold, f in today's parameters, by giving one parameter by
// the others. It does nothing if f has no parameter.
func (s *space) fix(f affine) {
	if len(f.terms) == 0 {
		return
	}
	// Of the parameters large enough in f, take the one that fewest mention.
	least := safePivot * size(f.terms)
	p, a := int32(-1), 0.0
	for _, t := range f.terms {
		if math.Abs(t.c) >= least && (p < 0 || len(s.uses[t.at]) < len(s.uses[p])) {
			p, a = t.at, t.c
		}
	}
	if p < 0 {
		return
	}
	ids := s.uses[p]
	s.uses[p] = nil
	slices.Sort(ids)
	for _, id := range slices.Compact(ids) {
		old := s.forms[id]
		i, ok := find(old.terms, p)
		if !ok {
			continue
		}
		k := -old.terms[i].c / a
		next := old.plus(k, f)
		if i, ok := find(next.terms, p); ok {
			next.terms = slices.Delete(next.terms, i, i+1)
		}
		s.forms[id] = next
		for _, t := range f.terms {
			if t.at != p && old.coef(t.at) == 0 && next.coef(t.at) != 0 {
				s.uses[t.at] = append(s.uses[t.at], id)
			}
		}
	}
}

// around gives the parameters that hang together with those of the given form
// through limits, and the limits among them, all in order.
func (s *space) around(f affine) (params, limits []int32) {
	s.round++
	for len(s.seenParam) < len(s.uses) {
		s.seenParam = append(s.seenParam, 0)
	}
	for len(s.seenForm) < len(s.forms) {
		s.seenForm = append(s.seenForm, 0)
	}
	see := func(terms []term) {
		for _, t := range terms {
			if s.seenParam[t.at] != s.round {
				s.seenParam[t.at] = s.round
				params = append(params, t.at)
			}
		}
	}
	see(f.terms)
	for i := 0; i < len(params); i++ {
		p := params[i]
		for _, id := range s.uses[p] {
			if !s.floor[id] || s.seenForm[id] == s.round || s.forms[id].coef(p) == 0 {
				continue
			}
			s.seenForm[id] = s.round
			limits = append(limits, id)
			see(s.forms[id].terms)
		}
	}
	slices.Sort(params)
	slices.Sort(limits)
	return params, limits
}
