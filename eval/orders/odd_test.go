package orders

import (
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"foredge/lang/foretest"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
)

// What a text holds that its customer didn't write, in part; "" for nothing.
func TestOdd(t *testing.T) {
	for _, test := range []struct{ text, want string }{
		{"Ada Quill", ""}, {"Zoë d’Ys-O'Neill", ""}, {"Ὀδυσσεύς", ""}, {"Ирина", ""}, {"עדה לביא", ""}, {"ليلى", ""}, {"Σ Ada", ""},
		{"Ada  Quill", "two blanks"}, {" Ada", "begins"}, {"Ada ", "ends"}, {"Аda", "Latin d (U+0064), Cyrillic А (U+0410)"},
		{"Αda", "Greek Α (U+0391)"}, {"Ada\u200b", "can't be seen, U+200B"}, {"Ada \u2764\ufe0f", "picture"}, {"Ada \U0001F600", "picture"},
		{"Ada\u00a0Quill", "unusual blank"}, {"A\tb", "control"}, {"a\u202eb", "U+202E"},
		// Letters and marks that show nothing: the fillers of Hangul and the joiner of graphemes.
		{"a\u3164b", "can't be seen, U+3164"}, {"a\u115fb", "U+115F"}, {"a\u1160b", "U+1160"}, {"a\u034fb", "U+034F"},
		{"가ㅣ나", ""}, {"a\nb", "several lines"}, {"a\vb", "control character, U+000B"},
		// A joiner belongs to the writing of Persian.
		{"می\u200cخواهم", ""}, {"Ada\u200cB", "U+200C"},
		// Web pages, mail, spreadsheets and programs.
		{"Tom &amp; Ann", "has &amp;, as web pages write"}, {"It&#39;s", "has &#39;"}, {"<b>Bob</b>", "has <b>, a tag"}, {"a<br/>b", "<br/>"},
		{"Tom & Ann; Bo", ""}, {"A <3 B", ""}, {"1 < 2 > 1", ""}, {"&c;", ""}, {"a_x000D_b", "_x000D_"}, {"=?utf-8?q?Bj=C3=B8rn?=", "as mail"},
		{"Bj=C3=B8rn", "as mail"}, {"Bj%C3%B8rn", "as addresses"}, {"100%", ""}, {"50%20 off", ""}, {"1=1", ""}, {`a\nb`, "line break"},
		{`C:\new`, ""}, {`Bj\u00f8rn`, "has \\u00f8"}, {`="0012"`, "formula"}, {"'Ada", "apostrophe"}, {"'t Hooft", ""}, {"'Tern'", "stands in quotes"}, {"'26", ""}, {"'Twas", "may have put"}, {"'1234", "as spreadsheets"}, {"'Twas Nan’s", ""},
		{"Tom &amp Ann", "has &amp, as web pages"}, {"Andr&eacute", "&eacute"}, {"R&D", ""}, {"Rock&reg", ""}, {"Gin&tonic", ""}, {"Ann&copy", ""}, {"A&B; C", ""}, {"&#39", "&#39"},
		{"<script>x</script>", "doesn't show"}, {"<!-- x --> Ann", "<!-- x -->"}, {"<style>p{}</style>Ann", "<style>p{}</style>"}, {"<script>", "a tag"},
		{"Ann=20Lee", "=20"}, {"A = 20", ""}, {"1=20", ""}, {"Caf%E9", `has %E9, as programs write a letter; "Café" may be meant`}, {"Caf=E9", `"Café"`}, {"a%Cat", ""},
		{"sea.png?v=2", ""}, {"Ann â€“ Bob", "looks as if"}, {"CAFÉ®", ""}, {"It\u0092s", "control character, U+0092"},
		{"1.04E+05", "digits are lost"}, {"E+05", ""},
		// Nothing, in words.
		{"#N/A", "#N/A"}, {"Ada #REF!", "#REF!"}, {"#####", "#####"}, {"# 1", ""}, {"NULL", "nothing"}, {"Ada undefined", "nothing"}, {"Ada Null", ""},
		{"None", "no text"}, {"n/a", "no text"}, {"-", "no text"}, {"(none)", "no text"}, {"Nan Lee", ""}, {"Nonesuch", ""}, {"NA", ""}, {"Blank", ""}, {"(blank)", "no text"}, {"blank", "no text"}, {"TBC", ""},
		{"{{name}}", "{{name}}, a place of a template"}, {"Dear ${name}", "${name}"}, {"[Name]", "[Name]"}, {"%s", "%s"}, {"[sic] Ada", ""}, {"{Ada", ""},
		{"(null)", "nothing"}, {"<null>", "nothing"}, {"TRUE", "is TRUE"}, {"FALSE", "is FALSE"}, {"True", ""}, {"TRUE LOVE", ""}, {"Jan-05", "is a day"}, {"5-Jan", "is a day"}, {"Jan", ""},
		{"5 Jan", ""}, {"Jan-Ove", ""}, {"5-Jane", ""}, {"May-June", ""}, {"=1+1", "is a formula"}, {"=SUM(A1:A3)", "formula"}, {"=B2&C2", "formula"}, {"=D Ann", ""}, {"=)", ""}, {"-5", ""}, {"+49 30 1", ""},
		{"-Ann-", ""}, {"= Ann =", ""}, {"Your Name", "as a form"}, {"your text here", "as a form"}, {"Enter your name here…", "as a form"}, {"Lorem ipsum dolor", "as a form"}, {"Text here", "as a form"}, {"Ihr Text", "as a form"},
		{"Your love", ""}, {"In your name", ""}, {"Your name is Ann", ""}, {"Name", ""}, {"Here", ""}, {"Dear {name}", "has {name}, a place"}, {"Hi %{first name}!", "has %{first name}, a place"}, {"Dear <name>", "has <name>, a place"}, {"For [your name]", "[your name], a place"}, {"For %NAME%", "%NAME%, a place"}, {"Mia [and Tom]", ""}, {"{;}", ""}, {"{0}", "{0}, a place"}, {"Dear {1}!", "{1}"}, {"$name", "$name"}, {"$first_name", "place of a template"}, {"$orderName", "place of"}, {"$5", ""}, {"Ke$ha", ""}, {"A$AP", ""}, {"$am", ""}, {"%1$s", "place of"},
		{`caf\xe9`, `has \xe9, as programs write a letter; "café" may be meant`}, {`caf\xc3\xa9`, "has \\xc3\\xa9, as programs write a sign"}, {"caf%u00e9", "has %u00e9"}, {"''Ann''", "in quotes"}, {"O''Neill", "doubled"}, {"5''", ""},
		{"1<b>2", "has <b> inside a word, and no </b>"}, {"Tom<b class=x>Bob", "has <b class=x> inside a word, and no </b> behind it"}, {"a<i or j>k", ""}, {"A<p or q>B", ""}, {"a<b and c>d", ""}, {"<hr noshade>Ann", "a tag"}, {"<p  align=center>Ann", "a tag"}, {"a<b>c</b>", "has <b>, a tag"}, {"Ann <b>Bob", "has <b>, a tag"}, {"Ωmega", "mixes alphabets"}, {"Ann-Ω", ""}, {"Bjψrn", "Bjørn"}, {"CafÉ", ""}, {"a\n\nb", "has an empty line"},
		// Days and times in digits, as spreadsheets write them, and what databases write for nothing.
		{"1/2/2026", "is a day or a time"}, {"2026-01-02 00:00:00", "is a day with a time"}, {"2026-01-02T00:00:00Z", "is a day with a time"}, {"12:30:00", "is a day or a time"}, {"46000.5", "is a day or a time"},
		{`\N`, "nothing"}, {"?", "alone"}, {"1/2", ""}, {"12:30", ""}, {"2026", ""}, {"2026-01-02", ""}, {"46000", ""}, {"Ann 1/2/2026", ""}, {"1.5", ""}, {"? !", ""},
		// Letters that a program didn't have, or couldn't read.
		{"Bj??rn", "?? in place of letters"}, {"?ukasz", "? in place"}, {"?????", "????? in place"}, {"Ready?", "ends with a question mark"}, {"Who is it?", ""},
		{"What?!", ""}, {"¿Qué?", "ends with"}, {"Zo\ufffd", "lost a character"},
		// Quotes.
		{`"Bob"`, "stands in quotes"}, {`"Nan" and "Bo"`, ""}, {`Bo ""Bee"" Oak`, "doubled"}, {"O´Neill", "accent"}, {"O`Neill", "accent"}, {"´", ""}, {"´Ann´", ""}, {"Ren´e Oak", `"René Oak" may be meant`}, {"Sal`e", `"Salè" may be meant`}, {"Hawai´i", "accent in place"}, {"Rene\u0301e", ""}, {"Vie\u0323\u0302t", ""}, {"A\u030ase", ""}, {"Rene\u0301´s", "accent in place"}, {"“Ann”", "in quotes"}, {`"Ann`, "without its fellow"},
		{`"O" "`, "without its fellow"}, {`" "`, "in quotes"}, {`""`, "in quotes"}, {"“”", "in quotes"}, {`say ""`, "doubled"}, {`6' 2"`, ""}, {`5" by 7"`, ""}, {`the 5" and "Bo"`, ""}, {"“a” “b", "without its fellow"}, {"„26“", ""}, {"“26” Ann", ""}, {"”26”", ""}, {"„Ann", "without its fellow"},
		{`Ann"`, "without its fellow"}, {"“Ann", "without its fellow"}, {`5"`, ""}, {`Ann 5" log`, ""}, {"„Ann“", ""}, {"”Ann”", ""}, {"Ann “Bo”", ""}, {"‘Ann’", ""}, {"Ann Nan” Lee", "without its fellow"}, {"”Ann", "without its fellow"}, {"5”", ""}, {"„Ann”", ""},
	} {
		var what []string
		for _, o := range Odd(test.text) {
			what = append(what, o.String())
		}
		got := strings.Join(what, "; ")
		if !strings.Contains(got, test.want) || test.want == "" && got != "" {
			t.Errorf("%q: %q, want %q", test.text, got, test.want)
		}
	}
}

