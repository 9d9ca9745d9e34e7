package main

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"foredge/lang/foretest"
)

// A batch that is killed at any moment, by a signal that no program can catch,
// and then resumed makes what it makes undisturbed: twenty moments.
func TestBatchSurvivesKill(t *testing.T) {
	dir := t.TempDir()
	for _, name := range []string{"gift.fore", "harbour-log.fore"} {
		data, err := os.ReadFile(filepath.Join("../../testdata/corpus", name))
		if err != nil {
			t.Fatal(err)
		}
		foretest.Must(t, os.WriteFile(filepath.Join(dir, name), data, 0o666))
	}
	var table strings.Builder
	table.WriteString("name,initials\n")
	for i := range 60 {
		fmt.Fprintf(&table, "Ada Quill %d of the Long Harbour Wall,AQ\n", i)
	}
	table.WriteString("鳥,\n")
	foretest.Must(t, os.WriteFile(filepath.Join(dir, "orders.csv"), []byte(table.String()), 0o666))
	// The test's own program is the command when it is called by that name.
	self, err := os.Executable()
	foretest.Must(t, err)
	program := filepath.Join(dir, "foredge")
	foretest.Must(t, os.Symlink(self, program))
	// A bed, on which covers can lie together.
	gift, err := os.ReadFile(filepath.Join(dir, "gift.fore"))
	foretest.Must(t, err)
	foretest.Must(t, os.WriteFile(filepath.Join(dir, "gift.fore"), append(gift, "\nlaser bench { bed = 600 by 400; kerf = 0.2 }\n"...), 0o666))
	start := func(folder string, more ...string) *exec.Cmd {
		cmd := exec.CommandContext(context.Background(), program, append([]string{"batch", "gift.fore", "-o", folder}, more...)...)
		cmd.Dir = dir
		foretest.Must(t, cmd.Start())
		return cmd
	}
	finish := func(cmd *exec.Cmd) {
		t.Helper()
		if cmd.Wait(); cmd.ProcessState.ExitCode() != faulty { // one order is bad
			t.Fatalf("the batch ended with %v", cmd.ProcessState)
		}
	}
	var took [2]time.Duration
	var all [2]map[string]string
	ways := [2][]string{nil, {"--together"}}
	for way, args := range ways {
		began := time.Now()
		folder := fmt.Sprintf("whole-%d", way)
		finish(start(folder, args...))
		took[way], all[way] = time.Since(began), foretest.Contents(t, filepath.Join(dir, folder))
	}
	if sheets := (len(all[1]) - 60 - 2) / 2; len(all[0]) != 60*3+2 || sheets < 2 || sheets > 60 {
		t.Fatalf("undisturbed it made %d files, and %d sheets", len(all[0]), sheets)
	}
	rnd := rand.New(rand.NewPCG(5, 20))
	killed, partly := 0, 0
	files, sheets := foretest.Sample(20, 3), foretest.Sample(8, 1)
	for i := range files + sheets {
		way := 0
		if i >= files {
			way = 1
		}
		took, want := took[way], all[way]
		folder := fmt.Sprintf("cut-%d", i)
		more := slices.Clone(ways[way])
		for range 1 + rnd.IntN(2) { // some are killed twice
			cmd := start(folder, more...)
			time.Sleep(time.Duration(rnd.Float64() * float64(took)))
			cmd.Process.Kill()
			if cmd.Wait(); cmd.ProcessState.ExitCode() == -1 {
				killed++
			}
			more = append(slices.Clone(ways[way]), "--resume")
		}
		if entries, err := os.ReadDir(filepath.Join(dir, folder)); err == nil && len(entries) > 0 && len(entries) < len(want) {
			partly++
		}
		// What is there and right must not be made again.
		times := modified(t, filepath.Join(dir, folder))
		finish(start(folder, append(slices.Clone(ways[way]), "--resume")...))
		got := foretest.Contents(t, filepath.Join(dir, folder))
		if len(got) != len(want) {
			t.Errorf("kill %d: %d files, want %d", i, len(got), len(want))
		}
		for name, data := range want {
			if got[name] != data {
				t.Errorf("kill %d: %s has %d bytes, want %d", i, name, len(got[name]), len(data))
			}
		}
		for name, at := range modified(t, filepath.Join(dir, folder)) {
			if before, ok := times[name]; ok && !at.Equal(before) {
				t.Errorf("kill %d: %s was made twice", i, name)
			}
		}
	}
	if killed < foretest.Sample(10, 1) || partly < foretest.Sample(3, 0) {
		t.Errorf("only %d were killed, and %d of them between two files: this tries nothing", killed, partly)
	}
}

// modified are the times of change of a folder's files; none if it isn't there.
func modified(t *testing.T, dir string) map[string]time.Time {
	t.Helper()
	all := map[string]time.Time{}
	entries, err := os.ReadDir(dir)
	if os.IsNotExist(err) {
		return all
	}
	foretest.Must(t, err)
	for _, e := range entries {
		info, err := e.Info()
		foretest.Must(t, err)
		all[e.Name()] = info.ModTime()
	}
	return all
}
