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
		most:  "[--table] [--json]",
		short: "say what the readings are worth and how surely the holes clear the wire",
		long: "First what to do next, then for each notebook how well the readings agree, how surely every\n" +
			"hole of a cover clears the wire, and a drawing with the readings at their places. It works on\n" +
			"readings that contradict each other too. --table lists what became of each reading. With --json\n" +
			"lengths are in mm, null is what can't be told, and u is a standard uncertainty;\n" +
			"lang/REFERENCE.md lists what there is.",
		setup: func(flags *flag.FlagSet) runner {
			table := flags.Bool("table", false, "list the readings with their uncertainties, as read and as adjusted")
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
					err = fitview.WriteText(t.stdout, report, *table)
				}
				if err != nil {
					return misuse // which is told of all that can't be written
				}
				return status
			}
		},
	}
}
