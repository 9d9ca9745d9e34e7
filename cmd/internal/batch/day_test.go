package batch

import (
	"bytes"
	"context"
	"encoding/csv"
	"fmt"
	"maps"
	"math"
	"os"
	"path/filepath"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"testing"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/exporttest"
	"foredge/export/svg"
	"foredge/lang/foretest"
)

// A shop's day: 200 orders in three scripts as a shop's program has exported them, thirty
// of two items, twelve rows of which none can be made.
const (
	dayOrders   = 200
	dayTwoItems = 30
)

// dayDesign has two boards an order, of two stocks, on sheets.
const dayDesign = `laser bench { bed = 600 by 400; kerf = 0; quiet = caution }
stock ply { thick = 4; size = 600 by 300 }
stock card { thick = 1.5; size = 400 by 300 }
orders "orders.csv" {
  number = text from "Order #"
  name   = text from "Text (line 1)"
  copies = count from "Qty (item) #" default 1
  motif  = one of "tern", "gull" from "Motif" default "tern"
  clean  = yes
}
panel front { stock = ply; width = 90; height = 60
  region title { head = 5; width = 80; height = 20; engrave text order.name { cap <= 8; fit = shrink } }
  region no { tail = 4; width = 80; height = 8; engrave text order.tag { cap = 3 } } }
panel leaf { stock = card; width = 80; height = 50
  region motif { width = 60; height = 20; engrave text order.motif { cap = 5 } } }
`

// A dayRow is a row as its customer meant it.
type dayRow struct {
	number, name, qty, motif string
	raw                      string // how its name stands in the table
	bad                      bool
}

// day invents the rows. Bad ones are those that are marked here.
func day() []dayRow {
	given := [][]string{
		{"Ada", "Zoë", "Bjørn", "Éloïse", "Søren", "Tom & Ann", "O'Neill"},
		{"Ирина", "Пётр", "Светлана", "Юрий", "Жанна"},
		{"Ελένη", "Νίκος", "Ψυχή", "Οδυσσέας"},
	}
	last := [][]string{{"Quill", "Mill", "Oak", "Tern"}, {"Морская", "Чайкин"}, {"Ψαρού", "Βαφέας"}}
	spoil := []func(string) string{
		func(s string) string { return s },
		func(s string) string { return "  " + s + " " },
		func(s string) string { return "<p>" + strings.ReplaceAll(s, "&", "&amp;") + "</p>" },
		func(s string) string { return strings.ReplaceAll(s, " ", "&nbsp;") },
		func(s string) string { return s + "\u200b" },
		func(s string) string { return `"` + s + `"` },
	}
	bad := []dayRow{
		{name: "", raw: ""}, {name: "Ada\ufffd", raw: "Ada\ufffd"}, {name: "Ada", raw: "Ada", qty: "0"}, {name: "Ada", raw: "Ada", qty: "two"},
		{name: "Ada", raw: "Ada", motif: "turn"}, {name: "", raw: "\u200b"},
	}
	var rows []dayRow
	for i := range dayOrders {
		script := i % 3
		items := 1
		if i%7 == 3 && i/7 < dayTwoItems {
			items = 2
		}
		for k := range items {
			name := given[script][(i/3)%len(given[script])] + " " + last[script][(i/5)%len(last[script])] + fmt.Sprintf(" %d", i+k*1000)
			r := dayRow{number: fmt.Sprintf("#%d", 5000+i), name: name, raw: spoil[(i+k)%len(spoil)](name), qty: []string{"1", "", "2"}[(i+k)%3], motif: []string{"tern", "", " GULL"}[i%3]}
			if k == 0 && i%16 == 8 { // twelve of 200
				b := bad[i/16%len(bad)]
				b.number, b.bad = r.number, true
				if b.qty == "" {
					b.qty = r.qty
				}
				if b.motif == "" {
					b.motif = r.motif
				}
				r = b
			}
			rows = append(rows, r)
		}
	}
	return rows
}

