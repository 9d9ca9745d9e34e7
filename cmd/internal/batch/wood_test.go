package batch

import (
	"context"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/svg"
	"foredge/lang/diag/diagtest"
	"foredge/lang/foretest"
)

// woodBatch makes orders, each with files of its own, of a design with a stock that says so much of
// its wood. It gives what each lies on, by its number.
func woodBatch(t *testing.T, dir, stock, rows string, opts Options) (on map[string]string, r *Result) {
	t.Helper()
	path := filepath.Join(dir, "lid.fore")
	laser, scale := "", "scale-x = 1.01; " // which is the laser's
	if rest, scaled := strings.CutPrefix(stock, scale); scaled {
		laser, stock = scale, rest
	}
	if !strings.Contains(stock, "size = ") {
		stock = "size = 620 by 410; " + stock
	}
	foretest.Write(t, path, `laser bench { `+laser+`kerf = 0.2; bed = 620 by 410; quiet = caution }
orders "o.csv" { number = text; wide = length; copies = count default 1 }
stock oak { thick = 4; `+stock+` }
panel lid { stock = oak; width = order.wide; height = 190 }
`)
	foretest.Write(t, filepath.Join(dir, "o.csv"), "number,wide,copies\n"+rows)
	opts.Folder, opts.Keep, opts.Encoders = filepath.Join(dir, "cut"), true, []export.Encoder{svg.Encoder{}}
	r = Run(context.Background(), driver.NewSession(nil), path, opts)
	on = map[string]string{}
	for name, data := range foretest.Contents(t, opts.Folder) {
		if m := regexp.MustCompile(`offcut of ([0-9]+ by [0-9]+)`).FindStringSubmatch(data); strings.HasSuffix(name, ".svg") {
			if on[stem(name)] = "sheet"; m != nil {
				on[stem(name)] = m[1]
			}
		}
	}
	return on, r
}

// A piece of wood that an order with files of its own has taken isn't there for the next, and one
// that is made several times takes as many.
func TestWoodOfOrdersApart(t *testing.T) {
	const both = "offcuts = 330 by 240, 280 by 210"
	for _, test := range []struct{ stock, rows, want, bad string }{
		{both, "1,250,1\n2,250,1\n3,250,1\n", "1 280 by 210; 2 330 by 240; 3 sheet", ""},
		{"quantity = 0; " + both, "1,250,1\n2,300,1\n", "1 280 by 210; 2 330 by 240", ""},
		{both, "1,300,1\n2,300,1\n3,250,1\n", "1 330 by 240; 2 sheet; 3 280 by 210", ""},
		{both, "1,250,2\n2,250,1\n", "1 280 by 210; 2 sheet", ""},
		{both + ", 600 by 400", "1,250,2\n2,250,1\n", "1 280 by 210; 2 600 by 400", ""},
		{both, "1,250,3\n2,250,1\n", "1 sheet; 2 280 by 210", ""},
		{both + " less 10 by 5 at tail-right", "1,250,2\n", "1 280 by 210", ""},
		{"offcuts = 330 by 240 less 40 by 20 at tail-right, 280 by 210", "1,250,2\n", "1 sheet", ""},
		{"knife = yes; " + both, "1,250,2\n2,250,1\n", "1 sheet; 2 280 by 210", ""},
		{"offcuts = 280 by 210, 330 by 240, 280 by 210", "1,250,2\n2,250,1\n", "1 280 by 210; 2 330 by 240", ""},
		{"quantity = 2", "1,250,1\n2,250,1\n3,250,1\n", "1 sheet; 2 sheet", "3: 0 sheets of oak are too few: 1 part is left over; 2 sheets are taken already"},
		{"quantity = 2", "1,250,3\n2,250,1\n", "2 sheet", "1: 2 sheets of oak are too few: it is made 3 times, and takes 1 sheet each time"},
		{"quantity = 0", "1,250,3\n", "", "1: 0 sheets of oak are too few: it is made 3 times, and takes 1 sheet each time"},
		{"quantity = 4; offcuts = 280 by 210", "1,500,2\n2,500,3\n", "1 sheet",
			"2: 2 sheets and 1 offcut of oak are too few: it is made 3 times, and takes 1 sheet each time; 2 sheets are taken already"},
		{"quantity = 0; offcuts = 330 by 240", "1,500,1\n2,250,1\n3,250,1\n", "2 330 by 240",
			"1: 0 sheets and 1 offcut of oak are too few: 1 part is left over; 3: 0 sheets of oak are too few: 1 part is left over; 0 sheets and 1 offcut are taken already"},
		{"quantity = 1", "1,250,1\n2,900,1\n3,250,1\n", "1 sheet", "2: lid, 900 mm by 190 mm, is larger than a sheet of oak, which is 620 mm by 410 mm; " +
			"3: 0 sheets of oak are too few: 1 part is left over; 1 sheet is taken already"},
	} {
		on, r := woodBatch(t, t.TempDir(), test.stock, test.rows, Options{})
		foretest.Must(t, r.Err)
		var got, bad []string
		for _, name := range slices.Sorted(maps.Keys(on)) {
			got = append(got, name+" "+on[name])
		}
		for _, b := range r.Bad {
			bad = append(bad, b.Order+": "+b.Why[0].Message)
		}
		// What quantity is told to be raised by does, and less doesn't.
		m := regexp.MustCompile(`raise quantity by ([0-9]+)`).FindStringSubmatch(diagtest.Text(r.Diagnostics))
		for less := 0; less < 2 && m != nil && len(r.Bad) == 1; less++ {
			raised := regexp.MustCompile(`quantity = [0-9]+`).ReplaceAllStringFunc(test.stock, func(line string) string {
				n, more := 0, 0
				fmt.Sscanf(line, "quantity = %d", &n)
				fmt.Sscan(m[1], &more)
				return fmt.Sprintf("quantity = %d", n+more-less)
			})
			if _, again := woodBatch(t, t.TempDir(), raised, test.rows, Options{}); slices.ContainsFunc(again.Bad, func(b Bad) bool { return b.Order == r.Bad[0].Order }) != (less > 0) {
				t.Errorf("%s, %q: with %s %v", test.stock, test.rows, raised, again.Bad)
			}
		}
		if strings.Join(got, "; ") != test.want || strings.Join(bad, "; ") != test.bad {
			t.Errorf("%s, %q: lie on %q, bad are %q", test.stock, test.rows, got, bad)
		}
	}
}

