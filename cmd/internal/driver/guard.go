package driver

import (
	"context"
	"fmt"
	"runtime/debug"
)

// An InternalError is a fault of foredge, not of the design.
type InternalError struct {
	Doing string // what was being done: building harbour-log.fore
	Cause any    // what the panic said
	Trace string // where, for the report
}

func (e *InternalError) Error() string {
	return fmt.Sprintf("internal error while %s: this is a fault of foredge, not of the design, please report it with the design", e.Doing)
}

// Guard runs f, and turns a panic in it into an [*InternalError].
func Guard(doing string, f func()) (err error) {
	defer func() {
		if cause := recover(); cause != nil {
			err = &InternalError{Doing: doing, Cause: cause, Trace: string(debug.Stack())}
		}
	}()
	f()
	return nil
}

// Until gives what f returns, or the error of ctx if that ends before. f is then
// left to itself: it must only work something out, and write nothing.
func Until[T any](ctx context.Context, f func() T) (T, error) {
	done := make(chan T, 1)
	go func() { done <- f() }()
	select {
	case v := <-done:
		return v, nil
	case <-ctx.Done():
		var none T
		return none, ctx.Err()
	}
}
