package level

import (
	"slices"

	"foredge/eval/relation"
	"foredge/eval/solve/linear"
)

// turns parts the defaults of a rank into those whose turn it is, as what they take as
// given is decided, and others. As many of these may wait for one another in a row as
// there are, so each is looked at again only when what it waits for has been decided.
type turns struct {
	*Design
	ids     []int  // the defaults
	waiting []bool // of each, whether its turn is still to come
	left    int    // how many of them wait

	space *linear.Space // of which the following holds
	gone  int           // how many of its parameters had gone
	on    map[relation.VarID][]int
	by    map[int32][]relation.VarID // dimensions that are waited for, by their parameters
	filed map[filedDim]bool          // there
}

// A filedDim is a dimension and a parameter in its form.
type filedDim struct {
	param int32
	dim   relation.VarID
}

func (d *Design) turnsOf(ids []int) *turns {
	t := &turns{Design: d, ids: ids, waiting: make([]bool, len(ids)), left: len(ids)}
	for i := range t.waiting {
		t.waiting[i] = true
	}
	return t
}

// next are the defaults whose turn it is now. Where they wait for one another it is
// that of all.
func (t *turns) next() []int {
	var ready []int
	for _, i := range t.freed() {
		if k := slices.IndexFunc(t.Sys.Defaults[t.ids[i]].Given, t.isOpen); k >= 0 {
			v := t.Sys.Defaults[t.ids[i]].Given[k]
			if t.on == nil {
				t.on, t.by, t.filed = map[relation.VarID][]int{}, map[int32][]relation.VarID{}, map[filedDim]bool{}
			}
			t.on[v] = append(t.on[v], i)
			t.file(v)
			continue
		}
		ready = append(ready, t.take(i))
	}
	if len(ready) > 0 {
		return ready
	}
	for i, waits := range t.waiting {
		if waits {
			ready = append(ready, t.take(i))
		}
	}
	return ready
}

func (t *turns) take(i int) (id int) {
	t.waiting[i] = false
	t.left--
	return t.ids[i]
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
// one dimension that they were known to wait for is decided.
func (t *turns) freed() []int {
	var out []int
	gone := t.Problem.Space.Gone
	if t.space != t.Problem.Space { // nothing is known of this one
		t.space, t.gone = t.Problem.Space, len(gone)
		t.on, t.by, t.filed = nil, nil, nil
		for i, waits := range t.waiting {
			if waits {
				out = append(out, i)
			}
		}
		return out
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
			out = append(out, t.on[v]...)
			delete(t.on, v)
		}
	}
	slices.Sort(out)
	return out
}
