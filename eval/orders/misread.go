package orders

import (
	"regexp"
	"slices"
	"strings"
	"sync"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
)

// A sequence is some characters of a text that were one in UTF-8, if the text was read
// as another encoding.
type sequence struct {
	from, to int // of the text's characters
	lead     byte
	second   rune
	was      rune
}

// sequences finds them. It is whole if all characters beyond ASCII belong to one.
func (c charset) sequences(text []rune) (all []sequence, whole bool) {
	whole = true
	for i := 0; i < len(text); {
		if text[i] < 0x80 {
			i++
			continue
		}
		var data [utf8.UTFMax]byte
		n := 0
		for n < len(data) && i+n < len(text) && text[i+n] >= 0x80 {
			b, ok := c.byteOf(text[i+n])
			if !ok {
				break
			}
			data[n] = b
			n++
		}
		was, size := utf8.DecodeRune(data[:n])
		if size < 2 || !usualSign(was) {
			whole = false
			i++
			continue
		}
		all = append(all, sequence{i, i + size, data[0], text[i+1], was})
		i += size
	}
	return all, whole
}

// How surely a sequence can't have been written as it stands.
const (
	written = iota // it may well be right
	doubtful
	unwritten
)

// after follow a letter or a word in right texts.
const after = "’‘“”–—…»«›‹®™©²³¹°·•¡¿§ªº¶†‡"

// weigh says how surely a sequence can't have been written as it stands.
func (s sequence) weigh(c charset, text []rune) int {
	at := func(i int) rune {
		if i < 0 || i >= len(text) {
			return ' '
		}
		return text[i]
	}
	before, next := at(s.from-1), at(s.to)
	// A letter of another script beside a Latin one is none of its word.
	if unicode.IsLetter(s.was) && !unicode.Is(unicode.Latin, s.was) && (isASCIILetter(before) || isASCIILetter(next)) {
		return written
	}
	switch c.of {
	case charmap.Macintosh, charmap.CodePage850, charmap.CodePage437:
		if strings.ContainsRune("√¬≈ƒ‚├┬┼─", text[s.from]) || text[s.from] == 'Ô' && s.second == 'Ç' {
			return unwritten
		}
		return written
	case charmap.Windows1251, charmap.Windows1253, charmap.KOI8R:
		if (isASCIILetter(before) || isASCIILetter(next)) && !unicode.Is(unicode.Latin, text[s.from]) {
			return unwritten
		}
		return written
	}
	if s.to-s.from > 2 {
		rest := text[s.from+1 : s.to]
		if s.was == 0xFEFF && !unicode.IsLetter(before) {
			return unwritten // ï»¿Ann
		}
		sign := func(r rune) bool { return strings.ContainsRune(after, r) }
		letter := func(r rune) bool { return unicode.IsLetter(r) }
		if slices.IndexFunc(rest, func(r rune) bool { return !sign(r) && !letter(r) }) < 0 && !slices.Equal(rest, []rune("µ·")) && !slices.ContainsFunc(rest, letter) {
			return written // é’”
		}
		if c.central() && slices.IndexFunc(rest, func(r rune) bool { return !letter(r) }) < 0 {
			return written // déšť
		}
		return unwritten
	}
	return s.weighPair(c, before, next, at(s.to+1))
}

