package orders

import (
	"bytes"
	"encoding/csv"
	"fmt"
	"reflect"
	"regexp"
	"strings"
	"testing"

	"foredge/lang/diag"
	"foredge/lang/unit"

	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"
)

func text(name string) Column   { return Column{Name: name, Kind: unit.Text} }
func counts(name string) Column { return Column{Name: name, Kind: unit.Count} }

func read(t *testing.T, data string, columns ...Column) *Table {
	t.Helper()
	table, diags := Read("orders.csv", []byte(data), Options{Columns: columns, Unit: unit.MM})
	if table == nil {
		t.Fatalf("%q can't be read: %s", data, told(diags))
	}
	return table
}

func told(l diag.List) string {
	var b strings.Builder
	diag.WriteText(&b, l, diag.TextOptions{})
	return b.String()
}

// What the rows of a table hold, whatever its separator, quotes and line ends.
func TestRead(t *testing.T) {
	want := [][2]string{{"Ada, of the Mill", "1"}, {`Bo "Bee" Oak`, "2"}, {"Léa\nd'Ys", "3"}, {" Ωmega ", "4"}}
	for _, data := range []string{
		"name,copies\n\"Ada, of the Mill\",1\n\"Bo \"\"Bee\"\" Oak\",2\n\"Léa\nd'Ys\",3\n Ωmega ,4\n",
		"\xef\xbb\xbfCopies;Name\r\n1;Ada, of the Mill\r\n2;\"Bo \"\"Bee\"\" Oak\"\r\n3;\"Léa\r\nd'Ys\"\r\n4; Ωmega \r\n;\r\n",
		"\n\"Name\"\tother\tCOPIES\n\"Ada, of the Mill\"\tx\t1\n\"Bo \"\"Bee\"\" Oak\"\t\t2\n\"Léa\nd'Ys\"\t\t3\n Ωmega \t\t4",
		"name,copies\r\"Ada, of the Mill\",1\r\"Bo \"\"Bee\"\" Oak\",2\r\"Léa\rd'Ys\",3\r Ωmega ,4\r",
	} {
		table := read(t, data, text("name"), counts("copies"))
		var got [][2]string
		for i, r := range table.Rows {
			if !r.OK() {
				t.Fatalf("%q: %s", data, told(r.Problems))
			}
			got = append(got, [2]string{r.Cells[0].Text, fmt.Sprint(table.Copies(i))})
		}
		if !reflect.DeepEqual(got, want) {
			t.Errorf("%q holds %q, want %q", data, got, want)
		}
	}
}

// Encodings are those of x/text: what its encoders write is read back.
func TestEncodings(t *testing.T) {
	const plain = "name,copies\nŁódź Ćma,1\n"
	for _, test := range []struct {
		name  string
		enc   transform.Transformer
		plain string
	}{
		{"windows-1252", charmap.Windows1252.NewEncoder(), "name,copies\nLéa d’Ys,1\n"},
		{"iso-8859-2", charmap.ISO8859_2.NewEncoder(), plain},
		{"windows-1251", charmap.Windows1251.NewEncoder(), "name,copies\nИрина,1\n"},
		{"macintosh", charmap.Macintosh.NewEncoder(), "name,copies\nZoë,1\n"},
		{"", unicode.UTF16(unicode.LittleEndian, unicode.UseBOM).NewEncoder(), plain},
		{"", unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewEncoder(), plain},
		{"utf-16le", unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM).NewEncoder(), plain},
		{"utf-8", transform.Nop, plain},
		{"windows-1252", unicode.UTF8BOM.NewEncoder(), plain}, // the mark wins
	} {
		data, _, err := transform.Bytes(test.enc, []byte(test.plain))
		if err != nil {
			t.Fatal(err)
		}
		table, diags := Read("o.csv", data, Options{Columns: []Column{text("name")}, Encoding: test.name})
		if table == nil {
			t.Errorf("%s: %s", test.name, told(diags))
			continue
		}
		want := strings.TrimSuffix(strings.SplitAfter(test.plain, "\n")[1], ",1\n")
		if got := table.Rows[0].Cells[0].Text; got != want {
			t.Errorf("%s: read %q, want %q", test.name, got, want)
		}
	}
}

