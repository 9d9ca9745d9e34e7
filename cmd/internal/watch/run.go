package watch

import (
	"context"
	"time"

	"foredge/cmd/internal/disk"
)

// Built is what a build came to.
type Built struct {
	Inputs []disk.Input // what it read
	// Again asks for another build in a while, though nothing may have changed: for
	// what lies outside the inputs, such as a disk that was full.
	Again bool
}

// again is how long a build waits that asked to be tried again.
const again = time.Second

// Run builds, calls ready, and then builds again after every change of what
// the last build read, until ctx ends. build gets the paths that changed, none
// for the first time and where it is tried again; it is never called while it
// still runs.
func Run(ctx context.Context, opts Options, ready func(), build func(ctx context.Context, changed []string) Built) error {
	w := New(opts)
	defer w.Close()
	b := build(ctx, nil)
	w.Follow(b.Inputs)
	if ctx.Err() == nil {
		ready()
	}
	for {
		changed, err := next(ctx, w, b.Again)
		if err != nil {
			return err
		}
		b = build(ctx, changed)
		w.Follow(b.Inputs)
	}
}

// next waits for a change, or for the time to try again.
func next(ctx context.Context, w *Watcher, soon bool) ([]string, error) {
	if !soon {
		return w.Next(ctx)
	}
	wait, stop := context.WithTimeout(ctx, again)
	defer stop()
	changed, err := w.Next(wait)
	if err != nil && ctx.Err() == nil {
		return nil, nil
	}
	return changed, err
}
