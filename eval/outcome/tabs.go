package outcome

import (
	"fmt"

	"foredge/eval/design"
	"foredge/eval/model"
	"foredge/eval/solution"
	"foredge/eval/word"
)

// dividers are the panels that a panel with tabs stands for, each like it but for
// its tab and its label; the panel itself if it has none. Those of a set are
// called by their place: divider-1, divider-2.
func dividers(s *solution.Solution, m *model.Panel, p design.Panel) []design.Panel {
	tabs := m.Tabs
	if tabs == nil {
		return []design.Panel{p}
	}
	var all []design.Panel
	first, last, of := tabs.Set()
	for k := first; k <= last; k++ {
		one := p
		if !tabs.Place.Present() {
			one.Name = fmt.Sprintf("%s-%d", p.Name, k)
		}
		one.Tab = tab(s, tabs, &p, k, of)
		if len(tabs.Marks) > 0 { // a tab without a label may have an opening in it
			one.Regions = append(p.Regions[:len(p.Regions):len(p.Regions)], label(s, tabs, &p, one.Tab, k-first))
		}
		all = append(all, one)
	}
	return all
}

// tab is the one in the k-th of so many places along its edge.
func tab(s *solution.Solution, m *model.Tabs, p *design.Panel, k, of int) *design.Tab {
	edge := p.Height
	if m.Edge.Level() {
		edge = p.Width
	}
	from, to := edge*float64(k-1)/float64(of), edge*float64(k)/float64(of)
	return &design.Tab{Edge: m.Edge, From: from, To: to, Extension: s.Stated(m.Extension).Or(0),
		Radius: s.Stated(m.Radius).Or(0), At: m.At}
}

// label is the region of a tab, as large as the tab less the radius of its corners
// on every side, with the k-th text of each list.
func label(s *solution.Solution, m *model.Tabs, p *design.Panel, t *design.Tab, k int) design.Region {
	in, run, deep := t.Radius, t.To-t.From, t.Extension
	b := design.Box{Name: m.Name, At: m.At}
	along, away := t.From+in, in // of the region, from where the edge begins and from the edge
	if t.Edge.Level() {
		b.Width, b.Height, b.Spine, b.Head = run-2*in, deep-2*in, along, away
		if t.Edge == word.Tail {
			b.Head = p.Height - away - b.Height
		}
	} else {
		b.Width, b.Height, b.Head, b.Spine = deep-2*in, run-2*in, along, away
		if t.Edge == word.Foredge {
			b.Spine = p.Width - away - b.Width
		}
	}
	b.Tail, b.Foredge = p.Height-b.Head-b.Height, p.Width-b.Spine-b.Width
	r := design.Region{Box: b}
	for _, mk := range m.Marks {
		r.Marks = append(r.Marks, mark(s, mk))
	}
	r.Marks = memberMarks(&m.Region, r.Marks, k)
	return r
}