// What one slip has brought about is told once.
func TestOddOnce(t *testing.T) {
	for _, text := range []string{"It\u0092s", "Ann â€\u201c Bob", "<script>x</script>", "<style>p{}</style>Ann", "don´t", "Itís", "“Ann”", "=1+1", "{0}", "$name", "(null)", "1<b>2", `caf\xe9`, "O''Neill", "''Ann''", "Ωmega", "CAFÃ‰", "Andr&eacute"} {
		if all := Odd(text); len(all) != 1 {
			t.Errorf("%q: %v", text, all)
		}
	}
}

// What was read in a wrong encoding is told with what was meant: the bytes are those
// that x/text writes.
func TestGarbled(t *testing.T) {
	names := map[string][]encoding.Encoding{ // written, and by which encodings it may be read
		"Zoë Quill":        {charmap.Windows1252, charmap.ISO8859_1, charmap.Macintosh},
		"It’s Léa":         {charmap.Windows1252, charmap.Macintosh},
		"Łukasz Żółć":      {charmap.Windows1252, charmap.Macintosh},
		"Ирина Морская":    {charmap.Windows1252, charmap.Windows1251, charmap.Macintosh, charmap.ISO8859_1},
		"Ελένη Ψαρού":      {charmap.Windows1252, charmap.Macintosh, charmap.ISO8859_1},
		"עדה לביא":         {charmap.ISO8859_1, charmap.Macintosh},
		"“Tern” – Bjørn’s": {charmap.Windows1252},
	}
	for name, all := range names {
		for _, as := range all {
			read, err := as.NewDecoder().String(name)
			if err != nil || strings.ContainsRune(read, Lost) {
				continue // it can't be mended then
			}
			if got, how := garbled(read); got != name {
				t.Errorf("%s read as %v is %q, guessed %q (%s)", name, as, read, got, how)
			}
			if got, _ := Clean(read); got != name {
				t.Errorf("%s read as %v is %q, cleaned %q", name, as, read, got)
			}
		}
	}
	single := []struct {
		name          string
		written, read encoding.Encoding
	}{
		{"Ирина", charmap.Windows1251, charmap.Windows1252}, {"Морская Звезда", charmap.Windows1251, charmap.Windows1252},
		{"Владимир", charmap.KOI8R, charmap.Windows1252}, {"Οδυσσέας", charmap.Windows1253, charmap.Windows1252},
		{"Ελένη", charmap.Windows1253, charmap.Windows1252}, {"Bjørn", charmap.Windows1252, charmap.Windows1251},
		{"Paweł", charmap.Windows1250, charmap.Windows1252},
		{"Bjørn", charmap.Macintosh, charmap.Windows1252}, {"René", charmap.Macintosh, charmap.Windows1252},
	}
	for _, s := range single {
		data, err := s.written.NewEncoder().String(s.name)
		if err != nil {
			t.Fatal(err)
		}
		read, _ := s.read.NewDecoder().String(data)
		if got, how := garbled(read); got != s.name || how == "" {
			t.Errorf("%s, written as %v and read as %v, is %q, guessed %q (%s)", s.name, s.written, s.read, read, got, how)
		}
		if got, _ := Clean(read); got != read {
			t.Errorf("%q is a guess, and cleaned to %q", read, got)
		}
	}
	// Where two encodings make as much sense nothing is guessed, and that is told.
	if got, how := garbled("Fran‡ois"); got != "" || how == "" {
		t.Errorf("Fran‡ois may be François or Franáois: guessed %q (%s)", got, how)
	}
}

