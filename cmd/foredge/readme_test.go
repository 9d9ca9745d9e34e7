package main

import (
	"bufio"
	"bytes"
	"context"
	"io"
	"io/fs"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"syscall"
	"testing"
	"time"

	"foredge/cmd/internal/driver"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

// Every command that the README shows in a block of sh works, in order, in a
// copy of the tree.
func TestReadmeCommands(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	commands := shCommands(string(text))
	if len(commands) == 0 {
		t.Fatal("README.md has no block of sh")
	}
	if testing.Short() {
		t.Skip("builds the program anew")
	}
	dir, bin := t.TempDir(), t.TempDir()
	copyTree(t, "../..", dir)
	inRepository(t, dir)
	build := exec.Command("go", "build", "-o", filepath.Join(bin, "foredge"), ".")
	if out, err := build.CombinedOutput(); err != nil {
		t.Fatalf("%v\n%s", err, out)
	}
	t.Setenv("PATH", bin+string(os.PathListSeparator)+os.Getenv("PATH"))
	t.Setenv("GOBIN", bin)
	for _, c := range inlineCommands(string(text)) {
		runReadme(t, filepath.Join(dir, "examples"), c)
	}
	for _, c := range commands {
		// The same program, not linked once more for each command.
		line := strings.ReplaceAll(c, "go run ./cmd/foredge", "foredge")
		if strings.HasPrefix(line, "go test ") || strings.Contains(line, ".ci/run") {
			continue // the very run that this test is part of
		}
		runReadme(t, dir, line)
	}
}

// Every design that the README shows says its version in its first line, and
// has no errors.
func TestReadmeDesigns(t *testing.T) {
	text, err := os.ReadFile("../../README.md")
	foretest.Must(t, err)
	designs := plainBlocks(string(text))
	if len(designs) == 0 {
		t.Fatal("README.md shows no design")
	}
	for i, design := range designs {
		if first, _, _ := strings.Cut(design, "\n"); !strings.HasPrefix(first, "foredge 1") {
			t.Errorf("design %d begins with %q", i+1, first)
		}
		s := driver.NewSession(nil)
		foretest.Must(t, s.SetText("readme.fore", []byte(design)))
		if r := s.Check(context.Background(), "readme.fore"); !r.OK() {
			t.Errorf("design %d: %v\n%s", i+1, r.Err, diagtest.Text(r.Diagnostics))
		}
	}
}

// plainBlocks lists the blocks that are marked as nothing.
func plainBlocks(markdown string) []string {
	var all []string
	inside, plain := false, false
	for line := range strings.Lines(markdown) {
		switch {
		case strings.HasPrefix(line, "```"):
			inside = !inside
			if plain = inside && strings.TrimSpace(line) == "```"; plain {
				all = append(all, "")
			}
		case plain:
			all[len(all)-1] += line
		}
	}
	return all
}

// inRepository makes a folder a repository of git with two revisions.
func inRepository(t *testing.T, dir string) {
	t.Helper()
	git := foretest.Program(t, "git")
	for _, args := range [][]string{{"init", "-q"}, {"add", "examples"}, {"commit", "-q", "-m", "as it was"}, {"commit", "-q", "--allow-empty", "-m", "as it is"}} {
		cmd := exec.Command(git, append([]string{"-c", "user.name=Gull", "-c", "user.email=gull@harbour.example"}, args...)...)
		cmd.Dir = dir
		foretest.Output(t, cmd)
	}
}

// runReadme runs one command, which must succeed.
func runReadme(t *testing.T, dir, line string) {
	if strings.Contains(line, "foredge watch") || strings.Contains(line, "foredge view") {
		runWatch(t, dir, line)
		return
	}
	cmd := exec.Command("sh", "-ec", line)
	cmd.Dir = dir
	if out, err := cmd.CombinedOutput(); err != nil {
		t.Errorf("%s\n%v\n%s", line, err, out)
	}
}

// inlineCommands lists the commands that the text speaks of, written for the
// folder in which the designs lie.
func inlineCommands(markdown string) []string {
	var all []string
	for _, m := range regexp.MustCompile("`(foredge [^`]+)`").FindAllStringSubmatch(markdown, -1) {
		all = append(all, m[1])
	}
	return all
}

// shCommands lists the commands in the blocks marked sh. A line that ends with
// a backslash goes on in the next; comments and empty lines are left out.
func shCommands(markdown string) []string {
	var all []string
	inside, open := false, ""
	for line := range strings.Lines(markdown) {
		line = strings.TrimSpace(line)
		switch {
		case strings.HasPrefix(line, "```"):
			inside = !inside && line == "```sh"
		case !inside || open == "" && (line == "" || line[0] == '#'):
		case strings.HasSuffix(line, `\`):
			open += strings.TrimSuffix(line, `\`)
		default:
			all = append(all, open+line)
			open = ""
		}
	}
	return all
}

func TestShCommands(t *testing.T) {
	got := shCommands("x\n```sh\n# first\na b\n\nc \\\n  d\n```\n```\nnot this\n```\n```text\nnor this\n```\n```sh\ne\n```\n")
	if want := "a b|c d|e"; strings.Join(got, "|") != want {
		t.Errorf("got %q, want %q", strings.Join(got, "|"), want)
	}
}

// runWatch runs a command that goes on until it says how to end it, and ends it as
// a person would.
func runWatch(t *testing.T, dir, line string) {
	cmd := exec.Command("sh", "-ec", "exec "+line)
	cmd.Dir = dir
	var stderr bytes.Buffer
	cmd.Stderr = &stderr
	out, err := cmd.StdoutPipe()
	if err != nil {
		t.Fatal(err)
	}
	if err := cmd.Start(); err != nil {
		t.Fatal(err)
	}
	late := time.AfterFunc(30*time.Second, func() { cmd.Process.Kill() })
	defer late.Stop()
	for lines := bufio.NewScanner(out); lines.Scan(); {
		if strings.HasSuffix(lines.Text(), "Ctrl-C ends it") {
			cmd.Process.Signal(syscall.SIGINT)
			break
		}
	}
	io.Copy(io.Discard, out)
	if err := cmd.Wait(); err != nil {
		t.Errorf("%s\n%v\n%s", line, err, stderr.String())
	}
}

// copyTree copies what belongs to the repository, with an empty .git to mark
// its root.
func copyTree(t *testing.T, from, to string) {
	t.Helper()
	err := filepath.WalkDir(from, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(from, path)
		if err != nil {
			return err
		}
		target := filepath.Join(to, rel)
		switch {
		case d.Name() == ".git":
			if !d.IsDir() {
				return nil
			}
			if err := os.MkdirAll(target, 0o777); err != nil {
				return err
			}
			return filepath.SkipDir
		case d.IsDir():
			return os.MkdirAll(target, 0o777)
		case !d.Type().IsRegular():
			return nil
		}
		info, err := d.Info()
		if err != nil {
			return err
		}
		data, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		return os.WriteFile(target, data, info.Mode().Perm())
	})
	if err != nil {
		t.Fatal(err)
	}
}
