package orders

import (
	"strings"
	"testing"
)

// Texts of which all, a part or a remainder was read in a wrong encoding: each is told, and
// only one that can be mended as a whole is, to what stands here.
func TestMisread(t *testing.T) {
	for _, test := range []struct{ text, clean string }{
		{"Ann â€\u2013 Bob", ""}, {"Ann â€\u201c Bob", "Ann – Bob"}, {"Tomâ€™s â€\u2013 log", ""}, {"Tomâ€™s \u00e2\u20ac\u201c log", "Tom’s – log"},
		{"Tomâ€™s – log", ""}, {"Itâ€s", ""}, {"Ann â€œBobâ€", ""}, {"Ann â€œBobâ€\u009d", "Ann “Bob”"}, {"ÎœÎ±ÏÎ¯Î±", ""}, {"ÎœÎ±Ï\u0081Î¯Î±", "Μαρία"},
		{"×“× ×”", ""}, {"×“×\u00a0×”", "דנה"}, {"æµ·", "海"}, {"Ann ðŸ’•", "Ann 💕"}, {"voilÃ ", ""}, {"voilÃ", ""}, {"voilÃ\u00a0", "voilà"}, {"Ãsland", ""},
		{"Ã\u008dsland", "Ísland"}, {"BjĂ¶rn", "Björn"}, {"ItÔÇÖs", "It’s"}, {"Itís", ""}, {"Donít", ""}, {"Çaðrý", ""}, {"ÅÃ³dÅº", ""}, {"Å\u0081Ã³dÅº", "Łódź"},
		{"ZoÃ«", "Zoë"}, {"Ã©", "é"}, {"Ã–zgÃ¼r", "Özgür"}, {"Ã–del", "Ödel"}, {"Ã‰MILIE", "ÉMILIE"}, {"GÃ–TEBORG", ""}, {"CAFÃ‰", "CAFÉ"}, {"GROÃŸ", "GROß"},
		{"Åukasz", ""}, {"AnnÂ Bob", ""}, {"10Â°", "10°"}, {"âœ¨ Ann", "✨ Ann"}, {"Ð˜Ñ€Ð¸Ð½Ð°", "Ирина"}, {"Å imon", ""}, {"JiÅ™Ã\u00ad", "Jiří"}, {"Jos√©", "José"},
		{"ZoĂ«", "Zoë"}, {"Zo├½", "Zoë"}, {"It‚Äôs", "It’s"}, {"Ø¹Ù…Ø±", "عمر"}, {"SÃ£o", "São"}, {"Ann Ã© Bo’s", ""},
		// Capitals, of which the second byte is a sign; and a byte-order mark.
		{"Ã…SE", "ÅSE"}, {"Ã†SA", "ÆSA"}, {"ZOÃ‹", "ZOË"}, {"Ã–ZIL", "ÖZIL"}, {"Ã…SE BERG", "ÅSE BERG"}, {"Ã–", "Ö"}, {"ï»¿Ann", "Ann"}, {"Ann Ã–ZIL", "Ann ÖZIL"},
		// Read as windows-1250, and as iso-8859-2.
		{"JĂĽrgen MĂĽller", "Jürgen Müller"}, {"GĂˇbor", "Gábor"}, {"FĂŞte", "Fête"}, {"JĂşlia", "Júlia"}, {"SĂŁo", "São"}, {"PĂŞche", "Pêche"}, {"JosĂŠ", "José"}, {"JĂźrgen", "Jürgen"}, {"GĂĄbor", ""},
		// Where two encodings make two names of it the one with odd capitals is none.
		{"JÃŒrgen MÃŒller", "Jürgen Müller"}, {"SÃžren", "Søren"}, {"MÃ€rta", "Märta"}, {"Åœiga", ""}, {"├¢rsula", "Ûrsula"}, {"Ãœnal", "Ünal"}, {"ÃžÃ³rÃ°ur", "Þórður"}, {"M├╝ller", "Müller"},
	} {
		if meant, how := garbled(test.text); how == "" && !strings.Contains("Åukasz|Å imon", test.text) {
			t.Errorf("%q isn't told (%q)", test.text, meant)
		}
		want := test.clean
		if want == "" {
			want = strings.TrimSpace(test.text)
		}
		if got, _ := Clean(test.text); got != want {
			t.Errorf("%q is cleaned to %q, want %q", test.text, got, want)
		}
	}
	for text, want := range map[string]string{"Itís": "It’s", "Çaðrý": "Çağrı", "GÃ–TEBORG": "GÖTEBORG", "Donít": "Don’t"} {
		if meant, _ := garbled(text); meant != want {
			t.Errorf("%q: %q may be meant, want %q", text, meant, want)
		}
	}
}

