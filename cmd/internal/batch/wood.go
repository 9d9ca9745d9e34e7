package batch

import (
	"context"
	"errors"
	"slices"
	"sync"

	"foredge/cmd/internal/driver"
	"foredge/layout"
)

// wood is what orders that have files of their own have taken of each wood. They are made at the
// same time, and take theirs in the order of the table: what one has taken isn't there for the
// next.
type wood struct {
	taken map[string]layout.Taken // by whoever's turn it is

	mu    sync.Mutex
	turn  int
	over  map[int]bool          // those after the turn that have passed
	waits map[int]chan struct{} // and those that wait for theirs
}

func newWood() *wood {
	return &wood{taken: map[string]layout.Taken{}, over: map[int]bool{}, waits: map[int]chan struct{}{}}
}

// wait waits for a turn. All turns before it must be passed at some time, whatever happens.
func (w *wood) wait(ctx context.Context, turn int) error {
	w.mu.Lock()
	if turn == w.turn {
		w.mu.Unlock()
		return nil
	}
	come := newChan[struct{}](0)
	w.waits[turn] = come
	w.mu.Unlock()
	select {
	case <-come:
		return nil
	case <-ctx.Done():
		return ctx.Err()
	}
}

// pass says that a turn has taken what it takes; more than once is as good.
func (w *wood) pass(turn int) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if turn < w.turn {
		return
	}
	for w.over[turn] = true; w.over[w.turn]; w.turn++ {
		delete(w.over, w.turn)
	}
	if come := w.waits[w.turn]; come != nil {
		close(come)
		delete(w.waits, w.turn)
	}
}

// lay lays an order that is made so many times from the same files on what is left of its wood: each
// time takes as many pieces of it. Without anything that is counted it waits for no turn. The
// errors are those of [layout.Lay].
func (w *wood) lay(ctx context.Context, turn, copies int, kerfed *layout.Drawing, supplies map[string]layout.Supply, opts driver.Options) (*layout.Laid, error) {
	if !counted(kerfed, supplies) {
		w.pass(turn)
		return driver.Laid(ctx, kerfed, supplies, opts)
	}
	if err := w.wait(ctx, turn); err != nil {
		return nil, err
	}
	defer w.pass(turn)
	left, others := w.forEach(kerfed.Parts, supplies, copies, 0)
	if kerfed.FitsAsDrawn(supplies) {
		// Where it needs no laying it takes one sheet, of which there must be one.
		stock := kerfed.Parts[0].Stock
		if left[stock].Quantity.Or(1) > 0 {
			w.take(supplies[stock].Wood, layout.Taken{Sheets: copies})
			return nil, nil
		}
	}
	laid, err := driver.OnSheets(ctx, kerfed, left, opts)
	for spared := 1; spared < min(copies, mostSpared) && others.larger(); spared++ {
		// Which offcuts lie together is another thing without the largest.
		left, its := w.forEach(kerfed.Parts, supplies, copies, spared)
		if again, failed := driver.OnSheets(ctx, kerfed, left, opts); failed == nil && (err != nil || less(again, its, laid, others, copies)) {
			laid, others, err = again, its, nil
		}
	}
	var few *layout.StockError
	if errors.As(err, &few) {
		return nil, few.Repeated(copies, supplies[few.Part.Stock], w.taken[few.Wood])
	}
	if err != nil {
		return nil, err
	}
	for name, taken := range laid.Taken {
		w.take(name, taken.Times(copies, others[name]))
	}
	others.note(laid, supplies, copies)
	return laid, nil
}

// counted reports whether anything says how much there is of a wood from which a part is cut.
func counted(d *layout.Drawing, supplies map[string]layout.Supply) bool {
	return slices.ContainsFunc(d.Parts, func(p layout.Part) bool { return supplies[p.Stock].Counted() })
}

// mostSpared is how many of the largest offcuts are spared by way of trial.
const mostSpared = 4

// forEach is what is left of the wood for each of some copies, and on which offcuts the further ones are cut.
// With a knife these are equal, as its cuts go from edge to edge. Others wait for no offcut on which nothing lies.
func (w *wood) forEach(parts []layout.Part, supplies map[string]layout.Supply, copies, spared int) (left map[string]layout.Supply, others further) {
	left, others = map[string]layout.Supply{}, further{}
	knife := map[string]bool{}
	for _, s := range supplies {
		knife[s.Wood] = knife[s.Wood] || s.Way.Knife.Yes
	}
	for name, s := range supplies {
		s = s.Less(w.taken[s.Wood])
		if copies > 1 && !knife[s.Wood] {
			its := slices.DeleteFunc(slices.Clone(parts), func(p layout.Part) bool { return supplies[p.Stock].Wood != s.Wood })
			s.Offcuts = slices.DeleteFunc(slices.Clone(s.Offcuts), func(o layout.Offcut) bool { return !s.Takes(o, its) })
		}
		left[name], others[s.Wood] = s.ForEach(copies, !knife[s.Wood], spared)
	}
	return left, others
}

func (w *wood) take(name string, t layout.Taken) { w.taken[name] = w.taken[name].Plus(t) }
