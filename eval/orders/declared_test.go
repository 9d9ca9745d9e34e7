package orders

import (
	"strings"
	"testing"

	"foredge/lang/diag/diagtest"

	"golang.org/x/text/encoding/charmap"
)

// A table that was written in another encoding than was declared is told once, with the one
// that makes it right: the bytes are those that x/text writes.
func TestNotDeclared(t *testing.T) {
	for _, test := range []struct {
		names    string
		written  *charmap.Charmap
		declared string
		want     string
	}{
		{"Żółw Dvořák", charmap.Windows1250, "windows-1252", `by encoding = "windows-1250" this word would be "Żółw"`},
		{"Łukasz Paweł Świętosława Ewa", charmap.Windows1250, "windows-1252", `"windows-1250"`},
		{"Dvořák Čeněk Růžena Šárka Ondřej Ann", charmap.Windows1250, "iso-8859-1", `"windows-1250"`},
		{"Zoë Müller", charmap.Macintosh, "windows-1252", `by encoding = "macintosh" this word would be "Zoë"`},
		{"Zoë Müller René Bjørn", charmap.Macintosh, "windows-1252", `"macintosh"`},
		{"Zoë Müller René", charmap.CodePage850, "windows-1252", `by encoding = "ibm850" this word would be "Zoë"`},
		{"Zoë Müller René Bjørn Ærø", charmap.CodePage850, "windows-1252", `"ibm850"`},
		{"Zoë Müller René Bjørn Núñez", charmap.Windows1252, "macintosh", `"windows-1252"`},
		{"Zoë Müller René Bjørn Núñez", charmap.Windows1252, "windows-1251", `"windows-1252"`},
		{"Ирина Пётр Светлана Юрий Жанна", charmap.Windows1251, "windows-1252", `"windows-1251"`},
		{"Ελένη Νίκος Οδυσσέας", charmap.Windows1253, "windows-1252", `"windows-1253"`},
		{"Šárka Žaneta Ťuk Święta", charmap.ISO8859_2, "windows-1250", `by encoding = "iso-8859-2" this word would be "Šárka"`},
		{"Šárka Žaneta Dvořák", charmap.ISO8859_2, "windows-1252", `"iso-8859-2"`},
		{"İlker Işık Gülşen Barış Yıldız", charmap.Windows1254, "windows-1252", `by encoding = "windows-1254" this word would be "İlker"`},
		{"İlker Işık Çetin Şule", charmap.Windows1254, "windows-1252", `"windows-1254"`},
		// Those that are as they should be.
		{"Þýri Ísþór Hafþór Eyþór Ýr Ýmir Þjóðólfur Þráinn Þvælu Þýska Nýjabær Alþýða Þýðing Lýður", charmap.Windows1252, "windows-1252", ""}, {"«ma «la chère» vérité» ®", charmap.Windows1252, "windows-1252", ""},
		{"Żółw Dvořák Łukasz Świętosława", charmap.Windows1250, "windows-1250", ""}, {"Zoë Müller", charmap.CodePage850, "cp850", ""},
		{"Zoë Müller René Bjørn Núñez São Ågård Þórðarson Ærø", charmap.Windows1252, "windows-1252", ""}, {"Bjørká Høgni Rógvi Ánason Símun Eyðun", charmap.Windows1252, "windows-1252", ""},
		{"Ирина Пётр", charmap.Windows1251, "windows-1251", ""}, {"ИРИНА Д’Артаньян «Чайка»", charmap.Windows1251, "windows-1251", ""}, {"Ελένη Νίκος", charmap.Windows1253, "windows-1253", ""}, {"Çağrı Işıl Şükrü", charmap.Windows1254, "windows-1254", ""},
		{"½ m³ 5°C É’S O´Neill L‘été “Zoë” ‘Zoë’ ‚Zoë‘ McÉlan CAFÉ® GROß Zoë’s", charmap.Windows1252, "windows-1252", ""},
		{"Żółw", charmap.Windows1250, "windows-1252", ""}, // one word shows nothing
	} {
		data, err := test.written.NewEncoder().String(strings.ReplaceAll(test.names, " ", "\n"))
		if err != nil {
			t.Fatal(err)
		}
		_, diags := Read("orders.csv", []byte("name\n"+data+"\n"), Options{Columns: []Column{text("name")}, Encoding: test.declared})
		n := 0
		for _, d := range diags {
			if d.Code == "encoding" {
				n++
				if test.want == "" || !strings.Contains(d.Help, test.want) {
					t.Errorf("%s: %s (%s), want %q", test.names, d.Message, d.Help, test.want)
				}
			}
		}
		if n > 1 || n == 0 && test.want != "" {
			t.Errorf("%s: told %d times:\n%s", test.names, n, diagtest.Text(diags))
		}
	}
}

