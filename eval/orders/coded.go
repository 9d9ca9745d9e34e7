package orders

import (
	"fmt"
	"html"
	"mime"
	"net/url"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"
)

// A code is a way in which programs write a sign that they keep for themselves.
type code struct {
	what   string // as a text is said to have it; %s is what was found
	sign   *regexp.Regexp
	decode func(sign string) string // "" or the sign itself where it is none
	hidden bool                     // it stands for nothing, whatever is in it
}

// codes are the ways in which programs write signs that end up in exported tables.
// Their places: entities and tags are HTML's (WHATWG, "HTML", 13.1.4 and 13.1.2), _x000D_
// is ECMA-376's (Part 1, 22.4.2.4, bstr), =?...?= is that of RFC 2047, =C3=B8 that of RFC
// 2045 (6.7), %C3%B8 that of RFC 3986 (2.1), \u00f8 that of RFC 8259 (7).
var codes = sync.OnceValue(func() []code {
	return []code{
		{"has %s, as web pages write a sign", regexp.MustCompile(`&(?:#[0-9]{1,7}|#[xX][0-9a-fA-F]{1,6}|[A-Za-z][A-Za-z0-9]{1,31});?`), entity, false},
		{"has %s, which a web page doesn't show", regexp.MustCompile(`(?s)<!--.*?-->|(?i:<style(?:\s[^<>]*)?>.*?</style\s*>|<script(?:\s[^<>]*)?>.*?</script\s*>)`), nothing, true},
		{"has %s, a tag of a web page", regexp.MustCompile(`\s*(?:` + lineTag + `\s*)?(?:` + tagOf(blocks) + `\s*)+`), lineBreak, false},
		{"has %s, a tag of a web page", regexp.MustCompile(`\s*` + lineTag + `\s*`), lineBreak, false},
		{"has %s, a tag of a web page", regexp.MustCompile(tagOf(tags)), tag, false},
		{"has %s, as spreadsheets write a control character", regexp.MustCompile(`_x[0-9A-Fa-f]{4}_`), spreadsheetSign, false},
		{"has %s, as mail writes other letters", regexp.MustCompile(`=\?[A-Za-z0-9-]+\?[BbQq]\?[^? ]*\?=`), mailWord, false},
		{"has %s, as mail writes other letters", regexp.MustCompile(`(?:=[0-9A-F]{2}){2,}`), quotedBytes("="), false},
		{"has %s, as mail writes a blank", regexp.MustCompile(`\pL=20\pL`), func(sign string) string { return strings.Replace(sign, "=20", " ", 1) }, false},
		{"has %s, as addresses of web pages write other signs", regexp.MustCompile(`(?:%[0-9A-Fa-f]{2})+`), address, false},
		{"has %s, as programs write a sign", regexp.MustCompile(`(?:\\u[0-9A-Fa-f]{4})+|\\["']`), escaped, false},
		{"has %s, as programs write a sign", regexp.MustCompile(`(?:%u[0-9A-Fa-f]{4})+`), func(sign string) string { return unescaped(strings.ReplaceAll(sign, "%u", `\u`), sign) }, false},
		{"has %s, as programs write a sign", regexp.MustCompile(`(?:\\x[0-9A-Fa-f]{2}){2,}`), quotedBytes(`\x`), false},
		{"has %s, as programs write a line break", regexp.MustCompile(`\\r\\n|\\n`), lineBreak, false},
	}
})

// Tags by their names. A web page shows one break where blocks meet or a line is ended,
// whatever blanks and line ends stand around (CSS Text 3, 4.1.2), and none more for a br
// that a block ends with.
func tagOf(names string) string { return `</?(?i:` + names + `)` + attributes + `/?>` }

const (
	// attributes have an equals sign or are one of two old words; a<b and c>d has none.
	attributes = `(?:\s[^<>]*=[^<>]*|\s+(?i:noshade|nowrap))?\s*`
	lineTag    = `<(?i:br)` + attributes + `/?>`
	blocks     = `blockquote|body|center|div|h[1-6]|head|hr|html|li|ol|p|pre|table|tbody|tr|ul`
	// tags are the other elements of HTML that editors of texts write, inline those of
	// them that have an end.
	tags   = inline + `|br|img|ins|script|style|td|th`
	inline = `a|abbr|b|big|code|em|font|i|mark|s|small|span|strike|strong|sub|sup|tt|u`
)

