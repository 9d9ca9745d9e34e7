package main

import (
	"bufio"
	"context"
	"fmt"
	"os"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"foredge/cmd/internal/compare"
	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/revision"
	"foredge/lang/diag"
	"foredge/lang/source"
)

// What git hands to an external diff (gitglossary and git(1), GIT_EXTERNAL_DIFF): the
// path, then file, object and mode of the old and of the new version; of a file that was
// renamed the new path and a sentence about that besides.
const (
	gitPath = iota
	gitOldFile
	gitOldObject
	gitOldMode
	gitNewFile
	gitNewObject
	gitNewMode
	gitArgs
	gitNewPath = gitArgs
)

// calledByGit reports whether arguments are those of an external diff.
func calledByGit(args []string) bool {
	if len(args) != gitArgs && len(args) != gitArgs+2 {
		return false
	}
	hex := func(s string) bool { return s == "." || len(s) >= 40 && strings.Trim(s, "0123456789abcdef") == "" }
	return hex(args[gitOldObject]) && hex(args[gitNewObject])
}

// noFile is what git names in place of a version that isn't there.
const noFile = "/dev/null"

// forGit prints how a file differs. It ends with 0 whatever differs, as git gives up else.
func (d *differ) forGit(ctx context.Context, args []string) int {
	path := args[gitPath]
	after := path
	if len(args) > gitNewPath {
		after = args[gitNewPath]
	}
	w := bufio.NewWriter(d.stdout)
	defer w.Flush()
	switch {
	case args[gitOldFile] == noFile:
		fmt.Fprintf(w, "%s is new\n", source.Plain(path))
		return done
	case args[gitNewFile] == noFile:
		fmt.Fprintf(w, "%s is gone\n", source.Plain(path))
		return done
	}
	folder, err := os.Getwd()
	if err != nil {
		return d.fail(err)
	}
	repo, err := revision.Of(ctx, folder)
	if err != nil {
		return d.fail(err)
	}
	from, to := repo.Step(ctx, path, args[gitOldObject], args[gitNewObject])
	was, oldText, err := gitVersion(ctx, repo, path, from, args[gitOldFile], "the old "+path)
	if err != nil {
		return d.fail(err)
	}
	is, newText, err := gitVersion(ctx, repo, after, to, args[gitNewFile], "the new "+after)
	if err != nil {
		return d.fail(err)
	}
	if len(was.Result.Inputs) > 1 || len(is.Result.Inputs) > 1 {
		fmt.Fprintf(w, "The files that it uses are read as they are in %s and in %s, as git doesn't say which revisions it\n"+
			"compares: foredge diff OLD NEW %s compares all of them.\n", where(from), where(to), source.Plain(after))
	}
	if was.Result.OK() && is.Result.OK() {
		difference, err := compare.Of(ctx, was, is)
		if err != nil {
			return d.fail(err)
		}
		difference.Write(w)
		return done
	}
	for _, v := range []*compare.Version{was, is} {
		if !v.Result.OK() {
			all, _ := gathered([]*driver.Result{v.Result})
			fmt.Fprintf(w, "%s can't be worked out, so only the text is compared:\n", v.Name)
			diag.WriteText(w, all, diag.TextOptions{Max: maxShown})
		}
	}
	fmt.Fprint(w, udiff.Unified(source.Plain(path), source.Plain(after), oldText, newText))
	return done
}

// where is a commit as a person reads it, "" being none.
func where(commit string) string {
	name, parent := strings.CutSuffix(commit, "^")
	switch {
	case commit == "":
		return "the working folder"
	case len(name) > shortCommit:
		name = name[:shortCommit]
	}
	if parent {
		return "the parent of " + name
	}
	return name
}

// shortCommit is how many digits name a commit to a person.
const shortCommit = 10

// gitVersion is what git has laid into a file, at its place in a commit.
func gitVersion(ctx context.Context, repo *revision.Repository, path, commit, file, name string) (*compare.Version, string, error) {
	data, _, err := disk.Read(file, path, disk.MaxDesign)
	if err != nil {
		return nil, "", err
	}
	s := placed(ctx, repo, commit, path, data)
	s.name = source.Plain(name)
	return s.take(ctx), string(data), nil
}