// weighPair weighs a sequence of two in a western or central encoding.
func (s sequence) weighPair(c charset, before, next, afterNext rune) int {
	usualLead := s.lead >= 0xC2 && s.lead <= 0xC5 // of the letters of Latin-1 and Latin Extended-A
	lower := unicode.IsLower(before)
	if strings.ContainsRune("’‘´`", s.second) && !lower && contraction(next, afterNext) {
		return written // LULEÅ’S
	}
	switch {
	case lower:
		return unwritten
	case c.central() && unicode.IsLetter(s.second):
		return s.weighCentral(c, usualLead, before, next)
	case unicode.IsLetter(s.second) && s.second != 'ƒ' && s.second != 'µ':
		if usualLead {
			return unwritten
		}
		return written
	case s.second == 0xA0 || s.second == 0xAD:
		if s.lead == 0xC3 && !unicode.IsLetter(before) {
			return unwritten
		}
		if usualLead && !unicode.IsLetter(before) && unicode.IsLower(next) {
			return doubtful
		}
		return written
	case !strings.ContainsRune(after, s.second):
		return unwritten
	case usualLead && unicode.IsLower(next) && (s.lead == 0xC3 || !strings.ContainsRune("–—", s.second)):
		return unwritten
	case s.lead == 0xC3 && s.capitalSign(before, next, afterNext):
		return unwritten
	case !unicode.IsLetter(before) && !unicode.IsLetter(next):
		if s.lead <= 0xC3 && !strings.ContainsRune("’‘“”–—…»«", s.second) {
			return unwritten
		}
	case s.lead == 0xC3 && unicode.IsUpper(before) && unicode.IsUpper(next) && !unicode.IsLower(afterNext):
		return doubtful // IRMÃ–TIA, or GÖTEBORG
	}
	return written
}

// capitalSign reports Ã with a sign behind it at the end of a word where no such sign
// stands, or at the beginning of one in capitals, and alone: no word begins with Ã and a
// sign. Quotes may stand around a letter.
func (s sequence) capitalSign(before, next, afterNext rune) bool {
	switch {
	case unicode.IsUpper(before):
		return s.second == '‹' && !unicode.IsLetter(next) // ZOÃ‹
	case unicode.IsLetter(before):
		return false
	case unicode.IsUpper(next):
		return !unicode.IsLower(afterNext) // Ã…SE
	}
	return !unicode.IsLetter(next) && strings.ContainsRune("–—…†‡", s.second)
}

// weighCentral weighs two letters of a central encoding: Ă and Ş may stand together, Ă and Ľ in
// no language, and no capital stands between a letter and a small one.
func (s sequence) weighCentral(c charset, usualLead bool, before, next rune) int {
	if !usualLead {
		return written
	}
	lead := c.of.DecodeByte(s.lead)
	switch {
	case noLanguage(string([]rune{lead, s.second})) > 0:
		return unwritten
	case unicode.IsUpper(s.second) && unicode.IsLower(next), unicode.IsLower(s.second) && unicode.IsLetter(before):
		return unwritten
	}
	return written
}

// contraction reports the end of a word after an apostrophe, as in 's and 'll.
func contraction(next, afterNext rune) bool {
	switch unicode.ToLower(next) {
	case 's', 'd', 't', 'm', 'n':
		return !unicode.IsLetter(afterNext)
	case 'l', 'r', 'v', 'e':
		return unicode.ToLower(afterNext) == 'l' || unicode.ToLower(afterNext) == 'e' || unicode.ToLower(afterNext) == 'r'
	}
	return !unicode.IsLetter(next)
}

func isASCIILetter(c rune) bool { return c < 0x80 && unicode.IsLetter(c) }

// ungarbled mends letters that were written in UTF-8 and read as another encoding: only
// if all of a text was, if it can't have been written as it stands, and if what comes
// out is written in one alphabet. Nothing else is touched.
func ungarbled(text string) string {
	for range 3 { // some tables have been through it twice
		mended, sure, _ := ungarbledOnce(text)
		if !sure || strings.ContainsRune(mended, Lost) {
			break
		}
		text = mended
	}
	return text
}

