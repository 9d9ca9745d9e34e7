package watch

import (
	"context"
	"fmt"
	"os"
	"time"

	"foredge/cmd/internal/disk"
)

// Options says how to watch. The zero value is right for a person at work.
type Options struct {
	// Quiet is how long nothing must happen before a change counts as
	// finished, Most how long to wait for that at the most. 0: 60 ms, 500 ms.
	Quiet, Most time.Duration
	// Poll looks at the files every Every instead of waiting for the system to
	// tell, for network drives that don't. Without Poll, Every is how often to
	// look all the same. 0: 300 ms with Poll, else 2 s.
	Poll  bool
	Every time.Duration
	// Notice, if set, is told what a maker should know, such as that the system
	// can't watch and files are looked at instead.
	Notice func(message string)
}

// Quiet is how long nothing must happen, by itself: editors write a file in
// several steps within some 10 ms.
const Quiet = 60 * time.Millisecond

const (
	most      = 500 * time.Millisecond // a file that is written to all the time is looked at all the same
	pollEvery = 300 * time.Millisecond
	lookEvery = 2 * time.Second
)

// A Watcher waits for changes of a set of paths. Its methods belong to one
// goroutine.
type Watcher struct {
	opts   Options
	events *events // nil while polling
	every  time.Duration

	inputs []disk.Input          // what the last build read
	known  map[string]disk.State // the same by path
	seen   map[string]disk.State // as last looked at
	// saved are inputs to which something happened since the last build, times when
	// each was written last, while polling.
	saved  map[string]bool
	times  map[string]time.Time
	settle *settler
}

// New starts to watch nothing yet. Where the system can't tell of changes the
// watcher polls.
func New(opts Options) *Watcher {
	w := &Watcher{opts: opts}
	if !opts.Poll {
		var err error
		if w.events, err = newEvents(); err != nil {
			w.fallBack(err)
		}
	}
	w.setTimes()
	return w
}

func (w *Watcher) setTimes() {
	q, m, every := w.opts.Quiet, w.opts.Most, w.opts.Every
	if q == 0 {
		q = Quiet
	}
	if m == 0 {
		m = most
	}
	switch {
	case every == 0 && w.events != nil:
		every = lookEvery
	case every == 0 || !w.opts.Poll && w.events == nil:
		every = pollEvery
	}
	if w.events == nil {
		// Two looks must agree before a change counts as finished.
		q = max(q, every+every/4)
		m = max(m, 4*every)
	}
	w.every = every
	w.settle = newSettler(q, m)
}

// Close ends the watching.
func (w *Watcher) Close() error {
	if w.events == nil {
		return nil
	}
	return w.events.close()
}

// fallBack goes over to polling.
func (w *Watcher) fallBack(err error) {
	if w.events != nil {
		w.events.close()
		w.events = nil
	}
	w.notice(fmt.Sprintf("%s; looking at the files every %g s instead", plain(err), pollEvery.Seconds()))
}

func (w *Watcher) notice(message string) {
	if w.opts.Notice != nil {
		w.opts.Notice(message)
	}
}

// Follow sets what to watch: what the last build read or looked for, as it
// found it. What has changed since is found by the next call of Next.
func (w *Watcher) Follow(inputs []disk.Input) {
	w.inputs = inputs
	w.known = make(map[string]disk.State, len(inputs))
	w.seen = make(map[string]disk.State, len(inputs))
	w.saved, w.times = map[string]bool{}, map[string]time.Time{}
	for _, in := range inputs {
		w.known[in.Path] = in.State
		w.seen[in.Path] = in.State
		w.times[in.Path] = w.written(in.Path)
	}
	w.arrange()
	now := time.Now()
	for _, in := range inputs {
		w.settle.touch(now, in.Path)
	}
}

// arrange has the system watch the right folders. It reports whether they are
// others than before, so that something may have changed that no event tells.
func (w *Watcher) arrange() bool {
	if w.events == nil {
		return false
	}
	changed, err := w.events.arrange(w.inputs)
	if err != nil {
		w.fallBack(err)
		w.setTimes()
		return true
	}
	return changed
}

// written is when a file was written last, while polling; the system's events say
// more.
func (w *Watcher) written(path string) (at time.Time) {
	if w.events != nil {
		return at
	}
	if info, err := os.Stat(path); err == nil {
		at = info.ModTime()
	}
	return at
}

// Next waits until inputs have changed and come to rest, and returns their
// paths, sorted, with those of files that were saved again with what they held. The
// error is that of ctx.
func (w *Watcher) Next(ctx context.Context) ([]string, error) {
	look := time.NewTicker(w.every)
	defer look.Stop()
	for {
		var wake <-chan struct{}
		if w.events != nil {
			wake = w.events.wake
		}
		var rest <-chan time.Time
		if due, ok := w.settle.due(); ok {
			rest = time.After(time.Until(due))
		}
		select {
		case <-ctx.Done():
			return nil, ctx.Err()
		case <-wake:
			w.hear()
		case <-look.C:
			w.look()
			look.Reset(w.every) // it is shorter once polling
		case <-rest:
			if changed := w.check(); len(changed) > 0 {
				return changed, nil
			}
		}
	}
}

// hear takes the events that came.
func (w *Watcher) hear() {
	now := time.Now()
	touched, folders, all := w.events.take()
	if folders && w.arrange() {
		all = true
	}
	for _, in := range w.inputs {
		saved, ok := touched[in.Path]
		if all || ok {
			w.settle.touch(now, in.Path)
		}
		if saved {
			w.saved[in.Path] = true
		}
	}
}

// look looks at every input without having been told to.
func (w *Watcher) look() {
	w.arrange()
	now := time.Now()
	for _, in := range w.inputs {
		if s := disk.Look(in.Path); s != w.seen[in.Path] {
			w.seen[in.Path] = s
			w.settle.touch(now, in.Path)
		}
		if at := w.written(in.Path); !at.Equal(w.times[in.Path]) {
			w.times[in.Path] = at
			w.saved[in.Path] = true
			w.settle.touch(now, in.Path)
		}
	}
}

// check compares what was touched with what the last build read. What was saved
// again counts too: the caller knows whether anything is to be done.
func (w *Watcher) check() (changed []string) {
	paths, second := w.settle.take()
	for _, p := range paths {
		known, ok := w.known[p]
		if !ok {
			continue // touched before the last Follow
		}
		s := disk.Look(p)
		w.seen[p] = s
		if s == known {
			if w.saved[p] && s.Kind == disk.Plain {
				changed = append(changed, p)
			}
			continue
		}
		changed = append(changed, p)
		// A file that is absent or empty is most likely being saved.
		if (s.Kind == disk.Missing || s.Empty) && !second[p] {
			w.settle.again(time.Now(), paths)
			return nil
		}
	}
	return changed
}
