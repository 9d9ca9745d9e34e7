package level

import "foredge/eval/relation"

// pin decides a dimension to which limits leave no room.
func (d *Design) pin(v relation.VarID) bool {
	f := d.Problem.VarForm(v)
	at, limit, ok := d.Problem.Pinned(f, DecidedRange)
	if !ok || !d.fix(relation.Form{Terms: []relation.Term{{Var: v, Coef: 1}}}, f, at) {
		return false
	}
	d.Pinned = append(d.Pinned, Pinning{At: v, Limit: limit})
	return true
}

// pinWaitedFor decides the dimensions to which limits leave no room and for which an
// equation waits that isn't linear, such as a number of stitches, which is rounded.
func (d *Design) pinWaitedFor() {
	if len(d.Problem.Conflicts) > 0 {
		return
	}
	tried := map[relation.VarID]bool{}
	for i := 0; i < len(d.Problem.Pending); i++ {
		if !d.Problem.IsEquation(d.Problem.Pending[i]) {
			continue
		}
		for _, v := range d.Vars[d.Problem.Pending[i]] {
			if tried[v] || !d.isOpen(v) {
				continue
			}
			if tried[v] = true; d.pin(v) {
				i = -1 // another one may be what is waited for now
				break
			}
		}
	}
}

// pinFrames decides the sizes that limits leave no room, of what defaults that have not
// been met place something in. It reports whether there are any.
func (t *turns) pinFrames() (some bool) {
	tried := map[relation.VarID]bool{}
	for i, state := range t.state {
		if state == taken {
			continue
		}
		for _, v := range t.Sys.Defaults[t.ids[i]].Frame {
			if !tried[v] && t.isOpen(v) && t.pin(v) {
				some = true
			}
			tried[v] = true
		}
	}
	return some
}
