package orders

import (
	"bytes"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/htmlindex"
)

// encodingOf finds an encoding by its name: one of the WHATWG Encoding Standard or of the
// code pages of DOS, which are in IANA's register of character sets alone.
func encodingOf(name string) (encoding.Encoding, error) {
	switch strings.ToLower(strings.TrimSpace(name)) {
	case "ibm437", "cp437", "437":
		return charmap.CodePage437, nil
	case "ibm850", "cp850", "850":
		return charmap.CodePage850, nil
	case "ibm852", "cp852", "852":
		return charmap.CodePage852, nil
	}
	return htmlindex.Get(name)
}

// alphabets are the letters beyond ASCII of languages that are written in Latin ones, in
// small letters. From memory.
var alphabets = sync.OnceValue(func() []string {
	return []string{
		"àâæçéèêëîïôœùûüÿ", "äöüßé", "áéíñóúü", "áâãàçéêíóôõúü", "àèéìíîòóùú", "æøåéèêóòôüöä", "åäöéüáàèšž", "áðéíóúýþæö", "áàéèëêíïóòöôúü", "àçèéíïòóúü",
		"âêîôûŵŷáéíóú", "ąćęłńóśźżé", "áčďéěíňóřšťúůýž", "áäčďéíĺľňóôŕšťúýž", "áéíóöőúüű", "ăâîșțşţ", "čćđšž", "çğıöşüâîûi̇", "ąčęėįšųūž", "āčēģīķļņšūž", "äõöüšž",
		"ċġħżàèìòù", "ĉĝĥĵŝŭ", faroese,
	}
})

// faroese are letters of an alphabet that those of Czech are often read as.
const faroese = "áðíóúýæø"

// A verdict is how wrong some words of a table look: strong are those with a sign or two
// alphabets in them, weak those with letters that no language has together or odd capitals,
// faint those that only Faroese writes, which count beside others.
type verdict struct {
	strong, weak, faint int // words
	at                  int // the first of them, -1 for none
}

func (v verdict) worth() int {
	if v.strong == 0 {
		return v.weak
	}
	return 2*v.strong + v.weak + v.faint
}

// judge reads words in a charset.
func (c charset) judge(words [][]byte) verdict {
	v := verdict{at: -1}
	for i, w := range words {
		n := [...]*int{nil, &v.faint, &v.weak, &v.strong}[wrongness(c.text(w))]
		if n == nil {
			continue
		}
		*n++
		if v.at < 0 && n != &v.faint {
			v.at = i
		}
	}
	return v
}

// wrongness judges a word of a table: 0 for one that is as languages write them, 1 for a
// faint, 2 for a weak and 3 for a strong sign of a wrong encoding.
func wrongness(word string) int {
	most := signFirst(word)
	for _, part := range strings.FieldsFunc(word, func(c rune) bool {
		return unicode.IsSpace(c) || c == 0xA0 || strings.ContainsRune("–—…·«»“”„/&", c)
	}) {
		most = max(most, partWrongness(part))
	}
	return most
}

// signFirst judges the sign that a word in small letters begins with: iso-8859-2 has Š, Ž,
// Ť and Ś at the places of ©, ®, « and ¦. A quote may be opened before such a word.
func signFirst(word string) int {
	runes := []rune(word)
	switch {
	case len(runes) < 3 || !unicode.IsLower(runes[1]) || !unicode.IsLower(runes[2]):
	case runes[0] == '«' && !strings.Contains(word, "»"):
		return 1
	case strings.ContainsRune("©®¦", runes[0]):
		return 3
	}
	return 0
}

func partWrongness(part string) int {
	opened := strings.HasPrefix(part, "‘") || strings.HasPrefix(part, "‚")
	part = strings.TrimLeft(part, "‘‚¿¡©®°§†•µ½¼¾€")
	letters := []rune(part)
	end := len(letters)
	for end > 0 && !unicode.IsLetter(letters[end-1]) {
		end--
	}
	worst := 0
	for _, c := range letters[end:] { // behind the last letter
		switch {
		case strings.ContainsRune("’®™©°†•!?", c), c == '‘' && opened, strings.ContainsRune("²³¹ºª", c) && end <= 2:
		case c == '‘' || c == '´':
			worst = max(worst, 2)
		case c >= 0x80 && end > 0:
			return 3
		}
	}
	letters = letters[:end]
	scripts, small, capitals, oddCase := map[string]bool{}, 0, 0, 0
	for i, c := range letters {
		switch {
		case unicode.IsLetter(c) && c != 'ƒ' && c != 'ª' && c != 'º' && c != 'µ':
			scripts[scriptOf(c)] = true
			switch {
			case unicode.IsLower(c):
				small++
			case i > 0 && c >= 0x80 && unicode.IsLetter(letters[i-1]) && (i+1 < end && unicode.IsLower(letters[i+1]) || i+1 == end && unicode.IsLower(letters[i-1])):
				oddCase = 2
				if c == 'Ÿ' {
					oddCase = 3
				}
				fallthrough
			default:
				capitals++
			}
		case c < 0x80 || c == '’' || c == '´' || unicode.Is(unicode.M, c):
		default:
			return 3
		}
	}
	if len(scripts) > 1 {
		return 3
	}
	if small == 1 && capitals > 2 && slices.ContainsFunc(letters, func(c rune) bool { return c >= 0x80 && unicode.IsLower(c) && c != 'ß' && c != 'ı' }) {
		oddCase = max(oddCase, 2) // MšLLER, but RENé may be typed so
	}
	worst = max(worst, oddCase)
	if scripts["Latin"] {
		worst = max(worst, noLanguage(string(letters)))
		if strings.ContainsAny(part, "þðýÝ") && turkishAsIcelandic().MatchString(string(letters)) {
			worst = max(worst, 2)
		}
	}
	return worst
}

