package watch

import (
	"context"

	"foredge/cmd/internal/disk"
)

// Run builds, calls ready, and then builds again after every change of what
// the last build read, until ctx ends. build gets the paths that changed, none
// for the first time, and returns what it read; it is never called while it
// still runs.
func Run(ctx context.Context, opts Options, ready func(), build func(ctx context.Context, changed []string) []disk.Input) error {
	w := New(opts)
	defer w.Close()
	w.Follow(build(ctx, nil))
	if ctx.Err() == nil {
		ready()
	}
	for {
		changed, err := w.Next(ctx)
		if err != nil {
			return err
		}
		w.Follow(build(ctx, changed))
	}
}
