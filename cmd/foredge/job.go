package main

import (
	"cmp"
	"context"
	"flag"
	"fmt"
	"path/filepath"

	"foredge/cmd/internal/cutplan"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/job"
	"foredge/lang/data"
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
			"where each order is and what is left of the stock, has a list to tick off, and tells minutes and\n" +
			"money of each sheet and cover, as far as what they rest on is stated. With --json the same is data.\n\n" +
			"A job is made whole or not at all. Ctrl-C ends the search for fewer sheets, and what was found by\n" +
			"then is made; a second one ends the command.",
		setup: func(flags *flag.FlagSet) runner {
			var out outputFlags
			out.declareForSheets(flags)
			asJSON := flags.Bool("json", false, "list what lies where, minutes and money as JSON, on standard output (and errors too, on standard error)")
			return func(ctx context.Context, t *terminal, args []string) int {
				opts, err := out.options()
				if err != nil {
					return t.fail(err)
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
	var made []*job.Result
	var results []*driver.Result
	for _, f := range files {
		its := job.Make(ctx, session, f, opts)
		made = append(made, its...)
		for _, r := range its {
			results = append(results, r.Result)
		}
	}
	bar.clear()
	return t.write(context.WithoutCancel(ctx), session, results, opts.Options, asJSON, func() {
		if asJSON {
			t.jobsJSON(made)
		} else {
			t.paths(results)
		}
	})
}

// jobsJSON lists the jobs that were made as data.
func (t *terminal) jobsJSON(made []*job.Result) {
	type jobJSON struct {
		Job   string      `json:"job"`
		At    *data.Place `json:"at"`
		Files []string    `json:"files"`
		Page  string      `json:"page"`
		cutplan.Data
	}
	jobs := []jobJSON{}
	for _, r := range made {
		if r.Plan == nil || !r.OK() {
			continue
		}
		files := []string{}
		for _, f := range r.Files {
			files = append(files, filepath.Base(f.Path))
		}
		jobs = append(jobs, jobJSON{r.Job.Name, data.At(r.Job.At), files, r.Page, r.Plan.Data()})
	}
	data.Write(t.stdout, struct {
		data.Head
		Jobs []jobJSON `json:"jobs"`
	}{data.NewHead(), jobs})
}

// write writes the files of results, each whole or not at all, takes away what earlier
// ones left, tells all, and has what was made shown.
func (t *terminal) write(ctx context.Context, session *driver.Session, results []*driver.Result, opts driver.Options, asJSON bool, show func()) int {
	refuse(results, driver.CheckOutputs(results))
	written := true
	for _, r := range results {
		if r.OK() {
			r.Err = session.Write(ctx, r, opts.Force)
		}
		written = written && r.OK()
	}
	for _, r := range results {
		// What a file's other jobs left goes once all of those that it states now are made.
		if r.Jobs == nil || written {
			r.Diagnostics.Add(session.LeftOver(ctx, r, opts))
		}
	}
	status := t.report(t.stderr, results, asJSON)
	show()
	return status
}

// refuse has none of the results written where some can't be.
func refuse(results []*driver.Result, refused map[*driver.Result]error) {
	var first error
	for _, r := range results {
		first = cmp.Or(first, refused[r])
	}
	for _, r := range results {
		r.Err = cmp.Or(r.Err, refused[r], first)
	}
}

// paths prints those of the files that were written.
func (t *terminal) paths(results []*driver.Result) {
	for _, r := range results {
		if r.OK() {
			for _, f := range r.Files {
				fmt.Fprintln(t.stdout, source.Plain(f.Path))
			}
		}
	}
}
