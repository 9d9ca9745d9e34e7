package main

import (
	"context"
	"flag"
	"fmt"
	"io"

	"foredge/cmd/internal/serve"
)

func serveCommand() *command {
	return &command{
		name:    "serve",
		follows: nothing,
		short:   "answer an editor, as a language server on standard input and output",
		long: "An editor that speaks the Language Server Protocol starts it: it tells errors while you type,\n" +
			"values and where they come from, completes, renames and lays out. examples/editors has\n" +
			"what editors need for that.",
		setup: func(*flag.FlagSet) runner {
			return func(ctx context.Context, t *terminal, args []string) int {
				if len(args) > 0 {
					return t.fail(misused("an editor starts it, as foredge serve", "serve takes no arguments"))
				}
				orderly, err := serve.Serve(ctx, t.stdin, unclosed{t.stdout}, version())
				switch {
				case err != nil && ctx.Err() == nil:
					return t.fail(fmt.Errorf("the editor can't be understood any more: %w", err))
				case !orderly && ctx.Err() == nil:
					return faulty
				}
				return done
			}
		},
	}
}

// unclosed keeps a server from closing what it writes to.
type unclosed struct{ io.Writer }

func (unclosed) Close() error { return nil }
