package fitview

import (
	"fmt"
	"math"

	"foredge/eval/fit"
)

// most is how many sentences of advice a person is given.
const most = 3

// advice says what to do next, the most pressing first.
func (p *page) advice() []string {
	var all []string
	add := func(format string, args ...any) { all = append(all, fmt.Sprintf(format, args...)) }
	p.againAdvice(add)
	if p.n.Agreement.Verdict != fit.Contradict { // else the values are off from which it would come
		p.easeAdvice(add)
	}
	p.nextAdvice(add)
	for _, r := range p.n.Rows {
		if r.Wire == nil && len(r.Covers) > 0 {
			example := "wire = 0.9 ± 0.02"
			if p.n.Unit.Imperial() {
				example = "wire = 0.035 ± 0.001"
			}
			add("State how thick the wire is, as in %s in row %s, to be told how surely the holes clear it.", example, r.Name)
			break
		}
	}
	var unchecked []string
	for _, r := range p.n.Readings {
		if !r.Checked && r.Row != "" && r.Name != r.Row+".wire" {
			unchecked = append(unchecked, r.Name)
		}
	}
	if len(unchecked) > 0 && p.n.Agreement.Verdict != fit.Unchecked {
		if len(unchecked) > 4 {
			unchecked = append(unchecked[:3:3], fmt.Sprintf("%d others", len(unchecked)-3))
		}
		add("Look at %s once more: nothing else would show a slip there.", list(unchecked))
	}
	return all[:min(most, len(all))]
}

// againAdvice names the readings to take again.
func (p *page) againAdvice(add func(string, ...any)) {
	if len(p.n.Suspects) == 0 {
		return
	}
	first := p.n.Readings[p.n.Suspects[0]]
	if slip := p.n.Slip; slip != nil {
		add("Look at the unit of %s: it was taken as %s, and agrees with the others as %s.", first.Name, glued(slip.Was()), glued(slip.As()))
		return
	}
	implied := ""
	if !math.IsNaN(first.Implied) {
		implied = "; the others make it " + p.within(first.Implied, first.ImpliedU, first.ImpliedU)
	}
	if len(p.n.Suspects) == 1 {
		add("Take %s again: it was read as %s%s.", first.Name, p.length(first.Read), implied)
		return
	}
	names := make([]string, len(p.n.Suspects))
	for i, k := range p.n.Suspects {
		names[i] = p.n.Readings[k].Name
	}
	add("Take %s again, as one of them is off and nothing tells which; %s was read as %s%s.", list(names), first.Name, p.length(first.Read), implied)
}

// easeAdvice says how to make holes clear that may not.
func (p *page) easeAdvice(add func(string, ...any)) {
	told := map[string]bool{}
	for _, r := range p.n.Rows {
		for _, c := range r.Covers {
			if !(c.Probability < 0.99) || math.IsNaN(c.More99) {
				continue
			}
			what := fmt.Sprintf("Open the holes of %s by %s more", c.Name, p.length(c.More99))
			key := fmt.Sprint(r.Name, c.More99)
			if !math.IsNaN(c.Ease99) {
				what = fmt.Sprintf("Give %s an ease of %s", c.Name, p.length(c.Ease99))
				key = fmt.Sprint(r.Name, c.Ease99)
			}
			if !told[key] {
				add("%s, and every hole will clear the wire with 99 %% instead of %s.", what, percent(c.Probability, 0))
			}
			told[key] = true
		}
	}
}

// nextAdvice names the reading that would narrow the fit most.
func (p *page) nextAdvice(add func(string, ...any)) {
	n := p.n.Next
	if n == nil {
		return
	}
	where := n.Reading
	if n.Row != "" {
		where += " in row " + n.Row
	}
	if math.IsNaN(n.Before) {
		add("Read %s: nothing says yet %s.", where, n.Target)
		return
	}
	target := n.Target
	if len(p.n.Rows) > 1 {
		target += " of " + n.TargetRow
	}
	add("If you read one thing more, let it be %s: the standard uncertainty of %s then falls from %s to %s.",
		where, target, p.spread(n.Before), p.spread(n.After)+glue+p.n.Unit.Name)
}
