package batch

import (
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/svg"
	"foredge/lang/diag"
	"foredge/lang/foretest"
)

const corpus = "../../../testdata/corpus"

// An invented order, and whether it can be made: by what the Go fonts and the
// single-line fonts say that they hold, not by trying.
type order struct {
	name, initials, copies string
	good                   bool
}

// invent makes orders as customers write them. Each comes from one of the kinds
// that a shop meets.
func invent(rnd *rand.Rand) order {
	pick := func(words ...string) string { return words[rnd.IntN(len(words))] }
	o := order{copies: pick("1", "1", "", "2"), initials: pick("", "", "AQ", "LY", "ØÅ", "ß"), good: true}
	latin := func() string {
		return pick("Ada", "Léa", "Zoë", "Søren", "Łucja", "Ñandú", "Œuvre", "Žofia", "Þóra", "Ğülşen", "Ioan") + " " +
			pick("Quill", "d'Ys", "O’Neill", "Ægirsson", "Ibarra-Núñez", "Strauß", "Šimek", "van der Meer", "Håkansson", `"Nan" Lee`, "Mill, of the Sea")
	}
	switch kind := rnd.IntN(16); kind {
	case 0, 1, 2, 3, 4:
		o.name = latin()
	case 5:
		o.name = pick("Οδυσσέας", "Ελένη", "Νίκη", "עדה", "ليلى") + " " + pick("Βαφέας", "Ψαρού", "לביא")
	case 6:
		o.name = strings.Repeat(latin()+" ", 4+rnd.IntN(8)) + "the Last" // shrinks
	case 7:
		o.name = " " + latin() + "  " // odd, but it can be made
	case 8:
		o.name, o.good = pick("鳥", "海 Tern"), false
	case 9:
		o.name, o.good = pick("นก", "Ada ทะเล"), false
	case 10:
		o.name, o.good = latin()+pick(" 😀", " ❤️", "👩‍👧", " 🇬🇷"), false
	case 11:
		o.name, o.good = latin()+pick("\x07", "\x00", "\x1b[2J"), false
	case 12:
		o.name, o.initials, o.good = pick("", "   "), "AQ", false // with nothing in it the row would be no order
	case 13:
		o.name, o.copies, o.good = latin(), pick("0", "-1", "two", "1.5", "1001"), false
	case 14:
		o.name, o.good = strings.Repeat("x", 2001), false
	case 15:
		o.name = pick("../../etc/passwd", `C:\con`, "a/b", ".hidden", "con", "=1+1", "%s%n", "<b>&amp;</b>", "'; drop --")
	}
	return o
}

// run makes a batch of the corpus's gift, with other orders.
func runGift(t testing.TB, orders []byte, opts Options) *Result {
	t.Helper()
	if orders != nil {
		opts.Orders = filepath.Join(t.TempDir(), "orders.csv")
		if err := os.WriteFile(opts.Orders, orders, 0o666); err != nil {
			t.Fatal(err)
		}
	}
	if opts.Encoders == nil {
		opts.Encoders = export.CutFiles(export.Options{})
	}
	r := Run(context.Background(), driver.NewSession(nil), filepath.Join(corpus, "gift.fore"), opts)
	if r.Err != nil {
		t.Fatal(r.Err)
	}
	return r
}

func folder(dir string) Options {
	return Options{Options: driver.Options{Naming: driver.Naming{Folder: dir}}, Keep: true}
}

