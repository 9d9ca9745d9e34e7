package batch

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/lang/source"
)

// anew are the orders of a batch that goes on of which the cut files aren't there as
// they are made now.
type anew struct {
	changed []string // their files were there, with another content
	moved   []string // and what is cut is as it was
	fresh   []string // they had none
	kept    bool     // some order's were there as they are
	insides []string // an inside came to those that were there as they are
	counts  []string // what is told of those that are made another number of times
}

// see notes of an order's files how they lie in the folder before they are written; cut is the sum of what is
// cut of it, if that is known.
func (a *anew) see(r *run, order, cut string, files []disk.File) {
	if !r.opts.Resume {
		return
	}
	there, same, inside, moved := 0, 0, false, cut != "" && cut == r.last.cut[order]
	for _, f := range files {
		data, err := os.ReadFile(f.Path)
		switch {
		case errors.Is(err, fs.ErrNotExist):
			inside = inside || isInside(filepath.Base(f.Path))
			continue
		case err != nil:
			return // writing it tells why
		}
		there++
		if bytes.Equal(data, f.Data) {
			same++
		} else {
			moved = moved && ours(data)
		}
	}
	switch {
	case len(files) == 0:
	case there > same && moved:
		a.moved = append(a.moved, order)
	case there > same:
		a.changed = append(a.changed, order)
	case there == 0:
		a.fresh = append(a.fresh, order)
	default:
		a.kept = true
		if inside {
			a.insides = append(a.insides, order)
		}
	}
}

// isInside reports whether a file is of inner faces.
func isInside(name string) bool { return strings.HasSuffix(stem(name), driver.InsideSuffix) }

// count notes an order that is to be made another number of times than by the list before.
func (a *anew) count(r *run, order string, copies int) {
	if was := r.last.copies[order]; r.opts.Resume && was > 0 && was != copies {
		a.counts = append(a.counts, fmt.Sprintf("order %s is to be made %s now, it was %s", order, times(copies), times(was)))
	}
}

func times(n int) string {
	if n == 1 {
		return "once"
	}
	return fmt.Sprintf("%d times", n)
}

// mostNamed is how many orders are told by their numbers.
const mostNamed = 20

func named(orders []string) string {
	list := strings.Join(orders[:min(len(orders), mostNamed)], ", ")
	if more := len(orders) - mostNamed; more > 0 {
		list += fmt.Sprintf(" and %d more", more)
	}
	if len(orders) == 1 {
		return "order " + list
	}
	return "orders " + list
}

// tell tells which orders were made anew, since what was cut of them is another one.
func (a *anew) tell(r *run) {
	r.tellReplaced()
	if len(a.changed) > 0 {
		r.result.Diagnostics.Warnf("made-anew", source.Span{}, "%s: the files there had another content, and were made anew", named(a.changed)).
			WithHelp("if one was cut already, cut it again")
	}
	if len(a.moved) > 0 {
		r.result.Diagnostics.Infof("made-anew", source.Span{}, "%s: the files there had another content, and were made anew; what they cut is as it was, and may lie on other wood", named(a.moved)).
			WithHelp("what was cut of these orders already isn't to be cut again: see by the tickets on what the others lie now")
	}
	if all := r.onNew(); len(all) > 0 {
		r.result.Diagnostics.Warnf("made-anew", source.Span{}, "%s: cut otherwise than before", named(all)).
			WithHelp("what was cut of these before may not be what is wanted now: see by the tickets what they take")
	}
	if len(a.insides) > 0 {
		r.result.Diagnostics.Warnf("made-anew", source.Span{}, "%s: an inside was made now, beside files that were there", named(a.insides)).
			WithHelp("an inside is run before its outside: if that was cut already, cut it again")
	}
	if len(a.counts) > 0 {
		list := strings.Join(a.counts[:min(len(a.counts), mostNamed)], "; ")
		if more := len(a.counts) - mostNamed; more > 0 {
			list += fmt.Sprintf("; and %d more orders", more)
		}
		r.result.Diagnostics.Warnf("made-anew", source.Span{}, "%s", list).
			WithHelp("count what was cut already, and cut what is missing of it")
	}
}

