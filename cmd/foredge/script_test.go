package main

import (
	"fmt"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"
	"time"

	"foredge/lang/foretest"

	"github.com/rogpeppe/go-internal/testscript"
)

func TestMain(m *testing.M) {
	testscript.Main(m, map[string]func(){"foredge": main})
}

// The scripts say what the commands do; testscript's documentation says how to
// read them. With FOREDGE_UPDATE set, files that cmp compares are renewed.
func TestScripts(t *testing.T) {
	testscript.Run(t, testscript.Params{
		Dir:                 "../../testdata/script",
		UpdateScripts:       os.Getenv("FOREDGE_UPDATE") != "",
		RequireExplicitExec: true,
		RequireUniqueNames:  true,
		Setup: func(env *testscript.Env) error { // for files that no script can hold
			here, err := filepath.Abs("../../testdata")
			env.Setenv("TESTDATA", here)
			return err
		},
		Condition: func(name string) (bool, error) {
			if name == "ci" { // where nothing may go unchecked
				return foretest.CI(), nil
			}
			return false, fmt.Errorf("no condition %q", name)
		},
		Cmds: map[string]func(*testscript.TestScript, bool, []string){
			"await":   await,
			"replace": replace,
			"repeat":  repeat,
			"noextra": noExtra,
		},
	})
}

// await FILE PATTERN waits until the file is there and matches.
func await(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 2 {
		ts.Fatalf("usage: await file pattern")
	}
	re, err := regexp.Compile("(?m)" + args[1])
	ts.Check(err)
	var data []byte
	for deadline := time.Now().Add(20 * time.Second); time.Now().Before(deadline); time.Sleep(10 * time.Millisecond) {
		data, err = os.ReadFile(ts.MkAbs(args[0]))
		if err == nil && re.Match(data) {
			return
		}
	}
	ts.Fatalf("%s never matched %q (%v):\n%s", args[0], args[1], err, data)
}

// replace FILE OLD NEW replaces text in a file.
func replace(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: replace file old new")
	}
	text := ts.ReadFile(args[0])
	if !strings.Contains(text, args[1]) {
		ts.Fatalf("%s does not hold %q", args[0], args[1])
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.ReplaceAll(text, args[1], args[2])), 0o666))
}

// repeat FILE TEXT N makes a file of a text many times over.
func repeat(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) != 3 {
		ts.Fatalf("usage: repeat file text times")
	}
	n := 0
	for _, c := range args[2] {
		n = n*10 + int(c-'0')
	}
	ts.Check(os.WriteFile(ts.MkAbs(args[0]), []byte(strings.Repeat(args[1], n)), 0o666))
}

// noextra NAME... fails if a folder (the first name) holds other files than
// those named after it.
func noExtra(ts *testscript.TestScript, neg bool, args []string) {
	if neg || len(args) == 0 {
		ts.Fatalf("usage: noextra folder name...")
	}
	entries, err := os.ReadDir(ts.MkAbs(args[0]))
	ts.Check(err)
	var names []string
	for _, e := range entries {
		if e.Name() != ".tmp" { // testscript's own
			names = append(names, e.Name())
		}
	}
	if got, want := strings.Join(names, " "), strings.Join(args[1:], " "); got != want {
		ts.Fatalf("%s holds %q, want %q", args[0], got, want)
	}
}