// A wrong row is named by its place, and the rows about it are read.
func TestWrongRows(t *testing.T) {
	const data = "name,copies,size\n" + // 1
		"Ada,1,10\n" + // 2
		"Bo,x,10\n" + // 3
		",1,10\n" + // 4
		"Cleo,1\n" + // 5
		"Dan \"D\" Day,1,10\n" + // 6
		"\"Eve,1,10\n" + // 7
		"\"Finn\nFox\",1,10\n" + // 8, 9
		"Gil,1,\"10\"mm\n" + // 10
		"Höx,2,5 ells\n" + // 11
		"Ivo,0,3\n" + // 12
		"Jo,3,1 1/2 in\n" + // 13
		"\"Kit,1,10" // 14
	table := read(t, data, text("name"), counts("copies"), Column{Name: "size", Kind: unit.Length})
	var got []string
	for _, r := range table.Rows {
		if r.OK() {
			got = append(got, fmt.Sprintf("%d %s", r.Line, r.Cells[0].Text))
			continue
		}
		for _, d := range r.Problems {
			p := d.Span.File.Position(d.Span.Start)
			got = append(got, fmt.Sprintf("%d:%d %s", p.Line, p.Column, d.Code))
			if d.Help == "" {
				t.Errorf("nothing says what to do about %q", d.Message)
			}
		}
	}
	want := []string{"2 Ada", "3:4 value", "4:1 empty", "5:7 empty", "6:5 quotes", "7:1 quotes", "8 Finn\nFox", "10:10 quotes", "11:7 value",
		"12:5 copies", "13 Jo", "14:1 quotes"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("rows\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// Own numbers are unlike each other, also in what their files are called.
func TestOwnNumbers(t *testing.T) {
	table := read(t, "number,name\nA 1,Ada\na-1,Bo\nB/2,Cy\n...,Di\n", text("number"), text("name"))
	var got []string
	for _, r := range table.Rows {
		got = append(got, fmt.Sprint(r.Number, " ", r.OK()))
	}
	if want := []string{"a1 true", "a-1 false", "b2 true", "0004 false"}; !reflect.DeepEqual(got, want) {
		t.Errorf("numbers %q, want %q", got, want)
	}
	if same, none := table.Rows[1].Problems[0].Code, table.Rows[3].Problems[0].Code; same != "same-number" || none != "order-number" {
		t.Errorf("numbers that are wrong are told as %s and %s", same, none)
	}
	table = read(t, "number\n٣\nA٣\n３\n", text("number")) // Arabic threes, and a wide one, which is a 3 in a name
	for i, r := range table.Rows[:2] {
		if len(r.Problems) != 1 || r.Problems[0].Code != "order-number" || !strings.Contains(r.Problems[0].Message, "other digits") {
			t.Errorf("row %d of other digits: %v", i, r.Problems)
		}
	}
	if r := table.Rows[2]; !r.OK() || r.Number != "3" {
		t.Errorf("a wide 3: %q, %v", r.Number, r.Problems)
	}
	// Where it can't be read an order is called by its place.
	table = read(t, "number,name\nseven,Ada\n,Bo\nx,Cy\n4,Di\n", counts("number"), text("name"))
	for i, want := range []string{"0001", "0002", "0003", "4"} {
		if got := table.Rows[i].Number; got != want {
			t.Errorf("row %d is called %s, want %s", i+1, got, want)
		}
	}
	// What is written before a number counts, blanks and hyphens don't.
	table = read(t, "number\n7\n07\n7 a\n7a\n", text("number"))
	if n, r := table.Rows[1].Number, table.Rows; n != "07" || !r[1].OK() || !r[2].OK() || r[3].OK() {
		t.Errorf("7, 07, 7 a and 7a: the second is called %s", n)
	}
	// Those in a column of counts are called by them, however these are written.
	table = read(t, "number\n7\n1012\n12.0\n012\n", counts("number"))
	var called []string
	for _, r := range table.Rows {
		called = append(called, r.Number)
	}
	if want := []string{"7", "1012", "12-i1", "12-i2"}; !reflect.DeepEqual(called, want) {
		t.Errorf("numbers %q, want %q", called, want)
	}
}

// A table without the column makes each order once; one that has it, wherever,
// makes none less than once.
func TestCopies(t *testing.T) {
	if got := read(t, "name\nAda\n", text("name")).Copies(0); got != 1 {
		t.Errorf("without a column: %d times", got)
	}
	if got := read(t, "name,copies\nAda,many\n", text("name"), text("copies")).Copies(0); got != 1 {
		t.Errorf("with a column of text: %d times", got)
	}
	table := read(t, "copies,name\n0,Ada\n1,Bo\n1000,Cleo\n1001,Dan\n", counts("copies"), text("name"))
	for i, ok := range []bool{false, true, true, false} {
		if table.Rows[i].OK() != ok {
			t.Errorf("%s: %s", table.Rows[i].Cells[1].Text, told(table.Rows[i].Problems))
		}
	}
}

// Two headings that name one column are told, wherever the first stands.
func TestHeadingTwice(t *testing.T) {
	for _, heading := range []string{"name,copies,Name", "copies,name,name"} {
		table, diags := Read("orders.csv", []byte(heading+"\n1,2,3\n"), Options{Columns: []Column{text("name"), counts("copies")}})
		if table != nil || len(diags) != 1 || diags[0].Code != "two-columns" || !strings.Contains(diags[0].Message, `two columns called "name"`) {
			t.Errorf("%s: %s", heading, told(diags))
		}
	}
}

func TestLimits(t *testing.T) {
	wide := strings.Repeat("a,", MaxColumns) + "name\n"
	if _, diags := Read("o.csv", []byte(wide), Options{Columns: []Column{text("name")}}); len(diags) != 1 || diags[0].Code != "table-too-large" {
		t.Error("a table of too many columns was read")
	}
	long := "name\n" + strings.Repeat("a\n", MaxRows+1)
	if _, diags := Read("o.csv", []byte(long), Options{Columns: []Column{text("name")}}); len(diags) != 1 || diags[0].Code != "table-too-large" {
		t.Error("a table of too many orders was read")
	}
	if table := read(t, "name\n"+strings.Repeat("a", MaxCell+1)+"\nb\n", text("name")); table.Rows[0].OK() || !table.Rows[1].OK() {
		t.Error("a cell that is too long was read, or the next was not")
	}
	// Each open quote reads to the end; it must not take the square of the time.
	hostile := "name\n" + strings.Repeat("\"a\n", 99_999)
	if _, diags := Read("o.csv", []byte(hostile), Options{Columns: []Column{text("name")}}); !diags.HasErrors() {
		t.Error("a table of nothing but open quotes was read")
	}
}

func TestFileName(t *testing.T) {
	for _, test := range [][3]string{
		{"0001", "Ada Quill", "0001-ada-quill"},
		{"0002", "Zoë O'Neill-Łoś", "0002-zoe-oneill-los"},
		{"0003", "../../etc/passwd", "0003-etc-passwd"},
		{"0004", `C:\con.txt`, "0004-c-con-txt"},
		{"0005", "עדה", "0005-dh"},
		{"0006", "Straße Æble \U0001F600", "0006-strasse-aeble"},
		{"con", "", "con-order"},
		{"0007", "a\x00b\n.", "0007-a-b"},
		{"0009", "Ирина Щукина", "0009-irina-shchukina"},
		{"0010", "Юлия Объездчикова", "0010-iuliia-obezdchikova"},
		{"0011", "Ὀδυσσεύς Ψαρού", "0011-odusseus-psarou"},
		{"0012", "北京 Tern", "0012-bei-jing-tern"},
		{"0013", "とり トリ", "0013-tori-tori"},
		{"0014", "김 철수", "0014-gim-ceolsu"},
		{"0015", "अनिता", "0015-anitaa"},
		{"0016", "Nguyễn Đỗ", "0016-nguyen-do"},
		{"0017", "Ада Quill 12", "0017-ada-quill-12"},
		{"0018", "ليلى البحر", "0018-lyl-lbhr"},
		{"0019", "Нин\u0438\u0306 O’Neill", "0019-nini-oneill"},
		{"0020", "Ada \U00020BB7", "0020"}, // never part of a name: that letter has no reading here
		{"0021", "Ada \U0001F600", "0021-ada"},
		{"0008", strings.Repeat("long name ", 30), "0008-long-name-long-name-long-name-long-name"},
	} {
		if got := FileName(test[0], test[1]); got != test[2] {
			t.Errorf("%q, %q are called %q, want %q", test[0], test[1], got, test[2])
		}
	}
}

// Whatever comes in, a table has rows in order with places in its text, and
// names of files that are safe and all different.
func FuzzRead(f *testing.F) {
	f.Add([]byte("name,copies\nAda,1\n\"B\"\"o\",2\n"))
	f.Add([]byte("\xff\xfen\x00a\x00m\x00e\x00\n\x00A\x00"))
	f.Add([]byte("number;name\n\"1\n;\n2;a\"b\n"))
	f.Fuzz(func(t *testing.T, data []byte) {
		table, diags := Read("o.csv", data, Options{Columns: []Column{text("name"), {Name: "copies", Kind: unit.Count, Default: &Cell{Number: 1}}}})
		if table == nil {
			if !diags.HasErrors() {
				t.Fatal("there is no table, and nothing says why")
			}
			return
		}
		names := map[string]bool{}
		before := 0
		for i, r := range table.Rows {
			if r.Line <= before || r.At.File != table.File || r.At.End > len(table.File.Text()) {
				t.Fatalf("row %d lies at %v, line %d after line %d", i, r.At, r.Line, before)
			}
			before = r.Line
			name := FileName(r.Number, table.Label(i))
			if names[name] || strings.ContainsFunc(name, func(c rune) bool { return !(c >= 'a' && c <= 'z' || c >= '0' && c <= '9' || c == '-') }) || len(name) > 100 {
				t.Fatalf("row %d is called %q", i, name)
			}
			names[name] = true
		}
	})
}

// What encoding/csv's own writer writes is read back to the last character.
func TestReadsWhatIsWritten(t *testing.T) {
	names := []string{"a", `"`, "a,b", "x\ny", ` "q" `, "é\u0301", "Ω;Ψ\t"}
	var b bytes.Buffer
	w := csv.NewWriter(&b)
	w.Write([]string{"name"})
	for _, n := range names {
		w.Write([]string{n})
	}
	w.Flush()
	table := read(t, b.String(), text("name"))
	for i, n := range names {
		if got := table.Rows[i].Cells[0].Text; got != n {
			t.Errorf("%q is read as %q", n, got)
		}
	}
}

// What isn't a table of text, or has no header, is told for what it is, once.
func TestNoTable(t *testing.T) {
	utf16 := func(order string, bytes ...byte) []byte {
		var out []byte
		for _, b := range bytes {
			if order == "le" {
				out = append(out, b, 0)
			} else {
				out = append(out, 0, b)
			}
		}
		return out
	}
	for _, test := range []struct {
		name string
		data []byte
		want string
	}{
		{"a zipped spreadsheet", []byte("PK\x03\x04\x14\x00\x06\x00\x08\x00"), "a spreadsheet's own file"},
		{"an old spreadsheet", []byte("\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1\x00\x00"), "a spreadsheet's own file"},
		{"UTF-16 without its mark", utf16("le", []byte("number,name\n1,Ada\n")...), "UTF-16"},
		{"the same, the high byte first", utf16("be", []byte("number,name\n1,Ada\n")...), "UTF-16"},
		{"no header", []byte("1,Ada\n2,Bo\n"), "names none of the columns that the design asks for: number, name"},
		{"another file", []byte("units mm\npanel p { width = 3 }\n"), "names none of the columns"},
	} {
		table, diags := Read("orders.csv", test.data, Options{Columns: []Column{text("number"), text("name"), counts("copies")}})
		if table != nil || len(diags) != 1 || !strings.Contains(diags[0].Message, test.want) || diags[0].Help == "" {
			t.Errorf("%s: %v", test.name, diags)
		}
	}
	// In a text without a letter nothing can be marked.
	table, diags := Read("orders.csv", nil, Options{Columns: []Column{text("name")}})
	if table != nil || len(diags) != 1 || diags[0].Message != "this table is empty" || diags[0].Span.Start != 0 || diags[0].Span.End != 0 {
		t.Errorf("nothing: %v", diags)
	}
	// What the help says works.
	for order, encoding := range map[string]string{"le": "utf-16le", "be": "utf-16be"} {
		table, diags := Read("orders.csv", utf16(order, []byte("number,name\n1,Ada\n")...), Options{Columns: []Column{text("name")}, Encoding: encoding})
		if table == nil || table.Rows[0].Cells[0].Text != "Ada" {
			t.Errorf("%s: %v", encoding, diags)
		}
	}
}

// By rule, what files of orders are called is a name on every system (Microsoft,
// "Naming Files, Paths, and Namespaces"; POSIX.1-2017, 3.282, Portable Filename
// Character Set), whatever stands in the table.
func TestFileNamesAreNamesEverywhere(t *testing.T) {
	portable, device := regexp.MustCompile(`^[a-z0-9]+(-[a-z0-9]+)*$`), regexp.MustCompile(`^(con|prn|aux|nul|(com|lpt)[0-9])$`)
	numbers := []string{"0001", "con", "PRN", "aUx", "nul", "com1", "LPT9", "com¹", "7 a", "１２"}
	labels := []string{"", "Ada", "con", "a:b?*<>|\"", "ends with a dot.", " ", "..", "x\x00y\x1b\u202ez", "Zoe\u0308", "Zo\u00eb", strings.Repeat("ß", 300), `\\share\con`}
	for _, n := range numbers {
		for _, l := range labels {
			if name := FileName(n, l); !portable.MatchString(name) || device.MatchString(name) || len(name) > 100 {
				t.Errorf("%q, %q are called %q", n, l, name)
			}
		}
	}
	if a, b := FileName("1", "Zoe\u0308"), FileName("1", "Zo\u00eb"); a != b {
		t.Errorf("composed and decomposed letters are %q and %q", a, b)
	}
}

// A character that can't be read costs its own order alone where the rest of the table is
// UTF-8, and nothing is guessed; a table that as a whole is written in another encoding
// is told, with what its first such word would be in that.
func TestDamage(t *testing.T) {
	columns := []Column{text("name"), {Name: "note", Kind: unit.Text, Default: &Cell{}}}
	for _, c := range []struct {
		data, encoding string
		lost           []int  // rows whose name is lost
		told           string // of the table as a whole
		help           string
	}{
		{"name,note\nZo\ufffd,\nZoë,\n", "", []int{0}, "", ""},
		{"name,note\nZo\xeb,\nZoë,\n", "", []int{0}, "", ""},
		{"name,note\nZoë,\xff\n", "", []int{0}, "", ""},
		{"name,x\nZoë,\xff\nAda,\ufffd\n", "", nil, "", ""},                      // in a column that nothing reads
		{"\xef\xbb\xbfname,note\nZo\xeb,\nAda,\n", "", []int{0}, "", ""},         // it says that it is UTF-8
		{"name,note\nAda,\nA\xaa,\n", "windows-1253", []int{1}, "", ""},          // no letter there
		{"name,note\nZoï¿½,\nZoë,\n", "", []int{0}, "", ""},                      // lost, and read wrongly since
		{"name,note\nZo\xeb,\n\xc9lo\xefse,\n", "", nil, "can't be read", "Zoë"}, // windows-1252
		{"name,note\n\xc8\xf0\xe8\xed\xe0,\n", "", nil, "can't be read", "Ирина"},
		{"name,note\n\xc5\xeb\xdd\xed\xe7,\n", "", nil, "can't be read", "Ελένη"},
		{"name,note\nZoë,\n", "windows-1252", nil, "written in UTF-8, not in windows-1252", "take the line"},
		{"name,note\nAda,\n", "windows-1252", nil, "", ""},
	} {
		table, diags := Read("o.csv", []byte(c.data), Options{Columns: columns, Encoding: c.encoding})
		if c.told == "" && len(diags) > 0 || c.told != "" && (len(diags) != 1 || !strings.Contains(diags[0].Message, c.told) || !strings.Contains(diags[0].Help, c.help)) {
			t.Errorf("%q: %s", c.data, told(diags))
		}
		if table == nil {
			if c.told == "" {
				t.Errorf("%q: no table", c.data)
			}
			continue
		}
		var lost []int
		for i, r := range table.Rows {
			if !r.OK() {
				lost = append(lost, i)
				if r.Problems[0].Code != "lost-character" {
					t.Errorf("%q: %s", c.data, told(r.Problems))
				}
			}
		}
		if !reflect.DeepEqual(lost, c.lost) {
			t.Errorf("%q: the rows %v are lost, want %v", c.data, lost, c.lost)
		}
	}
}

// Line ends and separators as programs write them.
func TestLineEndsAndSeparators(t *testing.T) {
	for _, data := range []string{
		"sep=;\nname;note\nAda, Q;x\nBo;y\n", "sep=;\r\nname;note\r\nAda, Q;x\r\nBo;y\r\n", "\"sep=;\"\rname;note\rAda, Q;x\rBo;y", "SEP=|\nname|note\nAda, Q|x\nBo|y\n",
		"sep=,\nname,note\n\"Ada, Q\",x\nBo,y\n", "sep=\t\nname\tnote\nAda, Q\tx\nBo\ty\n", "name|note\nAda, Q|x\nBo|y\n",
		"name;note\r\nAda, Q;x\rBo;y\r\n", "name;note\r\r\nAda, Q;x\r\r\nBo;y\r\r\n", "\r\rname;note\rAda, Q;x\r\rBo;y\r\r",
	} {
		table := read(t, data, text("name"), text("note"))
		var got []string
		for _, r := range table.Rows {
			if !r.OK() || len(r.Problems) > 0 {
				t.Errorf("%q: %s", data, told(r.Problems))
				continue
			}
			got = append(got, r.Cells[0].Text+"/"+r.Cells[1].Text)
		}
		if want := []string{"Ada, Q/x", "Bo/y"}; !reflect.DeepEqual(got, want) {
			t.Errorf("%q holds %q, want %q", data, got, want)
		}
	}
}

// Rows of blanks are passed over, above the header too; one of what can't be seen is no order.
func TestRowsOfBlanks(t *testing.T) {
	table := read(t, "  \n;;\nnumber;name\n7;Ada\n\u00a0;\u2003\n \t\n8;Bo\n;\u200b\n", text("number"), Column{Name: "name", Kind: unit.Text, Default: &Cell{Text: "Di"}})
	var got []string
	for _, r := range table.Rows {
		got = append(got, fmt.Sprint(r.Number, " ", r.Line, " ", r.OK()))
	}
	if want := []string{"7 4 true", "8 7 true", "0003 8 false"}; !reflect.DeepEqual(got, want) {
		t.Errorf("%q, want %q", got, want)
	}
}

// Rows of one number are items; those that can't be made keep their place among them.
func TestItems(t *testing.T) {
	table := read(t, "number,name\n7,Ada\n7,\n7,Bo\n8,Cy\n7,Ada\n 7,Di\n,El\n8,Fay, too\n", text("number"), text("name"))
	var got []string
	for _, r := range table.Rows {
		s := fmt.Sprintf("%s %d of %d %v", r.Number, r.Item, r.Items, r.OK())
		for _, d := range r.Problems {
			s += " " + string(d.Code)
		}
		got = append(got, s)
	}
	want := []string{"7-i1 1 of 5 true", "7-i2 2 of 5 false empty", "7-i3 3 of 5 true", "8-i1 1 of 2 true", "7-i4 4 of 5 true same-item",
		"7-i5 5 of 5 true odd-text", "0007 0 of 0 false empty", "8-i2 2 of 2 false columns"}
	if !reflect.DeepEqual(got, want) {
		t.Errorf("\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// A row that is there twice is told where the first of them stands apart from its order's other rows, too.
func TestSameItemApart(t *testing.T) {
	table := read(t, "number,name\n7,Bo\n8,Xi\n7,Cy\n7,Cy\n", text("number"), text("name"))
	for row, want := range []string{"", "", "items-apart", "same-item"} {
		var got string
		for _, d := range table.Rows[row].Problems {
			got += string(d.Code)
		}
		if got != want {
			t.Errorf("of row %d %q is told, want %q", row+1, got, want)
		}
	}
}

// The label of an order is a text that its customer wrote: one of those that the design
// lists only where there is no other.
func TestLabelColumn(t *testing.T) {
	size := Column{Name: "size", Kind: unit.Text, Values: []string{"small", "large"}}
	number := text(NumberColumn)
	for _, test := range []struct {
		columns []Column
		want    int
	}{
		{[]Column{number, size, text("name")}, 2}, {[]Column{number, size, counts("copies")}, 1},
		{[]Column{text("name"), size}, 0}, {[]Column{number, counts("copies")}, -1},
	} {
		if got := (&Table{Columns: test.columns}).LabelColumn(); got != test.want {
			t.Errorf("the label of %v is column %d, want %d", test.columns, got, test.want)
		}
	}
}
