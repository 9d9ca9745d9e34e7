package batch

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/svg"
	"foredge/lang/foretest"
)

// secondDay is the table of a day as it is put right: the bad rows corrected, three names
// changed (the last so that its files keep their names), two orders withdrawn.
func secondDay(rows []dayRow) (right []dayRow, changed, withdrawn []string) {
	right = slices.Clone(rows)
	for i := range right {
		if right[i].bad {
			right[i] = dayRow{number: right[i].number, name: fmt.Sprintf("Mended %d", i), raw: fmt.Sprintf("Mended %d", i), qty: "1", motif: "tern"}
		}
	}
	alone := func(n int) bool { // an order of one good row, so that its number stays as it is
		is := func(r dayRow) bool { return r.number == rows[n].number }
		return !rows[n].bad && slices.IndexFunc(rows, is) == n && !slices.ContainsFunc(rows[n+1:], is)
	}
	for n := len(rows) / 3; len(changed) < 3; n += 20 {
		for !alone(n) {
			n++
		}
		name := "Changed " + right[n].name
		if len(changed) == 2 {
			name = right[n].name + "!"
		}
		right[n].name, right[n].raw = name, name
		changed = append(changed, strings.TrimPrefix(right[n].number, "#"))
	}
	for n := len(rows) - 1; len(withdrawn) < 2; n-- {
		if alone(n) && n%2 == 0 {
			withdrawn = append(withdrawn, strings.TrimPrefix(right[n].number, "#"))
			right = slices.Delete(right, n, n+1)
		}
	}
	slices.Sort(withdrawn)
	return right, changed, withdrawn
}

// On the second day of a batch its table is put right, and it goes on: every list, ticket and
// cut file agrees with the new table, what was made of other orders on the first day is
// there as it was, and of the others everything lies aside or is told to be made anew.
func TestShopsSecondDay(t *testing.T) {
	rows := day()
	right, changed, withdrawn := secondDay(rows)
	for _, together := range []bool{false, true} {
		t.Run(fmt.Sprintf("together=%v", together), func(t *testing.T) {
			dir := t.TempDir()
			path, table := filepath.Join(dir, "day.fore"), filepath.Join(dir, "orders.csv")
			foretest.Must(t, os.WriteFile(path, []byte(dayDesign), 0o666))
			foretest.Must(t, os.WriteFile(table, dayTable(rows), 0o666))
			opts := folder(filepath.Join(dir, "cut"))
			opts.Together, opts.Encoders = together, []export.Encoder{svg.Encoder{}}
			if r := Run(context.Background(), driver.NewSession(nil), path, opts); r.Err != nil || len(r.Bad) != 12 {
				t.Fatalf("%v: %d bad", r.Err, len(r.Bad))
			}
			check := agreesEach
			if together {
				check = agrees
			}
			check(t, opts.Folder, rows)
			first := foretest.Contents(t, opts.Folder)

			foretest.Must(t, os.WriteFile(table, dayTable(right), 0o666))
			opts.Resume = true
			r := Run(context.Background(), driver.NewSession(nil), path, opts)
			if r.Err != nil || len(r.Bad) > 0 || len(r.Made) != len(right) {
				t.Fatalf("%v: %d made of %d, %d bad", r.Err, len(r.Made), len(right), len(r.Bad))
			}
			check(t, opts.Folder, right)
			now := foretest.Contents(t, opts.Folder)
			aside := foretest.Contents(t, filepath.Join(opts.Folder, asideName))
			told := strings.Join(append(messages(r, "made-anew"), messages(r, "left-over")...), "\n")
			nothingLost(t, first, now, aside, told, changed, withdrawn)

			// A third time there is nothing to do.
			r = Run(context.Background(), driver.NewSession(nil), path, opts)
			now["made.json"] = "" // it lists what was left over
			again := foretest.Contents(t, opts.Folder)
			again["made.json"] = ""
			if r.Err != nil || !maps.Equal(again, now) || len(messages(r, "made-anew"))+len(messages(r, "left-over")) > 0 {
				t.Errorf("%v: made once more, the folder has %d files, not %d, and told is %q", r.Err, len(again), len(now), messages(r, "made-anew"))
			}
		})
	}
}

