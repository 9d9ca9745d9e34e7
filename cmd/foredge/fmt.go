package main

import (
	"bytes"
	"context"
	"errors"
	"flag"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"github.com/aymanbagabas/go-udiff"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/lang/diag"
	"foredge/lang/format"
	"foredge/lang/source"
)

func fmtCommand() *command {
	return &command{
		name:  "fmt",
		args:  "FILE|FOLDER...",
		most:  "[--check] [--diff]",
		short: "lay out the text of designs as all are written",
		long: "The files are written again where they change, and their paths printed; in a folder all\n" +
			"designs are, also those in folders below it. What a design means stays as it is, and so\n" +
			"do its comments, empty lines and columns. A text with errors is left alone, and so is a file\n" +
			"that may only be read or has a second name (a hard link). With - the text comes from\n" +
			"standard input and goes to standard output.",
		setup: func(flags *flag.FlagSet) runner {
			check := flags.Bool("check", false, "write nothing; tell which files would change, with status 1 if any would")
			diff := flags.Bool("diff", false, "write nothing; print what would change, line by line")
			return func(ctx context.Context, t *terminal, args []string) int {
				if err := wantDesigns(args); err != nil {
					return t.fail(err)
				}
				l := layouter{terminal: t, check: *check, diff: *diff}
				for _, name := range args {
					l.each(ctx, name)
				}
				t.tell(t.stderr, l.wrong, false)
				return l.status
			}
		},
	}
}

// A layouter lays out files one after another.
type layouter struct {
	*terminal
	check, diff bool
	wrong       diag.List
	status      int
}

// failed notes an error that concerns one file.
func (l *layouter) failed(status int, more ...*diag.Diagnostic) {
	l.wrong = append(l.wrong, more...)
	l.status = max(l.status, status)
}

// each lays out a file, or the designs in a folder and those below it.
func (l *layouter) each(ctx context.Context, name string) {
	info, err := os.Stat(name)
	if name == driver.Stdin || err != nil || !info.IsDir() {
		l.file(ctx, name)
		return
	}
	err = filepath.WalkDir(name, func(path string, entry fs.DirEntry, err error) error {
		hidden := path != name && strings.HasPrefix(entry.Name(), ".")
		switch {
		case err != nil:
			return err
		case ctx.Err() != nil:
			return ctx.Err()
		case entry.IsDir() && hidden:
			return filepath.SkipDir
		case entry.Type()&fs.ModeSymlink != 0 && leadsOut(name, path): // what lies elsewhere is laid out there
		case !entry.IsDir() && !hidden && disk.IsDesign(path):
			l.file(ctx, path)
		}
		return nil
	})
	if err != nil {
		l.failed(misuse, diagnosticOf(disk.FolderUnread(name, err)))
	}
}

// leadsOut reports whether a link in a folder leads out of it, or nowhere.
func leadsOut(folder, link string) bool {
	root, err := filepath.EvalSymlinks(folder)
	if err != nil {
		return true
	}
	target, err := filepath.EvalSymlinks(link)
	if err != nil {
		return true
	}
	rel, err := filepath.Rel(root, target)
	return err != nil || !filepath.IsLocal(rel)
}

// file lays out one file.
func (l *layouter) file(ctx context.Context, name string) {
	data, err := l.read(name)
	if err != nil {
		l.failed(misuse, diagnosticOf(err))
		return
	}
	text, diags := format.Source(source.New(shownName(name), data))
	switch {
	case diags.HasErrors():
		l.failed(faulty, diags...)
	case name == driver.Stdin && !l.check && !l.diff:
		io.WriteString(l.stdout, text)
	case text == string(data):
	default:
		l.changed(ctx, name, data, text)
	}
}

// changed tells of a file that would change, or changes it.
func (l *layouter) changed(ctx context.Context, name string, data []byte, text string) {
	shown := source.Plain(shownName(name))
	if l.check {
		l.status = max(l.status, faulty)
	}
	switch {
	case l.diff:
		fmt.Fprint(l.stdout, udiff.Unified(shown, shown, string(data), text))
	case l.check:
		fmt.Fprintln(l.stdout, shown)
	default:
		err := disk.Replaceable(name)
		if err == nil {
			err = disk.WriteSet(ctx, []disk.File{{Path: name, Data: []byte(text)}},
				disk.Rules{Ours: func(now []byte) bool { return bytes.Equal(now, data) }})
		}
		err = hinted(err, "have its folder let you write there: the new text takes the place of the old one as a whole")
		var told *disk.Error
		if errors.As(err, &told) && told.Code == "not-ours" {
			err = &disk.Error{Code: "cannot-write", Message: fmt.Sprintf("%q was saved by another program meanwhile, and is left as that wrote it", shown),
				Hint: "run foredge fmt again"}
		}
		if err != nil {
			l.failed(misuse, diagnosticOf(err))
			return
		}
		fmt.Fprintln(l.stdout, shown)
	}
}

// read reads a design's text.
func (l *layouter) read(name string) ([]byte, error) {
	if name == driver.Stdin {
		return disk.ReadStream(l.stdin, "standard input", disk.MaxDesign)
	}
	data, _, err := disk.Read(name, filepath.Clean(name), disk.MaxDesign)
	return data, err
}
