package batch

import (
	"context"
	"errors"
	"runtime"
	"sync/atomic"
	"testing"
	"time"
)

// All processors work at once, and results are used in their order however long
// each takes.
func TestEach(t *testing.T) {
	defer runtime.GOMAXPROCS(runtime.GOMAXPROCS(4))
	together := make(chan bool)
	var at atomic.Int32
	var alone atomic.Bool
	next := 0
	err := each(context.Background(), 200, func(i int) int {
		if i < 4 { // goes on only once four are at it
			if at.Add(1) == 4 {
				close(together)
			}
			select {
			case <-together:
			case <-time.After(10 * time.Second):
				alone.Store(true)
			}
		}
		if i%7 == 0 {
			time.Sleep(time.Millisecond)
		}
		return i
	}, func(i, v int) error {
		if i != next || v != i {
			t.Errorf("%d comes with %d after %d", i, v, next-1)
		}
		next++
		return nil
	})
	if err != nil || next != 200 {
		t.Errorf("%d are used, %v", next, err)
	}
	if alone.Load() {
		t.Error("four processors are there and fewer work")
	}
}

// It stops at the first error and when it is told to, with nothing left running.
func TestEachStops(t *testing.T) {
	before := runtime.NumGoroutine()
	bad := errors.New("bad")
	used := 0
	err := each(context.Background(), 1_000_000, func(i int) int { return i }, func(i, _ int) error {
		used++
		if i == 10 {
			return bad
		}
		return nil
	})
	if err != bad || used != 11 {
		t.Errorf("%v after %d", err, used)
	}
	ctx, stop := context.WithCancel(context.Background())
	err = each(ctx, 1_000_000, func(i int) int { return i }, func(i, _ int) error {
		if i == 10 {
			stop()
		}
		return nil
	})
	if !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
	for try := 0; runtime.NumGoroutine() > before; try++ {
		if try == 1000 {
			t.Fatalf("%d goroutines are left over", runtime.NumGoroutine()-before)
		}
		time.Sleep(time.Millisecond) // what is at work ends by itself
	}
	// It doesn't wait for what takes long.
	ctx, stop = context.WithTimeout(context.Background(), 20*time.Millisecond)
	defer stop()
	long := newChan[bool](0)
	defer close(long)
	if err := each(ctx, 2, func(i int) int { <-long; return i }, func(int, int) error { return nil }); !errors.Is(err, context.DeadlineExceeded) {
		t.Error(err)
	}
}