// Where the offcuts of an order that is made several times aren't equal, its page is that of the smallest, and its ticket names the others.
func TestFurtherOffcuts(t *testing.T) {
	const three = "offcuts = 330 by 240, 620 by 410, 280 by 210"
	for _, test := range []struct{ offcuts, rows, want string }{
		{three, "1,250,2\n", "an offcut of oak, 280 mm by 210 mm; the second time it is cut on one of 330 mm by 240 mm, laid with head and left edge where this one has them"},
		{three, "1,250,3\n", "an offcut of oak, 280 mm by 210 mm; the further times it is cut on one of 330 mm by 240 mm and on one of 620 mm by 410 mm, laid with"},
		{three, "1,250,1\n", "an offcut of oak, 280 mm by 210 mm\n"},
		// None waits for one on which the board has no room.
		{"offcuts = 330 by 240, 280 by 210, 320 by 240 less 70 by 70 at tail-right", "1,250,2\n", "an offcut of oak, 280 mm by 210 mm; the second time it is cut on one of 330 mm by 240 mm"},
		// One of which less is gone at the same place holds as much, not where more is.
		{"offcuts = 280 by 210 less 9 by 8 at head-right, 280 by 210 less 8 by 8 at head-right, 280 by 210 less 8 by 9 at head-left", "1,250,2\n",
			"an offcut of oak, 280 mm by 210 mm, 9 mm by 8 mm of it gone at head-right; the second time it is cut on one of 280 mm by 210 mm, 8 mm by 8 mm of it gone at head-right, laid"},
		// None is kept for one on which the board would lie across the grain.
		{"grain = along height; quantity = 0; offcuts = 270 by 210, 290 by 310, 210 by 280", "1,250,2\n", "an offcut of oak, 270 mm by 210 mm, the grain along the height; the second time it is cut on one of 290 mm by 310 mm"},
		// One that hangs over the bed lies as it is stated.
		{"offcuts = 623 by 240, 624 by 240", "1,250,2\n", "an offcut of oak, 623 mm by 240 mm, which hangs over the bed; the second time it is cut on one of 624 mm by 240 mm"},
		{"offcuts = 330 by 240, 280 by 210, 250 by 200", "1,250,2\n", "an offcut of oak, 280 mm by 210 mm; the second time it is cut on one of 330 mm by 240 mm"},
	} {
		dir := t.TempDir()
		_, r := woodBatch(t, dir, test.offcuts, test.rows, Options{})
		foretest.Must(t, r.Err)
		if ticket := foretest.Read(t, filepath.Join(dir, "cut", "1.txt")); !strings.Contains(ticket, test.want) {
			t.Errorf("%s, %s: %s isn't said in\n%s", test.offcuts, test.rows, test.want, ticket)
		}
	}
}