// tellFresh tells which orders had no files, once it is known which files no order has any more: what was order 3
// is order 4 where a row came before it, and 3-i1 where one of the same number did.
func (a *anew) tellFresh(r *run) {
	if len(a.fresh) == 0 || !a.kept && len(a.changed)+len(a.moved) == 0 {
		return
	}
	help := "these are still to be cut"
	if len(r.moved) > 0 {
		help += fmt.Sprintf(", but for one that was cut already under another number or name: see by what was moved to %s", asideName)
	}
	r.result.Diagnostics.Infof("made-anew", source.Span{}, "%s: made now, beside those that were there", named(a.fresh)).WithHelp("%s", help)
}

// replaceSheets moves aside, of the sheets that are to be written, those that are there
// with another content: they may be cut already, and other parts lie on them now.
func (r *run) replaceSheets(files []disk.File) error {
	if !r.opts.Resume || !r.opts.Together {
		return nil
	}
	for _, f := range files {
		name := filepath.Base(f.Path)
		if !strings.HasPrefix(name, sheetBegins) {
			continue
		}
		data, err := os.ReadFile(f.Path)
		if errors.Is(err, fs.ErrNotExist) && isInside(name) {
			r.newInside(name)
		}
		if err != nil || bytes.Equal(data, f.Data) || !r.opts.Force && !ours(data) {
			continue // writing it tells what is wrong
		}
		to, err := r.setAside(name)
		if err != nil {
			return err
		}
		r.replaced = append(r.replaced, name)
		if len(r.replaced) <= mostLeft {
			r.tellMoved(r.onlyMoved(name), "if it was cut already, see by the tickets which parts of the new one are there, before you cut it",
				"%q had another content, so it was moved to %q: %s", r.path(name), to, r.whatChanged("it", name))
		}
	}
	return nil
}

// newInside tells of the inside of a sheet that comes to an outside which is there.
func (r *run) newInside(name string) {
	outside := strings.Replace(name, driver.InsideSuffix, "", 1)
	if _, err := os.Lstat(r.path(outside)); err == nil {
		r.insides = append(r.insides, name)
		r.result.Diagnostics.Warnf("made-anew", source.Span{}, "%q was made now, beside %q, which was there: %s", r.path(name), outside, r.whatChanged("it", name)).
			WithHelp("an inside is run before its outside: if that was cut already, cut it again")
	}
}

// changedOn notes of an order that lies with others on which sheets it does, if it is another one
// than before, is new, or is made another number of times. Where no list says what it was, its
// ticket tells.
func (r *run) changedOn(ticket, order, cut string, text []byte, copies int, places []Place) {
	if !r.opts.Resume || len(places) == 0 {
		return
	}
	was, known := r.last.cut[order]
	same := known && was == cut
	changed := known && !same
	if known = known || len(r.last.cut) > 0 && r.last.copies[order] == 0; !known { // else it is new
		old, err := os.ReadFile(r.path(ticket))
		same = err == nil && holdsAs(old, ofOrder(text), func(a, b string) bool { return a == b })
		changed = err == nil && !same
	}
	if changed {
		r.others = append(r.others, other{order, places})
	}
	if before := r.last.copies[order]; before != 0 && before != copies {
		same = false
	}
	for _, p := range places {
		r.unsure[p.Sheet] = r.unsure[p.Sheet] || !known
		if on := r.changed[p.Sheet]; !same && (len(on) == 0 || on[len(on)-1] != order) {
			r.changed[p.Sheet] = append(on, order)
		}
	}
}

// An other is an order that lies with others and is another one than it was when it was made before.
type other struct {
	order  string
	places []Place
}