// A sign of which several programs write a part alike is told once.
func TestSignsAreToldOnce(t *testing.T) {
	for text, want := range map[string]string{
		"caf%C3%A9":   `has %C3%A9, as addresses of web pages write other signs`,
		`caf\xc3\xa9`: `has \xc3\xa9, as programs write a sign`,
		"caf%E9":      `has %E9, as programs write a letter; "café" may be meant`,
	} {
		if odd := Odd(text); len(odd) != 1 || odd[0].String() != want {
			t.Errorf("%s: %s, want %s", text, odd, want)
		}
	}
}

// Names as people have them are not odd, whatever their letters: those of the list
// are invented, with all accents of their languages.
func TestNamesAreNotOdd(t *testing.T) {
	for _, name := range strings.Split("Ægir Þórðarson|Søren Ågård|Åsa Öström|Éloïse d’Été|Žofie Šťastná|Łucja Śnieżka|Ğülşen Çağlayan|Ñandú Ibáñez|Đỗ Thị Hương|"+
		"Œuvre Noël|CAFÉ’S “LÀ”|DÉJÀ VU – À NOUS|„Ä“ und „Ö“|ÉTÉ…|Größe|Älvängen|Özgür Ünlü|Öö|Ýrý|Äänekoski|Jäääär|Müllerstraße 5|ÅÄÖ|Nuñez-O’Brien|Marie-Zoë & Co.|"+
		"Οδυσσέας Βαφέας|Д’Артаньян|Ирина «Чайка»|Щукина|Юлія Їжак|عمر بن الخطاب|נועה|김민수|山田 太郎|สมชาย|Ħal Għaxaq|Ștefan Țăran|10 m³|5 °C|½ pint|«Tern»|‘Gull’|"+
		"Gull & Tern|A+B=C|No. 7|#1|50 %|€ 5|Æ|Ø|é|x|M.|J.R.|Mc’Élan|Vân Đài|Ólafur Ó.|Tom ♥ Ann|R&D|Ann/Bo|(Ann)|Ann_Bo|J’ai été là|Nguyễn Ánh|Ýmir Ýr|Ää Öö Üü", "|") {
		for _, o := range Odd(name) {
			if !o.Look {
				t.Errorf("%q: %s", name, o)
			}
		}
		if got, _ := Clean(name); got != name {
			t.Errorf("%q is cleaned to %q", name, got)
		}
	}
}