// A batch of 1,000 orders of every kind ends with every good order made, every
// bad one named by its line, and nothing else.
func TestThousandOrders(t *testing.T) {
	rnd := rand.New(rand.NewPCG(20, 26))
	var table bytes.Buffer
	w := csv.NewWriter(&table)
	w.Write([]string{"name", "initials", "copies"})
	all := make([]order, foretest.Sample(1000, 120))
	for i := range all {
		all[i] = invent(rnd)
		w.Write([]string{all[i].name, all[i].initials, all[i].copies})
	}
	// Two rows that no writer would make.
	w.Flush()
	table.WriteString("Bo \"Bee\" Oak,,1\nCy,,1,1\nThe Last,,1\n")
	all = append(all, order{}, order{}, order{name: "The Last", good: true})

	dir := filepath.Join(t.TempDir(), "cut")
	r := runGift(t, table.Bytes(), folder(dir))
	var want, wrong []string
	for i, o := range all {
		if o.good {
			want = append(want, fmt.Sprintf("%04d", i+1))
		} else {
			wrong = append(wrong, fmt.Sprintf("%04d in line %d", i+1, i+2))
		}
	}
	var got, bad []string
	for _, m := range r.Made {
		got = append(got, m.Order)
	}
	for _, b := range r.Bad {
		bad = append(bad, fmt.Sprintf("%s in line %d", b.Order, b.At.Line))
	}
	if !slices.Equal(got, want) {
		for i, o := range all {
			if name := fmt.Sprintf("%04d", i+1); slices.Contains(got, name) != o.good {
				t.Errorf("%s: %.60q, %q, %q can be made: %v", name, o.name, o.initials, o.copies, !o.good)
			}
		}
		t.Fatalf("made %d orders, want %d: %v", len(got), len(want), firstDifference(got, want))
	}
	if !slices.Equal(bad, wrong) {
		t.Fatalf("%d orders are bad, want %d: %v", len(bad), len(wrong), firstDifference(bad, wrong))
	}
	// The folder holds three files an order, and the two lists.
	files := foretest.Contents(t, dir)
	safe := regexp.MustCompile(`^[0-9]{4}(-[a-z0-9]+)*$`)
	for _, m := range r.Made {
		for _, name := range append(m.Files, m.Ticket) {
			if files[name] == "" || !safe.MatchString(strings.TrimSuffix(name, filepath.Ext(name))) || !strings.HasPrefix(name, m.Order) {
				t.Fatalf("order %s has the file %q of %d bytes", m.Order, name, len(files[name]))
			}
			delete(files, name)
		}
		if len(m.Files) != 2 {
			t.Fatalf("order %s has the files %q", m.Order, m.Files)
		}
	}
	for _, name := range []string{"made.csv", "made.json"} {
		if files[name] == "" {
			t.Errorf("there is no %s", name)
		}
		delete(files, name)
	}
	if len(files) > 0 {
		t.Errorf("%d files are of no order: %v", len(files), files)
	}
	// Each bad order is told on its own line of the table.
	told := map[int]bool{}
	for _, d := range r.Diagnostics {
		if d.Severity == diag.Error {
			if !strings.HasSuffix(d.Span.File.Name(), "orders.csv") {
				t.Fatalf("told of the design, not of an order: %v: %s", d.Span, d.Message)
			}
			told[d.Span.File.Position(d.Span.Start).Line] = true
		}
	}
	for _, b := range r.Bad {
		if !told[b.At.Line] {
			t.Errorf("nothing tells that line %d is bad", b.At.Line)
		}
	}
	if len(told) != len(r.Bad) {
		t.Errorf("%d lines are told to be bad, %d are", len(told), len(r.Bad))
	}
}

func firstDifference(got, want []string) string {
	for i := range min(len(got), len(want)) {
		if got[i] != want[i] {
			return fmt.Sprintf("%q, want %q", got[i], want[i])
		}
	}
	return "one list is longer"
}

var titles = regexp.MustCompile(`(?s)<title>.*?</title>`)

