package main

import (
	"bufio"
	"context"
	"crypto/sha256"
	"errors"
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/compare"
	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/cmd/internal/revision"
	"foredge/export"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

func diffCommand() *command {
	return &command{
		name:    "diff",
		args:    "OLD NEW | REVISION [REVISION] FILE",
		most:    "[--overlay FILE] [--json]",
		follows: versions,
		short:   "tell which dimensions, holes, outlines and orders differ between two versions of a design",
		long: "OLD and NEW are designs. A REVISION is one of git's: HEAD~1, a branch; the files that the\n" +
			"design uses are then those of that revision, too. REVISION:PATH is a design by its path in the\n" +
			"repository, :PATH as it is staged. Each part is laid on itself at its left upper corner; --overlay draws\n" +
			"that: the old dashed, the new in whole lines, in grey what is the same.\n" +
			"The status is 0 if it tells of nothing, 1 if of something, 2 if a version can't be read or, in its first\n" +
			"order, has errors.\n" +
			"\n" +
			"git calls it by itself after git config diff.foredge.command \"foredge diff\" and a line\n" +
			"*.fore diff=foredge in .gitattributes; the status is then 0 whatever differs, as git wants it.\n" +
			"With --textconv, git log -p and git diff show dimensions line by line in place of the text:\n" +
			"git config diff.foredge.textconv \"foredge diff --textconv\".",
		setup: func(flags *flag.FlagSet) runner {
			d := differ{}
			flags.StringVar(&d.overlay, "overlay", "", "draw both over each other into `FILE`, NAME.svg or NAME.png, to look at")
			flags.BoolVar(&d.force, "force", false, "replace also a file that is no overlay, or that was changed since")
			flags.BoolVar(&d.json, "json", false, "print what differs as JSON (and errors too, on standard error)")
			flags.BoolVar(&d.textconv, "textconv", false, "print the dimensions and settings of one FILE, a line each, for git to compare")
			return func(ctx context.Context, t *terminal, args []string) int {
				d.terminal = t
				return d.run(ctx, args)
			}
		},
	}
}

// A differ compares two versions of a design.
type differ struct {
	*terminal
	overlay               string
	force, json, textconv bool
}

func (d *differ) run(ctx context.Context, args []string) int {
	switch {
	case d.textconv && (d.json || d.overlay != "" || len(args) != 1):
		return d.fail(misused("as in foredge diff --textconv harbour-log.fore", "--textconv prints the dimensions of one design, and takes nothing else"))
	case d.textconv:
		return d.listed(ctx, args[0])
	case calledByGit(args):
		return d.forGit(ctx, args)
	case d.overlay != "" && pictureFormat(d.overlay) == "":
		return d.fail(misused("as in --overlay moved.svg", "an overlay is NAME.svg or NAME.png, and not %q", d.overlay))
	}
	old, now, err := d.sides(ctx, args)
	if err != nil {
		return d.wrong(err)
	}
	was, is := old.take(ctx), now.take(ctx)
	if !was.Result.OK() || !is.Result.OK() {
		all, _ := gathered([]*driver.Result{was.Result, is.Result})
		d.tell(d.stderr, all, d.json)
		return misuse
	}
	difference, err := compare.Of(ctx, was, is)
	if err != nil {
		return d.wrong(err)
	}
	if d.overlay != "" {
		if err := d.draw(ctx, difference); err != nil {
			return d.wrong(err)
		}
	}
	if d.json {
		err = difference.WriteJSON(d.stdout)
	} else {
		w := bufio.NewWriter(d.stdout)
		difference.Write(w)
		err = w.Flush()
	}
	switch {
	case err != nil:
		return misuse
	case difference.Same():
		return done
	}
	return faulty
}

// wrong tells of an error that stops the comparison, as data where that is asked for; but a call that
// is wrong is told in words.
func (d *differ) wrong(err error) int {
	var call *misuseError
	d.tell(d.stderr, diag.List{diagnosticOf(err)}, d.json && !errors.As(err, &call))
	return misuse
}

// pictureFormat is the ending of an overlay's name, "" for one that can't be drawn.
func pictureFormat(name string) string {
	switch ext := strings.ToLower(filepath.Ext(name)); ext {
	case ".svg", ".png":
		return ext
	}
	return ""
}

// draw writes the overlay.
func (d *differ) draw(ctx context.Context, difference *compare.Difference) error {
	picture := difference.SVG()
	if pictureFormat(d.overlay) == ".png" {
		var err error
		if picture, err = difference.PNG(); err != nil {
			return err
		}
	}
	files := []disk.File{{Path: d.overlay, Data: export.Mark(picture, export.Origin{Design: driver.Name(difference.New.Name), Made: madeOverlay})}}
	if err := disk.CheckSet(files, slices.Concat(difference.Old.Result.Inputs, difference.New.Result.Inputs)); err != nil {
		return hinted(err, "name another file, as in --overlay moved.svg")
	}
	rules := disk.Rules{}
	if !d.force { // a cut file is ours, too, and must not become a picture
		rules.Ours = func(now []byte) bool {
			of, ours := export.OriginOf(now)
			return ours && of.Made == madeOverlay
		}
	}
	err := disk.WriteSet(ctx, files, rules)
	var told *disk.Error
	if errors.As(err, &told) && told.Code == "not-ours" {
		told.Message = fmt.Sprintf("%q is there already and is no overlay as foredge drew it", source.Plain(d.overlay))
		told.Hint = "name another file, as in --overlay moved.svg, or write --force to replace it"
	}
	return hinted(err, "name a file in another folder")
}

// madeOverlay is what an overlay says that it was made by.
const madeOverlay = "diff"

// hinted is an error of a file, with what to do about it where the command has no -o.
func hinted(err error, hint string) error {
	var told *disk.Error
	if errors.As(err, &told) && strings.Contains(told.Hint, "with -o") {
		told.Hint = hint
	}
	return err
}

// A side is where one of the two versions is read.
type side struct {
	session    *driver.Session
	path, name string
}

func (s side) take(ctx context.Context) *compare.Version {
	return compare.Take(ctx, s.session, s.path, s.name)
}

// sides finds out what is named: two files, or revisions and a file.
func (d *differ) sides(ctx context.Context, args []string) (old, now side, err error) {
	switch len(args) {
	case 2:
		first := args[0]
		if _, err := os.Stat(first); err != nil && strings.HasPrefix(args[1], ":") && !strings.Contains(first, ":") {
			first += args[1] // the revision of what is staged
		}
		if old, err = d.side(ctx, first, args[1]); err == nil {
			now, err = d.side(ctx, args[1], "")
		}
	case 3:
		if old, err = d.revision(ctx, args[0], args[2]); err == nil {
			now, err = d.revision(ctx, args[1], args[2])
		}
	default:
		err = misused("as in foredge diff HEAD harbour-log.fore, or foredge diff old.fore new.fore", "diff compares two versions of one design")
	}
	return old, now, err
}

// side is a file, PATH in a revision as REVISION:PATH, or the revision of a file.
func (d *differ) side(ctx context.Context, name, file string) (side, error) {
	if _, err := os.Stat(name); err == nil || name == driver.Stdin || file == "" && !strings.Contains(name, ":") {
		if err == nil && file != "" && filepath.Base(name) == name && namesRevision(ctx, name, file) {
			return side{}, misused(fmt.Sprintf("write .%c%s for the file, or %s:PATH with the design's path in the repository for the revision", filepath.Separator, name, name),
				"%q is the name of a file and of a revision", name)
		}
		return side{driver.NewSession(d.stdin), name, shownName(name)}, nil
	}
	rev, path, ok := strings.Cut(name, ":")
	if !ok {
		s, err := d.revision(ctx, name, file)
		if err != nil && filepath.Ext(name) == disk.DesignExt { // a file that isn't there
			return side{driver.NewSession(nil), name, source.Plain(name)}, nil
		}
		return s, err
	}
	folder, err := os.Getwd()
	if err != nil {
		return side{}, err
	}
	repo, err := revision.Of(ctx, folder)
	if err != nil {
		return side{}, err
	}
	if rel, local := strings.CutPrefix(path, "./"); local { // as git reads it
		path = filepath.Join(folder, filepath.FromSlash(rel))
	} else {
		path = repo.Path(path)
	}
	path = fromHere(path)
	if rev == "" { // what is staged
		session := driver.NewSession(nil)
		session.ReadFrom(repo.Source(ctx, "", ""))
		return side{session, path, source.Plain(name)}, nil
	}
	return d.inRevision(ctx, repo, rev, path)
}

// namesRevision reports whether a word is a revision in the repository of a file.
func namesRevision(ctx context.Context, word, file string) bool {
	repo, err := revision.Of(ctx, filepath.Dir(file))
	if err != nil {
		return false
	}
	_, err = repo.Commit(ctx, word)
	return err == nil
}

// revision is a file as it was in a revision.
func (d *differ) revision(ctx context.Context, rev, file string) (side, error) {
	folder := filepath.Dir(file)
	for ; folder != filepath.Dir(folder); folder = filepath.Dir(folder) {
		if info, err := os.Stat(folder); err == nil && info.IsDir() {
			break // that of the file may be gone by now
		}
	}
	repo, err := revision.Of(ctx, folder)
	if err != nil {
		return side{}, err
	}
	return d.inRevision(ctx, repo, rev, file)
}

func (d *differ) inRevision(ctx context.Context, repo *revision.Repository, rev, file string) (side, error) {
	commit, err := repo.Commit(ctx, rev)
	if err != nil {
		return side{}, err
	}
	session := driver.NewSession(nil)
	session.ReadFrom(repo.Source(ctx, commit, rev))
	return side{session, file, rev + ":" + filepath.ToSlash(file)}, nil
}

// listed prints the dimensions and settings of a design in lines that change only if they do,
// and a sum of what is cut, since not all of that is in them. What git
// hands over may be a copy in another folder: then the files that it uses are found by
// what it holds. A design with errors is listed as those, since git wants an answer.
func (d *differ) listed(ctx context.Context, name string) int {
	s := side{driver.NewSession(d.stdin), name, name}
	if folder, err := os.Getwd(); err == nil && name != driver.Stdin {
		if repo, err := revision.Of(ctx, folder); err == nil && !repo.Has(name) {
			if data, _, err := disk.Read(name, name, disk.MaxDesign); err == nil {
				commit, path := repo.Holder(ctx, repo.ObjectOf(ctx, data))
				if path == "" {
					path = repo.Staged(ctx, repo.ObjectOf(ctx, data))
				}
				if path != "" {
					s = placed(ctx, repo, commit, path, data)
				}
			}
		}
	}
	r := s.session.Build(ctx, s.path, driver.Options{Encoders: export.CutFiles(export.Options{}), Shared: true})
	w := bufio.NewWriter(d.stdout)
	defer w.Flush()
	if !r.OK() {
		diag.WriteText(w, told(r), diag.TextOptions{})
		if r.Err != nil {
			return misuse
		}
		return done
	}
	for _, x := range r.Solution.Dimensions() {
		text := "open"
		if x.Value == x.Value {
			text = unit.Format(x.Value, x.Kind, r.Solution.Unit)
		}
		fmt.Fprintf(w, "%s = %s\n", x.Name, text)
	}
	for _, x := range compare.Settings(r.Solution) {
		fmt.Fprintf(w, "%s = %s\n", x.Name, x.Value)
	}
	if r.Shared {
		fmt.Fprintf(w, "what it says to others has the sum %x\n", sumOf(compare.Said(r.Tree.Source)...))
		return done
	}
	var files []string
	for _, f := range r.Files {
		data, _ := export.Unmark(f.Data) // the mark has the name of the file in it
		files = append(files, string(data))
	}
	fmt.Fprintf(w, "what is cut has the sum %x\n", sumOf(files...))
	return done
}

// sumOf tells texts from others.
func sumOf(texts ...string) []byte {
	h := sha256.New()
	for _, text := range texts {
		fmt.Fprintf(h, "%d %s", len(text), text)
	}
	return h.Sum(nil)[:8]
}

// placed is a text at its place in the repository, among the files of a commit; among
// those on the disk where that is "".
func placed(ctx context.Context, repo *revision.Repository, commit, path string, text []byte) side {
	s := side{driver.NewSession(nil), repo.Path(path), source.Plain(path)}
	s.path = fromHere(s.path)
	if commit != "" {
		s.session.ReadFrom(repo.Source(ctx, commit, commit))
	}
	s.session.SetText(s.path, text) // fails only where there is no working folder, where reading fails too
	return s
}

// fromHere is a path as a person in the working folder would write it.
func fromHere(path string) string {
	if folder, err := os.Getwd(); err == nil {
		if rel, err := filepath.Rel(folder, path); err == nil && filepath.IsLocal(rel) {
			return rel
		}
	}
	return path
}
