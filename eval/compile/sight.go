package compile

import (
	"foredge/eval/kind"
	"foredge/eval/resolve"
)

// A sight is what a file can see of one kind: at its own top, and at that of the
// files that it uses.
type sight struct {
	file *resolve.File
	kind kind.ID
}

// sighted are the things of a sight that are there, own ones first. Each sight is
// looked at once, however many things of the file ask for it.
type sighted struct {
	things []*resolve.Thing
	named  map[string]bool
}

func (c *compiler) sight(f *resolve.File, k kind.ID) *sighted {
	at := sight{f, k}
	s, known := c.seen[at]
	if known {
		return s
	}
	s = &sighted{named: map[string]bool{}}
	for _, t := range f.Visible(k) {
		// One without a condition is there, whether or not it takes part: it is
		// drafted when something names it.
		if len(t.When) == 0 || !c.draft(t).absent {
			s.things = append(s.things, t)
			s.named[t.Name] = true
		}
	}
	c.seen[at] = s
	return s
}

// names lists what the things are called.
func (s *sighted) names() []string {
	var names []string
	for _, t := range s.things {
		names = append(names, t.Name)
	}
	return names
}
