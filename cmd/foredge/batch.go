package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"runtime/debug"
	"strings"

	"foredge/cmd/internal/batch"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/glance"
	"foredge/lang/data"
	"foredge/lang/diag"
	"foredge/lang/source"
)

func batchCommand() *command {
	return &command{
		name:  "batch",
		args:  "FILE",
		most:  "[--orders FILE] -o DIR [--check] [--together] [--resume]",
		short: "make a design for each of a table of orders",
		long: "Every order is checked before any file is written. Then the good ones are made, each with its cut\n" +
			"files and a job ticket (NUMBER-NAME.svg, .txt), and made.csv and made.json list them. Orders that\n" +
			"can't be made are named by their number and their place in the table, and the exit status is 1.\n" +
			"With --together the page made.html shows what lies on which sheet, with lists to tick off, and tells\n" +
			"minutes and money as far as what they rest on is stated.\n\n" +
			"With --check nothing is written: it lists names that shrank below capitals of 2 mm, that take\n" +
			"several lines, or that their customers can hardly have written, with what was meant, as far as that\n" +
			"can be told.\n\n" +
			"A batch that was stopped goes on with --resume: files that are there already, with the same content, are not made again,\n" +
			"and those that no order has any more are moved into the folder set-aside there, as are sheets that hold\n" +
			"something else now. Orders whose files hold something else now are told by their numbers.",
		setup: func(flags *flag.FlagSet) runner {
			var out outputFlags
			out.declare(flags)
			var opts batch.Options
			flags.StringVar(&opts.Orders, "orders", "", "take the orders from `FILE`, not from the one that the design names")
			flags.BoolVar(&opts.Together, "together", false, "lay several covers to a file, in rows on the laser's bed")
			flags.BoolVar(&opts.Check, "check", false, "only list what to look at before cutting")
			flags.BoolVar(&opts.Resume, "resume", false, "go on with a batch that was stopped")
			asJSON := flags.Bool("json", false, "list what was made or found as JSON, on standard output")
			return func(ctx context.Context, t *terminal, args []string) int {
				built, err := out.options()
				if err != nil {
					return t.fail(err)
				}
				opts.Options = built
				switch {
				case len(args) == 0:
					return t.fail(misused("name its file", "no design is named"))
				case len(args) > 1:
					return t.fail(misused("run one after the other", "a batch makes one design"))
				case opts.Folder == "" && !opts.Check:
					return t.fail(misused("as in -o gifts", "-o must say which folder the orders' files go into"))
				case opts.Each && opts.Together:
					return t.fail(misused("leave one of them out", "--each and --together contradict each other"))
				}
				return runBatch(ctx, t, args[0], opts, *asJSON)
			}
		},
	}
}

func runBatch(ctx context.Context, t *terminal, design string, opts batch.Options, asJSON bool) int {
	if os.Getenv("GOGC") == "" {
		debug.SetGCPercent(100) // a batch is long, but holds little at any one time
	}
	bar := t.bar("orders")
	opts.Progress, opts.Keep = bar.show, asJSON
	r := batch.Run(ctx, driver.NewSession(t.stdin), design, opts)
	bar.clear()
	told := r.Diagnostics
	if r.Err != nil {
		why := diagnosticOf(r.Err)
		if errors.Is(r.Err, context.Canceled) && r.Done > 0 {
			why.WithHelp("%s written; --resume goes on from there", plural(r.Done, "order"))
		}
		told = append(diag.List{why}, told...)
	}
	if asJSON || len(told) > 0 {
		if !asJSON {
			told = folded(told)
		}
		t.tellAll(t.stderr, told, asJSON)
	}
	var internal *driver.InternalError
	if r.Err != nil && !errors.As(r.Err, &internal) {
		return misuse
	}
	status := done
	if r.Err != nil || r.Diagnostics.HasErrors() {
		status = faulty
	}
	switch {
	case r.Err != nil:
	case asJSON:
		t.batchJSON(r)
	case opts.Check && r.Looked == 0:
		fmt.Fprintln(t.stdout, "no order could be looked at")
	case opts.Check:
		t.seen(r)
	case len(r.Lists) == 0:
		fmt.Fprintln(t.stdout, "nothing was made")
	default:
		fmt.Fprintf(t.stdout, "%s made, %d not; %s lists them\n", plural(r.Done, "order"), len(r.Bad), source.Plain(r.Lists[0]))
	}
	return status
}

// seen lists what to look at, a line each.
func (t *terminal) seen(r *batch.Result) {
	var rows [][]string
	for _, s := range r.Seen {
		rows = append(rows, []string{fmt.Sprintf("order %s, line %d", s.Order, s.At.Line), fmt.Sprintf("%q", s.Text), strings.Join(s.What, "; ")})
	}
	glance.Table(t.stdout, "", rows)
	fmt.Fprintf(t.stdout, "%s to look at, %s that can't be made\n", plural(len(r.Seen), "text"), plural(len(r.Bad), "order"))
}

func (t *terminal) batchJSON(r *batch.Result) {
	made, bad, seen := r.Made, r.Bad, r.Seen
	if made == nil {
		made = []batch.Made{}
	}
	if bad == nil {
		bad = []batch.Bad{}
	}
	if seen == nil {
		seen = []batch.Seen{}
	}
	data.Write(t.stdout, struct {
		data.Head
		Made []batch.Made `json:"made"`
		Bad  []batch.Bad  `json:"bad"`
		Seen []batch.Seen `json:"seen"`
	}{data.NewHead(), made, bad, seen})
}

func plural(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
