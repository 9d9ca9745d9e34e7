package job

import (
	"errors"

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
