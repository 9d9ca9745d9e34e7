package batch

import (
	"context"
	"encoding/json"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/disk"
	"foredge/cmd/internal/driver"
	"foredge/eval/orders"
	"foredge/export"
	"foredge/export/dxf"
	"foredge/export/svg"
	"foredge/lang/diag"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

const tag = `laser bench { bed = 300 by 200; kerf = 0.2; quiet = caution }
orders "o.csv" { name = text; copies = count default 1 }
panel tag { thick = 3; width = 80; height = 40
 region r { width = 60; height = 15; engrave text order.name } }
panel back mirrors tag
`

// tagBatch is a batch of a design in a folder of its own: it is made, or stopped
// after some orders, from a table of names.
func tagBatch(t *testing.T, dir, design string, opts Options, stopAfter int, names ...string) *Result {
	t.Helper()
	path := filepath.Join(dir, "tag.fore")
	os.WriteFile(path, []byte(design), 0o666)
	os.WriteFile(filepath.Join(dir, "o.csv"), []byte("name\n"+strings.Join(names, "\n")+"\n"), 0o666)
	opts.Folder, opts.Keep = filepath.Join(dir, "cut"), true
	if opts.Encoders == nil {
		opts.Encoders = []export.Encoder{svg.Encoder{}}
	}
	ctx, stop := context.WithCancel(context.Background())
	defer stop()
	opts.Progress = func(done, of int) {
		if stopAfter > 0 && done == of/2+stopAfter {
			stop()
		}
	}
	return Run(ctx, driver.NewSession(nil), path, opts)
}

// A batch that was stopped before it had a list leaves nothing that no later one
// moves aside and tells of: its table is changed in between, or how its covers lie.
func TestLeftOverOfStopped(t *testing.T) {
	var first, second []string
	for i := range 60 {
		first = append(first, fmt.Sprintf("Ada %d", i))
		second = append(second, fmt.Sprintf("Bea %d", i))
	}
	for name, c := range map[string]struct {
		before, after Options
		again         []string
		stay          bool // of an order that is still there
	}{
		"other names":     {Options{}, Options{}, second, false},
		"one name less":   {Options{}, Options{}, first[1:], false},
		"not each":        {Options{Options: driver.Options{Naming: driver.Naming{Each: true}}}, Options{}, first, false},
		"no more in DXF":  {Options{Options: driver.Options{Encoders: []export.Encoder{svg.Encoder{}, dxf.Encoder{}}}}, Options{}, first, true},
		"now on sheets":   {Options{}, Options{Together: true, laidAtOnce: 20}, first, false},
		"fewer on sheets": {Options{Together: true, laidAtOnce: 20}, Options{Together: true, laidAtOnce: 20}, first[:2], false},
		"not on sheets":   {Options{Together: true, laidAtOnce: 20}, Options{}, first, false},
	} {
		dir := t.TempDir()
		if r := tagBatch(t, dir, tag, c.before, 50, first...); r.Err == nil {
			t.Fatalf("%s: it wasn't stopped", name)
		}
		old := foretest.Contents(t, filepath.Join(dir, "cut"))
		if len(old) < 16 || old["made.json"] != "" {
			t.Fatalf("%s: %d files are there when it is stopped", name, len(old))
		}
		c.after.Resume = true
		for round := range 2 {
			r := tagBatch(t, dir, tag, c.after, 0, c.again...)
			if r.Err != nil {
				t.Fatalf("%s: %v", name, r.Err)
			}
			mine := map[string]bool{"made.csv": true, "made.json": true}
			mine[pageName] = c.after.Together
			for _, m := range r.Made {
				mine[m.Ticket] = true
				for _, f := range m.Files {
					mine[f] = true
				}
			}
			all := foretest.Contents(t, filepath.Join(dir, "cut"))
			aside := foretest.Contents(t, filepath.Join(dir, "cut", asideName))
			var want []string // what this batch hasn't made
			for f := range all {
				if !mine[f] {
					want = append(want, f)
				}
			}
			if len(want) > 0 != c.stay {
				t.Errorf("%s: %v are there and not made", name, want)
			}
			for f := range aside {
				if round == 0 && !mine[f] { // else it was replaced, not left
					want = append(want, f)
				}
			}
			slices.Sort(want)
			var list struct {
				Left []string `json:"left-over"`
			}
			if err := json.Unmarshal([]byte(all["made.json"]), &list); err != nil || list.Left == nil {
				t.Fatalf("%s: %v, %v", name, err, list)
			}
			if !slices.Equal(list.Left, want) || round == 0 && len(want) == 0 {
				t.Errorf("%s: left over are %v, told %v", name, want, list.Left)
			}
			told := 0
			for _, d := range r.Diagnostics {
				if d.Code == "left-over" && d.Severity == diag.Warning {
					told++
				}
			}
			// What stays is told once.
			if round == 0 && told != min(len(list.Left), mostLeft+1) || round > 0 && told > 0 {
				t.Errorf("%s: round %d: %d warnings of %d files", name, round, told, len(list.Left))
			}
			// What is no order's any more lies aside as it was.
			for f, data := range old {
				if !mine[f] && all[f] != data && aside[f] != data {
					t.Errorf("%s: %s was not kept as it is", name, f)
				}
			}
		}
	}
}

// Files in another format stay while their order is there, whatever batches come between, and are
// moved aside with it, as is what lies on a sheet or is of a panel alone.
func TestOtherFormatsAreNotForgotten(t *testing.T) {
	for _, naming := range []driver.Naming{{}, {Each: true}} {
		dir := t.TempDir()
		batch := func(name string, resume bool, encoders ...export.Encoder) *Result {
			return tagBatch(t, dir, tag, Options{Resume: resume, Options: driver.Options{Encoders: encoders, Naming: naming}}, 0, name, "Cy")
		}
		batch("Ada", false, svg.Encoder{}, dxf.Encoder{})
		batch("Ada", true, svg.Encoder{})
		if left := messages(batch("Ada", true, svg.Encoder{}), "left-over"); len(left) > 0 {
			t.Errorf("told again: %v", left)
		}
		if r := batch("Bea", true, svg.Encoder{}, dxf.Encoder{}); r.Err != nil {
			t.Fatal(r.Err)
		}
		all := foretest.Contents(t, filepath.Join(dir, "cut"))
		for f := range all {
			if strings.Contains(f, "ada") {
				t.Errorf("each %v: %s is there beside the files of the name that was corrected", naming.Each, f)
			}
		}
		aside := foretest.Contents(t, filepath.Join(dir, "cut", asideName))
		if dxfs := slices.DeleteFunc(slices.Collect(maps.Keys(aside)), func(f string) bool { return !strings.HasSuffix(f, ".dxf") }); len(dxfs) == 0 {
			t.Errorf("no DXF lies aside: %v", slices.Collect(maps.Keys(aside)))
		}
		if !strings.Contains(strings.Join(slices.Collect(maps.Keys(all)), " "), "0001-bea") {
			t.Error("nothing is made")
		}
	}
}

// A name that was corrected twice leaves both old files aside: none takes the place of
// another.
func TestSetAsideTwice(t *testing.T) {
	dir := t.TempDir()
	for i, name := range []string{"Ada", "Adda", "Ada", "Adda"} {
		if r := tagBatch(t, dir, tag, Options{Resume: i > 0}, 0, name); r.Err != nil || r.Done != 1 {
			t.Fatalf("%v %v", r.Err, r.Diagnostics)
		}
	}
	got := slices.Sorted(maps.Keys(foretest.Contents(t, filepath.Join(dir, "cut", asideName))))
	want := []string{"0001-ada.2.svg", "0001-ada.2.txt", "0001-ada.svg", "0001-ada.txt", "0001-adda.svg", "0001-adda.txt"}
	if !slices.Equal(got, want) {
		t.Errorf("aside are %v, want %v", got, want)
	}
}

// Two files of an order that would have one name are refused before any is
// written, as a build refuses them.
func TestNamesOfOneOrderClash(t *testing.T) {
	const design = `laser bench { kerf = 0.2; quiet = caution }
orders "o.csv" { name = text }
panel inside { thick = 3; width = 80; height = 40; region r { face = inside; width = 60; height = 15; engrave text order.name } }
panel front { thick = 3; width = 80; height = 40 }
`
	dir := t.TempDir()
	opts := Options{Options: driver.Options{Naming: driver.Naming{Each: true}}}
	r := tagBatch(t, dir, design, opts, 0, "Ada", "Bo")
	var told []string
	for _, d := range r.Diagnostics {
		if d.Severity == diag.Error {
			told = append(told, fmt.Sprint(filepath.Base(d.Span.File.Name()), ": ", d.Message))
		}
	}
	if want := []string{"tag.fore: two files of each order would be called NUMBER-NAME-inside"}; !slices.Equal(told, want) || r.Done > 0 || r.Err != nil {
		t.Errorf("%q, %d made, %v", told, r.Done, r.Err)
	}
	if r := tagBatch(t, dir, design, Options{}, 0, "Ada", "Bo"); r.Done != 2 || r.Err != nil {
		t.Errorf("without --each %d are made, %v", r.Done, r.Err)
	}
}

// Of a single order it can't be told by counting whose fault a warning is: what
// speaks of no cell is told at the design, an error at the order.
func TestWarningsOfOneOrder(t *testing.T) {
	const design = `stock ply { material = "ply of no name"; thick = 3 }
laser bench { kerf = 0.2; quiet = caution }
orders "o.csv" { name = text }
panel tag { width = 80; height = 40
 region r { width = 6; height = 15; engrave text order.name } }
`
	r := tagBatch(t, t.TempDir(), design, Options{}, 0, "鳥")
	got := map[string]string{}
	for _, d := range r.Diagnostics {
		got[string(d.Code)] = filepath.Base(d.Span.File.Name())
	}
	if got["unknown-material"] != "tag.fore" || got["glyph"] != "o.csv" {
		t.Errorf("%v", got)
	}
}

// Of covers of two stocks each order's list names each of its sheets once, in
// their order.
func TestSheetsOfTwoStocks(t *testing.T) {
	const design = `stock ply { material = "ply"; thick = 3; quiet = unknown-material }
stock card { material = "card"; thick = 1; quiet = unknown-material }
laser bench { bed = 200 by 101; kerf = 0.2; quiet = caution }
orders "o.csv" { name = text; copies = count default 5 }
panel tag { stock = ply; width = 80; height = 40; region r { width = 60; height = 15; engrave text order.name } }
panel slip { stock = card; width = 80; height = 40 }
`
	r := tagBatch(t, t.TempDir(), design, Options{Together: true}, 0, "Ada", "Bo")
	if r.Err != nil || len(r.Made) != 2 {
		t.Fatalf("%v %v", r.Err, r.Diagnostics)
	}
	// Four to a sheet, each stock on its own, one after the other.
	want := [][]string{{"sheet-0001.svg", "sheet-0002.svg", "sheet-0004.svg", "sheet-0005.svg"}, {"sheet-0002.svg", "sheet-0003.svg", "sheet-0005.svg", "sheet-0006.svg"}}
	for i, m := range r.Made {
		if !slices.Equal(m.Files, want[i]) {
			t.Errorf("order %s lies on %v, want %v", m.Order, m.Files, want[i])
		}
	}
}

// That covers lie alone for a margin is told of a batch, too.
func TestBatchOfAWideMargin(t *testing.T) {
	const design = `stock ply { material = "ply"; thick = 3; margin = 60; quiet = unknown-material }
laser bench { bed = 200 by 200; kerf = 0.2; quiet = caution }
orders "o.csv" { name = text }
panel tag { width = 70; height = 70; region r { width = 60; height = 15; engrave text order.name } }
`
	r := tagBatch(t, t.TempDir(), design, Options{Together: true}, 0, "Ada", "Bo", "Cy")
	if told := diagtest.Text(r.Diagnostics); len(r.Made) != 3 || strings.Count(told, "3 parts of ply take a whole sheet each, for a margin of 60 mm") != 1 {
		t.Errorf("%v %s", r.Err, told)
	}
}

// That no parts share a cut is told of orders that lie together, once, and of none where some do.
func TestBatchThatSharesNothing(t *testing.T) {
	for corners, want := range map[string]int{"radius 5": 1, "square": 0} {
		design := `stock ply { material = "ply"; thick = 3; shared-cuts = yes; quiet = unknown-material }
laser bench { bed = 200 by 200; kerf = 0.2; quiet = caution }
orders "o.csv" { name = text }
panel tag { width = 70; height = 70; corners = ` + corners + `; region r { width = 60; height = 15; engrave text order.name } }
`
		r := tagBatch(t, t.TempDir(), design, Options{Together: true}, 0, "Ada", "Bo", "Cy")
		if told := diagtest.Text(r.Diagnostics); len(r.Made) != 3 || strings.Count(told, "no parts of ply share a cut") != want {
			t.Errorf("%s: %v %s", corners, r.Err, told)
		}
	}
}

// A ticket takes its place before the files that it names: a batch that is killed
// between the two leaves none that no ticket knows.
func TestTicketComesFirst(t *testing.T) {
	table := &orders.Table{Rows: []orders.Row{{Number: "7"}}}
	w := &writer{run: &run{table: table, names: []string{"7-ada"}, result: &Result{}}}
	if err := w.order(0, made{files: []disk.File{{Path: "7-ada.svg"}, {Path: "7-ada.dxf"}}}); err != nil {
		t.Fatal(err)
	}
	if len(w.files) != 3 || w.files[0].Path != "7-ada.txt" {
		t.Errorf("%v", w.files)
	}
}

// What a spreadsheet would take for a formula (OWASP, "CSV Injection") is a text in the
// list; all else is as it is.
func TestNoFormula(t *testing.T) {
	for text, want := range map[string]string{"=1+1": "'=1+1", "+49": "'+49", "-": "'-", "@x": "'@x", "\tx": "'\tx", "  =lead": "'  =lead", "\u00a0\u200b@x": "'\u00a0\u200b@x", "＝1": "'＝1", " ": " ", " Ada": " Ada", "": "", "Ada": "Ada", "1-2": "1-2", "'x": "'x"} {
		if got := noFormula(text); got != want {
			t.Errorf("%q is listed as %q, want %q", text, got, want)
		}
	}
	dir := t.TempDir()
	if r := tagBatch(t, dir, tag, Options{}, 0, "=1+1"); r.Err != nil || r.Done != 1 {
		t.Fatalf("%v %v", r.Err, r.Diagnostics)
	}
	if list, want := foretest.Contents(t, filepath.Join(dir, "cut"))["made.csv"], ",'=1+1 | =1+1,'=1+1\n"; !strings.HasSuffix(list, want) {
		t.Errorf("the list is %q, want it to end with %q", list, want)
	}
}

// A text of several lines is listed as one, and a tab in it is a blank.
func TestOneLine(t *testing.T) {
	if got, want := line("Ada\tof\nthe\u2028Old\u2029Mill\u0081"), "Ada of⏎the⏎Old⏎Mill�"; got != want {
		t.Errorf("listed as %q, want %q", got, want)
	}
}

// A packing list that a spreadsheet has saved, without the mark at its beginning and with
// other line ends, still holds what it held.
func TestHolds(t *testing.T) {
	now := []byte(byteOrderMark + "order,line\n0001,2\n")
	for text, want := range map[string]bool{"order,line\r\n0001,2,sent\r\n": true, byteOrderMark + "order,line\n0001,2\nall\n": true, "order,line\n0001,3\n": false} {
		if got := holds([]byte(text), now); got != want {
			t.Errorf("%q: %v, want %v", text, got, want)
		}
		if !ours([]byte(strings.Replace(text, "order,line", tableBegins, 1))) {
			t.Errorf("%q isn't known as a packing list", text)
		}
	}
}