// ungarbledOnce is what a text was before it was read in a wrong encoding, "" if nothing
// speaks for that, or if it may have been several things, which is several.
func ungarbledOnce(text string) (was string, sure, several bool) {
	runes := []rune(text)
	for _, rivals := range misreaders() {
		var outs []string
		most := written
		for _, c := range rivals {
			all, whole := c.sequences(runes)
			if !whole || len(all) == 0 {
				continue
			}
			out := undone(runes, all)
			if !plausible(out, all) {
				continue
			}
			w := c.weight(all, runes)
			if w > written && !slices.Contains(outs, out) {
				outs = append(outs, out)
			}
			most = max(most, w)
		}
		if len(outs) > 1 {
			outs = likeliest(outs)
		}
		if len(outs) > 1 && common(outs[0]) && !slices.ContainsFunc(outs[1:], common) {
			outs = outs[:1] // Jürgen by an encoding of Windows, rather than Jårgen by that of ISO 8859
		}
		switch {
		case len(outs) > 1:
			return "", false, true
		case most == unwritten:
			return outs[0], true, false
		case most == doubtful:
			was = outs[0]
		}
	}
	return was, false, false
}

// likeliest are those of several readings of a text whose words are most as languages
// write them: without a capital beyond ASCII between small letters or a small one at the
// beginning where another reading has a capital.
func likeliest(outs []string) (best []string) {
	least := 0
	for _, out := range outs {
		odd := 0
		for _, word := range strings.FieldsFunc(out, func(r rune) bool { return unicode.IsSpace(r) || r == '-' }) {
			odd += oddlyCased([]rune(word)) + wrongness(word)
		}
		switch {
		case best == nil || odd < least:
			best, least = []string{out}, odd
		case odd == least:
			best = append(best, out)
		}
	}
	return best
}

// common reports whether of the letters beyond ASCII that a text would have there are only
// such as several languages have that are written in central and western encodings.
func common(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return r >= 0x80 && !strings.ContainsRune("áäâçéëíîóöôúüý", r) })
}

// oddlyCased is how many letters beyond ASCII of a word are capitals where a small letter
// is expected, small at its beginning, or ß where no vowel stands before it.
func oddlyCased(word []rune) int {
	n := 0
	for i, r := range word {
		small := i+1 < len(word) && unicode.IsLower(word[i+1])
		switch {
		case r < 0x80:
		case r == 'ß' && (i == 0 || !isVowel(word[i-1])):
			n++
		case i == 0 && unicode.IsLower(r) && small:
			n++
		case i > 0 && unicode.IsUpper(r) && unicode.IsLetter(word[i-1]) && (small || unicode.IsLower(word[i-1])):
			n += 2
		}
	}
	return n
}

// misreaders are the encodings by which a text in UTF-8 may have been read, those together
// that differ in few characters: what was read by one may be undone by the other.
func misreaders() [][]charset {
	return [][]charset{{western(), latin9()}, {mac()}, {cyrillic()}, {central(), latin2()}, {greek()}, {turkish()}, {koi8()}, {dos(), dosAmerican()}}
}

// weight says how surely sequences of one text can't have been written so.
func (c charset) weight(all []sequence, text []rune) int {
	most, some := written, 0
	for i, s := range all {
		w := s.weigh(c, text)
		if i > 0 && all[i-1].to == s.from && unicode.IsLetter(s.was) && !unicode.Is(unicode.Latin, s.was) && scriptOf(s.was) == scriptOf(all[i-1].was) {
			w = unwritten // two letters of one other script
		}
		if w > written {
			some++
		}
		most = max(most, w)
	}
	if some > 1 {
		return unwritten
	}
	return most
}

// undone is a text with each sequence as the character that it was.
func undone(text []rune, all []sequence) string {
	var b strings.Builder
	i := 0
	for _, s := range all {
		b.WriteString(string(text[i:s.from]))
		b.WriteRune(s.was)
		i = s.to
	}
	b.WriteString(string(text[i:]))
	return b.String()
}

// plausible reports whether each word with a character that was mended is of one
// alphabet, and has no small letter among capitals.
func plausible(out string, all []sequence) bool {
	mended := map[rune]bool{}
	for _, s := range all {
		mended[s.was] = true
	}
	for _, word := range strings.Fields(out) {
		scripts, upper, small := map[string]bool{}, 0, 0
		mends, lowerMended := false, false
		for _, r := range word {
			mends = mends || mended[r]
			if !unicode.IsLetter(r) {
				continue
			}
			scripts[scriptOf(r)] = true
			switch {
			case unicode.IsUpper(r):
				upper++
			case unicode.IsLower(r) && mended[r] && r != 'ß' && r != 'ı':
				lowerMended = true
			case unicode.IsLower(r):
				small++
			}
		}
		if mends && (len(scripts) > 1 || lowerMended && small == 0 && upper > 1) {
			return false
		}
	}
	return true
}