// An order's cut file is what build makes of the design with the order's texts
// written into it.
func TestOrderIsAsWrittenOut(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 7))
	design, err := os.ReadFile(filepath.Join(corpus, "gift.fore"))
	if err != nil {
		t.Fatal(err)
	}
	log, err := os.ReadFile(filepath.Join(corpus, "harbour-log.fore"))
	if err != nil {
		t.Fatal(err)
	}
	var all []order
	for len(all) < 20 {
		if o := invent(rnd); o.good && !strings.ContainsAny(o.name, `"\`) {
			all = append(all, o)
		}
	}
	var table bytes.Buffer
	w := csv.NewWriter(&table)
	w.Write([]string{"name", "initials"})
	for _, o := range all {
		w.Write([]string{o.name, o.initials})
	}
	w.Flush()
	dir := t.TempDir()
	opts := folder(dir)
	opts.Encoders = []export.Encoder{svg.Encoder{}}
	r := runGift(t, table.Bytes(), opts)
	if len(r.Made) != len(all) {
		t.Fatalf("made %d of %d", len(r.Made), len(all))
	}
	plain := t.TempDir()
	for i, o := range all {
		text := regexp.MustCompile(`(?s)orders .*?\n}\n`).ReplaceAllString(string(design), "")
		text = strings.NewReplacer("order.name", strconv.Quote(o.name), "order.initials", strconv.Quote(o.initials)).Replace(text)
		path := filepath.Join(plain, "gift.fore")
		os.WriteFile(path, []byte(text), 0o666)
		os.WriteFile(filepath.Join(plain, "harbour-log.fore"), log, 0o666)
		b := driver.NewSession(nil).Build(context.Background(), path, driver.Options{Encoders: []export.Encoder{svg.Encoder{}}})
		if !b.OK() {
			t.Fatalf("%q: %v %v", o.name, b.Err, b.Diagnostics)
		}
		got, err := os.ReadFile(filepath.Join(dir, r.Made[i].Files[0]))
		if err != nil {
			t.Fatal(err)
		}
		if got, want := titles.ReplaceAllString(unmarked(t, got), ""), titles.ReplaceAllString(unmarked(t, b.Files[0].Data), ""); got != want {
			t.Errorf("the cut file of %q differs from that of the design with the name in it", o.name)
		}
	}
}

// What is made depends on the orders alone, not on how many processors work.
func TestSameOnOneProcessor(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	var table bytes.Buffer
	w := csv.NewWriter(&table)
	w.Write([]string{"name", "initials", "copies"})
	for range 60 {
		o := invent(rnd)
		w.Write([]string{o.name, o.initials, o.copies})
	}
	w.Flush()
	var made [2]map[string]string
	for i, n := range []int{1, 7} {
		before := runtime.GOMAXPROCS(n)
		dir := t.TempDir()
		runGift(t, table.Bytes(), folder(dir))
		made[i] = foretest.Contents(t, dir)
		runtime.GOMAXPROCS(before)
	}
	// The table's path differs between the runs, and the sums of tickets with it; nothing
	// else may.
	for name, data := range made[0] {
		strip := regexp.MustCompile(`(of |"(orders|file)": ").*orders.csv|made by foredge.*`)
		if strip.ReplaceAllString(data, "") != strip.ReplaceAllString(made[1][name], "") {
			t.Errorf("%s differs between one processor and seven", name)
		}
	}
	if len(made[0]) != len(made[1]) || len(made[0]) < 60 {
		t.Errorf("%d and %d files were made", len(made[0]), len(made[1]))
	}
}

// What is wrong with the design is told once, at its place, however many
// orders there are.
func TestDesignErrorsAreToldOnce(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "gift.fore")
	os.WriteFile(path, []byte("orders \"o.csv\" { name = text }\npanel p {\n  width = 80; height = 10\n"+
		"  region r { width = 90; height = 5; engrave text order.name }\n}\n"), 0o666)
	os.WriteFile(filepath.Join(dir, "o.csv"), []byte("name\nAda\nBo\nCy\n"), 0o666)
	opts := folder(filepath.Join(dir, "cut"))
	opts.Encoders = []export.Encoder{svg.Encoder{}}
	r := Run(context.Background(), driver.NewSession(nil), path, opts)
	errors := 0
	for _, d := range r.Diagnostics {
		if d.Severity == diag.Error {
			errors++
			if filepath.Base(d.Span.File.Name()) != "gift.fore" {
				t.Errorf("told at %v", d.Span)
			}
		}
	}
	if errors != 1 || len(r.Made) > 0 || len(r.Bad) != 3 || r.Err != nil {
		t.Errorf("%d errors, %d made, %d bad, %v", errors, len(r.Made), len(r.Bad), r.Err)
	}
	if _, err := os.Stat(opts.Folder); err == nil {
		t.Error("a folder was made for nothing")
	}
}

