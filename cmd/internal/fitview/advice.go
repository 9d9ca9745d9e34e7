package fitview

import (
	"fmt"

	"foredge/eval/fit"
	"foredge/lang/spell"
)

// most is how many sentences of advice a person is given.
const most = 3

// advice says what to do next, the most pressing first.
func (p *page) advice() []string {
	var all []string
	add := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	p.againAdvice(add)
	if p.notebook.Agreement.Verdict != fit.Contradict { // else the values are off from which it would come
		p.easeAdvice(add)
	}
	p.nextAdvice(add)
	for _, r := range p.notebook.Rows {
		if r.Wire == nil && len(r.Covers) > 0 {
			example := "wire = 0.9 ± 0.02"
			if p.notebook.Unit.Imperial() {
				example = "wire = 0.035 ± 0.001"
			}
			add("State how thick the wire is, as in %s in row %s, to be told how surely the holes clear it.", example, r.Name)
			break
		}
	}
	var unchecked []string
	for _, r := range p.notebook.Readings {
		if !r.Checked && r.Row != "" && r.Name != r.Row+".wire" {
			unchecked = append(unchecked, r.Name)
		}
	}
	if len(unchecked) > 0 && p.notebook.Agreement.Verdict != fit.Unchecked {
		if len(unchecked) > 4 {
			unchecked = append(unchecked[:3:3], fmt.Sprintf("%d others", len(unchecked)-3))
		}
		add("Look at %s once more: nothing else would show a slip there.", spell.And(unchecked))
	}
	return all[:min(most, len(all))]
}

// againAdvice names the readings to take again.
func (p *page) againAdvice(add func(string, ...any)) {
	if len(p.notebook.Suspects) == 0 {
		return
	}
	first := p.notebook.Readings[p.notebook.Suspects[0]]
	if slip := p.notebook.Slip; slip != nil {
		add("Look at the unit of %s: it was taken as %s, and agrees with the others as %s.", first.Name, glued(slip.Was()), glued(slip.As()))
		return
	}
	implied := ""
	if value, ok := first.Implied.Get(); ok {
		u := first.ImpliedU.Or(0)
		implied = "; the others make it " + p.within(value, u, u)
	}
	if len(p.notebook.Suspects) == 1 {
		add("Take %s again: it was read as %s%s.", first.Name, p.length(first.Read), implied)
		return
	}
	names := make([]string, len(p.notebook.Suspects))
	for i, k := range p.notebook.Suspects {
		names[i] = p.notebook.Readings[k].Name
	}
	add("Take %s again, as one of them is off and nothing tells which; %s was read as %s%s.", spell.And(names), first.Name, p.length(first.Read), implied)
}

// easeAdvice says how to make holes clear that may not.
func (p *page) easeAdvice(add func(string, ...any)) {
	told := map[string]bool{}
	for _, r := range p.notebook.Rows {
		for _, c := range r.Covers {
			probability := c.Probability.Or(1)
			more, enough := c.More99.Get()
			if probability >= 0.99 || !enough {
				continue
			}
			what := fmt.Sprintf("Open the holes of %s by %s more", c.Name, p.length(more))
			key := fmt.Sprint(r.Name, more)
			if ease, ok := c.Ease99.Get(); ok {
				what = fmt.Sprintf("Give %s an ease of %s", c.Name, p.length(ease))
				key = fmt.Sprint(r.Name, ease)
			}
			if !told[key] {
				add("%s, and the chance that every hole clears the wire rises from %s to 99 %%.", what, percent(probability, 0))
			}
			told[key] = true
		}
	}
}

// nextAdvice names the reading that would narrow the fit most.
func (p *page) nextAdvice(add func(string, ...any)) {
	n := p.notebook.Next
	if n == nil {
		return
	}
	where := n.Reading
	if n.Row != "" {
		where += " in row " + n.Row
	}
	before, known := n.Before.Get()
	if !known {
		add("Read %s: nothing says yet %s.", where, n.Target)
		return
	}
	target := n.Target
	if len(p.notebook.Rows) > 1 {
		target += " of " + n.TargetRow
	}
	add("If you read one thing more, let it be %s: that leaves %s open by %s instead of %s, 95 times in a hundred.",
		where, target, p.spread(2*n.After.Or(0))+glue+p.notebook.Unit.Name, p.spread(2*before)+glue+p.notebook.Unit.Name)
}
