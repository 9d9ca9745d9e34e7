package nest

import (
	"context"
	"sync"
)

// members is how many search at the same time. They are as many on any machine, and
// tell each other what they have found after fixed counts of steps, so that the result
// doesn't depend on how fast each runs.
const members = 2

// roundSteps is how many places each tries between two meetings.
const roundSteps = 40_000

// A team searches for spots of all pieces of the least value.
type team struct {
	ctx    context.Context
	budget int     // places that all may try
	least  float64 // no value can be less
	told   func(steps int, value float64)

	best  []spot
	value float64
	steps int // places tried by all up to the last meeting
}

// A member is one that searches: with a field of its own.
type member struct {
	number  int
	field   *field
	team    *team
	best    []spot
	value   float64
	goal    int  // steps of its own at which the next meeting is
	fresh   bool // another has found better since this one last took the best
	stop    bool
	arrived chan<- int
	resume  chan struct{}
}

// run has all members search, each in a field of its own, until the budget is spent,
// the least possible is reached or the context ends.
func (t *team) run(field func(stream uint64) *field, search func(*field, *member)) {
	if t.budget <= 0 {
		return
	}
	arrived := make(chan int)
	all := make([]*member, members)
	var wg sync.WaitGroup
	for k := range all {
		all[k] = &member{number: k, field: field(uint64(k) + 1), team: t, best: t.best, value: t.value, goal: roundSteps, arrived: arrived, resume: make(chan struct{})}
		wg.Go(func() {
			search(all[k].field, all[k])
			arrived <- k
		})
	}
	for {
		for range all {
			<-arrived
		}
		if all[0].stop {
			break
		}
		t.meet(all)
		for _, m := range all {
			m.resume <- struct{}{}
		}
	}
	wg.Wait()
	t.gather(all)
}

// gather takes the best of all members.
func (t *team) gather(all []*member) {
	t.steps = 0
	for _, m := range all {
		t.steps += m.field.steps
		if m.value < t.value {
			t.best, t.value = m.best, m.value
		}
	}
}

// meet takes the best of all members and gives it to all.
func (t *team) meet(all []*member) {
	t.gather(all)
	for _, m := range all {
		m.fresh = m.fresh || m.value > t.value
		m.best, m.value = t.best, t.value
		m.goal += roundSteps
		m.stop = t.steps >= t.budget || t.value <= t.least || stopped(t.ctx)
	}
	if t.told != nil {
		t.told(t.steps, t.value)
	}
}

// more lets a member meet the others when it is time; it says whether what the member
// is at is still worth it.
func (m *member) more() bool {
	if m.field.steps >= m.goal && !m.stop {
		m.arrived <- m.number
		<-m.resume
	}
	return !m.stop && !m.fresh
}

// upTo is more until the member has spent a share of what it may try in all.
func (m *member) upTo(share float64) func() bool {
	last := m.field.steps + int(share*float64(m.team.budget)/members)
	return func() bool { return m.more() && m.field.steps < last }
}

// over says whether the search is at its end. A member that can't find anything better
// waits for it.
func (m *member) over() bool {
	for !m.stop && m.value <= m.team.least {
		m.field.steps = max(m.field.steps, m.goal)
		m.more()
	}
	return m.stop
}

// spent is the share of the budget that was spent at the last meeting.
func (m *member) spent() float64 { return float64(m.team.steps) / float64(m.team.budget) }

// take is the best that is known.
func (m *member) take() ([]spot, float64) {
	m.fresh = false
	return m.best, m.value
}

// found tells of spots of a lesser value.
func (m *member) found(spots []spot, value float64) {
	if value < m.value {
		m.best, m.value = spots, value
	}
}
