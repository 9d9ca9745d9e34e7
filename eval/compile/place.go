package compile

import (
	"slices"
	"strings"

	"foredge/eval/dim"
	"foredge/eval/model"
	"foredge/eval/relation"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"
)

// A placing is a default that places a row or a box in its panel.
type placing struct {
	d *draft
	i int // into System.Defaults
	way
}

// A way is a direction of a panel.
type way uint8

const (
	alongWidth way = iota
	alongHeight
)

// A follower is a thing as it is placed in one direction.
type follower struct {
	*model.Thing
	way
}

// A followed is what each thing that is placed takes as given in each direction.
type followed map[*model.Thing]*[2][]relation.VarID

// place adds a default that places a thing in its panel along the panel's width
// or height. It never gives that a size, nor the panel an ease.
func (c *compiler) place(d *draft, size dim.Name, rank int, def relation.Default) {
	def.At = d.At
	def.Frame = dimsOf(d.parent, size)
	if ease, ok := d.parent.Dim(dim.Ease); ok {
		def.Frame = append(def.Frame, ease)
	}
	c.placed = append(c.placed, placing{d, len(c.System.Defaults), wayOf(size)})
	c.byDefault(rank, def)
}

// wayOf is the way of a panel's width or height.
func wayOf(size dim.Name) way {
	if size == dim.Height {
		return alongHeight
	}
	return alongWidth
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
// dimensions of other things that the thing's own lines about its place in that direction
// speak of, so that it follows them, and the inset of any row that shares a line with it, which is
// measured or stated and never follows.
func (c *compiler) giveWay() {
	if len(c.placed) == 0 {
		return
	}
	c.owns(nil, c.tally())
	given := followed{}
	for _, p := range c.placed {
		given[p.d.Thing] = &[2][]relation.VarID{}
	}
	most := slices.ContainsFunc(c.System.Vars, func(v relation.Var) bool { return v.Most }) // only these ask what follows them
	for i := range c.System.Relations {
		if r := &c.System.Relations[i]; r.Role != relation.Own && r.Bench == 0 {
			vars := r.Vars()
			c.follow(c.owner[i], vars, given)
			if most {
				r.Follows = c.spokenOf(c.owner[i], vars, given)
			}
		}
	}
	for i := range c.System.Wishes {
		if w := &c.System.Wishes[i]; w.Bench == 0 {
			sides := relation.Relation{Left: w.Left, Right: w.Right}
			c.follow(c.wishOwner[i], sides.Vars(), given)
		}
	}
	ring, mutual := c.rings(given)
	number := map[int]int{} // of a ring: that of its first default
	for _, p := range c.placed {
		def := &c.System.Defaults[p.i]
		def.Given = append(def.Given, given[p.d.Thing][p.way]...)
		slices.Sort(def.Given)
		def.Given = slices.Compact(def.Given)
		f := follower{p.d.Thing, p.way}
		if def.Mutual = mutual[f]; len(def.Mutual) > 0 {
			if number[ring[f]] == 0 {
				number[ring[f]] = p.i + 1
			}
			def.Ring = number[ring[f]]
		}
	}
}

// rings numbers what waits for one another, be it through others, and lists of what each takes as
// given the dimensions of those that wait for it in turn, but for insets.
func (c *compiler) rings(given followed) (ring map[follower]int, mutual map[follower][]relation.VarID) {
	ids := map[follower]int64{}
	id := func(f follower) simple.Node {
		if _, ok := ids[f]; !ok {
			ids[f] = int64(len(ids))
		}
		return simple.Node(ids[f])
	}
	type wait struct {
		by, of follower
		given  relation.VarID
	}
	var waits []wait
	waiting := simple.NewDirectedGraph()
	for t, ways := range given {
		for w, vars := range ways {
			for _, v := range vars {
				row, isRow := c.Owners[v].(*model.Row)
				u := c.placedOf(c.Owners[v], given)
				if u == nil || u == t || isRow && row.Is(v, dim.Inset) {
					continue
				}
				for _, theirs := range c.ways(v) {
					x := wait{follower{t, way(w)}, follower{u, theirs}, v}
					waits = append(waits, x)
					waiting.SetEdge(simple.Edge{F: id(x.by), T: id(x.of)})
				}
			}
		}
	}
	of := map[int64]int{}
	for i, found := range topo.TarjanSCC(waiting) {
		for _, n := range found {
			of[n.ID()] = i
		}
	}
	ring, mutual = map[follower]int{}, map[follower][]relation.VarID{}
	for _, x := range waits {
		if ring[x.by] = of[ids[x.by]]; of[ids[x.by]] == of[ids[x.of]] {
			mutual[x.by] = append(mutual[x.by], x.given)
		}
	}
	return ring, mutual
}

// ways are the directions of its panel in which a dimension of a thing places it or takes up room.
func (c *compiler) ways(v relation.VarID) []way {
	n := c.Owners[v]
	t := n.Base()
	is := func(names ...dim.Name) bool {
		return slices.ContainsFunc(names, func(n dim.Name) bool { return t.Is(v, n) })
	}
	_, isCutout := n.(*model.Cutout) // it may be turned
	row, isRow := n.(*model.Row)
	switch {
	case isRow:
		runs := wayOf(dim.Length(row.Edge))
		if is(dim.Inset, dim.HoleAcross) {
			runs = alongWidth + alongHeight - runs
		}
		return []way{runs}
	case is(dim.Head, dim.Tail, dim.Down, dim.GapDown, dim.PitchDown), !isCutout && is(dim.Height):
		return []way{alongHeight}
	case is(dim.Spine, dim.Foredge, dim.Across, dim.GapAcross, dim.PitchAcross), !isCutout && is(dim.Width):
		return []way{alongWidth}
	}
	return []way{alongWidth, alongHeight}
}

// follow notes of a line that speaks of some dimensions what its thing, or any
// other that is placed, takes as given on its account. One that speaks of none of its
// thing's ties others alone.
func (c *compiler) follow(d *draft, vars []relation.VarID, given followed) {
	if len(vars) < 2 {
		return
	}
	if d == nil {
		c.insets(vars, given)
		return
	}
	t := c.placedOf(d.node, given)
	var about [2]bool // which way its own dimensions in the line run
	for _, v := range vars {
		if t != nil && c.placedOf(c.Owners[v], given) == t {
			for _, w := range c.ways(v) {
				about[w] = true
			}
		}
	}
	if about == [2]bool{} {
		c.insets(vars, given)
		return
	}
	for _, v := range vars {
		for w, is := range about {
			if is && c.placedOf(c.Owners[v], given) != t {
				given[t][w] = append(given[t][w], v)
			}
		}
	}
}

// spokenOf are the dimensions of other placed things of which a line of a panel's thing, or of another
// board, speaks. A board's own line may place what stands on it. What is most itself follows nothing: it shares the room with the others.
func (c *compiler) spokenOf(d *draft, vars []relation.VarID, given followed) (spoken []relation.VarID) {
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
			spoken = append(spoken, v)
		}
	}
	return spoken
}

// placedOf is the placed thing to which a thing belongs, nil if there is none: a
// binding belongs to its row, and what a field repeats to the field.
func (c *compiler) placedOf(n model.Node, given followed) *model.Thing {
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
func (c *compiler) insets(vars []relation.VarID, given followed) {
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
				for _, its := range c.ways(w) {
					given[t][its] = append(given[t][its], v)
				}
			}
		}
	}
}
