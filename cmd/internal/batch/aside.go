package batch

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/lang/source"
)

// asideName is the folder, in that of the batch, into which files of an earlier batch
// go that no order has any more.
const asideName = "set-aside"

// mostLeft is how many files of an earlier batch are told one by one.
const mostLeft = 20

// moveAside moves the files of an earlier batch that no order has any more, such as
// those of a name that was corrected since, so that none is cut by mistake. It tells of
// them and returns their names.
func (r *run) moveAside() []string {
	left := []string{}
	for _, f := range slices.Sorted(maps.Keys(r.before)) {
		if info, err := os.Lstat(r.path(f)); err == nil && info.Mode().IsRegular() {
			left = append(left, f)
		}
	}
	for i, f := range left {
		to, err := r.setAside(f)
		switch {
		case err != nil:
			r.result.Diagnostics.Warnf("left-over", source.Span{}, "%q is of an earlier batch, and no order has it any more; it can't be moved aside: %v", r.path(f), err).
				WithHelp("remove it, so that it isn't cut by mistake")
		case i < mostLeft:
			r.result.Diagnostics.Warnf("left-over", source.Span{}, "%q was of an earlier batch, and no order has it any more, so it was moved to %q", r.path(f), to).
				WithHelp("nothing there is cut; remove it once it isn't wanted any more")
		}
	}
	if more := len(left) - mostLeft; more > 0 {
		r.result.Diagnostics.Warnf("left-over", source.Span{}, "%d more files in %q were of an earlier batch, and no order has them any more, so they were moved to %q", more, r.path("."), r.path(asideName)).
			WithHelp("%s.json lists them all under left-over", listName)
	}
	return left
}

// setAside moves a file into the folder for those; one of the same name that is there
// already stays.
func (r *run) setAside(name string) (to string, err error) {
	if err := os.MkdirAll(r.path(asideName), 0o777); err != nil {
		return "", err
	}
	end := filepath.Ext(name)
	to = r.path(filepath.Join(asideName, name))
	for n := 2; ; n++ {
		if _, err := os.Lstat(to); os.IsNotExist(err) {
			return to, os.Rename(r.path(name), to)
		}
		to = r.path(filepath.Join(asideName, fmt.Sprintf("%s.%d%s", strings.TrimSuffix(name, end), n, end)))
	}
}
