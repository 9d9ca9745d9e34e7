package main

import (
	"context"
	"flag"
	"fmt"

	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/job"
	"foredge/lang/source"
	"foredge/layout/sheet"
)

func jobCommand() *command {
	return &command{
		name:  "job",
		args:  "FILE...",
		most:  "[-o DIR] [--as svg,dxf]",
		short: "lay the parts of several designs on the sheets of a shop",
		long: "A file states a job as a list: job market-day { make \"harbour-log.fore\" { copies = 12 } }.\n" +
			"Parts of all its designs, of each of their orders, that are cut from one stock lie together, one\n" +
			"file a sheet: market-day-birch-1.svg and so on. The page market-day.html shows the sheets, says\n" +
			"where each order is and what is left of the stock, and has a list to tick off.\n\n" +
			"A job is made whole or not at all. Ctrl-C ends the search for fewer sheets, and what was found by\n" +
			"then is made; a second one ends the command.",
		setup: func(flags *flag.FlagSet) runner {
			var out outputFlags
			out.declare(flags)
			asJSON := flags.Bool("json", false, "report errors and warnings as JSON, on standard error")
			return func(ctx context.Context, t *terminal, args []string) int {
				opts, err := out.options()
				switch {
				case err != nil:
					return t.fail(err)
				case opts.Each:
					return t.fail(misused("foredge build --each makes a file for each part of one design", "the parts of a job lie on sheets, so it has no --each"))
				}
				return runJobs(ctx, t, args, job.Options{Options: opts}, *asJSON)
			}
		},
	}
}

// runJobs makes jobs and prints the paths of what was written.
func runJobs(ctx context.Context, t *terminal, files []string, opts job.Options, asJSON bool) int {
	if err := wantDesigns(files); err != nil {
		return t.fail(err)
	}
	session := driver.NewSession(t.stdin)
	bar := t.bar("")
	opts.Progress = func(name string, p sheet.Progress) {
		what := name
		if p.Group != "" {
			what += ", " + p.Group
		}
		bar.what = fmt.Sprintf("%s: best so far %s", what, plural(p.Sheets, "sheet"))
		bar.show(int(1000*p.Done), 1000)
	}
	var results []*driver.Result
	for _, f := range files {
		results = append(results, job.Make(ctx, session, f, opts)...)
	}
	bar.clear()
	return t.write(context.WithoutCancel(ctx), session, results, opts.Options, asJSON)
}

// write writes the files of results, each whole or not at all, takes away what earlier
// ones left, tells all and prints the paths.
func (t *terminal) write(ctx context.Context, session *driver.Session, results []*driver.Result, opts driver.Options, asJSON bool) int {
	refused := driver.CheckOutputs(results)
	for _, r := range results {
		if err := refused[r]; err != nil {
			return t.fail(err)
		}
	}
	for _, r := range results {
		if r.OK() {
			r.Err = session.Write(ctx, r, opts.Force)
			r.Diagnostics.Add(session.LeftOver(ctx, r, opts))
		}
	}
	status := t.report(t.stderr, results, asJSON)
	for _, r := range results {
		if r.OK() {
			for _, f := range r.Files {
				fmt.Fprintln(t.stdout, source.Plain(f.Path))
			}
		}
	}
	return status
}
