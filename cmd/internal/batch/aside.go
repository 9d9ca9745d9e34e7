package batch

import (
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/eval/orders"
	"foredge/export"
	"foredge/lang/source"
)

// asideName is the folder, in that of the batch, into which files of an earlier batch
// go that no order has any more.
const asideName = "set-aside"

// mostLeft is how many files of an earlier batch are told one by one.
const mostLeft = 20

// roomAside makes sure, before anything is written, that files can be moved aside.
func (r *run) roomAside() error {
	path := r.path(asideName)
	if info, err := os.Stat(path); err != nil || info.IsDir() {
		return nil
	}
	return &disk.Error{Code: "cannot-write", Message: fmt.Sprintf("%q is a file, and a folder of that name is where files go that no order has any more", path),
		Hint: "rename it, or choose another folder with -o"}
}

// sameTable refuses to go on with what was made from a table that has no order in
// common with this one: all of its files would be moved aside. Orders are told by their
// own numbers; where they are numbered by their place, by all that their files are
// called, if several were made.
func (r *run) sameTable() error {
	tickets := map[string]bool{}
	for f, ticket := range r.before {
		if f == ticket {
			tickets[stem(ticket)] = true
		}
	}
	own := slices.ContainsFunc(r.table.Columns, func(c orders.Column) bool { return c.Name == orders.NumberColumn })
	if len(tickets) == 0 || r.last.Sum == "" || !own && len(tickets) < 2 {
		return nil
	}
	now := map[string]bool{}
	for i, row := range r.table.Rows {
		now[r.names[i]] = true
		if own {
			now[orders.FileName(row.Number, "")] = true
		}
	}
	for ticket := range tickets {
		parts := strings.SplitN(ticket, "-", 3)
		if now[ticket] || now[parts[0]] || len(parts) > 1 && now[parts[0]+"-"+parts[1]] {
			return nil
		}
	}
	return &disk.Error{Code: "another-table",
		Message: fmt.Sprintf("no order of this table is in %q: what is there was made from another table, and all of its files would be moved aside", r.path(listName+".csv")),
		Hint:    "is this the right folder? choose another one with -o; if the table was put right, write --resume --force once"}
}

// moveAside moves the files of an earlier batch that no order has any more, such as
// those of a name that was corrected since or an inside that was taken back, so that none is
// cut by mistake. Those in another format of what this batch has made stay. It tells of them
// all and returns their names.
func (r *run) moveAside() []string {
	left := []string{}
	if data, err := os.ReadFile(r.path(pageName)); err == nil && !r.opts.Together {
		switch of, ours := export.OriginOf(data); {
		case ours:
			r.before[pageName] = pageName
		case of.Design != "": // somebody has changed it, and it speaks of sheets that aren't there any more
			r.tellLeft(pageName, true, false, true, nil)
		}
	}
	for _, f := range slices.Sorted(maps.Keys(r.before)) {
		if info, err := os.Lstat(r.path(f)); err == nil && info.Mode().IsRegular() {
			left = append(left, f)
		}
	}
	unmade, tickets := r.unmade(), map[string]bool{}
	for i, name := range r.names {
		if r.good[i] && len(left) > 0 {
			tickets[name+ticketExt] = true
		}
	}
	tell := 0
	for _, f := range left {
		ordered := tickets[r.before[f]]
		stays := r.drawn[stem(f)]
		switch {
		case f == r.before[f]:
			stays = ordered
		case strings.HasPrefix(f, sheetBegins):
			stays = r.sheets[stem(f)]
		}
		if stays && r.stayed[f] {
			continue // it was told before
		}
		tell++
		r.tellLeft(f, stays, ordered, tell <= mostLeft, unmade)
	}
	if more := tell - mostLeft; more > 0 {
		r.result.Diagnostics.Warnf("left-over", source.Span{}, "%d more files are of an earlier batch, and this one didn't make them; those that no order has any more were moved to %q", more, r.path(asideName)).
			WithHelp("%s.json lists them all under left-over", listName)
	}
	return left
}

// tellLeft moves a file of an earlier batch aside unless it stays, and tells of it if
// there aren't too many; always where it can't be moved. ordered says that its order is
// still there.
func (r *run) tellLeft(f string, stays, ordered, tell bool, unmade map[string]string) {
	if stays {
		if tell {
			r.result.Diagnostics.Warnf("left-over", source.Span{}, "%q is of an earlier batch, and this one didn't make it", r.path(f)).
				WithHelp("remove it if it isn't needed any more, so that it isn't cut by mistake")
		}
		return
	}
	to, err := r.setAside(f)
	why := "no order has it any more"
	if ordered {
		why = "its order has no such file now"
	}
	if f == pageName {
		why = "no orders lie together now"
	}
	if order := spoiltOf(r.before[f], unmade); order != "" && !strings.HasPrefix(f, sheetBegins) {
		why = fmt.Sprintf("order %s can't be made now", order)
	}
	switch {
	case err != nil:
		r.result.Diagnostics.Errorf("left-over", source.Span{}, "%q is of an earlier batch, and %s; it can't be moved aside: %v", r.path(f), why, err).
			WithHelp("remove it, so that it isn't cut by mistake")
	case tell:
		r.result.Diagnostics.Warnf("left-over", source.Span{}, "%q was of an earlier batch, and %s, so it was moved to %q", r.path(f), why, to).
			WithHelp("nothing there is cut; remove it once it isn't wanted any more")
	}
}

// unmade are the numbers of the orders that can't be made, by how their files begin.
func (r *run) unmade() map[string]string {
	all := map[string]string{}
	for i, row := range r.table.Rows {
		if !r.good[i] {
			all[orders.FileName(row.Number, "")] = row.Number
		}
	}
	for i, row := range r.table.Rows {
		if r.good[i] {
			delete(all, orders.FileName(row.Number, "")) // 7 a, beside 7A that can't be made
		}
	}
	return all
}

// spoiltOf is which of these a ticket is of, "" for none.
func spoiltOf(ticket string, unmade map[string]string) string {
	parts := strings.SplitN(stem(ticket), "-", 3)
	if len(parts) > 1 && unmade[parts[0]+"-"+parts[1]] != "" {
		return unmade[parts[0]+"-"+parts[1]] // of an item
	}
	return unmade[parts[0]]
}

// stem is a file's name without what follows its first point.
func stem(name string) string {
	before, _, _ := strings.Cut(name, ".")
	return before
}

// A move is of a file that was set aside.
type move struct{ from, to string }

// moveBack undoes moves into the folder for files that are set aside: what was to come in
// their place couldn't be written, so they still count.
func (r *run) moveBack(moves []move) {
	for _, m := range slices.Backward(moves) {
		if _, err := os.Lstat(m.from); os.IsNotExist(err) {
			os.Rename(m.to, m.from)
		}
	}
	os.Remove(r.path(asideName)) // unless something is in it
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
			if err = os.Rename(r.path(name), to); err == nil {
				r.moved = append(r.moved, move{r.path(name), to})
			}
			return to, err
		}
		to = r.path(filepath.Join(asideName, fmt.Sprintf("%s.%d%s", strings.TrimSuffix(name, end), n, end)))
	}
}
