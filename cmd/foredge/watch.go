package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/watch"
	"foredge/lang/diag"
	"foredge/lang/source"
)

func watchCommand() *command {
	return &command{
		name:  "watch",
		args:  "FILE|DIR...",
		most:  "[-o DIR] [--as svg,dxf]",
		short: "build, and build again on every save",
		long: "Given a folder, it builds all designs in it, and those that are added later. While a design\n" +
			"has errors, its last good files stay. Each build is told below the time of day at which it\n" +
			"began. Ctrl-C ends it.",
		setup: func(flags *flag.FlagSet) runner {
			var out outputFlags
			out.declare(flags)
			poll := flags.Bool("poll", false, "look at the files again and again, for network drives that don't tell of changes")
			asJSON := flags.Bool("json", false, "report errors and warnings as JSON, on standard error")
			return func(ctx context.Context, t *terminal, args []string) int {
				opts, err := out.options()
				if err == nil {
					err = wantWatchable(args)
				}
				if err != nil {
					return t.fail(err)
				}
				opts.Shared = true
				b := newBench(t, args, opts, *asJSON, time.Now)
				watch.Run(ctx, watch.Options{
					Poll:   *poll,
					Notice: func(message string) { fmt.Fprintf(t.stderr, "note: %s\n", message) },
				}, func() { fmt.Fprintln(t.stdout, "watching, Ctrl-C ends it") }, b.build)
				return done
			}
		},
	}
}

func wantWatchable(names []string) error {
	if err := wantDesigns(names); err != nil {
		return err
	}
	if slices.Contains(names, driver.Stdin) {
		return misused("save the design to a file and watch that", "standard input can't be watched")
	}
	for _, name := range names {
		if _, err := os.Stat(name); errors.Is(err, fs.ErrNotExist) && filepath.Ext(name) == "" { // a file may still come
			return misused("name a design, or a folder of designs", "there is no file and no folder %q", name)
		}
	}
	return nil
}

// A bench is the designs that are being worked on, each with what became of
// it last.
type bench struct {
	*terminal
	targets []string // files and folders, as named
	opts    driver.Options
	asJSON  bool
	session *driver.Session
	results map[string]*driver.Result // by design
	shown   map[string]string         // what was last told of a design
	// unwritten holds the results whose files couldn't be written: that is tried
	// again, and told only once it goes well.
	unwritten map[*driver.Result]bool
	// listed are the designs that each folder held when it could last be read.
	listed map[string][]string
	// cautioned holds the cautions that were told: each is told once.
	cautioned map[string]bool
	// clock tells the time of day for the screen; nothing else knows it.
	clock func() time.Time
	begun time.Time // when the build that is on began; zero once that was told
	parts int       // how many builds were told of
}

func newBench(t *terminal, targets []string, opts driver.Options, asJSON bool, clock func() time.Time) *bench {
	return &bench{terminal: t, targets: targets, opts: opts, asJSON: asJSON, session: driver.NewSession(t.stdin), clock: clock,
		results: map[string]*driver.Result{}, shown: map[string]string{},
		unwritten: map[*driver.Result]bool{}, listed: map[string][]string{}, cautioned: map[string]bool{}}
}

// build builds the designs that are new or read one of the changed files, writes
// also what couldn't be written before and what is gone of a design that was saved
// again, and returns what all of them read.
func (b *bench) build(ctx context.Context, changed []string) watch.Built {
	b.begun = b.clock()
	inputs := watch.Inputs{}
	designs := b.designs(inputs)
	for design := range b.results {
		if !slices.Contains(designs, design) {
			delete(b.unwritten, b.results[design])
			delete(b.results, design)
			delete(b.shown, design)
			b.say("%s is gone; its files stay", source.Plain(design))
		}
	}
	var all []*driver.Result
	fresh, lost := map[*driver.Result]time.Duration{}, map[*driver.Result]bool{}
	for _, design := range designs {
		r := b.results[design]
		if saved, other := reads(r, changed); !other {
			lost[r] = saved && r.OK() && b.session.Gone(r)
		} else {
			start := time.Now()
			r = b.session.Build(ctx, design, b.opts)
			fresh[r] = time.Since(start)
			delete(b.unwritten, b.results[design])
			b.results[design] = r
		}
		all = append(all, r)
	}
	clash := driver.CheckOutputs(all)
	for _, r := range all {
		switch took, ok := fresh[r]; {
		case ctx.Err() != nil:
		case ok && !watch.Overtaken(r.Inputs), b.unwritten[r], lost[r]:
			b.write(ctx, r, clash[r], took)
		}
		inputs.Add(r.Inputs)
	}
	return watch.Built{Inputs: inputs.List(), Again: len(b.unwritten) > 0}
}

