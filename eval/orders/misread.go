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
	case charmap.Macintosh, charmap.CodePage850:
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
		sign := func(r rune) bool { return strings.ContainsRune(after, r) }
		letter := func(r rune) bool { return unicode.IsLetter(r) }
		if slices.IndexFunc(rest, func(r rune) bool { return !sign(r) && !letter(r) }) < 0 && !slices.Equal(rest, []rune("µ·")) && !slices.ContainsFunc(rest, letter) {
			return written // é’”
		}
		if c.of == charmap.Windows1250 && slices.IndexFunc(rest, func(r rune) bool { return !letter(r) }) < 0 {
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
	case unicode.IsLetter(s.second) && s.second != 'ƒ' && s.second != 'µ':
		if usualLead && c.of != charmap.Windows1250 {
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
	case !unicode.IsLetter(before) && !unicode.IsLetter(next):
		if s.lead <= 0xC3 && !strings.ContainsRune("’‘“”–—…»«", s.second) {
			return unwritten
		}
	case s.lead == 0xC3 && unicode.IsUpper(before) && unicode.IsUpper(next) && !unicode.IsLower(afterNext):
		return doubtful // IRMÃ–TIA, or GÖTEBORG
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
		mended, sure := ungarbledOnce(text)
		if !sure || strings.ContainsRune(mended, Lost) {
			break
		}
		text = mended
	}
	return text
}

// ungarbledOnce is what a text was before it was read in a wrong encoding, "" if
// nothing speaks for that.
func ungarbledOnce(text string) (was string, sure bool) {
	runes := []rune(text)
	for _, c := range misreaders() {
		all, whole := c.sequences(runes)
		if !whole || len(all) == 0 {
			continue
		}
		out := undone(runes, all)
		if !plausible(out, all) {
			continue
		}
		switch c.weight(all, runes) {
		case unwritten:
			return out, true
		case doubtful:
			was = out
		}
	}
	return was, false
}

// misreaders are the encodings by which a text in UTF-8 may have been read.
func misreaders() []charset {
	return []charset{western(), mac(), cyrillic(), central(), greek(), turkish(), koi8(), dos()}
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
	if guess, sure := ungarbledOnce(text); guess != "" && !sure {
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
