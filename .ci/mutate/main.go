package main

import (
	"context"
	"errors"
	"flag"
	"fmt"
	"os"
	"os/exec"
	"os/signal"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"sync"
	"time"
)

// options are what the flags say.
type options struct {
	n, seed, workers int
	above            int
	patience         time.Duration
	only, record     string
	list, again      bool
}

func main() {
	cache, _ := os.UserCacheDir()
	var o options
	flag.IntVar(&o.n, "n", 400, "how many mutants to try; those that do not compile are not counted")
	flag.IntVar(&o.seed, "seed", 1, "draws which of all mutants are tried")
	flag.IntVar(&o.workers, "workers", 2, "how many to try at a time")
	flag.DurationVar(&o.patience, "patience", 10*time.Second, "how long tests may hang, beside four times what they take")
	flag.StringVar(&o.only, "only", "^(lang|eval|layout|export)(/|$)", "a pattern of the packages whose code is changed")
	flag.StringVar(&o.record, "record", filepath.Join(cache, "foredge-ci", "mutants.tsv"), "the file that keeps the results")
	flag.IntVar(&o.above, "above", 0, "how many of the packages above to ask at most, those first that have killed most; 0 for all")
	flag.BoolVar(&o.list, "list", false, "only list the mutants")
	flag.BoolVar(&o.again, "again", false, "try those anew that lived, as after writing tests for them")
	flag.Parse()
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt)
	defer stop()
	if err := run(ctx, o); err != nil {
		fmt.Fprintln(os.Stderr, err)
		stop()
		os.Exit(1)
	}
}

// goal is the share of mutants, the equivalent ones left out, that tests must
// kill.
const goal = 0.85

func run(ctx context.Context, o options) error {
	only, err := regexp.Compile(o.only)
	if err != nil {
		return err
	}
	out, err := exec.Command("go", "env", "GOMOD").Output()
	if err != nil {
		return fmt.Errorf("go env: %w", err)
	}
	root := filepath.Dir(strings.TrimSpace(string(out)))
	packages, err := listPackages(root)
	if err != nil {
		return err
	}
	chosen := choose(packages, only)
	every, err := readMutants(root, choose(packages, regexp.MustCompile("")))
	if err != nil {
		return err
	}
	pool := slices.DeleteFunc(slices.Clone(every), func(m mutant) bool { return !only.MatchString(m.Package) })
	drawn := sample(pool, o.seed)
	if o.list {
		for i, m := range drawn[:min(o.n, len(drawn))] {
			fmt.Printf("%d\t%s:%d\t%s\t%s\t%s\n", i+1, m.File, m.At, m.Function, m.Change, m.Line)
		}
		fmt.Printf("of %d in %d packages\n", len(pool), len(chosen))
		return nil
	}
	judged, err := readJudged(filepath.Join(root, ".ci", "mutate", "equivalent.tsv"))
	if err != nil {
		return err
	}
	found, err := readResults(o.record)
	if err != nil {
		return err
	}
	tried, err := tryAll(ctx, o, root, packages, chosen, drawn, found)
	if err != nil {
		return err
	}
	all := report(os.Stdout, tried, found, judged)
	wrong := tellJudged(os.Stdout, judged, every, found)
	switch {
	case wrong:
		return errors.New("equivalent.tsv does not hold")
	case all.share() < goal:
		return fmt.Errorf("%.1f %% are killed; the goal is %.0f %%", 100*all.share(), 100*goal)
	}
	return nil
}

// choose lists the packages whose code may be changed, in order.
func choose(packages map[string]*pkg, only *regexp.Regexp) []*pkg {
	var chosen []*pkg
	for _, p := range packages {
		if !p.helper() && only.MatchString(p.name()) {
			chosen = append(chosen, p)
		}
	}
	slices.SortFunc(chosen, func(a, b *pkg) int { return strings.Compare(a.ImportPath, b.ImportPath) })
	return chosen
}

// tryAll tries as many of the drawn mutants as are wanted and no result is
// there of, adds the results to found and to the record, and returns those that
// make up the sample.
func tryAll(ctx context.Context, o options, root string, packages map[string]*pkg, chosen []*pkg, drawn []mutant, found map[key]result) ([]mutant, error) {
	folder, err := os.MkdirTemp("", "foredge-mutate-")
	if err != nil {
		return nil, err
	}
	defer os.RemoveAll(folder)
	b := &bench{root: root, patience: o.patience, folder: folder, packages: packages, took: map[string]time.Duration{}, above: o.above, kills: map[string]int{}}
	for _, r := range found {
		if r.State == killed && r.By != path.Dir(r.File) {
			b.kills[module+"/"+r.By]++
		}
	}
	var testing []*pkg
	for _, p := range chosen {
		for _, q := range append(above(packages, p), p) {
			if q.tested() && !slices.Contains(testing, q) {
				testing = append(testing, q)
			}
		}
	}
	rec, err := openRecord(o.record)
	if err != nil {
		return nil, err
	}
	defer rec.file.Close()
	fresh := func(m mutant) bool {
		r, known := found[m.key]
		return !known || o.again && r.State == living
	}
	measured, done := false, 0
	var tried []mutant
	for at, counted := 0, 0; counted < o.n && at < len(drawn); {
		// As many as are still wanted; some of them will not compile.
		next := drawn[at:min(len(drawn), at+o.n-counted)]
		at += len(next)
		todo := slices.DeleteFunc(slices.Clone(next), func(m mutant) bool { return !fresh(m) })
		if len(todo) > 0 && !measured {
			fmt.Printf("measuring the tests of %d packages\n", len(testing))
			if err := b.measure(ctx, testing, o.workers); err != nil {
				return nil, err
			}
			measured = true
		}
		var mu sync.Mutex
		err := each(ctx, o.workers, todo, func(m mutant) error {
			began := time.Now()
			r, err := b.try(ctx, m)
			if err != nil {
				return err
			}
			mu.Lock()
			defer mu.Unlock()
			found[m.key] = r
			done++
			fmt.Printf("%4d %s %-7s %5.1f s  %s:%d %s\n", done, r.State, r.By, time.Since(began).Seconds(), m.File, m.At, m.Change)
			return rec.add(r)
		})
		if err != nil {
			return nil, err
		}
		for _, m := range next {
			tried = append(tried, m)
			if found[m.key].State != broken {
				counted++
			}
		}
	}
	return tried, nil
}