// onNew are the orders that are others than before and lie on sheets that weren't there, or of which only an
// inside was taken back: no sheet that was moved aside for another names them.
func (r *run) onNew() (all []string) {
	named := map[string]bool{}
	for _, f := range slices.Concat(r.replaced, r.insides) {
		named[strings.TrimSuffix(stem(f), driver.InsideSuffix)] = true
	}
	for _, o := range r.others {
		if !slices.ContainsFunc(o.places, func(p Place) bool { return named[p.Sheet] }) {
			all = append(all, o.order)
		}
	}
	return all
}

// ofOrder is what a ticket says of the order itself: without its line in the table, what to
// look at, the sheets, where on them it lies, and what its share of them takes and costs.
func ofOrder(ticket []byte) []byte {
	var b bytes.Buffer
	for line := range bytes.Lines(ticket) {
		begins := func(with string) bool { return bytes.HasPrefix(line, []byte(with)) }
		if !begins(ticketBegins) && !begins(ticketLook) && !begins(ticketRuns) && !begins(ticketTime) && !begins(ticketCost) &&
			!begins("  "+sheetBegins) && !begins("  "+sheetBegins) && !bytes.Contains(line, []byte(": on "+sheetBegins)) {
			b.Write(line)
		}
	}
	return b.Bytes()
}

// onlyMoved reports whether all orders on sheets are surely as they were, and only lie elsewhere.
func (r *run) onlyMoved(files ...string) bool {
	return !slices.ContainsFunc(files, func(f string) bool {
		sheet := strings.TrimSuffix(stem(f), driver.InsideSuffix)
		return len(r.changed[sheet]) > 0 || r.unsure[sheet]
	})
}

// tellMoved tells of sheets that were moved aside: only a note if what lies on the new ones is what it was.
func (r *run) tellMoved(onlyMoved bool, help, format string, args ...any) {
	if onlyMoved {
		r.result.Diagnostics.Infof("made-anew", source.Span{}, format, args...).
			WithHelp("what was cut of these orders already isn't to be cut again: see by the tickets what is still missing")
		return
	}
	r.result.Diagnostics.Warnf("made-anew", source.Span{}, format, args...).WithHelp("%s", help)
}

// whatChanged says which orders are others on sheets, "it" or "them", than on those of the
// same names before.
func (r *run) whatChanged(it string, files ...string) string {
	var changed []string
	seen := map[string]bool{}
	for _, f := range files {
		for _, order := range r.changed[strings.TrimSuffix(stem(f), driver.InsideSuffix)] {
			if !seen[order] {
				seen[order], changed = true, append(changed, order)
			}
		}
	}
	switch {
	case len(changed) > 0 && !slices.ContainsFunc(files, func(f string) bool { return r.unsure[strings.TrimSuffix(stem(f), driver.InsideSuffix)] }):
		return fmt.Sprintf("%s changed or came to %s; all others on %s are as they were, and may lie elsewhere", named(changed), it, it)
	case len(changed) > 0:
		return fmt.Sprintf("%s changed or came to %s; all others on %s may have moved", named(changed), it, it)
	case r.onlyMoved(files...):
		return fmt.Sprintf("the orders on %s are as they were, and only lie elsewhere", it)
	}
	return fmt.Sprintf("by their tickets the orders on %s are as they were, so they lie elsewhere, another one that lay there isn't made any more, or the design or a file changed", it)
}

// tellReplaced tells of more sheets that were moved aside than were told one by one.
func (r *run) tellReplaced() {
	if more := len(r.replaced) - mostLeft; more > 0 {
		rest := r.replaced[mostLeft:]
		r.tellMoved(r.onlyMoved(rest...), "if they were cut already, see by the tickets which parts of the new ones are there",
			"%d more files of sheets, from %q to %q, had another content, and were moved to %q: %s", more, rest[0], rest[len(rest)-1], r.path(asideName), r.whatChanged("them", rest...))
	}
}
