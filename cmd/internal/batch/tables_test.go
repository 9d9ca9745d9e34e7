package batch

import (
	"context"
	"fmt"
	"math/rand/v2"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"unicode/utf8"

	"foredge/cmd/internal/driver"
	"foredge/export"
	"foredge/export/svg"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
)

// A written is a text as it stands in a table that a shop's program has exported, with
// what its customer wrote.
type written struct {
	raw   string
	meant string // "" where nobody can know it
	told  bool   // it is told, where texts aren't cleaned
	still bool   // and where they are
	bad   bool   // no order can be made of it
}

// asWritten are texts that stand in tables, as a person reads them; none is taken from
// what the program makes of it.
func asWritten() []written {
	good := func(s string) written { return written{raw: s, meant: s} }
	odd := func(raw, meant string) written { return written{raw: raw, meant: meant, told: true} }
	lost := func(raw string) written { return written{raw: raw, told: true, still: true} }
	bad := func(raw string) written { return written{raw: raw, bad: true} }
	return []written{
		good("Ada Quill"), good("Zoë d’Ys"), good("Bjørn Ågård"), good("Ирина Морская"), good("Ελένη Ψαρού"), good("Łucja Śnieżka"), good("Tom & Ann"),
		good(`Bo "Bee" Oak`), good("Mill; of the Sea, Lower|End"), good("It’s"), good("R&D <3"), good("Who is it?"), good("Null"), good("'t Hooft"),
		odd("Tom &amp; Ann", "Tom & Ann"), odd("It&#39;s Ann", "It's Ann"), odd("Ren&eacute;e", "Renée"), odd("<b>Bob</b>", "Bob"), odd("<p>Cy Oak</p>", "Cy Oak"),
		odd("It&amp;#39;s", "It's"), odd("  Ada   Quill ", "Ada Quill"), odd(`"Bob"`, "Bob"), odd("O´Neill", "O’Neill"), odd("Itâ€™s Bo", "It’s Bo"), odd("ZoÃ« Oak", "Zoë Oak"),
		odd("Ada\u200b Quill", "Ada Quill"), odd("=?UTF-8?Q?Zo=C3=AB?=", "Zoë"), odd(`Zo\u00eb Oak`, "Zoë Oak"), odd("Ada_x000D_", "Ada"), odd("'0407", "0407"),
		lost("#N/A"), lost("NULL"), lost("{{name}}"), lost("Bj??rn"), lost("?????"), lost("Èðèíà"), lost("Ada undefined"), lost("n/a"), lost("#REF!"), lost("1.04E+05"), lost("${text}"),
		bad(""), bad("   "), bad("\u200b"), bad("Zo\ufffd"), bad("\u00a0"),
	}
}

// A form is how a shop's program writes tables.
type form struct {
	sep, end     string
	said         bool // the separator stands in a first line
	encoding     string
	write        encoding.Encoding
	headings     [5]string // number, note, name, quantity, motif
	clean        bool
	cut          bool // empty values at a row's end are left out
	gaps         bool // empty rows between orders
	quotedAlways bool
}

func formOf(i int) form {
	encodings := []struct {
		name  string
		write encoding.Encoding
	}{
		{"", unicode.UTF8}, {"", unicode.UTF8BOM}, {"", unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)}, {"windows-1252", charmap.Windows1252},
		{"", unicode.UTF8}, {"windows-1251", charmap.Windows1251}, {"iso-8859-2", charmap.ISO8859_2}, {"macintosh", charmap.Macintosh},
		{"", unicode.UTF16(unicode.BigEndian, unicode.UseBOM)}, {"windows-1253", charmap.Windows1253},
	}
	headings := [][5]string{
		{"number", "note", "name", "copies", "motif"}, {"Order #", "Note (internal)", "Text (line 1)", "Qty (item) #", "Motif: which?"},
		{"NUMBER", "Remark", "  Name ", "COPIES", "Motif"}, {"Order_#", "e-mail", "TEXT  (LINE 1)", "qty (item) #", "motif: WHICH?"},
	}
	e := encodings[i%len(encodings)]
	f := form{sep: []string{",", ";", "\t", "|"}[i/10%4], end: []string{"\n", "\r\n", "\r"}[i/40%3], encoding: e.name, write: e.write,
		headings: headings[(i/3)%4], clean: i%2 == 1 != (i/20%2 == 1), cut: i%3 == 0, gaps: i%4 == 1, quotedAlways: i%5 == 2}
	f.said = f.sep != "\t" && i%7 == 3
	return f
}