// A table in UTF-8 is read so whatever is said of it, and what is said is told where it is wrong.
func TestInUTF8(t *testing.T) {
	const mark = "\xef\xbb\xbf"
	for _, test := range []struct {
		mark, name, declared string
		told                 bool
	}{
		{"", "Zoë", "windows-1252", true}, {mark, "Zoë", "windows-1252", true}, {mark, "Zoë", "ibm850", true},
		{"", "Zoë", "utf-16le", true}, {"", "Zoë", "utf-16be", true}, {mark, "Zoë", "utf-16le", true}, {"", "Zoe", "utf-16le", true},
		{mark, "Zoë", "", false}, {mark, "Zoë", "utf-8", false}, {"", "Zoë", "utf-8", false},
		{"", "Zoe", "windows-1252", false}, {mark, "Zoe", "windows-1252", false}, // so it is in that one too
	} {
		table, diags := Read("o.csv", []byte(test.mark+"name\n"+test.name+"\n"), Options{Columns: []Column{text("name")}, Encoding: test.declared})
		if table == nil || len(table.Rows) != 1 || table.Rows[0].Cells[0].Text != test.name {
			t.Errorf("%q is not read from %q as said to be in %q:\n%s", test.name, test.mark, test.declared, diagtest.Text(diags))
			continue
		}
		if told := len(diags) == 1 && diags[0].Code == "encoding" && strings.Contains(diags[0].Message, "in UTF-8, not in "+test.declared); told != test.told || len(diags) > 1 {
			t.Errorf("of %q after %q, said to be in %q:\n%s", test.name, test.mark, test.declared, diagtest.Text(diags))
		}
	}
}

// A table that isn't UTF-8 is told with the encodings by which most of its words make sense:
// the bytes are those that x/text writes.
func TestUnreadableTable(t *testing.T) {
	for _, test := range []struct {
		names   string
		written *charmap.Charmap
		want    string // the beginning of what is told of the first word
	}{
		{"Åse Jürgen José Zoë", charmap.Windows1252, `by encoding = "windows-1252" this word would be "Åse"`}, {"Øystein", charmap.Windows1252, `by encoding = "windows-1252" this word would be "Øystein"`},
		{"Æsa", charmap.Windows1252, `by encoding = "windows-1252" this word would be "Æsa"`}, {"Åke Märta Björn", charmap.Windows1252, `by encoding = "windows-1252" this word would be "Åke"`},
		{"Žofie Dvořák Čeněk Růžena Šárka Ondřej", charmap.Windows1250, `by encoding = "windows-1250" this word would be "Žofie"`}, {"Łukasz Paweł Świętosława", charmap.Windows1250, `by encoding = "windows-1250" this word would be "Łukasz"`},
		{"Ирина Пётр Светлана", charmap.Windows1251, `by encoding = "windows-1251" this word would be "Ирина"`}, {"Ελένη Νίκος", charmap.Windows1253, `by encoding = "windows-1253" this word would be "Ελένη"`},
		{"Владимир Ирина", charmap.KOI8R, `by encoding = "koi8-r" this word would be "Владимир"`}, {"Zoë Müller René", charmap.Macintosh, `by encoding = "macintosh" this word would be "Zoë"`},
		{"Çağrı Işıl Gülşen Şükrü", charmap.Windows1254, `by encoding = "windows-1254" this word would be "Çağrı"`},
	} {
		data, err := test.written.NewEncoder().String(strings.ReplaceAll(test.names, " ", "\n"))
		if err != nil {
			t.Fatal(err)
		}
		_, diags := Read("orders.csv", []byte("name\n"+data+"\n"), Options{Columns: []Column{text("name")}})
		if len(diags) != 1 || !strings.Contains(diags[0].Help, "what it is written in: "+test.want) {
			t.Errorf("%s: %s", test.names, diagtest.Text(diags))
		}
	}
}

// Right names of all languages that an encoding has, in one table of it, are never taken for
// another's.
func TestRightNamesAreAsDeclared(t *testing.T) {
	for _, c := range []charset{western(), central(), cyrillic(), greek(), turkish(), hebrew(), koi8(), mac(), dos(), dosCentral()} {
		var table strings.Builder
		for _, name := range strings.Split(rightNames, "|") {
			for _, word := range []string{name, strings.ToUpper(name), name + "’s", "“" + name + "”"} {
				if data, err := c.of.NewEncoder().String(word); err == nil {
					table.WriteString(data + "\n")
				}
			}
		}
		if wrong := notDeclared([]byte(table.String()), c.name, c.of); wrong != nil {
			t.Errorf("%s: %s; %s", c.name, wrong.what, wrong.help)
		}
	}
}
