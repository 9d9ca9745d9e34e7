package main

import (
	"context"
	"flag"
	"fmt"
	"io"
	"slices"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
)

func buildCommand() *command {
	return &command{
		name:  "build",
		args:  "FILE...",
		most:  "[-o DIR] [--as svg,dxf]",
		short: "make the files that a laser cuts from",
		long: "The files of NAME.fore are called NAME.svg and so on. They are written only if the design\n" +
			"has no error, all together or not at all, and their paths are printed. Files that would not\n" +
			"change are left alone. One that foredge didn't make, that was changed since, or that was made of\n" +
			"another design is only replaced with --force.",
		setup: func(flags *flag.FlagSet) runner {
			var out outputFlags
			out.declare(flags)
			asJSON := flags.Bool("json", false, "report errors and warnings as JSON, on standard error")
			return func(ctx context.Context, t *terminal, args []string) int {
				opts, err := out.options()
				if err != nil {
					return t.fail(err)
				}
				return build(ctx, t, args, opts, *asJSON)
			}
		},
	}
}

// build builds designs and prints the paths of what was written.
func build(ctx context.Context, t *terminal, designs []string, opts driver.Options, asJSON bool) int {
	if err := wantDesigns(designs); err != nil {
		return t.fail(err)
	}
	session := driver.NewSession(t.stdin)
	var results []*driver.Result
	for _, design := range designs {
		results = append(results, session.Build(ctx, design, opts))
	}
	return t.write(ctx, session, results, opts, asJSON, func() { t.paths(results) })
}

// wantDesigns refuses a call that names no design, or one twice.
func wantDesigns(names []string) error {
	if len(names) == 0 {
		return misused("name its file, or - for standard input", "no design is named")
	}
	seen := map[string]bool{}
	for _, n := range names {
		if seen[n] {
			return misused("", "%q is named twice", n)
		}
		seen[n] = true
	}
	return nil
}

// report tells the diagnostics of results, and returns the exit status.
func (t *terminal) report(w io.Writer, results []*driver.Result, asJSON bool) int {
	all, status := gathered(results)
	if asJSON || len(all) > 0 {
		t.tell(w, all, asJSON)
	}
	return status
}

// gathered is all there is to tell about results, and the exit status they ask for.
func gathered(results []*driver.Result) (diag.List, int) {
	var all diag.List
	status := done
	failed := map[error]bool{} // of several results for one reason, told once
	for _, r := range results {
		if failed[r.Err] {
			all.Add(r.Diagnostics)
		} else {
			all.Add(told(r))
			failed[r.Err] = r.Err != nil
		}
		status = max(status, statusOf(r))
	}
	return cautionOnce(wrongOnce(all), map[string]bool{}), status
}

// wrongOnce leaves out errors and warnings that stand there word for word, as of a design that
// two jobs make, or of a file that two designs use.
func wrongOnce(all diag.List) diag.List {
	told := map[string]bool{}
	return slices.DeleteFunc(all, func(d *diag.Diagnostic) bool {
		if d.Severity == diag.Info || d.Span.IsZero() {
			return false
		}
		key := fmt.Sprint(d.Code, d.Span.File.Name(), d.Span.Start, d.Span.End, d.Message, d.Help)
		for _, n := range d.Notes {
			key += n.Message
		}
		before := told[key]
		told[key] = true
		return before
	})
}

// cautionOnce leaves out a caution that was told before, or that the command was
// stopped, and notes what it leaves in.
func cautionOnce(all diag.List, told map[string]bool) diag.List {
	var out diag.List
	for _, d := range all {
		if d.Code == "caution" || d.Code == stopped {
			if told[d.Message] {
				continue
			}
			told[d.Message] = true
		}
		out = append(out, d)
	}
	return out
}