// line writes a row as RFC 4180 says, with another sign where that is asked for.
func (f form) line(cells ...string) string {
	if f.cut {
		for len(cells) > 1 && cells[len(cells)-1] == "" {
			cells = cells[:len(cells)-1]
		}
	}
	var out []string
	for _, c := range cells {
		if f.quotedAlways || strings.ContainsAny(c, f.sep+"\"\r\n") {
			c = `"` + strings.ReplaceAll(c, `"`, `""`) + `"`
		}
		out = append(out, c)
	}
	return strings.Join(out, f.sep) + f.end
}

// A want is what must come of a row.
type want struct {
	order    string
	line     int
	copies   int
	lettered string
	motif    string
	meant    string
	told     bool
	bad      bool
}

// table writes a table in a form, and says what must come of it.
func (f form) table(rnd *rand.Rand, texts []written) (data string, wants []want) {
	quantities := []struct {
		raw string
		n   int
	}{{"1", 1}, {"2", 2}, {"", 1}, {" 3 ", 3}, {"1", 1}, {"0", 0}, {"two", 0}, {"1.5", 0}}
	motifs := []struct{ raw, meant string }{{"tern", "tern"}, {"Tern", "tern"}, {" grey   GULL ", "grey gull"}, {"", "tern"}, {"grey gull", "grey gull"}, {"gul", ""}}
	var b strings.Builder
	line := 1
	write := func(s string) { b.WriteString(s); line++ }
	if f.said {
		write("sep=" + f.sep + f.end)
	}
	write(f.line(f.headings[:]...))
	number := 1000
	var of []int
	for i := range 10 {
		if i == 0 || rnd.IntN(4) > 0 {
			number++ // else a further item
		}
		w := texts[rnd.IntN(len(texts))]
		q, m := quantities[0], motifs[0]
		switch rnd.IntN(5) {
		case 0:
			q = quantities[rnd.IntN(len(quantities))]
		case 1:
			m = motifs[rnd.IntN(len(motifs))]
		}
		if f.gaps && i%3 == 1 {
			write(strings.Repeat(f.sep, 4) + f.end)
			write(f.end)
		}
		of = append(of, number)
		wants = append(wants, want{line: line, copies: q.n, motif: m.meant, bad: w.bad || q.n == 0 || m.meant == ""})
		now := &wants[len(wants)-1]
		now.lettered, now.meant, now.told = w.raw, w.meant, w.told
		if f.clean {
			now.told = w.still
			if w.meant != "" {
				now.lettered = w.meant
			}
		}
		write(f.line(fmt.Sprintf("#%d", number), fmt.Sprintf("note %d", i), w.raw, q.raw, m.raw))
	}
	for i := range wants {
		item, items := 0, 0
		for k := range of {
			if of[k] == of[i] {
				items++
				if k <= i {
					item++
				}
			}
		}
		if wants[i].order = fmt.Sprint(of[i]); items > 1 {
			wants[i].order = fmt.Sprintf("%d-i%d", of[i], item)
		}
	}
	return b.String(), wants
}

