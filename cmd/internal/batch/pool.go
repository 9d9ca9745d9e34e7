package batch

import (
	"context"
	"runtime"
	"sync"
)

// window is how many results may wait for one before them, for each goroutine.
const window = 8

// each calls make for 0 to n-1, on all processors at once, and use with the
// results in their order. It stops at use's first error or at the end of ctx; what
// make is at then is left to itself, so it must write nothing.
func each[T any](ctx context.Context, n int, make func(int) T, use func(int, T) error) error {
	ended := ctx
	ctx, stop := context.WithCancel(ctx)
	workers := runtime.GOMAXPROCS(0)
	type job struct {
		i    int
		done chan T
	}
	jobs, waiting := newChan[job](0), newChan[job](workers*window)
	var wg sync.WaitGroup
	defer func() {
		stop()
		if ended.Err() == nil {
			wg.Wait()
		}
	}()
	for range workers {
		wg.Go(func() {
			for j := range jobs {
				j.done <- make(j.i)
			}
		})
	}
	wg.Go(func() {
		defer close(jobs)
		defer close(waiting)
		for i := range n {
			j := job{i, newChan[T](1)}
			select {
			case waiting <- j:
			case <-ctx.Done():
				return
			}
			select {
			case jobs <- j:
			case <-ctx.Done():
				return
			}
		}
	})
	for j := range waiting {
		select {
		case v := <-j.done:
			if err := use(j.i, v); err != nil {
				return err
			}
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	return ctx.Err()
}

func newChan[T any](size int) chan T { return make(chan T, size) }
