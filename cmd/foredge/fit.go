package main

import (
	"context"
	"flag"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/fitview"
	"foredge/eval/fit"
)

func fitCommand() *command {
	return &command{
		name:  "fit",
		args:  "FILE",
		most:  "[--json]",
		short: "say what the readings are worth and how surely the holes clear the wire",
		long: "For each notebook: a drawing with the readings at their places, what became of each, how\n" +
			"surely every hole of a cover clears the wire, and what to do next. It works on readings that\n" +
			"contradict each other too. With --json lengths are in mm, null is what can't be told, and u is\n" +
			"a standard uncertainty; lang/REFERENCE.md lists what there is.",
		setup: func(flags *flag.FlagSet) runner {
			asJSON := flags.Bool("json", false, "print it as JSON (and errors too, on standard error)")
			return func(ctx context.Context, t *terminal, args []string) int {
				if len(args) != 1 {
					return t.fail(misused("as in foredge fit harbour-log.fore", "fit works on one design at a time, and %d are named", len(args)))
				}
				r := driver.NewSession(t.stdin).Solve(ctx, args[0])
				status := t.report(t.stderr, []*driver.Result{r}, *asJSON)
				if r.Err != nil || r.Solution == nil {
					return status
				}
				report := fit.Of(r.Solution)
				var err error
				if *asJSON {
					err = fitview.WriteJSON(t.stdout, shownName(r.Design), report)
				} else {
					err = fitview.WriteText(t.stdout, report)
				}
				if err != nil {
					return t.fail(err)
				}
				return status
			}
		},
	}
}