// What orders lie on is the same however many processors make them, whether they are made in one go
// or go on, and what is told before anything is made is what is made.
func TestWoodOfManyOrders(t *testing.T) {
	var rows, offcuts strings.Builder
	for i := range 40 {
		fmt.Fprintf(&rows, "%d,%d,%d\n", i+1, 150+7*(i*11%13), 1+i%3)
		fmt.Fprintf(&offcuts, ", %d by %d", 200+5*(i*7%11), 200+10*(i%2))
	}
	stock := "quantity = 30; offcuts = 210 by 200" + offcuts.String()
	var first map[string]string
	dir := t.TempDir()
	for _, workers := range []int{1, 2, 5} {
		before := runtime.GOMAXPROCS(workers)
		foretest.Must(t, os.RemoveAll(filepath.Join(dir, "cut")))
		on, r := woodBatch(t, dir, stock, rows.String(), Options{})
		runtime.GOMAXPROCS(before)
		foretest.Must(t, r.Err)
		if len(r.Bad) == 0 || len(r.Made)+len(r.Bad) != 40 || len(on) != len(r.Made) {
			t.Fatalf("%d made, %d bad", len(r.Made), len(r.Bad))
		}
		now := foretest.Contents(t, filepath.Join(dir, "cut"))
		if first == nil {
			first = now
		}
		if !maps.Equal(now, first) {
			t.Errorf("with %d processors it is another batch", workers)
		}
		for name := range now {
			if strings.HasPrefix(name, "2") {
				foretest.Must(t, os.Remove(filepath.Join(dir, "cut", name)))
			}
		}
		if _, r = woodBatch(t, dir, stock, rows.String(), Options{Resume: true}); r.Err != nil || !maps.Equal(foretest.Contents(t, filepath.Join(dir, "cut")), first) {
			t.Errorf("gone on with it is another batch: %v", r.Err)
		}
	}
}

// An order that only moved to other wood, as one before it was withdrawn, isn't to be cut again: that is only a
// note. One that is another is, also where only the machine's scale is, or somebody changed its file.
func TestMovedToOtherWood(t *testing.T) {
	const two = "offcuts = 330 by 240, 280 by 210"
	const moved = "note: order 2: the files there had another content, and were made anew; what they cut is as it was, and may lie on other wood"
	const changed = "warning: order 2: the files there had another content, and were made anew ["
	for _, test := range []struct{ stock, rows, want string }{
		{two, "2,250,1\n3,250,1\n", strings.Replace(moved, "order 2", "orders 2, 3", 1)},
		{two, "2,250,2\n", moved},
		{two, "2,251,1\n", changed},
		{two + "; kerf = 0.3", "2,250,1\n", changed},
		{"scale-x = 1.01; " + two, "2,250,1\n", changed},
		{two + `; material = "oak"`, "2,250,1\n", changed},
		{"quantity = 9", "2,250,1\n", moved},
		{two, "1,250,1\n2,250,1\n3,250,1\n", ""},
		{two, "hand", changed},
	} {
		dir := t.TempDir()
		if _, r := woodBatch(t, dir, two, "1,250,1\n2,250,1\n3,250,1\n", Options{}); r.Err != nil {
			t.Fatal(r.Err)
		}
		opts := Options{Resume: true}
		if test.rows == "hand" {
			path := filepath.Join(dir, "cut", "2.svg")
			foretest.Write(t, path, strings.Replace(foretest.Read(t, path), "<svg", "<svg ", 1))
			test.rows, opts.Force = "1,250,1\n2,250,1\n", true
		}
		_, r := woodBatch(t, dir, test.stock, test.rows, opts)
		foretest.Must(t, r.Err)
		told := diagtest.Text(r.Diagnostics)
		if !strings.Contains(told, test.want) || test.want == "" && strings.Contains(told, "made-anew") {
			t.Errorf("%s, %q: want %q, told\n%s", test.stock, test.rows, test.want, told)
		}
	}
}

// A batch of orders with files of their own warns of how parts lie, as a build of the design does.
func TestUnmeantOfOrdersApart(t *testing.T) {
	for stock, want := range map[string]string{
		"margin = 120": "3 parts of oak take a whole sheet each, for a margin of 120 mm",
		"spacing = 0":  "edges of more and more.2 lie on one line, which the laser cuts twice",
		"":             "",
	} {
		_, r := woodBatch(t, t.TempDir(), stock+" }\npanel more { stock = oak; width = 200; height = 150; copies = 2", "1,250,1\n2,250,1\n", Options{})
		foretest.Must(t, r.Err)
		got := strings.Join(append(messages(r, "lies-alone"), messages(r, "cut-twice")...), "; ")
		if got != want {
			t.Errorf("%q: told %q", stock, got)
		}
	}
}

// What is left of a sheet that was sawn for an order is the next one's once the stock states it.
func TestSawnOrdersApart(t *testing.T) {
	for stock, bad := range map[string]string{
		"size = 620 by 800; quantity = 1":                       "2: 0 sheets of oak are too few: 1 part is left over; 1 sheet is taken already",
		"size = 620 by 800; quantity = 1; offcuts = 620 by 390": "",
	} {
		_, r := woodBatch(t, t.TempDir(), stock, "1,600,1\n2,600,1\n", Options{})
		foretest.Must(t, r.Err)
		var got []string
		for _, b := range r.Bad {
			got = append(got, b.Order+": "+b.Why[0].Message)
		}
		if strings.Join(got, "; ") != bad {
			t.Errorf("%q: bad are %q", stock, got)
		}
	}
}
