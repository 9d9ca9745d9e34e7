package main

import (
	"context"
	"flag"
	"fmt"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag/sarif"
	"foredge/lang/source"
)

func checkCommand() *command {
	return &command{
		name:  "check",
		args:  "FILE...",
		most:  "[--json|--sarif]",
		short: "tell what is wrong with a design, and write nothing",
		setup: func(flags *flag.FlagSet) runner {
			asJSON := flags.Bool("json", false, "report it as JSON, on standard output")
			asSarif := flags.Bool("sarif", false, "report it on standard output in the form that code hosts show beside the lines (SARIF 2.1.0)")
			return func(ctx context.Context, t *terminal, args []string) int {
				if err := wantDesigns(args); err != nil {
					return t.fail(err)
				}
				if *asJSON && *asSarif {
					return t.fail(misused("leave one of them out", "--json and --sarif are two forms of one report"))
				}
				session := driver.NewSession(t.stdin)
				var results []*driver.Result
				for _, design := range args {
					results = append(results, session.Check(ctx, design))
				}
				if *asSarif {
					reports, status := reported(results)
					if err := sarif.Write(t.stdout, reports); err != nil {
						return t.fail(err)
					}
					return status
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

// reported is all there is to tell about results, each with its file, and the exit status.
func reported(results []*driver.Result) (reports []sarif.Report, status int) {
	once := map[string]bool{}
	for _, r := range results {
		report := sarif.Report{File: r.Design, Told: cautionOnce(told(r), once)}
		if r.Design == driver.Stdin {
			report.File = ""
		}
		reports = append(reports, report)
		status = max(status, statusOf(r))
	}
	return reports, status
}

// shownName is what lines of output call a design.
func shownName(design string) string {
	if design == driver.Stdin {
		return driver.StdinName
	}
	return design
}