// Tables as the programs of shops export them, in all their separators, encodings, line
// ends, headings, items, codes and gaps: of each it is said what must come out, and
// nothing is lettered that its customer would not have written, without a word.
func TestTablesAsShopsExportThem(t *testing.T) {
	for i := range 120 {
		if i%3 > 0 && testing.Short() {
			continue // the fast tier tries 40 of them
		}
		f := formOf(i)
		var texts []written
		for _, w := range asWritten() {
			if back, err := f.write.NewEncoder().String(w.raw); err == nil {
				if again, err := f.write.NewDecoder().String(back); err == nil && strings.TrimPrefix(again, "\ufeff") == w.raw {
					texts = append(texts, w)
				}
			}
		}
		table, wants := f.table(rand.New(rand.NewPCG(uint64(i), 14)), texts)
		data, err := f.write.NewEncoder().String(table)
		if err != nil {
			t.Fatal(err)
		}
		if !f.clean && f.encoding != "" && utf8.ValidString(data) {
			// All that isn't ASCII in it has been written in UTF-8 before, and is read so.
			for k, w := range wants {
				if strings.ContainsAny(w.lettered, "Ãâ") {
					wants[k].lettered, wants[k].told = w.meant, false
				}
			}
		}
		t.Run(fmt.Sprintf("%03d", i), func(t *testing.T) { f.try(t, data, wants) })
	}
}

func (f form) try(t *testing.T, data string, wants []want) {
	dir := t.TempDir()
	says := ""
	if f.encoding != "" {
		says += fmt.Sprintf("; encoding = %q", f.encoding)
	}
	if f.clean {
		says += "; clean = yes"
	}
	design := fmt.Sprintf(`laser bench { kerf = 0.2; quiet = caution, small-text }
orders "o.csv" {
  number = text from "Order #", "number"; name = text from "Text (line 1)", "name"
  copies = count from "Qty (item) #", "copies" default 1; motif = one of "tern", "grey gull" from "motif", "Motif: which?" default "tern"%s
}
panel tag { thick = 3; width = 180; height = 60
 region r { head = 5; width = 170; height = 20; engrave text order.name { cap <= 6; fit = shrink } }
 region m { tail = 5; width = 90; height = 20; engrave text order.motif { cap = 6 } } }
`, says)
	path := filepath.Join(dir, "tag.fore")
	os.WriteFile(path, []byte(design), 0o666)
	os.WriteFile(filepath.Join(dir, "o.csv"), []byte(data), 0o666)
	opts := folder(filepath.Join(dir, "cut"))
	opts.Encoders = []export.Encoder{svg.Encoder{}}
	r := Run(context.Background(), driver.NewSession(nil), path, opts)
	if r.Err != nil {
		t.Fatal(r.Err)
	}
	opts.Check = true
	looked := Run(context.Background(), driver.NewSession(nil), path, opts)

	told, bad, seen := map[int]bool{}, map[int]bool{}, map[int]bool{}
	for _, d := range r.Diagnostics {
		if d.Code == "odd-text" {
			told[d.Span.File.Position(d.Span.Start).Line] = true
		}
	}
	for _, b := range r.Bad {
		bad[b.At.Line] = true
	}
	for _, s := range looked.Seen {
		seen[s.At.Line] = true
	}
	var got, want []string
	for _, m := range r.Made {
		got = append(got, fmt.Sprintf("%s in line %d, %d times: %q, %q", m.Order, m.At.Line, m.Copies, m.Lettered[0], m.Lettered[1]))
	}
	for _, w := range wants {
		if w.bad != bad[w.line] {
			t.Errorf("%s in line %d can't be made: %v, told %v", w.order, w.line, w.bad, bad[w.line])
		}
		if w.bad {
			continue
		}
		want = append(want, fmt.Sprintf("%s in line %d, %d times: %q, %q", w.order, w.line, w.copies, w.lettered, w.motif))
		if w.told != told[w.line] || w.told && !seen[w.line] {
			t.Errorf("line %d, %q: told %v, to look at %v, want %v", w.line, w.lettered, told[w.line], seen[w.line], w.told)
		}
	}
	if !slices.Equal(got, want) {
		t.Errorf("%+v\n%s\nmade\n%s\nwant\n%s\n%v", f, data, strings.Join(got, "\n"), strings.Join(want, "\n"), r.Diagnostics)
	}
}