// say tells a line of a build.
func (b *bench) say(format string, args ...any) {
	b.head()
	fmt.Fprintf(b.stdout, format+"\n", args...)
}

// head sets what is told of a build apart from what was told before, by the time of
// day. A build of which there is nothing to tell has none.
func (b *bench) head() {
	if b.begun.IsZero() {
		return
	}
	if b.parts > 0 {
		fmt.Fprintln(b.stdout)
	}
	fmt.Fprintln(b.stdout, b.begun.Format(time.TimeOnly))
	b.begun = time.Time{}
	b.parts++
}

// designs lists what the targets stand for now, and adds to inputs the folders
// that decide it.
func (b *bench) designs(inputs watch.Inputs) []string {
	var designs []string
	for _, target := range b.targets {
		if info, err := os.Stat(target); err != nil || !info.IsDir() {
			designs = append(designs, target)
			continue
		}
		if abs, err := filepath.Abs(target); err == nil {
			inputs.Add([]disk.Input{{Path: abs, State: disk.Look(abs)}})
		}
		names, err := disk.ListDesigns(target)
		if err == nil {
			b.listed[target] = names
		}
		b.show(target, folderTold(err))
		for _, name := range b.listed[target] {
			designs = append(designs, filepath.Join(target, name))
		}
	}
	slices.Sort(designs)
	return slices.Compact(designs)
}

// folderTold is what there is to tell of a folder.
func folderTold(err error) diag.List {
	if err == nil {
		return nil
	}
	return diag.List{diagnosticOf(err)}
}

// reads reports whether one of the files that a result read was saved, and whether
// one holds another text now. A design without a result has it all to read.
func reads(r *driver.Result, changed []string) (saved, other bool) {
	if r == nil {
		return false, true
	}
	for _, in := range r.Inputs {
		if slices.Contains(changed, in.Path) {
			saved = true
			other = other || disk.Look(in.Path) != in.State
		}
	}
	return saved, other
}

// write writes the files of a fresh result and tells in one line what came of
// it, after the diagnostics if they are new.
func (b *bench) write(ctx context.Context, r *driver.Result, clash error, took time.Duration) {
	start := time.Now()
	before := b.unwritten[r]
	delete(b.unwritten, r)
	outcome := *r
	if r.OK() {
		if outcome.Err = clash; clash == nil {
			outcome.Err = b.session.Write(ctx, r, b.opts.Force)
			if len(r.Files) > 0 { // of a file that is empty while it is saved nothing is left over
				outcome.Diagnostics = slices.Concat(r.Diagnostics, b.session.LeftOver(ctx, &outcome, b.opts))
			}
		}
		if outcome.Err != nil {
			b.unwritten[r] = true
		}
	}
	if ctx.Err() != nil || before && outcome.Err != nil && b.shown[r.Design] == b.text(told(&outcome)) {
		return // it was stopped, or there is nothing new
	}
	took += time.Since(start)
	all := told(&outcome)
	news := len(all) > 0 || b.shown[r.Design] != ""
	b.show(r.Design, all)
	errors := 0
	for _, d := range all {
		if d.Severity == diag.Error {
			errors++
		}
	}
	ms := fmt.Sprintf("in %.3g ms", float64(took.Microseconds())/1000)
	var names []string
	for _, f := range r.Files {
		names = append(names, source.Plain(f.Path))
	}
	design := source.Plain(r.Design)
	switch {
	case errors == 1:
		b.say("%s has an error; its files stay as they were", design)
	case errors > 1:
		b.say("%s has %d errors; its files stay as they were", design, errors)
	case r.Shared && !news: // what it is for, the designs that use it tell
	case len(names) == 0:
		b.say("%s is good, and there is nothing to cut in it", design)
	default:
		b.say("built %s %s", strings.Join(names, " "), ms)
	}
}

// show shows the diagnostics of a design, once until they are others.
func (b *bench) show(design string, all diag.List) {
	var rest, cautions diag.List
	for _, d := range all {
		if d.Code == "caution" {
			cautions = append(cautions, d)
		} else {
			rest = append(rest, d)
		}
	}
	if cautions = cautionOnce(cautions, b.cautioned); len(cautions) > 0 {
		b.head()
		defer b.tell(b.stderr, cautions, b.asJSON)
	}
	all = rest
	if text := b.text(all); text != b.shown[design] {
		b.shown[design] = text
		if text != "" {
			b.head()
		}
		io.WriteString(b.stderr, text)
	}
}

// text is how diagnostics are shown; nothing if there are none.
func (b *bench) text(all diag.List) string {
	if len(all) == 0 {
		return ""
	}
	var text strings.Builder
	b.tell(&text, all, b.asJSON)
	return text.String()
}
