package orders

import (
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
func latin1() charset   { return charset{"iso-8859-1", charmap.ISO8859_1} }
func central() charset  { return charset{"windows-1250", charmap.Windows1250} }
func cyrillic() charset { return charset{"windows-1251", charmap.Windows1251} }
func greek() charset    { return charset{"windows-1253", charmap.Windows1253} }
func turkish() charset  { return charset{"windows-1254", charmap.Windows1254} }
func hebrew() charset   { return charset{"windows-1255", charmap.Windows1255} }
func koi8() charset     { return charset{"koi8-r", charmap.KOI8R} }
func mac() charset      { return charset{"macintosh", charmap.Macintosh} }
func dos() charset      { return charset{"ibm850", charmap.CodePage850} }

// bytes writes a text in a charset; not ok if that lacks a character.
func (c charset) bytes(text string) ([]byte, bool) {
	out := make([]byte, 0, len(text))
	for _, r := range text {
		b, ok := c.of.EncodeRune(r)
		if !ok && c.of == charmap.Windows1252 && r >= 0x80 && r < 0xA0 {
			b, ok = byte(r), true // WHATWG, "Encoding": the five bytes that it has no character for
		}
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

// ungarbled mends letters that were written in UTF-8 and read as another encoding,
// which can be told from the pattern of their bytes; nothing else is touched.
func ungarbled(text string) string {
	for range 3 { // some tables have been through it twice
		mended := ungarbledOnce(text)
		if mended == text || strings.ContainsRune(mended, Lost) {
			break
		}
		text = mended
	}
	return text
}

func ungarbledOnce(text string) string {
	var b strings.Builder
	runes := []rune(text)
	for i := 0; i < len(runes); {
		if runes[i] < 0x80 {
			b.WriteRune(runes[i])
			i++
			continue
		}
		end := i
		for end < len(runes) && runes[end] >= 0x80 {
			end++
		}
		b.WriteString(ungarbledRun(runes, i, end))
		i = end
	}
	return b.String()
}

// ungarbledRun mends what of a run of letters beyond ASCII are bytes of UTF-8.
func ungarbledRun(runes []rune, from, to int) string {
	run := string(runes[from:to])
	if to-from < 2 {
		return run
	}
	// Small letters before it, or letters after it, show that it is one letter of a word.
	inWord := to < len(runes) && unicode.IsLetter(runes[to]) || from > 0 && unicode.IsLower(runes[from-1]) && unicode.IsUpper(runes[from])
	for _, c := range []charset{western(), latin1(), mac(), cyrillic(), central(), greek(), turkish(), koi8(), dos()} {
		data, ok := c.bytes(run)
		if !ok {
			continue
		}
		out, sequences := sequencesOf(data)
		if sequences == 0 {
			continue
		}
		// One pair may be as it should be, as a capital before a quote or a dash.
		sure := sequences > 1
		switch c.of {
		case charmap.Windows1252, charmap.ISO8859_1:
			sure = sure || inWord || !unicode.IsPunct(runes[to-1])
		case charmap.Macintosh, charmap.CodePage850:
			sure = sure || strings.ContainsRune("√¬≈ƒ‚├┬", runes[from])
		default:
			sure = sure || mixedWord(runes, from, to)
		}
		if sure {
			return out
		}
	}
	return run
}

// mixedWord reports that what stands at runes[from:to] is of another script than the
// rest of its word.
func mixedWord(runes []rune, from, to int) bool {
	latin := func(i int) bool { return i >= 0 && i < len(runes) && runes[i] < 0x80 && unicode.IsLetter(runes[i]) }
	return (latin(from-1) || latin(to)) && !unicode.Is(unicode.Latin, runes[from])
}

// sequencesOf decodes bytes that are UTF-8 as a whole and make letters or usual signs,
// and tells how many; 0 for all others.
func sequencesOf(data []byte) (out string, n int) {
	if !utf8.Valid(data) {
		return "", 0
	}
	out = string(data)
	for _, c := range out {
		if c < 0x80 || !usualSign(c) {
			return "", 0
		}
		n++
	}
	return out, n
}

// usualSign reports letters of living scripts and the signs that texts have.
func usualSign(c rune) bool {
	switch {
	case c == Lost || c == 0xFEFF || c >= 0xFE00 && c <= 0xFE0F:
		return true
	case c >= 0x00A0 && c <= 0x024F, c >= 0x0300 && c <= 0x036F, c >= 0x1E00 && c <= 0x1FFF:
		return true
	case c >= 0x2010 && c <= 0x203A, c >= 0x20A0 && c <= 0x2BFF, c >= 0x3000 && c <= 0x9FFF, c >= 0xAC00 && c <= 0xD7A3:
		return true
	case c == 0x200B || c == 0x200C || c == 0x200D || c == 0x200E || c == 0x200F:
		return true
	case c >= 0x1F000 && c <= 0x1FAFF:
		return true
	}
	return unicode.IsLetter(c) && unicode.In(c, unicode.Greek, unicode.Cyrillic, unicode.Hebrew, unicode.Arabic, unicode.Georgian,
		unicode.Thai, unicode.Devanagari, unicode.Bengali, unicode.Tamil)
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
		case out == best || much == 0:
		case much > most:
			best, most, second = out, much, most
		default:
			second = max(second, much)
		}
	}
	return best, most-second > clearly
}

// allAccented reports a word of four letters or more, nearly all with accents, as no
// language writes them: another alphabet, read as a western one.
func allAccented(word string) bool {
	letters, accented := 0, 0
	for _, c := range word {
		if unicode.IsLetter(c) || c >= 0xA1 && c <= 0xFF {
			letters++
			if c >= 0xA1 && c <= 0xFF {
				accented++
			}
		}
	}
	return letters >= 4 && accented*5 >= letters*4
}

// mixed reports a word of Latin letters with one of another alphabet, other than those
// that look Latin, which were typed.
func mixed(word string) bool {
	if lookalike.Mixed(lookalike.Latin(word)) == "" {
		return false
	}
	latin, other := 0, 0
	for _, c := range word {
		switch {
		case unicode.Is(unicode.Latin, c):
			latin++
		case unicode.In(c, unicode.Cyrillic, unicode.Greek):
			other++
		}
	}
	return other > 0 && latin > other && latin+other >= 3
}

// signInWord reports a word of four letters or more with a sign inside it, or with a
// capital beyond ASCII right after a small letter.
func signInWord(word string) bool {
	runes := []rune(strings.TrimFunc(word, unicode.IsPunct))
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
		case c >= 0x80 && c != '’' && c != '‘' && c != '–' && c != '—' && c != '·' && c != '…' && !unicode.Is(unicode.M, c) && !unicode.IsDigit(c):
			signs++
		}
	}
	return signs > 0 && letters >= 3
}

// sense judges a word as it would be written, from 0 to 1: of one alphabet, its capitals
// first or all, with vowels. The share of vowels tells Greek from Russian.
func sense(word string) float64 {
	var letters, vowels, upper int
	first, scripts := false, map[string]bool{}
	for _, c := range word {
		switch {
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
