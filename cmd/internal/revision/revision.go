package revision

import (
	"bufio"
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
)

// A Repository is one that has its files on the disk.
type Repository struct{ root string }

// Of finds the repository that a folder belongs to. The error is a [*disk.Error].
func Of(ctx context.Context, folder string) (*Repository, error) {
	out, err := git(ctx, folder, nil, "rev-parse", "--show-toplevel")
	switch {
	case errors.Is(err, exec.ErrNotFound):
		return nil, &disk.Error{Code: "no-revision", Message: "git isn't there, and it alone knows revisions", Hint: "install git, or name two files", Err: err}
	case err != nil:
		return nil, &disk.Error{Code: "no-revision", Message: fmt.Sprintf("%q belongs to no repository of git, so it has no revisions", filepath.Base(folder)), Hint: "name two files", Err: err}
	}
	return &Repository{strings.TrimSuffix(string(out), "\n")}, nil
}

// git runs git in a folder and gives what it prints.
func git(ctx context.Context, folder string, in io.Reader, args ...string) ([]byte, error) {
	cmd := exec.CommandContext(ctx, "git", append([]string{"-C", folder}, args...)...)
	cmd.Stdin = in
	var errs bytes.Buffer
	cmd.Stderr = &errs
	out, err := cmd.Output()
	if err != nil && !errors.Is(err, exec.ErrNotFound) {
		return out, fmt.Errorf("git: %s", strings.TrimSpace(errs.String()))
	}
	return out, err
}

// Commit finds what a person calls a revision. The error is a [*disk.Error].
func (r *Repository) Commit(ctx context.Context, name string) (string, error) {
	out, err := git(ctx, r.root, nil, "rev-parse", "--verify", "--quiet", "--end-of-options", name+"^{commit}")
	if err != nil {
		return "", &disk.Error{Code: "no-revision", Message: fmt.Sprintf("there is no file and no revision %q", name),
			Hint: "write the name of a file, or of a revision as git knows it: HEAD~1, a tag, a branch", Err: err}
	}
	return strings.TrimSpace(string(out)), nil
}

// Source reads files as they were in a commit, which messages call as a person did; with ""
// for both as they are staged.
func (r *Repository) Source(ctx context.Context, commit, called string) driver.Source {
	where := "revision " + called
	if called == "" {
		where = "what is staged"
	}
	return func(abs, shown string, limit int64) ([]byte, error) {
		path, err := r.path(abs)
		if err != nil {
			return nil, err
		}
		data, err := r.read(ctx, commit+":"+path, limit)
		switch {
		case errors.Is(err, errMissing):
			return nil, &disk.Error{Code: "missing-file", Message: fmt.Sprintf("there is no file %q in %s", shown, where), Hint: "git log -- " + path + " lists the revisions that have it"}
		case errors.Is(err, errLarge):
			return nil, &disk.Error{Code: "file-too-large", Message: fmt.Sprintf("%q is larger than %s in %s", shown, disk.Size(limit), where)}
		case err != nil && ctx.Err() != nil:
			return nil, ctx.Err()
		case err != nil:
			return nil, &disk.Error{Code: "unreadable", Message: fmt.Sprintf("%q can't be read in %s", shown, where), Err: err}
		}
		return data, nil
	}
}

// path is a path as git has it, from the repository's folder on.
func (r *Repository) path(abs string) (string, error) {
	for _, p := range []string{abs, followed(abs)} {
		if rel, err := filepath.Rel(r.root, p); err == nil && filepath.IsLocal(rel) {
			return filepath.ToSlash(rel), nil
		}
	}
	return "", &disk.Error{Code: "no-revision", Message: fmt.Sprintf("%q lies outside the repository", filepath.Base(abs)), Hint: "name a file of the repository"}
}

// followed follows the links of the folders that are there.
func followed(abs string) string {
	if p, err := filepath.EvalSymlinks(abs); err == nil {
		return p
	}
	if dir := filepath.Dir(abs); dir != abs {
		return filepath.Join(followed(dir), filepath.Base(abs))
	}
	return abs
}

var (
	errMissing = errors.New("no such file")
	errLarge   = errors.New("too large")
)

// read reads one object; links are followed within the revision.
func (r *Repository) read(ctx context.Context, object string, limit int64) ([]byte, error) {
	if strings.ContainsAny(object, "\n\x00") {
		return nil, errMissing
	}
	out, err := git(ctx, r.root, strings.NewReader(object+"\n"), "cat-file", "--batch-check", "--follow-symlinks")
	if err != nil {
		return nil, err
	}
	head := strings.Fields(string(out))
	if len(head) != 3 || head[1] != "blob" {
		return nil, errMissing
	}
	if size, err := strconv.ParseInt(head[2], 10, 64); err != nil || size > limit {
		return nil, errLarge
	}
	return git(ctx, r.root, nil, "cat-file", "blob", head[0])
}