// Clean texts are as the customer wrote them, and it is said what was done.
func TestClean(t *testing.T) {
	for _, c := range []struct{ text, want, change string }{
		{"Ada Quill", "Ada Quill", ""}, {"  Ada  Quill ", "Ada Quill", "blanks left out"}, {"Tom &amp; Ann", "Tom & Ann", "&amp; decoded"},
		{"Tom &amp;amp; Ann", "Tom & Ann", "&amp; decoded"}, {"It&#39;s", "It's", "&#39; decoded"}, {"It&rsquo;s", "It’s", "&rsquo;"},
		{"<b>Bob</b>", "Bob", "<b> decoded"}, {"Ada<br>Quill", "Ada\nQuill", "<br> decoded"}, {"<p>Ada</p><p>Bo</p>", "Ada\nBo", "<p>"},
		{"Ann<br />\nBob", "Ann\nBob", "<br /> decoded"}, {"Ann<br>\n<br>\nBob", "Ann\n\nBob", "<br>"}, {"<p>Ann</p>\n\n<p>Bob</p>\n", "Ann\nBob", "</p> <p> decoded"}, {"Ann<div>Bob</div>", "Ann\nBob", "<div>"},
		{"<div>Ann<br></div><div>Bob</div>", "Ann\nBob", "<br>"}, {"<p>Ann</p><p><br></p><p>Bob</p>", "Ann\n\nBob", "<br>"}, {"Ann\n\nBob", "Ann\n\nBob", ""},
		{"1<b>2", "1<b>2", ""}, {"a<b>c</b>", "ac", "<b>"}, {"Ann <B>Bob", "Ann Bob", "<B>"}, {"CafÃ‰", "CafÉ", "wrong encoding"}, {"caf%u00e9", "café", "decoded"}, {"Ann %u00e9", "Ann é", "decoded"}, {`caf\xc3\xa9`, "café", "decoded"}, {`caf\xe9`, `caf\xe9`, ""},
		{"''Ann''", "Ann", "quotes"}, {`"O""`, "O", "quotes around"}, {`"O&quot;"`, "O", "quotes around"}, {`" "`, "", "quotes"}, {`""`, "", "quotes"}, {"“”", "", "quotes"}, {`say ""`, `say "`, "doubled"}, {`5"`, `5"`, ""}, {`"Ann ""Nan"" Lee"`, `Ann "Nan" Lee`, "doubled"},
		{"Tom<b class=x>Bob", "Tom<b class=x>Bob", ""}, {"if a<b and c>d", "if a<b and c>d", ""}, {"A<p or q>B", "A<p or q>B", ""}, {"<p  align=center>Ann</p >", "Ann", "decoded"}, {"<b class='x'>Ann</b>", "Ann", "decoded"}, {"Rene\u0301", "Rene\u0301", ""}, {"O''Neill", "O'Neill", "doubled"}, {"5''", "5''", ""},
		{"Ada\u200b\u00adQuill", "AdaQuill", "U+200B, which can't be seen, left out"}, {"Ada\u00a0Quill", "Ada Quill", "blanks"}, {"Ada\u2028Quill", "Ada\nQuill", "line end"},
		{"Itâ€™s", "It’s", "wrong encoding"}, {"ZoÃ«", "Zoë", "wrong encoding"}, {`"Bob"`, "Bob", "quotes around"}, {`Bo ""Bee"" Oak`, `Bo "Bee" Oak`, "doubled"},
		{"O´Neill", "O’Neill", "apostrophe"}, {"Ren´e", "Ren´e", ""}, {"Hawai´i", "Hawai’i", "apostrophe"}, {"“\"Al\"”", "Al", "quotes around"}, {"Ada_x000D_\nQuill", "Ada\n\nQuill", "_x000D_ decoded"}, {`="0012"`, "0012", "formula"}, {"'Ada", "'Ada", ""}, {"'Twas", "'Twas", ""}, {"'Em", "'Em", ""}, {"'0012", "0012", "apostrophe"}, {"'=A", "=A", "apostrophe"},
		{"It\u0092s", "It’s", "U+0092 taken for ’, as windows-1252"}, {"\u0093Ann\u0094 \u0096 Bo", "“Ann” – Bo", "U+0096"}, {"Ann\u0081", "Ann\u0081", ""},
		{"Tom &amp Ann", "Tom & Ann", "&amp decoded"}, {"Andr&eacute", "André", "decoded"}, {"<script>x</script>", "", "decoded"}, {"<!-- x --> Ann", "Ann", "decoded"},
		{"<style>p{}</style>Ann", "Ann", "decoded"}, {"Ann=20Lee", "Ann Lee", "n=20L decoded"}, {"A=20B=20C", "A B C", "decoded"}, {"Caf%E9", "Caf%E9", ""}, {"Caf=E9", "Caf=E9", ""}, {"R&D", "R&D", ""},
		{"“Ann”", "Ann", "quotes"}, {"'Ann'", "Ann", "quotes"}, {"„Ann“", "„Ann“", ""}, {`"Ann`, `"Ann`, ""},
		{"LULEÅ’S", "LULEÅ’S", ""}, {"AVÓ’S", "AVÓ’S", ""}, {"MAMÃ’S", "MAMÃ’S", ""},
		{"=?utf-8?q?Bj=C3=B8rn?=", "Bjørn", "decoded"}, {"=?iso-8859-1?B?Wm/r?=", "Zoë", "decoded"}, {"Bj%C3%B8rn", "Bjørn", "decoded"}, {`Zo\u00eb`, "Zoë", "decoded"},
		// What can't be known is left.
		{"Bj??rn", "Bj??rn", ""}, {"#N/A", "#N/A", ""}, {"{{name}}", "{{name}}", ""}, {"NULL", "NULL", ""}, {"A <3 B", "A <3 B", ""}, {"R&D", "R&D", ""},
		{"می\u200cخواهم", "می\u200cخواهم", ""}, {"👩\u200d👧", "👩\u200d👧", ""}, {"❤\ufe0f", "❤\ufe0f", ""},
	} {
		got, changes := Clean(c.text)
		if said := strings.Join(changes, "; "); got != c.want || !strings.Contains(said, c.change) || (said == "") != (c.change == "") {
			t.Errorf("%q is cleaned to %q (%s), want %q (%s)", c.text, got, said, c.want, c.change)
		}
		if again, more := Clean(got); again != got {
			t.Errorf("%q is cleaned once more to %q (%s)", got, again, more)
		}
	}
}

