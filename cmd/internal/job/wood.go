package job

import (
	"cmp"
	"errors"
	"slices"

	"foredge/eval/design"
	"foredge/eval/maybe"
	"foredge/lang/diag"
	"foredge/layout"
)

// wood is what the jobs of a file that are made have taken of each wood, by its name: what lies
// in the shop is there once.
type wood map[string]*gone

// gone is what is taken of a wood.
type gone struct {
	layout.Taken
	by []*run
}

// left is what jobs have left of a supply.
func (w wood) left(s layout.Supply) layout.Supply {
	if g := w[s.Wood]; g != nil {
		s = s.Less(g.Taken)
		s.Begun = 0 // each job counts its own
	}
	return s
}

// take takes away what a job has cut.
func (w wood) take(r *run, laid *layout.Laid) {
	for name, taken := range laid.Taken {
		if w[name] == nil {
			w[name] = &gone{}
		}
		w[name].Taken = w[name].Plus(taken)
		w[name].by = append(w[name].by, r)
	}
}

// note says of too few sheets which jobs have taken of them before.
func (w wood) note(found diag.List, err error) {
	var few *layout.StockError
	if !errors.As(err, &few) || w[few.Wood] == nil {
		return
	}
	for _, d := range found {
		for _, r := range w[few.Wood].by {
			d.Note(r.job.At, "the job %s is made before, and what it takes of %s isn't there any more", r.job.Name, few.Wood)
		}
	}
}

// supplied is what the job's file says of a stock. One that is like another there is cut from what there is
// of that, but not where the designs say that the sheets of the two can't be the same: then it is of another
// wood. Where nobody can know which has what there is, that is an error.
func (s *shelf) supplied(diags *diag.List, k *stock, own *design.Stock) *design.Stock {
	if !own.Quantity.Present() && len(own.Offcuts) == 0 {
		return own
	}
	all := append(slices.Clone(s.before), s)
	source := func(own *design.Stock) bool { return own.Declared == own.Wood }
	another := false
	for _, its := range s.own.Declared {
		if its.Wood != own.Wood {
			continue
		}
		for _, shelf := range all {
			for _, name := range shelf.meant(its) {
				other := shelf.of[name]
				if other == k {
					continue
				}
				what := differ(k, own, other, its)
				switch {
				case what == "" || shelf.ownStock(name) != its: // or another stock of the file speaks of it
				case source(its) && its != own: // which has it
					another = true
				case its == own, source(own) && other.said.Wood == own.Wood, !source(own) && !s.someCut(all, own.Wood):
					diags.Errorf("job-stock", own.At, "%s in %s and %s in %s would be cut from what there is of %s, and their sheets are of another %s", k.said.Name, k.from, other.said.Name, other.from, own.Wood, what).
						Note(k.at, "%s is made here", k.from).Note(other.at, "%s is made here", other.from).
						WithHelp("give two stocks two names, and say in the file of the job what there is of each, by quantity or offcuts")
					return own
				}
			}
		}
	}
	if !another {
		return own
	}
	its := *own
	its.Wood, its.Quantity, its.Offcuts = own.Declared, maybe.Of[int]{}, nil
	return &its
}

// someCut reports whether a design of some job is cut from a stock of the job's file itself.
func (s *shelf) someCut(all []*shelf, declared string) bool {
	return slices.ContainsFunc(s.own.Declared, func(own *design.Stock) bool {
		return own.Declared == declared && slices.ContainsFunc(all, func(shelf *shelf) bool { return len(shelf.meant(own)) > 0 })
	})
}

// differ says in what the sheets of two stocks can't be the same, by all that the designs and the job's file
// say of both; "" where they may be.
func differ(k *stock, own *design.Stock, other *stock, its *design.Stock) string {
	a, b := k.said, other.said
	_, _, thick := differing(cmp.Or(k.thick, own.Thick), cmp.Or(other.thick, its.Thick))
	_, _, price := differing(cmp.Or(own.Price, a.Price), cmp.Or(its.Price, b.Price))
	size, knownA := cmp.Or(own.Size, a.Size).Get()
	another, knownB := cmp.Or(its.Size, b.Size).Get()
	switch {
	case thick:
		return "thickness"
	case a.Material.AsName != "" && b.Material.AsName != "" && a.Material.AsName != b.Material.AsName:
		return "material"
	case a.Grain != b.Grain:
		return "grain"
	case knownA && knownB && !sameSize(size, another):
		return "size"
	case price:
		return "price"
	}
	return ""
}
