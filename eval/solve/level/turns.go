package level

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
)

// turns parts the defaults of one rank, or of the ranks that place things, into those
// whose turn it is, as what they take as given is decided, and others. As many of these
// may wait for one another in a row as there are, so each is looked at again only when
// what it waits for has been decided.
type turns struct {
	*Design
	ids   []int // the defaults, by ranks
	state []turn
	ready []int // places of those that are due
	room  []int // for places
	now   []int // the defaults that are met

	space *linear.Space // of which the following holds
	gone  int           // how many of its parameters had gone
	on    map[relation.VarID][]int
	by    map[int32][]relation.VarID // dimensions that are waited for, by their parameters
	filed map[filedDim]bool          // there
}

// A turn says of a default whether its turn has come.
type turn uint8

const (
	waiting turn = iota
	unsized      // it came in vain, and may again once what it places something in has a size
	due
	taken
)

// A filedDim is a dimension and a parameter in its form.
type filedDim struct {
	param int32
	dim   relation.VarID
}

// begin begins with some defaults, by ranks.
func (t *turns) begin(ids []int) {
	t.ids, t.ready, t.space = ids, t.ready[:0], nil
	t.state = slices.Grow(t.state[:0], len(ids))[:len(ids)]
	clear(t.state)
}

// next are the places of the defaults whose turn it is now, those that hold what `most`
// has found first, then those of the lowest rank; none where all have had theirs. Where
// they wait for one another it is that of all of the lowest rank that wait for no others.
func (t *turns) next() []int {
	t.look()
	if len(t.ready) == 0 && t.pinFrames() {
		t.look()
	}
	rank := func(i int) int { return t.Sys.Defaults[t.ids[i]].Rank }
	if len(t.ready) == 0 {
		behind := t.behind()
		for i, state := range t.state {
			if state == waiting && !behind[i] && (len(t.ready) == 0 || rank(i) == rank(t.ready[0])) {
				t.ready = append(t.ready, i)
			}
		}
	}
	if len(t.ready) == 0 {
		return nil
	}
	slices.Sort(t.ready)
	if len(t.holding) > 0 {
		slices.SortStableFunc(t.ready, func(a, b int) int {
			switch ah, bh := t.holds(a), t.holds(b); {
			case ah && !bh:
				return -1
			case bh && !ah:
				return 1
			}
			return 0
		})
	}
	n := 0
	for n < len(t.ready) && rank(t.ready[n]) == rank(t.ready[0]) && t.holds(t.ready[n]) == t.holds(t.ready[0]) {
		t.state[t.ready[n]] = taken
		n++
	}
	now := t.ready[:n:n]
	t.ready = t.ready[n:]
	return now
}

// behind are the places of those that wait for others than those that wait for them in turn, and of
// those that are in a ring with such; none where all that wait are.
func (t *turns) behind() map[int]bool {
	late := map[int]bool{} // rings of which one waits for others
	behind := map[int]bool{}
	for i, state := range t.state {
		if def := &t.Sys.Defaults[t.ids[i]]; state == waiting && slices.ContainsFunc(held(def), t.isOpen) {
			behind[i] = true
			late[def.Ring] = def.Ring > 0
		}
	}
	all := true
	for i, state := range t.state {
		if state == waiting {
			behind[i] = behind[i] || late[t.Sys.Defaults[t.ids[i]].Ring]
			all = all && behind[i]
		}
	}
	if all {
		return nil
	}
	return behind
}

// holds reports whether the default at a place centres a row of as many holes as there is
// room for: that was found with the row in its middle.
func (t *turns) holds(i int) bool { return t.holding[t.ids[i]] }

// look finds those whose turn has come.
func (t *turns) look() {
	for _, i := range t.freed() {
		if t.state[i] == due || t.state[i] == taken {
			continue // where all waited for one another
		}
		if v, waits := t.needs(i); waits {
			t.wait(i, v)
			continue
		}
		t.state[i] = due
		t.ready = append(t.ready, i)
	}
}

// needs is what the default at a place waits for: what it takes as given, and the size
// of what it places something in.
func (t *turns) needs(i int) (v relation.VarID, waits bool) {
	def := &t.Sys.Defaults[t.ids[i]]
	if t.state[i] == waiting && !t.holds(i) {
		if k := slices.IndexFunc(def.Given, t.isOpen); k >= 0 {
			return def.Given[k], true
		}
	}
	if k := slices.IndexFunc(def.Frame, t.isOpen); k >= 0 {
		return def.Frame[k], true
	}
	return 0, false
}

// meet meets the defaults at some places. One that comes to nothing as what it places
// something in has no size yet waits until it has one, which another may give it.
func (t *turns) meet(places []int) {
	t.now = t.now[:0]
	var open []int
	for _, i := range places {
		t.now = append(t.now, t.ids[i])
		if t.openFrame(t.ids[i]) {
			open = append(open, i)
		}
	}
	t.meetWhole(t.apart(t.movable(t.now)))
	for _, i := range open {
		def := &t.Sys.Defaults[t.ids[i]]
		if form, ok := t.goalForm(&goal{left: &def.Left, right: &def.Right}, nil); !ok || len(t.Problem.Form(form).Terms) == 0 {
			continue
		}
		t.state[i] = unsized
		if v, waits := t.needs(i); waits {
			t.wait(i, v)
		} else {
			t.state[i] = due
			t.ready = append(t.ready, i)
		}
	}
}

// wait notes that the default at a place waits for a dimension.
func (t *turns) wait(i int, v relation.VarID) {
	if t.on == nil {
		t.on, t.by, t.filed = map[relation.VarID][]int{}, map[int32][]relation.VarID{}, map[filedDim]bool{}
	}
	t.on[v] = append(t.on[v], i)
	t.file(v)
}

// file files a dimension that is waited for by the parameters on which it hangs.
func (t *turns) file(v relation.VarID) {
	for _, term := range t.Problem.VarForm(v).Terms {
		if f := (filedDim{term.At, v}); !t.filed[f] {
			t.filed[f] = true
			t.by[term.At] = append(t.by[term.At], v)
		}
	}
}

// freed lists, in order, the places of those defaults that are to be looked at, as the
// one dimension that they were known to wait for is decided. The list is good until it
// is asked for again.
func (t *turns) freed() []int {
	t.room = t.room[:0]
	gone := t.Problem.Space.Gone
	if t.space != t.Problem.Space { // nothing is known of this one
		t.space, t.gone = t.Problem.Space, len(gone)
		t.on, t.by, t.filed = nil, nil, nil
		for i, state := range t.state {
			if state == waiting || state == unsized {
				t.room = append(t.room, i)
			}
		}
		return t.room
	}
	for ; t.gone < len(gone); t.gone++ {
		dims := t.by[gone[t.gone]]
		delete(t.by, gone[t.gone])
		for _, v := range dims {
			if len(t.on[v]) == 0 {
				continue
			}
			if t.isOpen(v) {
				t.file(v)
				continue
			}
			t.room = append(t.room, t.on[v]...)
			delete(t.on, v)
		}
	}
	slices.Sort(t.room)
	return t.room
}