// lastTold is from which sheet on they are told together.
func lastTold(told string) string {
	if m := manySheets.FindStringSubmatch(told); m != nil {
		return m[1]
	}
	return "~"
}

var manySheets = regexp.MustCompile(`more files of sheets, from "(\S+)" to`)

// nothingLost holds the files of the first day against those of the second.
func nothingLost(t *testing.T, first, now, aside map[string]string, told string, changed, withdrawn []string) {
	t.Helper()
	of := func(name string, orders []string) bool {
		order, _, _ := strings.Cut(stem(name), "-")
		return slices.Contains(orders, order)
	}
	for name, data := range first {
		switch {
		case strings.HasPrefix(name, listName+"."):
		case of(name, withdrawn):
			if _, is := now[name]; is || aside[name] != data || !strings.Contains(told, name) {
				t.Errorf("%s of a withdrawn order is still there, or isn't aside as it was, or isn't told", name)
			}
		case strings.HasSuffix(name, ticketExt) && !of(name, changed): // its places and its line may be others
			if _, is := now[name]; !is {
				t.Errorf("the ticket %s is gone", name)
			}
		case now[name] == data:
		case aside[name] == data:
			if many := strings.HasPrefix(name, sheetBegins) && name >= lastTold(told); !many && !strings.Contains(told, name) {
				t.Errorf("%s was moved aside without a word", name)
			}
			if !strings.HasPrefix(name, sheetBegins) && !of(name, changed) {
				t.Errorf("%s of an order that didn't change was moved aside", name)
			}
		case of(name, changed) && strings.Contains(told, stem(name)[:4]):
		default:
			t.Errorf("%s is another now, and the old one isn't aside", name)
		}
	}
	for name := range aside {
		if _, is := first[name]; !is {
			t.Errorf("aside lies %s, which nobody made", name)
		}
	}
	for _, order := range changed {
		if !strings.Contains(told, order) {
			t.Errorf("order %s changed, and it isn't told:\n%s", order, told)
		}
	}
}

// agreesEach holds the packing list, the tickets and the cut files of orders that are made
// one by one against rows of the table.
func agreesEach(t *testing.T, folder string, rows []dayRow) {
	t.Helper()
	files := foretest.Contents(t, folder)
	packing, column := packingList(t, files["made.csv"])
	line := 0
	expected := map[string]bool{"made.csv": true, "made.json": true}
	for _, m := range toMake(rows) {
		line++
		r, tag, times := m.row, m.tag, "once"
		list := func(heading string) string { return packing[line][column[heading]] }
		if m.copies > 1 {
			times = fmt.Sprintf("%d times", m.copies)
		}
		got := fmt.Sprintln(list("order"), list("line"), list("copies"), list("order.name"))
		if want := fmt.Sprintln(tag, m.line, m.copies, r.name); got != want {
			t.Errorf("the packing list has %q, want %q", got, want)
		}
		ticket := files[list("ticket")]
		if !strings.HasPrefix(ticket, "Order "+tag) || !strings.Contains(ticket, fmt.Sprintf("(line %d of ", m.line)) || !strings.Contains(ticket, "To make "+times+": "+strings.ReplaceAll(list("files"), " ", ", ")) || !strings.Contains(ticket, "front.title: "+r.name+", capitals") {
			t.Errorf("the ticket of %s, %s, is\n%s", tag, r.name, ticket)
		}
		expected[list("ticket")] = true
		cuts := strings.Fields(list("files")) // the two are of two stocks
		for _, name := range cuts {
			expected[name] = true
			if cut := files[name]; !strings.Contains(cut, "order "+tag+"<") || strings.Count(cut, `.outline"`) != 1 {
				t.Errorf("the cut file %s of %s isn't its own", name, tag)
			}
		}
		if len(cuts) != 2 {
			t.Errorf("%s is cut from %q", tag, cuts)
		}
	}
	if line != len(packing)-1 {
		t.Errorf("the list has %d orders, the table %d", len(packing)-1, line)
	}
	for name := range files {
		if !expected[name] && !strings.Contains(name, asideName) {
			t.Errorf("%s is of no order of the table", name)
		}
	}
}
