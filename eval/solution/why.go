package solution

import (
	"foredge/eval/relation"
	"foredge/eval/solve"
	"foredge/lang/source"
)

// causeAt is the place of what gave a dimension its value.
func (s *Solution) causeAt(id relation.VarID) source.Span {
	at, _ := s.cause(s.Numbers.Cause[id])
	if at.IsZero() {
		return s.System.Vars[id].At
	}
	return at
}

// cause is where a cause stands, and how to say it.
func (s *Solution) cause(c solve.Cause) (at source.Span, say func() string) {
	nothing := func() string { return "" }
	switch c.Kind {
	case solve.ByRelation, solve.ByLimit:
		if c.Index >= 0 {
			r := &s.System.Relations[c.Index]
			return r.At, func() string { return s.Say(r) }
		}
	case solve.ByReadings:
		if c.Index >= 0 {
			r := &s.System.Readings[c.Index]
			return r.At, func() string { return r.Text }
		}
	case solve.ByWishLine:
		w := &s.System.Wishes[c.Index]
		return w.At, func() string { return w.Words }
	case solve.ByDefaultLine:
		d := &s.System.Defaults[c.Index]
		return d.At, func() string { return s.System.SayDefault(d, s.UnitOf(d.At)) }
	}
	return source.Span{}, nothing
}

// A Step is one step of an explanation: how a dimension came to its value.
type Step struct {
	Depth int // how many steps away from the dimension asked for
	Name  string
	Value string // with its unit, for a person
	// Uncertainty is the standard uncertainty, "" for an exact value.
	Uncertainty string
	// Within is how far the readings leave the value open, 95 times in a hundred: twice
	// that. It is "" for an exact value.
	Within string
	From   solve.Origin
	Text   string // the relation, the reading, the wish or the default
	At     source.Span
	// With are the lines that give it only together with Text.
	With []With
	// More is, of a count that is most and is asked for, the next one, and Breaks the lines that can't
	// all hold with it.
	More   string
	Breaks []With
	// Seen says that the dimension was explained further up.
	Seen bool
}

// A With is a further line of a step.
type With struct {
	Text string
	At   source.Span
}

// Why walks from dimensions to the lines that give them, one dimension after the
// other.
func (s *Solution) Why(ids ...relation.VarID) []Step {
	var steps []Step
	seen := map[relation.VarID]bool{}
	var walk func(id relation.VarID, depth int)
	walk = func(id relation.VarID, depth int) {
		step := s.step(id)
		step.Depth, step.Seen = depth, seen[id]
		steps = append(steps, step)
		if step.Seen {
			return
		}
		seen[id] = true
		for _, from := range s.Numbers.Cause[id].From {
			if from != id {
				walk(from, depth+1)
			}
		}
	}
	for _, id := range ids {
		first := len(steps)
		walk(id, 0)
		if v := s.System.Vars[id]; v.Most && s.Known(id) {
			steps[first].More = s.Format(s.Value(id)+1, v.Kind, v.At)
			steps[first].Breaks = s.oneMore(id)
		}
	}
	return steps
}

// step explains one dimension.
func (s *Solution) step(id relation.VarID) Step {
	v, c := s.System.Vars[id], s.Numbers.Cause[id]
	at, say := s.cause(c)
	step := Step{Name: v.Name, Value: s.Format(s.Value(id), v.Kind, v.At), From: s.Numbers.From[id], Text: say(), At: at}
	if u := s.Numbers.U[id]; u > 0 {
		step.Uncertainty, step.Within = s.Format(u, v.Kind, v.At), s.Format(2*u, v.Kind, v.At)
	}
	if !s.Known(id) {
		step.Value = "not decided"
	}
	if c.Kind == solve.ByLimit && step.Text != "" {
		step.Text = "held at " + step.Text
	}
	if c.Kind == solve.ByDefaultLine && c.Missed {
		step.Text = "as near as others allow to " + step.Text
	}
	for _, i := range c.Together {
		if c.Kind != solve.ByRelation || i != c.Index {
			r := &s.System.Relations[i]
			step.With = append(step.With, With{s.Say(r), r.At})
		}
	}
	return step
}