func dayTable(rows []dayRow) []byte {
	var b bytes.Buffer
	b.WriteString("\xef\xbb\xbfsep=;\r\n")
	w := csv.NewWriter(&b)
	w.Comma, w.UseCRLF = ';', true
	w.Write([]string{"Order #", "Date", "Text (line 1)", "Qty (item) #", "Motif"})
	for _, r := range rows {
		w.Write([]string{r.number, "3 May", r.raw, r.qty, r.motif})
	}
	w.Flush()
	return b.Bytes()
}

// From what to look at to tickets, with what was wrong put right in between: the packing
// list, the tickets and the sheets agree with the table, each read by other means than
// those that wrote it.
func TestShopsDay(t *testing.T) {
	dir := t.TempDir()
	path := filepath.Join(dir, "day.fore")
	rows := day()
	foretest.Must(t, os.WriteFile(path, []byte(dayDesign), 0o666))
	table := filepath.Join(dir, "orders.csv")
	foretest.Must(t, os.WriteFile(table, dayTable(rows), 0o666))
	opts := folder(filepath.Join(dir, "cut"))
	opts.Together, opts.Encoders = true, []export.Encoder{svg.Encoder{}}

	// The morning: what to look at. Each bad row is named by its order and its line.
	opts.Check = true
	r := Run(context.Background(), driver.NewSession(nil), path, opts)
	var want, got []string
	for i, row := range rows {
		if row.bad {
			want = append(want, fmt.Sprintf("%s in line %d", strings.TrimPrefix(row.number, "#"), i+3))
		}
	}
	for _, b := range r.Bad {
		order, _, _ := strings.Cut(b.Order, "-")
		got = append(got, fmt.Sprintf("%s in line %d", order, b.At.Line))
	}
	if r.Err != nil || len(want) != 12 || !slices.Equal(got, want) {
		t.Fatalf("%v: bad are %q, want %q; %v", r.Err, got, want, r.Diagnostics)
	}
	// The good ones are made, and what is told of them is on their tickets.
	opts.Check = false
	r = Run(context.Background(), driver.NewSession(nil), path, opts)
	if r.Err != nil || len(r.Bad) != 12 || len(r.Made) != len(rows)-12 {
		t.Fatalf("%v: %d made, %d bad of %d", r.Err, len(r.Made), len(r.Bad), len(rows))
	}
	agrees(t, opts.Folder, rows)

	// Noon: the bad rows are put right, and a customer's name is corrected.
	for i := range rows {
		if rows[i].bad {
			rows[i] = dayRow{number: rows[i].number, name: fmt.Sprintf("Mended %d", i), raw: fmt.Sprintf("Mended %d", i), qty: "1", motif: "tern"}
		}
	}
	rows[0].name, rows[0].raw = "Adda Quill", "Adda Quill"
	foretest.Must(t, os.WriteFile(table, dayTable(rows), 0o666))
	opts.Resume = true
	r = Run(context.Background(), driver.NewSession(nil), path, opts)
	if r.Err != nil || len(r.Bad) > 0 || len(r.Made) != len(rows) {
		t.Fatalf("%v: %d made, %d bad of %d", r.Err, len(r.Made), len(r.Bad), len(rows))
	}
	agrees(t, opts.Folder, rows)
	aside := foretest.Contents(t, filepath.Join(opts.Folder, asideName))
	maps.DeleteFunc(aside, func(name, _ string) bool { return strings.HasPrefix(name, sheetBegins) }) // on which other parts lie now
	if old := aside["5000-ada-quill-0.txt"]; len(aside) != 1 || !strings.Contains(old, "Order 5000 ") {
		t.Errorf("aside lie %d files", len(aside))
	}
}

var ticketPlace = regexp.MustCompile(`(?m)^  (\S+): on (\S+), number \d+ \(([\d.]+) mm from the left edge, ([\d.]+) mm from the top\)(; turned by a quarter)?$`)

// packingList reads a packing list: its lines, and where each column stands.
func packingList(t *testing.T, text string) (lines [][]string, column map[string]int) {
	t.Helper()
	lines, err := csv.NewReader(strings.NewReader(strings.TrimPrefix(text, byteOrderMark))).ReadAll()
	foretest.Must(t, err)
	column = map[string]int{}
	for i, heading := range lines[0] {
		column[heading] = i
	}
	return lines, column
}

