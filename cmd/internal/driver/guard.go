package driver

import (
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
