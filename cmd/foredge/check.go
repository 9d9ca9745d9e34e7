package main

import (
	"context"
	"flag"
	"fmt"

	"foredge/cmd/internal/driver"
	"foredge/lang/source"
)

func checkCommand() *command {
	return &command{
		name:  "check",
		args:  "FILE...",
		most:  "[--json]",
		short: "tell what is wrong with a design, and write nothing",
		setup: func(flags *flag.FlagSet) runner {
			asJSON := flags.Bool("json", false, "report it as JSON, on standard output")
			return func(ctx context.Context, t *terminal, args []string) int {
				if err := wantDesigns(args); err != nil {
					return t.fail(err)
				}
				session := driver.NewSession(t.stdin)
				var results []*driver.Result
				for _, design := range args {
					results = append(results, session.Check(ctx, design))
				}
				if *asJSON {
					return t.report(t.stdout, results, true)
				}
				status := t.report(t.stderr, results, false)
				for _, r := range results {
					if r.OK() {
						fmt.Fprintf(t.stdout, "%s: no errors\n", source.Plain(shownName(r.Design)))
					}
				}
				return status
			}
		},
	}
}

// shownName is what lines of output call a design.
func shownName(design string) string {
	if design == driver.Stdin {
		return driver.StdinName
	}
	return design
}
