package resolve

import (
	"maps"
	"slices"

	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// rivals are the things of one place that share a name: each has a `when`, and
// of each name one is there.
type rivals map[string][]*Thing

// A Judge decides the condition of a `when`. It reports one that it can't decide.
type Judge func(Condition) (holds, known bool)

// For resolves a design that [Info.Varies] by what its conditions come to, for
// one order. The diagnostics are those that Resolve did not give already. Several
// goroutines may ask at once, if the [Files] may be asked by several. The judge is
// made for what it is to judge; reported says that errors are known already, so that
// what it can't decide may rest on them.
func (i *Info) For(files Files, reported bool, judge func(*Info, *diag.List) Judge) (*Info, diag.List) {
	r := &resolver{files: files, versions: i.versions, info: &Info{tree: i.tree, trees: i.trees}, byFile: map[*source.File]*File{},
		shipped: maps.Clone(i.shipped), trees: maps.Clone(i.trees), seen: map[look]looked{}}
	r.info.Main = r.file(i.tree, false)
	r.diags, r.reported = nil, reported || r.info.Broken // what is wrong so far was told by Resolve
	r.decide = judge(r.info, &r.diags)
	for _, f := range r.info.All {
		f.rivals.withdraw(f.members)
	}
	for _, f := range r.info.All {
		f.Things = r.settle(f.rivals, f.members, f.Things, nil)
	}
	r.finish()
	r.openIdle()
	return r.info, r.diags
}

// mostWorlds is how many [Info.Worlds] gives.
const mostWorlds = 64

// Worlds are a design that [Info.Varies] with one of the things that share a name there
// after the other, whatever their conditions: all ways to choose among them, or, where
// that is more than 64, so many that each of up to 64 things of a name is there once.
// Of any other design that is only it itself.
func (i *Info) Worlds(files Files) []*Info {
	if !i.Varies {
		return []*Info{i}
	}
	sizes := i.choices()
	all, each := 1, 1
	for _, n := range sizes {
		all, each = min(all*n, mostWorlds+1), max(each, n)
	}
	worlds := min(each, mostWorlds)
	if all <= mostWorlds {
		worlds = all
	}
	out := make([]*Info, worlds)
	for n := range out {
		rest := n
		chosen := make([]int, len(sizes))
		for k, size := range sizes {
			if all > mostWorlds {
				chosen[k] = min(n, size-1)
				continue
			}
			chosen[k], rest = rest%size, rest/size
		}
		out[n], _ = i.For(files, true, func(info *Info, _ *diag.List) Judge {
			there := info.chosen(chosen)
			return func(c Condition) (holds, known bool) {
				holds, shared := there[c.Expr]
				return holds || !shared, true
			}
		})
	}
	return out
}

// eachShared visits the things that share a name, place by place.
func (i *Info) eachShared(visit func([]*Thing)) {
	var inside func(t *Thing)
	place := func(rs rivals, things []*Thing) {
		for _, name := range slices.Sorted(maps.Keys(rs)) {
			visit(rs[name])
		}
		for _, t := range things {
			inside(t)
		}
	}
	inside = func(t *Thing) { place(t.rivals, t.Children) }
	for _, f := range i.All {
		place(f.rivals, f.Things)
	}
}

// choices says of each name that things share among how many that is.
func (i *Info) choices() (sizes []int) {
	i.eachShared(func(list []*Thing) { sizes = append(sizes, len(list)) })
	return sizes
}

// chosen says of the conditions of the things that share a name which hold if one of
// them is there, by its place in their list.
func (i *Info) chosen(which []int) map[ast.Expr]bool {
	there, n := map[ast.Expr]bool{}, 0
	i.eachShared(func(list []*Thing) {
		for k, t := range list {
			for _, w := range t.When {
				there[w.Expr] = k == which[n]
			}
		}
		n++
	})
	return there
}

// openIdle follows the clauses of the things that aren't there, of those that
// share a name.
func (r *resolver) openIdle() {
	diags := r.diags
	r.diags = nil
	for _, t := range r.info.Idle {
		r.openAll(t)
	}
	r.assign(r.info.Idle)
	for _, t := range r.info.Idle {
		r.say(t)
	}
	settle(r.info.Idle)
	r.info.IdleFaults, r.diags = r.diags, diags
}

// withdrawAll leaves the names of rivals in a thing that isn't there without a
// meaning.
func (t *Thing) withdrawAll() {
	t.rivals.withdraw(t.members)
	for _, c := range t.Children {
		c.withdrawAll()
	}
}

// compete takes a second thing of a name into a place, if both say when they are
// there.
func (r *resolver) compete(in *rivals, old *Thing, t *Thing) bool {
	if old == nil || !conditional(old) || !conditional(t) {
		return false
	}
	if *in == nil {
		*in = rivals{}
	}
	if len((*in)[t.Name]) == 0 {
		(*in)[t.Name] = []*Thing{old}
	}
	(*in)[t.Name] = append((*in)[t.Name], t)
	r.info.Varies = true
	if r.info.Shared == nil {
		r.info.Shared = map[string]bool{}
	}
	r.info.Shared[t.Name] = true
	return true
}

// conditional reports whether a thing is declared with a `when`, which it may have.
func conditional(t *Thing) bool {
	for _, c := range t.Decl.Clauses {
		if c.Word.Name == "when" && t.Kind.Allows("when") {
			return true
		}
	}
	return false
}

// withdraw leaves the names of rivals without a meaning until it is known which
// of them is there: what asks for one meanwhile is passed over.
func (rs rivals) withdraw(members map[string]member) {
	for name := range rs {
		members[name] = member{at: members[name].at, broken: true}
	}
}

// settle finds out which things of one place are there, of those that share a
// name, and which of the things in them. It gives those that remain. Where none is
// there the first stands for them all.
func (r *resolver) settle(rs rivals, members map[string]member, things []*Thing, outer *Thing) []*Thing {
	chosen := map[*Thing]bool{}
	for _, t := range things {
		if list := rs[t.Name]; len(list) > 0 && list[0] == t {
			c := r.choose(list, outer)
			c.twins = list
			chosen[c] = true
			members[t.Name] = member{thing: c, at: c.At}
		}
	}
	kept := things[:0]
	for _, t := range things {
		if len(rs[t.Name]) > 0 && !chosen[t] {
			if !t.File.Shelf {
				r.info.Idle = append(r.info.Idle, t)
			}
			t.withdrawAll()
			continue
		}
		kept = append(kept, t)
		t.rivals.withdraw(t.members)
		t.Children = r.settle(t.rivals, t.members, t.Children, t)
	}
	return kept
}

// choose gives the one of several things that is there.
func (r *resolver) choose(list []*Thing, outer *Thing) *Thing {
	var there, unclear *Thing
	for _, t := range list {
		holds, known := true, true
		for _, w := range t.When {
			if !r.judgeable(w, outer) {
				known = false
				continue
			}
			before := len(r.diags)
			h, k := r.decide(w)
			if !k && len(r.diags) == before && !r.reported {
				r.diags.Errorf("when-circle", w.Expr.Span(), "whether %s is there would depend on itself", t.Path()).
					WithHelp("ask about orders, or about named values that need no %s", t.Name)
			}
			holds, known = holds && h, known && k
		}
		switch {
		case !known && unclear == nil:
			unclear = t
		case !known || !holds:
		case there != nil:
			r.diags.Errorf("both-there", t.When[0].Expr.Span(), "%s is there twice: the conditions of both hold", t.Path()).
				Note(there.At, "this one is there when %s", there.When[0].Expr.Span().Short()).
				Note(t.At, "and this one when %s", t.When[0].Expr.Span().Short()).
				WithHelp("let their conditions exclude each other, as x = 1 and x != 1 do, or give one of them another name")
		default:
			there = t
		}
	}
	switch {
	case there != nil:
	case unclear != nil:
		// It was reported: what speaks of it is to find something.
		unclear.When = nil
		return unclear
	default:
		list[0].missing = true
		return list[0]
	}
	return there
}

// judgeable reports what a condition of rivals asks that isn't the same for
// everything that takes them over: the named values of a thing, which whatever is
// like it may replace.
func (r *resolver) judgeable(w Condition, outer *Thing) bool {
	good := true
	ast.Walk(w.Expr, func(n ast.Node) bool {
		name, ok := n.(*ast.Name)
		if !ok || outer == nil {
			return true
		}
		sym, problem := w.Scope.Lookup(name)
		if _, elsewhere := outer.File.scope.Lookup(name); problem != nil && elsewhere != nil && outer.takesOver() || sym.Let != nil && sym.Let.Owner != nil {
			r.diags.Errorf("when-inner", name.Span(), "things that share a name are told apart by orders and by named values at the top of the file, and %s is neither", name.Dotted()).
				WithHelp("move the let out of the braces")
			good = false
		}
		return true
	})
	return good
}

// takesOver reports whether a thing, or one round it, is like another.
func (t *Thing) takesOver() bool {
	for ; t != nil; t = t.Parent {
		for _, c := range t.Decl.Clauses {
			if c.Word.Name == "like" || c.Word.Name == "mirrors" {
				return true
			}
		}
	}
	return false
}

// there reports whether a thing is there, as far as conditions say.
func (r *resolver) there(t *Thing) bool {
	for ; t != nil; t = t.Parent {
		if !r.holds(t) {
			return false
		}
	}
	return true
}

// holds reports whether a thing's own condition does, as far as that can be said.
func (r *resolver) holds(t *Thing) bool {
	for _, w := range t.When {
		if holds, known := r.decide(w); known && !holds {
			return false
		}
	}
	return true
}