// Nothing of what can't be seen is a name.
func TestEmpty(t *testing.T) {
	for _, text := range []string{"", " ", "\u00a0", "\u200b\u200b", "\ufeff", "\u3164", "\u2800", "\u00ad", " \t\n", "\u17b4", "\u2065", "\ufff0", "\U000e0fff"} {
		if !Empty(text) {
			t.Errorf("%q isn't empty", text)
		}
	}
	for _, text := range []string{".", "x", "\u0301", "\ufffd", "\u0600", "\u06dd"} {
		if Empty(text) {
			t.Errorf("%q is empty", text)
		}
	}
}

// A text of 2,000 characters is looked at in no time, whatever it holds.
func TestOddIsBounded(t *testing.T) {
	start := time.Now()
	for _, part := range []string{"&amp;", "<b ", "{{", "${", "=C3", "%C3", "Ã«", "?a", `\u00`, "«", "\u200b", "[a", "=?a?q?", "É’", "ф", `""`, "`a", "1=20", "a=20b", "<!--", "<script>", "â€", "Ã–", "×“", "a%C9", `="`, "&amp", "í", "\u0092", "“", "1<b>2", "<p>", "<br> ", "{0}", "$a_a ", "''a", `\x`, "%u00", "\n\n", "enter your "} {
		text := strings.Repeat(part, MaxCell/len([]rune(part)))
		Odd(text)
		Clean(text)
	}
	if took := time.Since(start); took > 3*time.Second {
		t.Errorf("it takes %v", took)
	}
}

