package compile

import (
	"slices"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"
)

// A placing is a default that places a row or a box in its panel.
type placing struct {
	d *draft
	i int // into System.Defaults
}

// place adds a default that places a thing in its panel along the panel's width
// or height. It never gives that a size, nor the panel an ease.
func (c *compiler) place(d *draft, size dim.Name, rank int, def relation.Default) {
	def.At = d.At
	def.Frame = dimsOf(d.parent, size)
	if ease, ok := d.parent.Dim(dim.Ease); ok {
		def.Frame = append(def.Frame, ease)
	}
	c.placed = append(c.placed, placing{d, len(c.System.Defaults)})
	c.byDefault(rank, def)
}

// owns notes the thing in which the relations from a place on stand, but those
// that are another's.
func (c *compiler) owns(d *draft, first int) {
	c.owner = append(c.owner, make([]*draft, len(c.System.Relations)-len(c.owner))...)
	for i := first; i < len(c.owner); i++ {
		if c.owner[i] == nil {
			c.owner[i] = d
		}
	}
}

// giveWay says of each default that places a thing what it takes as given: the
// dimensions of other things that the thing's own lines speak of, so that it
// follows them, and the inset of any row that shares a line with it, which is
// measured or stated and never follows.
func (c *compiler) giveWay() {
	if len(c.placed) == 0 {
		return
	}
	c.owns(nil, len(c.System.Relations))
	given := map[*model.Thing][]relation.VarID{}
	for _, p := range c.placed {
		given[p.d.Thing] = nil
	}
	for i := range c.System.Relations {
		r := &c.System.Relations[i]
		if r.Sign != relation.EQ || r.Role == relation.Own || r.Bench != 0 {
			continue
		}
		vars := r.Vars()
		if len(vars) < 2 {
			continue
		}
		if d := c.owner[i]; d != nil {
			if t := c.placedOf(d.node, given); t != nil {
				for _, v := range vars {
					if c.placedOf(c.Owners[v], given) != t {
						given[t] = append(given[t], v)
					}
				}
				continue
			}
		}
		c.insets(vars, given)
	}
	for _, p := range c.placed {
		def := &c.System.Defaults[p.i]
		def.Given = append(def.Given, given[p.d.Thing]...)
		slices.Sort(def.Given)
		def.Given = slices.Compact(def.Given)
	}
}

// placedOf is the placed thing to which a thing belongs, nil if there is none: a
// binding belongs to its row, and what a field repeats to the field.
func (c *compiler) placedOf(n model.Node, given map[*model.Thing][]relation.VarID) *model.Thing {
	if n == nil {
		return nil
	}
	t := n.Base()
	switch n := n.(type) {
	case *model.Binding:
		if n.Row != nil {
			t = n.Row.Base()
		}
	case *model.Cutout:
		if n.Field != nil {
			t = n.Field.Base()
		}
	case *model.Region:
		if n.Field != nil {
			t = n.Field.Base()
		}
	}
	if _, ok := given[t]; ok {
		return t
	}
	return nil
}

// longLine is how many dimensions a line that ties things may speak of for its
// insets to be looked for, so that one with thousands takes no time.
const longLine = 64

// insets gives the things of a line that stands in none of them the insets in
// it.
func (c *compiler) insets(vars []relation.VarID, given map[*model.Thing][]relation.VarID) {
	if len(vars) > longLine {
		return
	}
	for _, v := range vars {
		row, ok := c.Owners[v].(*model.Row)
		if !ok || !row.Is(v, dim.Inset) {
			continue
		}
		for _, w := range vars {
			if t := c.placedOf(c.Owners[w], given); t != nil && t != row.Base() {
				given[t] = append(given[t], v)
			}
		}
	}
}
