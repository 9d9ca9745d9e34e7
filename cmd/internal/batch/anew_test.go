package batch

import (
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

func messages(r *Result, code string) (all []string) {
	for _, d := range r.Diagnostics {
		if string(d.Code) == code {
			all = append(all, strings.ReplaceAll(d.Message, string(filepath.Separator), "/"))
		}
	}
	return all
}

// A batch that goes on after its table was corrected says which orders have other files
// than before, and which are new; a sheet on which other parts lie now leaves the old one
// aside.
func TestMadeAnew(t *testing.T) {
	dir := t.TempDir()
	tagBatch(t, dir, tag, Options{}, 0, "Ada", "Bo", "Cy")
	r := tagBatch(t, dir, tag, Options{Resume: true}, 0, "Ada", "Bo", "Cy")
	if got := messages(r, "made-anew"); len(got) > 0 {
		t.Errorf("nothing has changed, and %q is told", got)
	}
	// Bo! has the same files' names as Bo, and other content.
	r = tagBatch(t, dir, tag, Options{Resume: true}, 0, "Ada", "Bo!", "Cy", "Di")
	want := []string{"order 0002: the files there had another content, and were made anew", "order 0004: made now, beside those that were there"}
	if got := messages(r, "made-anew"); !slices.Equal(got, want) {
		t.Errorf("told %q, want %q", got, want)
	}

	// Where a row comes between, those behind it have other numbers, and may be cut already.
	help := func(r *Result) string {
		for _, d := range r.Diagnostics {
			if strings.Contains(d.Message, "made now, beside") {
				return d.Help
			}
		}
		return ""
	}
	if got := help(r); got != "these are still to be cut" {
		t.Errorf("a row at the end: %q", got)
	}
	r = tagBatch(t, dir, tag, Options{Resume: true}, 0, "Ada", "Bo!", "Ed", "Cy", "Di")
	if got := help(r); !strings.Contains(got, "cut already under another number") {
		t.Errorf("a row between: %q", got)
	}

	dir = t.TempDir()
	tagBatch(t, dir, tag, Options{Together: true}, 0, "Ada", "Bo", "Cy", "Di", "Ed", "Fay", "Gus")
	before := foretest.Contents(t, filepath.Join(dir, "cut"))
	r = tagBatch(t, dir, tag, Options{Together: true, Resume: true}, 0, "Ada", "Bo", "Cy", "Di", "Ed", "Fay", "Gus!")
	aside := foretest.Contents(t, filepath.Join(dir, "cut", asideName))
	if got, want := slices.Sorted(maps.Keys(aside)), []string{"sheet-0002.svg"}; !slices.Equal(got, want) || aside["sheet-0002.svg"] != before["sheet-0002.svg"] {
		t.Errorf("aside are %q, want %q as it was", got, want)
	}
	told := func(want ...string) {
		t.Helper()
		got := messages(r, "made-anew")
		if len(got) != len(want) {
			t.Fatalf("told %q, want %q", got, want)
		}
		for i := range want {
			if !strings.Contains(got[i], want[i]) {
				t.Errorf("told %q, want %q", got[i], want[i])
			}
		}
	}
	told(`sheet-0002.svg": order 0007 changed or came to it`)
	// A name that gets shorter is changed too; one that is withdrawn moves the others.
	r = tagBatch(t, dir, tag, Options{Together: true, Resume: true}, 0, "Ada", "Bo", "Cy", "Di", "Ed", "Fay", "Gus")
	told(`sheet-0002.2.svg": order 0007 changed or came to it`)
	design := strings.Replace(tag, "{ name = text;", "{ number = text; name = text;", 1)
	dir = t.TempDir()
	for _, rows := range []string{"1,A\n2,B\n3,C\n4,D\n5,E\n6,F\n7,G\n8,H\n", "1,A\n2,B\n3,C\n4,D\n5,E\n7,G\n8,H\n"} {
		table := filepath.Join(dir, "two.csv")
		os.WriteFile(table, []byte("number,name\n"+rows), 0o666)
		r = tagBatch(t, dir, design, Options{Together: true, Resume: true, Orders: table}, 0)
	}
	told(`sheet-0002.svg": the orders on it are as they were, and only lie elsewhere`)
}

// Where the scale of the machine is another all orders are cut otherwise, on sheets too.
func TestMadeAnewByScale(t *testing.T) {
	dir := t.TempDir()
	tagBatch(t, dir, tag, Options{Together: true}, 0, "Ada", "Bo")
	r := tagBatch(t, dir, strings.Replace(tag, "kerf = 0.2", "kerf = 0.2; scale-x = 1.01", 1), Options{Together: true, Resume: true}, 0, "Ada", "Bo")
	if got := messages(r, "made-anew"); len(got) != 1 || !strings.Contains(got[0], "orders 0001, 0002 changed or came to it") {
		t.Errorf("told %q", got)
	}
}

// An order that can't be made any more isn't said to be gone.
func TestAsideOfUnmade(t *testing.T) {
	dir := t.TempDir()
	tagBatch(t, dir, tag, Options{}, 0, "Ada", "Bo", "Cy")
	r := tagBatch(t, dir, tag, Options{Resume: true}, 0, "Ada", "Bo", "C\ufffd")
	got := messages(r, "left-over")
	if len(got) != 2 || !strings.Contains(got[0], "was of an earlier batch, and order 0003 can't be made now, so it was moved") {
		t.Errorf("told %q", got)
	}
}

// An order of which an item can't be made says so on the tickets of the others, and in
// the list.
func TestOrderThatIsNotWhole(t *testing.T) {
	dir := t.TempDir()
	design := strings.Replace(tag, "{ name = text;", "{ number = text; name = text;", 1)
	path := filepath.Join(dir, "o2.csv")
	os.WriteFile(path, []byte("number,name\n1001,Ada\n1001,B\ufffd\n1002,Cy\n"), 0o666)
	tagBatch(t, dir, design, Options{Orders: path}, 0)
	all := foretest.Contents(t, filepath.Join(dir, "cut"))
	if ticket := all["1001-i1-ada.txt"]; !strings.Contains(ticket, "Look: this order isn't whole: of its items, 1001-i2 can't be made") {
		t.Errorf("the ticket is %s", ticket)
	}
	if list := all["made.csv"]; !strings.Contains(list, ",1 of 2; not made: 1001-i2,") {
		t.Errorf("the list is %s", list)
	}
	if strings.Contains(all["1002-cy.txt"], "whole") {
		t.Error("another order isn't whole either")
	}
}

// Of a panel with copies, in an order that is made several times, the ticket says how
// many there are in all.
func TestCopiesOfCopies(t *testing.T) {
	dir := t.TempDir()
	design := strings.Replace(tag, "panel tag { thick = 3;", "panel tag { thick = 3; copies = 2;", 1)
	tagBatch(t, dir, strings.Replace(design, "copies = count default 1", "copies = count default 3", 1), Options{}, 0, "Ada")
	if ticket := foretest.Contents(t, filepath.Join(dir, "cut"))["0001-ada.txt"]; !strings.Contains(ticket, "tag, 80 by 40 mm, 3 mm thick, 2 times each, 6 in all") {
		t.Errorf("the ticket is %s", ticket)
	}
}

// A line that is empty between others, as a text in the middle of joined ones is empty, is
// told before anything is made and on the ticket; not one that the design has itself.
func TestEmptyLineBetween(t *testing.T) {
	for join, want := range map[string]string{`order.name + "\n" + order.b + "\n" + order.c`: "has an empty line between others in tag.r", `order.name + "\n\n" + order.c`: ""} {
		dir := t.TempDir()
		design := strings.Replace(strings.Replace(tag, "text order.name", "text "+join, 1), "{ name = text;", `{ name = text; b = text default ""; c = text default "";`, 1)
		table := filepath.Join(dir, "lines.csv")
		os.WriteFile(table, []byte("name,b,c\nAda,,Bo\nCy,Di,\n"), 0o666)
		r := tagBatch(t, dir, design, Options{Orders: table}, 0)
		if r.Err != nil || r.Done != 2 {
			t.Fatalf("%s: %v %v", join, r.Err, r.Diagnostics)
		}
		got := ""
		for _, s := range r.Seen {
			got += strings.Join(s.What, "; ")
		}
		ticket := foretest.Contents(t, filepath.Join(dir, "cut"))["0001-ada.txt"]
		if !strings.Contains(got, want) || want == "" && strings.Contains(got, "empty") || strings.Contains(ticket, "Look: the text of tag.r has an empty line between others") != (want != "") {
			t.Errorf("%s: told %q, and the ticket is %s", join, got, ticket)
		}
	}
}

// resumed goes on with the batch of a design in a folder, with a table as it is now.
func resumed(t *testing.T, dir, design, table string, together bool) *Result {
	t.Helper()
	path := filepath.Join(dir, "two.csv")
	foretest.Write(t, path, table)
	r := tagBatch(t, dir, design, Options{Together: together, Resume: true, Orders: path}, 0)
	foretest.Must(t, r.Err)
	return r
}

// An inside that an order has since its outside was made is told, alone and on a sheet; one
// that it has no more goes aside, and so does what is on sheets now.
func TestInsideOfAResumedBatch(t *testing.T) {
	const design = `laser bench { kerf = 0.2; bed = 300 by 200 }
orders "two.csv" { number = text; name = text; word = text default "" }
panel front { width = 100; height = 60; thick = 3
  region inner when order.word != "" { face = inside; head = 10; height = 20; spine = 5; foredge = 5; engrave text order.word { fit = shrink } } }
`
	for _, together := range []bool{false, true} {
		dir := t.TempDir()
		run := func(rows string) *Result { return resumed(t, dir, design, "number,name,word\n"+rows, together) }
		inside, said := "1-ann-inside.svg", "order 1: an inside was made now, beside files that were there"
		if together {
			inside, said = "sheet-0001-inside.svg", `sheet-0001-inside.svg" was made now, beside "sheet-0001.svg", which was there: order 1 changed or came to it`
		}
		run("1,Ann,\n2,Bo,\n")
		r := run("1,Ann,late\n2,Bo,\n")
		if got := strings.Join(messages(r, "made-anew"), "; "); !strings.Contains(got, said) {
			t.Errorf("told %q, want %q", got, said)
		}
		if got := messages(run("1,Ann,late\n2,Bo,\n"), "made-anew"); len(got) > 0 {
			t.Errorf("told once more: %q", got)
		}
		if got := messages(run("1,Ann,\n2,Bo,\n"), "made-anew"); together && !slices.Equal(got, []string{"order 1: cut otherwise than before"}) {
			t.Errorf("taken back: told %q", got)
		}
		if files, aside := foretest.Contents(t, filepath.Join(dir, "cut")), foretest.Contents(t, filepath.Join(dir, "cut", asideName)); !together && (files[inside] != "" || aside[inside] == "") {
			t.Errorf("what was taken back: %q there, %q aside", slices.Sorted(maps.Keys(files)), slices.Sorted(maps.Keys(aside)))
		}
	}
}

// An order that is cut otherwise than before is named, too, where it lies on a sheet that wasn't there: the sheet
// that it left names only those that are on it now.
func TestChangedOnNewSheets(t *testing.T) {
	const design = `laser bench { kerf = 0.2; bed = 300 by 200 }
orders "two.csv" { number = text; board = one of "ply", "oak", "both" }
stock ply { thick = 3 }
stock oak { thick = 4 }
panel front when order.board != "oak" { stock = ply; width = 100; height = 60 }
panel lid when order.board != "ply" { stock = oak; width = 100; height = 60 }
`
	for board, want := range map[string]string{
		"oak":  "order 2: cut otherwise than before",
		"both": "order 2: cut otherwise than before",
		"ply":  "",
	} {
		dir := t.TempDir()
		run := func(rows string) *Result { return resumed(t, dir, design, "number,board\n"+rows, true) }
		run("1,ply\n2,ply\n")
		got := ""
		for _, m := range messages(run("1,ply\n2,"+board+"\n"), "made-anew") {
			if !strings.Contains(m, "had another content") {
				got += m
			}
		}
		if got != want {
			t.Errorf("%s: told %q, want %q", board, got, want)
		}
	}
}

// Of orders that lie together only those are named that are others than before, or are new: not those
// that lie elsewhere, and cost a cent more or less there. A sheet of these alone is a note.
func TestNamedAreOthers(t *testing.T) {
	const design = `laser bench { bed = 300 by 200; kerf = 0.2; quiet = caution
  cut-speed = 20; engrave-speed = 300; engrave-distance = 0.1; travel-speed = 400; acceleration = 2500; rate = 0.6; labour = 0; waste = 15 %; profit = 25 % }
orders "o.csv" { number = text; name = text; note = text default ""; wide = length; copies = count default 1 }
stock ply { thick = 3; size = 300 by 200; price = 7; MORE }
panel tag { stock = ply; width = order.wide; height = 40
 region r { width = 30; height = 10; head = DOWN; spine = 5; engrave text order.name } }
`
	rows := []string{"r01,Ada,,70,1", "r02,Bo,,90,1", "r03,Cy,,60,2", "r04,Di,,85,1", "r05,Ed,,66,1", "r06,Fay,,110,1", "r07,Gus,,75,1", "r08,Hal,,95,1", "r09,Ida,,80,1",
		"r10,Jon,,64,1", "r11,Kim,,90,1", "r12,Lea,,72,1"}
	run := func(dir, design string, rows []string) *Result {
		t.Helper()
		table := filepath.Join(dir, "day.csv")
		foretest.Write(t, table, "number,name,note,wide,copies\n"+strings.Join(rows, "\n")+"\n")
		r := tagBatch(t, dir, strings.NewReplacer("DOWN", "10", "MORE", "").Replace(design), Options{Together: true, Resume: true, Orders: table}, 0)
		if foretest.Must(t, r.Err); r.Done != len(rows) {
			t.Fatalf("%d made: %s", r.Done, diagtest.Text(r.Diagnostics))
		}
		return r
	}
	without := func(i int) []string { return slices.Delete(slices.Clone(rows), i, i+1) }
	with := func(i int, row string) []string {
		all := slices.Clone(rows)
		all[i] = row
		return all
	}
	for name, test := range map[string]struct {
		design string
		rows   []string
		others []string
	}{
		"one came between":       {design, slices.Insert(slices.Clone(rows), 2, "r13,Mo,,88,1"), []string{"r13"}},
		"one was withdrawn":      {design, without(4), nil},
		"one has another name":   {design, with(4, "r05,Eddy,,66,1"), []string{"r05"}},
		"one has another size":   {design, with(4, "r05,Ed,,67,1"), []string{"r05"}},
		"one is made more often": {design, with(4, "r05,Ed,,66,3"), []string{"r05"}},
		"one has another note":   {design, with(4, "r05,Ed,by post,66,1"), nil},
		"they lie otherwise":     {strings.Replace(design, "MORE", "spacing = 4", 1), rows, nil},
		"they are engraved lower": {strings.Replace(design, "DOWN", "12", 1), rows,
			[]string{"r01", "r02", "r03", "r04", "r05", "r06", "r07", "r08", "r09", "r10", "r11", "r12"}},
	} {
		dir := t.TempDir()
		run(dir, design, rows)
		r := run(dir, test.design, test.rows)
		var others []string
		for _, d := range r.Diagnostics {
			if d.Code != "made-anew" || !strings.Contains(d.Message, "had another content") {
				continue
			}
			found := regexp.MustCompile(`\br[01][0-9]\b`).FindAllString(d.Message, -1)
			if (d.Severity == diag.Info) != (len(found) == 0) {
				t.Errorf("%s: %s: %s", name, d.Severity, d.Message)
			}
			others = append(others, found...)
		}
		slices.Sort(others)
		if others = slices.Compact(others); !slices.Equal(others, test.others) {
			t.Errorf("%s: told as others are %q, want %q", name, others, test.others)
		}
	}
}