// misread reports a text of which a part can only come from reading UTF-8 as another
// encoding, while what it was can't be told for sure; meant is a guess, "" for none.
func misread(text string) (meant string, is bool) {
	if guess, sure, several := ungarbledOnce(text); several || guess != "" && !sure {
		return guess, true
	}
	if remains().MatchString(text) {
		return "", true
	}
	runes := []rune(text)
	for _, c := range []charset{western(), central(), mac(), dos()} {
		all, _ := c.sequences(runes)
		hebrew := 0
		for _, s := range all {
			if s.lead == 0xD7 && unicode.Is(unicode.Hebrew, s.was) {
				hebrew++
			}
		}
		if c.weight(all, runes) == unwritten && plausible(undone(onlyMisread(runes, all)), all) || hebrew > 1 {
			return "", true
		}
	}
	return "", false
}

// remains are what is left of letters of UTF-8 where a program has dropped one of their
// bytes: the beginning of a sign, a capital after a small letter or before one.
var remains = sync.OnceValue(func() *regexp.Regexp {
	return regexp.MustCompile(`â(?:€|\x{0080})|\p{Ll}[ÃÂ](?:\PL|$)|(?:^|\PL)Ã[a-mo-z][a-z]`)
})

// onlyMisread is a text without what beyond ASCII belongs to no sequence.
func onlyMisread(text []rune, all []sequence) (left []rune, moved []sequence) {
	i := 0
	for k, r := range text {
		for i < len(all) && all[i].to <= k {
			i++
		}
		in := i < len(all) && all[i].from <= k
		if in && all[i].from == k {
			s := all[i]
			s.from, s.to = len(left), len(left)+s.to-s.from
			moved = append(moved, s)
		}
		if in || r < 0x80 {
			left = append(left, r)
		}
	}
	return left, moved
}

// usualSign reports letters of living scripts and the signs that texts have.
func usualSign(c rune) bool {
	switch {
	case c == Lost || c == 0xFEFF || c >= 0xFE00 && c <= 0xFE0F:
		return true
	case c >= 0x00A0 && c <= 0x017F, c >= 0x01CD && c <= 0x01DC, c >= 0x0218 && c <= 0x021B, c >= 0x1E00 && c <= 0x1FFF:
		return true
	case c >= 0x0300 && c <= 0x036F:
		return strings.ContainsRune("\u0300\u0301\u0302\u0303\u0304\u0306\u0307\u0308\u0309\u030A\u030B\u030C\u031B\u0323\u0326\u0327\u0328", c)
	case c >= 0x0386 && c <= 0x03CE, c >= 0x0400 && c <= 0x045F:
		return true
	case c >= 0x2010 && c <= 0x2015, c >= 0x2018 && c <= 0x2022, c == 0x2026 || c == 0x2030 || c == 0x2032 || c == 0x2033 || c == 0x2039 || c == 0x203A:
		return true
	case c >= 0x20A0 && c <= 0x2BFF, c >= 0x3000 && c <= 0x9FFF, c >= 0xAC00 && c <= 0xD7A3:
		return true
	case c == 0x200B || c == 0x200C || c == 0x200D || c == 0x200E || c == 0x200F:
		return true
	case c >= 0x1F000 && c <= 0x1FAFF:
		return true
	}
	return strings.ContainsRune("ƏəƠơƯưҐґҒғҚқҢңҮүҰұҺһӘәӨө", c) ||
		unicode.IsLetter(c) && unicode.In(c, unicode.Hebrew, unicode.Arabic, unicode.Georgian, unicode.Thai, unicode.Devanagari, unicode.Bengali, unicode.Tamil)
}
