package orders

import (
	"regexp"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"foredge/lang/lookalike"

	"golang.org/x/text/encoding/charmap"
)

// A charset is an encoding of one byte a character, by its usual name.
type charset struct {
	name string
	of   *charmap.Charmap
}

// The charsets in which tables are written, and read by mistake.
func western() charset  { return charset{"windows-1252", charmap.Windows1252} }
func central() charset  { return charset{"windows-1250", charmap.Windows1250} }
func cyrillic() charset { return charset{"windows-1251", charmap.Windows1251} }
func greek() charset    { return charset{"windows-1253", charmap.Windows1253} }
func turkish() charset  { return charset{"windows-1254", charmap.Windows1254} }
func hebrew() charset   { return charset{"windows-1255", charmap.Windows1255} }
func koi8() charset     { return charset{"koi8-r", charmap.KOI8R} }
func mac() charset      { return charset{"macintosh", charmap.Macintosh} }
func dos() charset      { return charset{"ibm850", charmap.CodePage850} }

func dosCentral() charset  { return charset{"ibm852", charmap.CodePage852} }
func dosAmerican() charset { return charset{"ibm437", charmap.CodePage437} }

// Those of ISO 8859 differ from the ones of Windows in few signs and letters.
func latin2() charset { return charset{"iso-8859-2", charmap.ISO8859_2} }
func latin9() charset { return charset{"iso-8859-15", charmap.ISO8859_15} }

// central reports an encoding of central Europe.
func (c charset) central() bool { return c.of == charmap.Windows1250 || c.of == charmap.ISO8859_2 }

// byteOf writes a character in a charset; not ok if that lacks it.
func (c charset) byteOf(r rune) (byte, bool) {
	b, ok := c.of.EncodeRune(r)
	if !ok && c.of == charmap.Windows1252 && r >= 0x80 && r < 0xA0 {
		return byte(r), true // as iso-8859-1 has them; of five WHATWG's windows-1252 too
	}
	return b, ok
}

// bytes writes a text in a charset; not ok if that lacks a character.
func (c charset) bytes(text string) ([]byte, bool) {
	out := make([]byte, 0, len(text))
	for _, r := range text {
		b, ok := c.byteOf(r)
		if !ok {
			return nil, false
		}
		out = append(out, b)
	}
	return out, true
}

func (c charset) text(data []byte) string {
	var b strings.Builder
	for _, x := range data {
		b.WriteRune(c.of.DecodeByte(x))
	}
	return b.String()
}

// garbled guesses what a text was before it was read in a wrong encoding, and says how
// that came; how is "" where nothing speaks for it, and meant where several things may
// be. A text that has lost characters can't be guessed.
func garbled(text string) (meant, how string) {
	if !strings.ContainsFunc(text, func(c rune) bool { return c >= 0x80 }) || lostIn(text) {
		return "", ""
	}
	if mended := ungarbled(text); mended != text {
		return mended, "UTF-8 as another one"
	}
	if meant, is := misread(text); is {
		return meant, "UTF-8 as another one"
	}
	if meant := contracted(text); meant != text {
		return meant, "as " + mac().name
	}
	words := strings.Fields(text)
	for _, r := range rereadings() {
		whole, changed, sure := make([]string, len(words)), false, true
		for i, w := range words {
			whole[i] = w
			if !r.suspect(w) {
				continue
			}
			if out, one := r.reread(w); out != "" {
				whole[i], changed, sure = out, true, sure && one
			}
		}
		switch {
		case changed && sure:
			return strings.Join(whole, " "), "as " + r.read.name
		case changed:
			return "", "as " + r.read.name
		}
	}
	return "", ""
}

func lostIn(text string) bool { return strings.ContainsRune(text, Lost) }

// A rereading is a mistake of those who read a table: in one encoding, and it was
// written in one of others.
type rereading struct {
	read    charset
	written []charset
	// suspect tells the words that such a mistake has made.
	suspect func(string) bool
}

// rereadings are the mistakes that can be told by a word's looks.
var rereadings = sync.OnceValue(func() []rereading {
	return []rereading{
		{western(), []charset{cyrillic(), greek(), koi8(), hebrew()}, allAccented},
		{cyrillic(), []charset{western()}, mixed},
		{greek(), []charset{western()}, mixed},
		{western(), []charset{turkish()}, mixedThorns},
		{western(), []charset{central(), mac(), dos()}, signInWord},
		{mac(), []charset{western()}, signInWord},
	}
})

// clearly is by how much one reading must make more sense than another to be told.
const clearly = 0.15

// reread reads a word anew, in that of the encodings that makes most sense of it; "" if
// none does. It is sure if no other makes nearly as much.
func (r rereading) reread(word string) (best string, sure bool) {
	data, ok := r.read.bytes(word)
	if !ok {
		return "", false
	}
	most, second := 0.0, 0.0
	for _, c := range r.written {
		out := c.text(data)
		switch much := sense(out); {
		case out == best || much == 0 || lastIsLetter(word) && !lastIsLetter(out):
		case much > most:
			best, most, second = out, much, most
		default:
			second = max(second, much)
		}
	}
	return best, most-second > clearly
}

func lastIsLetter(word string) bool {
	last, _ := utf8.DecodeLastRuneInString(word)
	return unicode.IsLetter(last)
}