// Whatever pieces a text is made of: what is cleaned is told, and only that; nothing lost
// comes in; and no text that is told for its blanks or codes stays so.
func TestCleanSaysWhatItDoes(t *testing.T) {
	pieces := []string{"Ada", " ", "  ", "&amp;", "amp;", "&", "<b>", "</p>", "<br>", "\u200b", "\u00a0", "\n", "\t", `"`, `""`, "´", "`", "Ã", "«", "â€", "™", "É", "’", "ф", "Ω",
		"_x000D_", "_x0041_", "=?utf-8?q?=C3=AB?=", "=C3=AB", "%C3%AB", `\u00eb`, `\n`, "=", "'", "{{x}}", "?", "NULL", "�", "ï¿½", "😀", "\ufe0f", "א", "\u200f", "\u2028", "√´", "#N/A"}
	rnd := rand.New(rand.NewPCG(14, 1))
	for range foretest.Sample(200_000, 20_000) {
		var b strings.Builder
		for range 1 + rnd.IntN(6) {
			b.WriteString(pieces[rnd.IntN(len(pieces))])
		}
		text := b.String()
		clean, changes := Clean(text)
		if (len(changes) > 0) != (clean != text) {
			t.Fatalf("%q is cleaned to %q, and told %q", text, clean, changes)
		}
		if strings.Count(clean, "�") > strings.Count(text, "�") {
			t.Fatalf("%q is cleaned to %q: something is lost", text, clean)
		}
		for _, o := range Odd(clean) {
			if strings.Contains(o.What, " blank") && !o.Look {
				t.Fatalf("%q is cleaned to %q, which %s", text, clean, o)
			}
		}
	}
}