// An order is told its own values, also where what is wrong with it begins as that of others
// does; what is wrong in the same words with all is told once.
func TestOrdersAreToldTheirOwnValues(t *testing.T) {
	dir := t.TempDir()
	for _, rule := range []struct{ line, want string }{
		{"check front.width <= 90 else \"too wide\"", "front.width is %d mm: off by %d mm"},
		{"front.width <= 90", "the others leave front.width at %d mm; this line asks for at most 90 mm: %d mm too far"},
	} {
		for table, widths := range map[string][]int{"50\n120\n121\n120": {120, 121, 120}, "120\n121\n150": {120, 121, 150}, "120\n120\n120": {120}} {
			path := filepath.Join(dir, "gift.fore")
			os.WriteFile(path, []byte("orders \"o.csv\" { w = length }\nlaser bench { kerf = 0.2; quiet = caution }\npanel front { width = order.w; height = 60 }\n"+rule.line+"\n"), 0o666)
			os.WriteFile(filepath.Join(dir, "o.csv"), []byte("w\n"+table+"\n"), 0o666)
			opts := folder(filepath.Join(dir, "cut"))
			opts.Check = true
			r := Run(context.Background(), driver.NewSession(nil), path, opts)
			var b strings.Builder
			diag.WriteText(&b, r.Diagnostics, diag.TextOptions{})
			text := b.String()
			for _, w := range widths {
				want := fmt.Sprintf(rule.want, w, w-90)
				if !strings.Contains(text, want) {
					t.Errorf("%s, %q: want %q, told\n%s", rule.line, table, want, text)
				}
				text = strings.Replace(text, want, "", 1)
			}
			if strings.Contains(text, fmt.Sprintf(rule.want, 120, 30)) {
				t.Errorf("%s, %q: told too often:\n%s", rule.line, table, b.String())
			}
		}
	}
}

// Orders that lie together: every copy of every order on a sheet once, nothing
// past its edges, and the list says where.
func TestTogether(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "tag.fore")
	os.WriteFile(path, []byte("laser bench { bed = 300 by 200; kerf = 0.2 }\norders \"o.csv\" { name = text; copies = count default 1; wide = length default 60 }\n"+
		"panel tag { width = order.wide; height = 40\n region r { width = 40; height = 10; engrave text order.name } }\npanel back mirrors tag\n"), 0o666)
	os.WriteFile(filepath.Join(dir, "o.csv"), []byte("name,copies,wide\nAda,3,\nBo,1,120\nCy,7,80\nDi,1,400\nEd,1,"), 0o666)
	opts := folder(filepath.Join(dir, "cut"))
	opts.Together = true
	opts.Encoders = []export.Encoder{svg.Encoder{}}
	r := Run(context.Background(), driver.NewSession(nil), path, opts)
	if r.Err != nil || len(r.Made) != 4 || len(r.Bad) != 1 || r.Bad[0].At.Line != 5 {
		t.Fatalf("made %d, bad %v, %v, %v", len(r.Made), r.Bad, r.Err, r.Diagnostics)
	}
	files := foretest.Contents(t, opts.Folder)
	want := map[string]string{} // outline of a copy → the order whose list must name its sheet
	for _, m := range r.Made {
		for n := range m.Copies {
			name := m.Order
			if n > 0 {
				name = fmt.Sprintf("%s-%d", m.Order, n+1)
			}
			for _, part := range []string{"tag", "back"} {
				want[fmt.Sprintf(`id="cut.%s.%s.outline"`, name, part)] = m.Order
			}
		}
	}
	lists := map[string][]string{}
	for _, m := range r.Made {
		lists[m.Order] = m.Files
	}
	sheets := 0
	for name, data := range files {
		if !strings.HasPrefix(name, "sheet-") {
			continue
		}
		sheets++
		if !strings.Contains(data, `width="300mm" height="200mm"`) {
			t.Errorf("%s is not as large as the bed: %.200s", name, data)
		}
		for id, order := range want {
			if n := strings.Count(data, id); n == 1 {
				delete(want, id)
				if !slices.Contains(lists[order], name) {
					t.Errorf("%s lies on %s, and the list says %v", id, name, lists[order])
				}
			}
		}
	}
	// 24 parts with their gaps take 3 rows of 40 on a sheet of 200 less its margins.
	if len(want) > 0 || sheets < 2 {
		t.Errorf("%d sheets; not on any of them: %v", sheets, want)
	}
	var list struct{ Made []Made }
	if err := json.Unmarshal([]byte(files["made.json"]), &list); err != nil || len(list.Made) != 4 {
		t.Errorf("made.json: %v, %d", err, len(list.Made))
	}
}