// allAccented reports a word of four letters or more, nearly all with accents and three
// of them different, as no language writes them: another alphabet, read as a western one.
func allAccented(word string) bool {
	letters, accented, kinds := 0, 0, map[rune]bool{}
	for _, c := range word {
		if unicode.IsLetter(c) || c >= 0xA1 && c <= 0xFF && c != '«' && c != '»' {
			letters++
			if c >= 0xA1 && c <= 0xFF {
				accented++
				kinds[unicode.ToLower(c)] = true
			}
		}
	}
	return letters >= 4 && accented*5 >= letters*4 && len(kinds) >= 3
}

// mixed reports a word of Latin letters with a small one of another alphabet behind one of
// them, other than those that look Latin; such and capitals, as in Ωmega, were typed.
func mixed(word string) bool {
	if lookalike.Mixed(lookalike.Latin(word)) == "" {
		return false
	}
	latin, other, inside := 0, 0, false
	var before rune
	for _, c := range word {
		switch {
		case unicode.Is(unicode.Latin, c):
			latin++
		case unicode.In(c, unicode.Cyrillic, unicode.Greek):
			other++
			inside = inside || unicode.IsLower(c) && unicode.Is(unicode.Latin, before)
		}
		before = c
	}
	return inside && latin > other && latin+other >= 3
}

// signInWord reports a word of four letters or more with a sign inside it, or with a
// capital beyond ASCII right after a small letter.
func signInWord(word string) bool {
	runes := []rune(strings.TrimFunc(word, func(c rune) bool {
		return unicode.IsPunct(c) || strings.ContainsRune("®™©°ªº²½¼¾´`~^+=$€£<>|", c)
	}))
	if strings.HasPrefix(word, "‚") || strings.HasPrefix(word, "„") {
		return false // a quote as some countries open it
	}
	letters, signs := 0, 0
	for i, c := range runes {
		switch {
		case unicode.IsLetter(c):
			letters++
			if i > 0 && c >= 0x80 && unicode.IsUpper(c) && unicode.IsLower(runes[i-1]) {
				signs++
			}
		case c >= 0x80 && c != '’' && c != '‘' && c != '–' && c != '—' && c != '·' && c != '…' && c != '´' && !unicode.Is(unicode.M, c) && !unicode.IsDigit(c):
			signs++
		}
	}
	return signs > 0 && letters >= 3
}

// mixedThorns reports a word with letters of Icelandic beside such as Turkish has, which
// no language writes: they are at the places of those that only Turkish has.
func mixedThorns(word string) bool {
	return strings.ContainsAny(word, "ðþÐÞ") && strings.ContainsAny(word, "çÇüÜ")
}

// contracted is a text in which the apostrophes of English contractions are mended that
// stand there as í, which is their byte in windows-1252 as macintosh reads it. Only those
// are looked at: many names end as in París.
func contracted(text string) string {
	if !strings.Contains(text, "í") {
		return text
	}
	return contractions().ReplaceAllStringFunc(text, func(word string) string { return strings.Replace(word, "í", "’", 1) })
}

var contractions = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\b(?:[Ii]t|[Tt]hat|[Ww]hat|[Ww]ho|[Hh]ere|[Tt]here|[Ll]et)ís\b|\b(?:[Dd]o|[Cc]a|[Ww]o|[Ii]s|[Dd]id|[Dd]oes|[Cc]ould|[Ww]ould)nít\b|\b(?:[Yy]ou|[Ww]e|[Tt]hey)í(?:re|ll|ve|d)\b|\bIí(?:m|ll|ve|d)\b`)
})

// sense judges a word as it would be written, from 0 to 1: of one alphabet, its capitals
// first or all, with vowels. The share of vowels tells Greek from Russian.
func sense(word string) float64 {
	var letters, vowels, upper int
	first, scripts := false, map[string]bool{}
	for _, c := range word {
		switch {
		case c == 'ƒ':
			return 0 // no word has it
		case unicode.IsLetter(c):
			if letters == 0 {
				first = unicode.IsUpper(c)
			}
			letters++
			if unicode.IsUpper(c) {
				upper++
			}
			scripts[scriptOf(c)] = true
			if isVowel(c) {
				vowels++
			}
		case c < 0x80 || strings.ContainsRune("’–—…«»“”", c):
		default:
			return 0
		}
	}
	cased := upper == 0 || upper == letters || first && upper == 1
	if letters == 0 || len(scripts) != 1 || scripts[""] || !cased && !strings.ContainsAny(word, "-’'") {
		return 0
	}
	share := float64(vowels) / float64(letters)
	if scripts["Hebrew"] {
		share = 0.2 // it writes none
	}
	return 1 - min(1, 2*abs(share-0.45))*0.99
}

func abs(x float64) float64 { return max(x, -x) }

func scriptOf(c rune) string {
	switch {
	case unicode.Is(unicode.Latin, c):
		return "Latin"
	case unicode.Is(unicode.Cyrillic, c):
		return "Cyrillic"
	case unicode.Is(unicode.Greek, c):
		return "Greek"
	case unicode.Is(unicode.Hebrew, c):
		return "Hebrew"
	}
	return ""
}

func isVowel(c rune) bool {
	return strings.ContainsRune("aeiouyàáâãäåæèéêëìíîïòóôõöøùúûüýÿąęěőœůűăîаеёиоуыэюяіїєαεηιουωάέήίόύώϊϋΐΰ", unicode.ToLower(c))
}