// turkishAsIcelandic finds ş, ı, ğ and İ of Turkish as windows-1252 reads them, þ, ý, ð and Ý,
// where Icelandic has none of those: þ stands there before a vowel, r, v or j. From memory.
var turkishAsIcelandic = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\pLþ(?:$|[bcçdfghklmnpqstxyzðþ])|[AEIOUaeiou]þý|ðý|ýþ|ý[a-z]+ý|^Ý[bhklnpsz][a-z]`)
})

// noLanguage reports letters that no language has together.
func noLanguage(word string) int {
	var beyond []rune
	for _, c := range strings.ToLower(word) {
		if c >= 0x80 && unicode.IsLetter(c) {
			beyond = append(beyond, c)
		}
	}
	for _, of := range alphabets() {
		if slices.ContainsFunc(beyond, func(c rune) bool { return !strings.ContainsRune(of, c) }) {
			continue
		}
		if of == faroese {
			return 1
		}
		return 0
	}
	return 2
}

// oneLanguage reports whether several words are all of one alphabet.
func (c charset) oneLanguage(words [][]byte) bool {
	all := c.text(bytes.Join(words, nil))
	return len(words) > 3 && noLanguage(strings.Map(func(r rune) rune {
		if unicode.IsLetter(r) {
			return r
		}
		return -1
	}, all)) == 0
}

// mostWords is how many words of a table are looked at to tell its encoding.
const mostWords = 2000

// wordsBeyondASCII are the words of a table, each once, that have characters beyond ASCII and letters
// beside, with where each stands.
func wordsBeyondASCII(data []byte) (words [][]byte, at []int) {
	seen := map[string]bool{}
	inWord := func(b byte) bool {
		return b >= utf8.RuneSelf || b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' || b == '\''
	}
	for i := 0; i < len(data) && len(words) < mostWords; i++ {
		if !inWord(data[i]) {
			continue
		}
		from := i
		for i < len(data) && inWord(data[i]) {
			i++
		}
		word := data[from:i]
		if len(word) > 2 && len(word) < 60 && beyondASCII(word) >= 0 && !seen[string(word)] {
			seen[string(word)] = true
			words, at = append(words, word), append(at, from)
		}
	}
	return words, at
}

// notDeclared tells of a table that several words show to be written in another encoding
// than the one of a byte a character that was declared; nil where nothing speaks for that.
// It is read as declared all the same.
func notDeclared(data []byte, name string, declared encoding.Encoding) *wrongEncoding {
	of, is := declared.(*charmap.Charmap)
	if !is || beyondASCII(data) < 0 {
		return nil
	}
	words, places := wordsBeyondASCII(data)
	as := charset{name, of}.judge(words)
	if as.at < 0 || as.strong+as.weak+as.faint < 2 {
		return nil
	}
	few := as.worth() < 3
	word, most := words[as.at], as.worth()/10
	var better, outs []string
	for _, c := range []charset{western(), central(), latin2(), mac(), dos(), cyrillic(), greek(), turkish(), koi8(), hebrew(), dosCentral()} {
		out, worth := c.text(word), c.judge(words).worth()
		if c.of == of || worth > most || wrongness(out) > 0 || few && !c.oneLanguage(words) {
			continue
		}
		if worth < most {
			most, better, outs = worth, nil, nil
		}
		if !slices.Contains(outs, out) {
			better, outs = append(better, fmt.Sprintf("by encoding = %q this word would be %q", c.name, out)), append(outs, out)
		}
	}
	if len(better) == 0 {
		return nil
	}
	at := places[as.at]
	before, _ := declared.NewDecoder().Bytes(bytes.Clone(data[:at]))
	return &wrongEncoding{len(before), fmt.Sprintf("words of this table, as %q, look as if it was written in another encoding than %s", charset{name, of}.text(word), name),
		strings.Join(better[:min(len(better), 2)], ", ") + "; say what the table is written in, or save it as UTF-8", true}
}
