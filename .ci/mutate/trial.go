package main

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"time"
)

// What a trial can come to.
const (
	killed = "killed" // a test failed, or hung
	living = "living" // no test noticed
	broken = "broken" // it does not compile
)

// A result is what came of trying a mutant.
type result struct {
	key
	State string
	By    string // the package whose tests killed it
}

// A bench tries mutants.
type bench struct {
	root     string
	folder   string // for changed files and test programs
	packages map[string]*pkg
	patience time.Duration // with tests that hang
	above    int           // how many packages above to ask at most; 0 for all

	mu    sync.Mutex
	took  map[string]time.Duration // what a package's short tests take on the true code
	kills map[string]int           // how many mutants of other packages its tests have killed
}

// unfit are tests that hold the program against a clock, a terminal or a
// signal. On a busy machine they fail by themselves, and they would kill what
// lives.
const unfit = "Watch|SurvivesKill|OnTerminal|Readme|TestScripts/watch"

// try tries a mutant with the tests of its own package and then with those of
// the packages above it.
func (b *bench) try(ctx context.Context, m mutant) (result, error) {
	r := result{key: m.key}
	own := b.packages[module+"/"+m.Package]
	dir, err := os.MkdirTemp(b.folder, "mutant-")
	if err != nil {
		return r, err
	}
	defer os.RemoveAll(dir)
	overlay, err := b.overlay(dir, m)
	if err != nil {
		return r, err
	}
	build := exec.CommandContext(ctx, "go", "build", "-p", "1", "-overlay", overlay, own.ImportPath)
	build.Dir = b.root
	if build.Run() != nil {
		r.State = broken
		return r, ctx.Err()
	}
	users := b.order(above(b.packages, own))
	if b.above > 0 {
		users = users[:min(b.above, len(users))]
	}
	if own.tested() {
		users = append([]*pkg{own}, users...)
	}
	for _, p := range users {
		ok, _, err := b.test(ctx, p, dir, overlay, b.patience+4*b.took[p.ImportPath])
		if err != nil {
			return r, err
		}
		if !ok {
			r.State, r.By = killed, p.name()
			if p != own {
				b.mu.Lock()
				b.kills[p.ImportPath]++
				b.mu.Unlock()
			}
			return r, nil
		}
	}
	r.State = living
	return r, nil
}

// order puts first those packages whose tests have killed most so far, then
// those that take least time: what becomes of a mutant is the same, but sooner.
func (b *bench) order(users []*pkg) []*pkg {
	b.mu.Lock()
	defer b.mu.Unlock()
	slices.SortFunc(users, func(p, q *pkg) int {
		return cmp.Or(cmp.Compare(b.kills[q.ImportPath], b.kills[p.ImportPath]),
			cmp.Compare(b.took[p.ImportPath], b.took[q.ImportPath]), strings.Compare(p.ImportPath, q.ImportPath))
	})
	return users
}

// overlay writes the changed file and the list by which the go command takes
// it in place of the true one.
func (b *bench) overlay(dir string, m mutant) (string, error) {
	path := filepath.Join(b.root, filepath.FromSlash(m.File))
	source, err := os.ReadFile(path)
	if err != nil {
		return "", err
	}
	changed, list := filepath.Join(dir, filepath.Base(path)), filepath.Join(dir, "overlay.json")
	data, err := json.Marshal(map[string]map[string]string{"Replace": {path: changed}})
	if err != nil {
		return "", err
	}
	return list, errors.Join(os.WriteFile(changed, m.apply(source), 0o666), os.WriteFile(list, data, 0o666))
}

// test runs the short tests of a package and reports whether all passed, and
// how long they took. Without an overlay it tests the true code.
func (b *bench) test(ctx context.Context, p *pkg, dir, overlay string, limit time.Duration) (bool, time.Duration, error) {
	program := filepath.Join(dir, "package.test")
	args := []string{"test", "-c", "-p", "1", "-vet=off", "-o", program}
	if overlay != "" {
		args = append(args, "-overlay", overlay)
	}
	compile := exec.CommandContext(ctx, "go", append(args, p.ImportPath)...)
	compile.Dir = b.root
	if out, err := compile.CombinedOutput(); err != nil {
		if ctx.Err() != nil {
			return false, 0, ctx.Err()
		}
		return false, 0, fmt.Errorf("the tests of %s do not compile: %v\n%s", p.name(), err, out)
	}
	began := time.Now()
	within, cancel := context.WithTimeout(ctx, limit)
	defer cancel()
	run := exec.CommandContext(within, program, "-test.short", "-test.failfast", "-test.skip", unfit)
	run.Dir = p.Dir
	run.Env = append(os.Environ(), "CI=", "GOMAXPROCS=2")
	tame(run)
	err := run.Run()
	if ctx.Err() != nil {
		return false, 0, ctx.Err()
	}
	return err == nil, time.Since(began), nil
}

// measure runs the tests of packages on the true code, where they must pass.
func (b *bench) measure(ctx context.Context, packages []*pkg, workers int) error {
	return each(ctx, workers, packages, func(p *pkg) error {
		dir, err := os.MkdirTemp(b.folder, "true-")
		if err != nil {
			return err
		}
		defer os.RemoveAll(dir)
		ok, took, err := b.test(ctx, p, dir, "", 5*time.Minute)
		if err != nil {
			return err
		}
		if !ok {
			return fmt.Errorf("the short tests of %s fail on the code as it is", p.name())
		}
		b.mu.Lock()
		b.took[p.ImportPath] = took
		b.mu.Unlock()
		return nil
	})
}

// each does something with all of a list, so many at a time, up to the first
// error.
func each[T any](ctx context.Context, workers int, list []T, do func(T) error) error {
	ctx, stop := context.WithCancelCause(ctx)
	defer stop(nil)
	next := make(chan T)
	var all sync.WaitGroup
	for range workers {
		all.Go(func() {
			for x := range next {
				if err := do(x); err != nil {
					stop(err)
				}
			}
		})
	}
	for _, x := range list {
		if ctx.Err() != nil {
			break
		}
		select {
		case next <- x:
		case <-ctx.Done():
		}
	}
	close(next)
	all.Wait()
	return context.Cause(ctx)
}