// Step finds the commits before and after a file's content changed from one object to
// another; "" for one that no commit holds, as what is only in the index.
func (r *Repository) Step(ctx context.Context, path, before, after string) (from, to string) {
	for _, c := range r.changes(ctx, before, path) {
		if c.before == before && (from == "" || c.after == after) {
			from = c.commit + "^"
		}
		if c.before == before && c.after == after {
			return from, c.commit
		}
	}
	for _, c := range r.changes(ctx, after, path) {
		if c.after == after && to == "" {
			to = c.commit
		}
	}
	if from == "" {
		if out, err := git(ctx, r.root, nil, "rev-parse", "--verify", "--quiet", "HEAD:"+path); err == nil && strings.TrimSpace(string(out)) == before {
			from = "HEAD"
		}
	}
	return from, to
}

// Holder finds a commit that holds an object, and as which path; "" for none.
func (r *Repository) Holder(ctx context.Context, object string) (commit, path string) {
	for _, c := range r.changes(ctx, object) {
		if c.after == object {
			return c.commit, c.path
		}
		commit, path = c.commit+"^", c.path
	}
	return commit, path
}

// ObjectOf is the object that a file's content makes.
func (r *Repository) ObjectOf(ctx context.Context, data []byte) string {
	out, err := git(ctx, r.root, bytes.NewReader(data), "hash-object", "--stdin")
	if err != nil {
		return ""
	}
	return strings.TrimSpace(string(out))
}

// Staged is the path as which the index holds an object, "" for none.
func (r *Repository) Staged(ctx context.Context, object string) string {
	out, err := git(ctx, r.root, nil, "ls-files", "--stage", "-z")
	if err != nil || object == "" {
		return ""
	}
	for entry := range strings.SplitSeq(string(out), "\x00") {
		if head, path, ok := strings.Cut(entry, "\t"); ok && strings.Contains(head, " "+object+" ") {
			return path
		}
	}
	return ""
}

// Has reports whether a file lies in the repository's folder.
func (r *Repository) Has(name string) bool {
	abs, err := filepath.Abs(name)
	if err != nil {
		return false
	}
	_, err = r.path(abs)
	return err == nil
}

// Path is where a path of git's lies on the disk.
func (r *Repository) Path(path string) string { return filepath.Join(r.root, filepath.FromSlash(path)) }

// A change is one of a file, by a commit.
type change struct{ commit, before, after, path string }

// changes lists those by which an object came or went, the newest first.
func (r *Repository) changes(ctx context.Context, object string, paths ...string) (all []change) {
	if strings.Trim(object, "0123456789abcdef") != "" || strings.Trim(object, "0") == "" {
		return nil
	}
	args := append([]string{"log", "HEAD", "--all", "--raw", "--no-abbrev", "--no-renames", "-z", "--format=%x00%H", "--find-object=" + object, "--"}, paths...)
	out, err := git(ctx, r.root, nil, args...)
	if err != nil {
		return nil
	}
	commit := ""
	fields := bufio.NewScanner(bytes.NewReader(out))
	fields.Buffer(nil, len(out)+1)
	fields.Split(splitNul)
	for fields.Scan() {
		f := strings.Trim(fields.Text(), "\n")
		switch raw := strings.Fields(f); {
		case len(raw) == 5 && strings.HasPrefix(raw[0], ":") && fields.Scan():
			all = append(all, change{commit, raw[2], raw[3], fields.Text()})
		case len(raw) == 1:
			commit = raw[0]
		}
	}
	return all
}

// splitNul splits at the bytes that end what git prints.
func splitNul(data []byte, atEOF bool) (int, []byte, error) {
	if i := bytes.IndexByte(data, 0); i >= 0 {
		return i + 1, data[:i], nil
	}
	if atEOF && len(data) > 0 {
		return len(data), data, nil
	}
	return 0, nil, nil
}

// Names lists what a person may call revisions of a folder's repository: the last ones,
// branches and tags. It is empty where there are none.
func Names(ctx context.Context, folder string) []string {
	out, err := git(ctx, folder, nil, "for-each-ref", "--format=%(refname:short)", "refs/heads", "refs/tags", "refs/remotes")
	if err != nil {
		return nil
	}
	return append([]string{"HEAD", "HEAD~1"}, strings.Fields(string(out))...)
}