// tagInWord is a tag inside a word, by its name.
var tagInWord = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`[\pL\pN](<((?i:` + inline + `))` + attributes + `>)[\pL\pN]`)
})

// inWord finds what looks like a tag inside a word and has no end, as in 1<b>2: nobody
// can tell whether a program has put it there.
func inWord(text string) (signs []string) {
	if !strings.Contains(text, "<") {
		return nil
	}
	small := strings.ToLower(text)
	for _, m := range tagInWord().FindAllStringSubmatch(text, -1) {
		if !slices.Contains(signs, m[1]) && !strings.Contains(small, "</"+strings.ToLower(m[2])+">") {
			signs = append(signs, m[1])
		}
	}
	return signs
}

// coded finds the signs that programs write for others.
func coded(text string, add func(Oddity)) {
	bare := inWord(text)
	bytes := text // without the signs that are told
	if strings.ContainsAny(text, `&<_=%\`) {
		left := text
		for _, c := range codes() {
			for _, sign := range c.sign.FindAllString(left, -1) {
				if c.decoded(text, bare, sign) != sign {
					add(Oddity{What: fmt.Sprintf(c.what, shown(sign))})
					bytes = strings.ReplaceAll(bytes, sign, "")
				}
			}
			if c.hidden {
				left = c.sign.ReplaceAllString(left, "") // tags in it are told with it
			}
		}
	}
	for _, sign := range bare {
		name := strings.Fields(strings.Trim(sign, "<>"))[0]
		add(Oddity{What: fmt.Sprintf("has %s inside a word, and no </%s> behind it", shown(sign), name)})
	}
	if _, is := formulaText(text); is {
		add(Oddity{What: "stands in a formula, as spreadsheets keep a text from being read as a number"})
	} else if apostropheFirst(text) {
		add(Oddity{What: "begins with an apostrophe, as spreadsheets mark a text"})
	} else if rest, is := strings.CutPrefix(text, "'"); is && startsUpper(rest) && !strings.ContainsAny(rest, "'’") {
		add(Oddity{What: "begins with an apostrophe, which a spreadsheet may have put there", Look: true})
	}
	if byte1 := singleByte().FindString(bytes); byte1 != "" && (strings.Contains(byte1, `\x`) || !strings.ContainsFunc(text, unicode.IsSpace)) {
		_, n := utf8.DecodeRuneInString(byte1)
		add(Oddity{What: fmt.Sprintf("has %s, as programs write a letter", byte1[n:]), Meant: singleBytes(text)})
	}
	if shortened().MatchString(text) {
		add(Oddity{What: "is a long number as spreadsheets shorten it, so digits are lost"})
	}
}

// decoded is what a sign in a text stands for, the sign itself where it is no code; bare
// are its tags in words without an end.
func (c code) decoded(text string, bare []string, sign string) string {
	if strings.HasPrefix(sign, "%") && !strings.HasPrefix(sign, "%u") && strings.ContainsFunc(text, unicode.IsSpace) || strings.HasPrefix(sign, `\`) && strings.Contains(text, `:\`) {
		return sign // 50%20 or C:\new in a sentence
	}
	if slices.Contains(bare, sign) {
		return sign
	}
	return c.decode(sign)
}

// shown is a sign in one line, for messages.
func shown(sign string) string { return strings.Join(strings.Fields(sign), " ") }

// decodeAll writes what programs have written for others as these; what tells each
// change.
func decodeAll(text string, what func(string)) string {
	if inside, is := formulaText(text); is {
		what("taken out of its formula")
		text = inside
	} else if apostropheFirst(text) {
		what("an apostrophe before it left out")
		text = text[1:]
	}
	if !strings.ContainsAny(text, `&<_=%\`) {
		return text
	}
	for range 3 { // &amp;amp; has been through two programs
		before := text
		for _, c := range codes() {
			whole, bare := text, inWord(text)
			text = c.sign.ReplaceAllStringFunc(text, func(sign string) string {
				out := c.decoded(whole, bare, sign)
				if out != sign {
					what(shown(sign) + " decoded")
				}
				return out
			})
		}
		if text == before {
			break
		}
	}
	return text
}

// entity is the sign that web pages write so. Without the semicolon only those of which
// nobody begins a word: R&D and Rock&Reg are as they were written.
func entity(sign string) string {
	out := html.UnescapeString(sign)
	switch last, n := utf8.DecodeRuneInString(out); {
	case strings.HasSuffix(sign, ";"):
		if n < len(out) && strings.HasSuffix(out, ";") {
			return sign // a word that begins with the letters of a code, as &regards;
		}
		return out
	case n != len(out) || last < ' ':
		return sign
	case sign[1] == '#' || bareEntity().MatchString(sign):
		return out
	}
	return sign
}

// bareEntity are names that HTML reads without a semicolon (WHATWG, "HTML", 13.5) and
// that are no words, of letters with accents and of the signs of its own.
var bareEntity = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`^&(?:amp|lt|gt|quot|nbsp|AMP|QUOT|szlig|[A-Za-z](?:acute|grave|circ|uml|tilde|cedil|ring|slash)|(?:ae|AE)lig)$`)
})

func nothing(string) string { return "" }

// tag is what a tag of a web page does to its text.
func tag(sign string) string {
	name := strings.ToLower(strings.Trim(sign, "</>"))
	if name, _, _ = strings.Cut(name, " "); name == "td" || name == "th" {
		return " "
	}
	return ""
}

func spreadsheetSign(sign string) string {
	n, err := strconv.ParseUint(sign[2:6], 16, 16)
	switch {
	case err != nil || n == 0 || n >= 0xD800 && n < 0xE000:
		return sign
	case n == '\r':
		return "\n"
	}
	return string(rune(n))
}

func mailWord(sign string) string {
	out, err := new(mime.WordDecoder).Decode(sign)
	if err != nil {
		return sign
	}
	return out
}

// quotedBytes decodes bytes of UTF-8 that are written as two digits each after a sign.
func quotedBytes(before string) func(string) string {
	return func(sign string) string {
		out, err := url.PathUnescape(strings.ReplaceAll(sign, before, "%"))
		if err != nil || !utf8.ValidString(out) || !strings.ContainsFunc(out, func(c rune) bool { return c >= 0x80 }) {
			return sign
		}
		return out
	}
}

func address(sign string) string {
	out, err := url.PathUnescape(sign)
	if err != nil || !utf8.ValidString(out) || strings.ContainsFunc(out, unicode.IsControl) {
		return sign
	}
	return out
}

func escaped(sign string) string {
	if sign[1] != 'u' {
		return sign[1:]
	}
	return unescaped(sign, sign)
}

// unescaped is what an escape stands for, or else.
func unescaped(escape, or string) string {
	out, err := strconv.Unquote(`"` + escape + `"`)
	if err != nil {
		return or
	}
	return out
}

func lineBreak(string) string { return "\n" }

// formulaText is the text of ="0012".
func formulaText(text string) (inside string, is bool) {
	inside, is = strings.CutPrefix(strings.TrimSpace(text), `="`)
	if !is || !strings.HasSuffix(inside, `"`) {
		return "", false
	}
	inside = strings.TrimSuffix(inside, `"`)
	return strings.ReplaceAll(inside, `""`, `"`), true
}

// apostropheFirst reports the apostrophe before a text by which a spreadsheet keeps it
// one. That before a letter or of '26 may be the customer's own: 'Twas, 't Hooft.
func apostropheFirst(text string) bool {
	rest, is := strings.CutPrefix(text, "'")
	if !is || rest == "" || strings.ContainsAny(rest, "'’") {
		return false
	}
	return len(rest) > 3 && strings.Trim(rest, "0123456789") == "" || strings.ContainsRune("=+-@", rune(rest[0]))
}

func startsUpper(text string) bool {
	first, _ := utf8.DecodeRuneInString(text)
	return unicode.IsUpper(first)
}

// singleByte finds a letter of windows-1252 that is written as two digits behind another
// letter: Caf%E9. What it stands for in another encoding nobody knows, so it is only told.
var singleByte = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`\pL(?:[%=][C-F][0-9A-F]|\\x[C-Fc-f][0-9A-Fa-f])`)
})

func singleBytes(text string) string {
	return singleByte().ReplaceAllStringFunc(text, func(sign string) string {
		_, first := utf8.DecodeRuneInString(sign)
		n, _ := strconv.ParseUint(sign[len(sign)-2:], 16, 8)
		return sign[:first] + western().text([]byte{byte(n)})
	})
}

var shortened = sync.OnceValue(func() *regexp.Regexp { return regexp.MustCompile(`^\s*-?[0-9](?:[.,][0-9]+)?E\+[0-9]{2,3}\s*$`) })
