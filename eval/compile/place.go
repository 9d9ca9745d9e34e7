package compile

import (
	"slices"
	"strings"

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

// A tally is how much the system holds so far.
type tally struct{ relations, wishes int }

func (c *compiler) tally() tally { return tally{len(c.System.Relations), len(c.System.Wishes)} }

// owns notes the thing in which the relations and wishes from a place on stand,
// but those that are another's.
func (c *compiler) owns(d *draft, from tally) {
	c.owner = owned(c.owner, d, from.relations, len(c.System.Relations))
	c.wishOwner = owned(c.wishOwner, d, from.wishes, len(c.System.Wishes))
}

// owned gives what has no owner from a place on, up to n, to a thing.
func owned(owner []*draft, d *draft, first, n int) []*draft {
	owner = append(owner, make([]*draft, n-len(owner))...)
	for i := first; i < n; i++ {
		if owner[i] == nil {
			owner[i] = d
		}
	}
	return owner
}

// giveWay says of each default that places a thing what it takes as given: the
// dimensions of other things that the thing's own lines speak of, so that it
// follows them, and the inset of any row that shares a line with it, which is
// measured or stated and never follows.
func (c *compiler) giveWay() {
	if len(c.placed) == 0 {
		return
	}
	c.owns(nil, c.tally())
	given := map[*model.Thing][]relation.VarID{}
	for _, p := range c.placed {
		given[p.d.Thing] = nil
	}
	most := slices.ContainsFunc(c.System.Vars, func(v relation.Var) bool { return v.Most }) // only these ask what follows them
	for i := range c.System.Relations {
		if r := &c.System.Relations[i]; r.Role != relation.Own && r.Bench == 0 {
			vars := r.Vars()
			c.follow(c.owner[i], vars, given)
			if most {
				r.Follows = c.followed(c.owner[i], vars, given)
			}
		}
	}
	for i := range c.System.Wishes {
		if w := &c.System.Wishes[i]; w.Bench == 0 {
			sides := relation.Relation{Left: w.Left, Right: w.Right}
			c.follow(c.wishOwner[i], sides.Vars(), given)
		}
	}
	mutual := c.mutual(given)
	for _, p := range c.placed {
		def := &c.System.Defaults[p.i]
		def.Given = append(def.Given, given[p.d.Thing]...)
		slices.Sort(def.Given)
		def.Given = slices.Compact(def.Given)
		def.Mutual = mutual[p.d.Thing]
	}
}

// mutual are, of what things take as given, the dimensions of those that speak of them in
// turn, but for insets.
func (c *compiler) mutual(given map[*model.Thing][]relation.VarID) map[*model.Thing][]relation.VarID {
	type pair struct{ of, by *model.Thing }
	of := func(v relation.VarID) *model.Thing {
		if row, ok := c.Owners[v].(*model.Row); ok && row.Is(v, dim.Inset) {
			return nil
		}
		return c.placedOf(c.Owners[v], given)
	}
	speaks := map[pair]bool{}
	for t, vars := range given {
		for _, v := range vars {
			if u := of(v); u != nil {
				speaks[pair{u, t}] = true
			}
		}
	}
	out := map[*model.Thing][]relation.VarID{}
	for t, vars := range given {
		for _, v := range vars {
			if u := of(v); u != nil && speaks[pair{t, u}] {
				out[t] = append(out[t], v)
			}
		}
	}
	return out
}

// follow notes of a line that speaks of some dimensions what its thing, or any
// other that is placed, takes as given on its account. One that speaks of none of its
// thing's ties others alone.
func (c *compiler) follow(d *draft, vars []relation.VarID, given map[*model.Thing][]relation.VarID) {
	if len(vars) < 2 {
		return
	}
	if d == nil {
		c.insets(vars, given)
		return
	}
	t := c.placedOf(d.node, given)
	own := func(v relation.VarID) bool { return c.placedOf(c.Owners[v], given) == t }
	if t == nil || !slices.ContainsFunc(vars, own) {
		c.insets(vars, given)
		return
	}
	for _, v := range vars {
		if !own(v) {
			given[t] = append(given[t], v)
		}
	}
}

// followed are the dimensions of other placed things of which a line of a panel's thing, or of another
// board, speaks. A board's own line may place what stands on it. What is most itself follows nothing: it shares the room with the others.
func (c *compiler) followed(d *draft, vars []relation.VarID, given map[*model.Thing][]relation.VarID) (followed []relation.VarID) {
	if d == nil || d.node == nil || len(vars) < 2 {
		return nil
	}
	t := c.placedOf(d.node, given)
	if t == nil {
		if d.parent != nil {
			if _, ok := d.parent.node.(*model.Panel); !ok {
				return nil
			}
		}
		t = d.Thing
	}
	for _, n := range []dim.Name{dim.Count, dim.Across, dim.Down} {
		if id, ok := t.Dim(n); ok && c.System.Vars[id].Most {
			return nil
		}
	}
	for _, v := range vars {
		if u := c.placedOf(c.Owners[v], given); u != nil && u != t && !strings.HasPrefix(u.Path, t.Path+".") {
			followed = append(followed, v)
		}
	}
	return followed
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