// agrees holds the packing list, the tickets and the sheets in a folder against rows of
// the table.
func agrees(t *testing.T, folder string, rows []dayRow) {
	t.Helper()
	files := foretest.Contents(t, folder)
	packing, column := packingList(t, files["made.csv"])
	sheets := map[string]*exporttest.File{}
	for name, data := range files {
		if end, is := strings.CutSuffix(name, ".svg"); is {
			sheets[end] = exporttest.ReadSVG(t, []byte(data))
		}
	}
	line, parts := 0, 0
	for _, m := range toMake(rows) {
		line++
		r, tag, copies := m.row, m.tag, m.copies
		list := func(heading string) string { return packing[line][column[heading]] }
		motif := strings.ToLower(strings.TrimSpace(r.motif))
		if motif == "" {
			motif = "tern"
		}
		got := fmt.Sprintln(list("order"), list("line"), list("copies"), list("lettered"), list("order.name"), list("order.number"), list("stock"))
		if want := fmt.Sprintln(tag, m.line, copies, r.name+" | "+tag+" | "+motif, r.name, r.number, "ply, 4 mm thick; card, 1.5 mm thick"); got != want {
			t.Errorf("the packing list has %q, want %q", got, want)
		}
		// Every board of every copy lies where the ticket says.
		ticket := files[list("ticket")]
		if copies > 1 && !strings.Contains(ticket, fmt.Sprintf("To run once each, as all %d of this order lie on them: ", copies)) || r.raw != r.name && !strings.Contains(ticket, "in the table ") {
			t.Errorf("the ticket of %s is\n%s", tag, ticket)
		}
		places := map[string]bool{}
		for _, at := range ticketPlace.FindAllStringSubmatch(ticket, -1) {
			parts++
			places[at[1]] = true
			sheet := sheets[at[2]]
			if sheet == nil || !strings.Contains(list("files"), at[2]+".svg") {
				t.Fatalf("%s lies on %s, of %s", at[1], at[2], list("files"))
			}
			corner := sheet.Shape(t, "cut."+at[1]+".outline").Box().Min
			if left, top := number(at[3]), number(at[4]); math.Abs(corner.X-left) > 1e-3 || math.Abs(corner.Y-top) > 1e-3 {
				t.Errorf("%s lies at %v on %s, the ticket says %v, %v", at[1], corner, at[2], left, top)
			}
		}
		for copy := range copies {
			name := tag
			if copy > 0 {
				name = fmt.Sprintf("%s-%d", tag, copy+1)
			}
			if !places[name+".front"] || !places[name+".leaf"] {
				t.Errorf("the ticket of %s doesn't say where %s lies:\n%s", tag, name, ticket)
			}
		}
	}
	outlines := 0
	for name, data := range files {
		if strings.HasSuffix(name, ".svg") {
			outlines += strings.Count(data, `.outline"`)
		}
	}
	if line != len(packing)-1 || outlines != parts {
		t.Errorf("%d orders and %d parts, and the list has %d, the sheets %d", line, parts, len(packing)-1, outlines)
	}
}

// A making is a row that an order can be made of: its line in the table, by which tag and
// how often.
type making struct {
	row    *dayRow
	line   int
	tag    string
	copies int
}

// toMake are the rows of a day that can be made. The header is the second line.
func toMake(rows []dayRow) []making {
	of, item := map[string]int{}, map[string]int{}
	for _, r := range rows {
		of[r.number]++
	}
	var all []making
	for i := range rows {
		r := &rows[i]
		if item[r.number]++; r.bad {
			continue
		}
		tag := strings.TrimPrefix(r.number, "#")
		if of[r.number] > 1 {
			tag = fmt.Sprintf("%s-i%d", tag, item[r.number])
		}
		all = append(all, making{r, i + 3, tag, max(1, atoi(r.qty))})
	}
	return all
}

func atoi(s string) int { n, _ := strconv.Atoi(s); return n }

func number(s string) float64 { x, _ := strconv.ParseFloat(s, 64); return x }
