package job

import (
	"errors"
	"slices"

	"foredge/eval/maybe"
	"foredge/lang/diag"
	"foredge/layout"
)

// wood is what the jobs of a file that are made have taken of each stock, by its name: what lies
// in the shop is there once.
type wood map[string]*gone

// gone is what is taken of a stock.
type gone struct {
	sheets  int
	offcuts []layout.Offcut
	by      []*run
}

// left is what jobs have left of a supply.
func (w wood) left(name string, s layout.Supply) layout.Supply {
	g := w[name]
	if g == nil {
		return s
	}
	if n, limited := s.Quantity.Get(); limited {
		s.Quantity = maybe.Is(max(0, n-g.sheets))
	}
	s.Offcuts = without(s.Offcuts, g.offcuts)
	return s
}

// without are offcuts less others, each as often as it is among them.
func without(all, less []layout.Offcut) []layout.Offcut {
	rest := slices.Clone(all)
	for _, o := range less {
		if i := slices.Index(rest, o); i >= 0 {
			rest = slices.Delete(rest, i, i+1)
		}
	}
	return rest
}

// take takes away what a job has cut from the stocks, of which these offcuts were there before.
func (w wood) take(r *run, laid *layout.Laid, before map[string][]layout.Offcut) {
	for _, name := range r.stocks.order {
		if name == "" {
			continue // of this nobody says how much there is
		}
		g := w[name]
		if g == nil {
			g = &gone{}
			w[name] = g
		}
		for _, s := range laid.Sheets {
			if s.Stock == name && !s.Offcut {
				g.sheets++
			}
		}
		g.offcuts = append(g.offcuts, without(before[name], r.stocks.supplies[name].Offcuts)...)
		g.by = append(g.by, r)
	}
}

// note says of too few sheets which jobs have taken of them before.
func (w wood) note(found diag.List, err error) {
	var few *layout.StockError
	if !errors.As(err, &few) || w[few.Stock] == nil {
		return
	}
	for _, d := range found {
		for _, r := range w[few.Stock].by {
			d.Note(r.job.At, "the job %s is made before, and what it takes of %s isn't there any more", r.job.Name, few.Stock)
		}
	}
}