// rightNames are names and words of many languages, from memory, in small letters and
// capitals with their accents where those come together oddly.
const rightNames = "Luleå|Umeå|Å|Ås|Öö|Ö|Mamã|Irmã|Irmão|São João|Conceição|Avó|Avô|Réka|Ágnes|Őrség|Győző|Łódź|Żółć|Świętosława|Jiří|Déšť|Plášť|Věšťba|Zvěst|Příští|Dĺžka|Kĺb|" +
	"Vŕba|Míša|Duša|Íše|Žížala|Růžena|Čeněk|Ňuňu|Šárka|Ľubica|Őze|Ürün|Gülşat|Çaryýew|Aýgözel|Ýüsüp|Hafþór|Auður|Ísþór|Þórunn|Ðuro|Đorđe|Željko|Šćepan|Ćiro|Ñuñoa|Müßig|Straße|" +
	"Groß|Ångström|Ægir|Øystein|Bjørg|Þyri|Æthelðryð|Noël|Zoë|Œuvre|Cœur|Sœur|Ïle|Aïda|Ûber|Île|Être|Où|À|Là|Voilà|Città|Perché|Così|Però|Più|Lunedì|È|Caffè|Ștefan|Țăran|Mamă|Fată|Întâi|" +
	"Română|Ğülşen|Çağrı|Işıl|İstanbul|Şükrü|Ərəb|Əli|Māra|Ēriks|Ģirts|Ķirsis|Ļoti|Ņina|Rūta|Ūdens|Ąžuolas|Ėjus|Įžas|Ųsai|Ħal|Ġorġ|Żaqq|Ċensu|Ŵyn|Ŷd|Môn|Dafydd|Siân|Hà|Đỗ|Thị|Hương|" +
	"Nguyễn|Ánh|Ãnh|Õ|Ũ|Phượng|Ông|Ế|Ὀδυσσεύς|Μαρία|Ελένη|Ψαρού|Ирина|Юлія|Їжак|Ніна|Віра|Сірко|Ђорђе|Љиљана|Њего|Ћира|Џон|Өмүр|Әлия|Қанат|Ґанок|עדה|נועה|عمر|لیلی|김민수|山田|海|สมชาย|" +
	"París|Luís|Ortís|Solís|Anaís|Benít|Díaz|Íñigo|Núñez|Óscar|Úrsula|Ü|Ä|Öl|Ää|Ann|Tom|Ó Séaghdha|Caoimhín|Áine|Òscar|Èlia|Maïs|Ŝipo|Ĉapelo|Ĵaŭdo|Ŭa|Ǎi|Lǐ|Nǚ|Ōta|Ōsaka|Pāua"

// Right names are never told nor changed, whatever stands behind or before them.
func TestRightNamesAreNotMisread(t *testing.T) {
	for _, name := range strings.Split(rightNames, "|") {
		for _, word := range []string{name, strings.ToUpper(name), strings.ToLower(name)} {
			for _, form := range []string{"%", "%’s", "%’S", "%´s", "%®", "%™", "%…", "%!", "Ann – %", "% – Ann", "%–Ann", "Ann–%", "“%” Ann", "Ann “%”", "«%» Ann", "‘%’ Ann", "„%“ Ann", "%, 5 °C", "%\u00a0Ann", "%²", "(%)", "% & %", "%-%", "Ann’%", "%’N Ann", "%• Ann", "½ %"} {
				text := strings.ReplaceAll(form, "%", word)
				if meant, how := garbled(text); how != "" {
					t.Errorf("%q is told to be read wrongly, %s (%q)", text, how, meant)
				}
				if got := ungarbled(text); got != text {
					t.Errorf("%q is mended to %q", text, got)
				}
			}
		}
	}
}
