package source

import (
	"strconv"
	"strings"
	"unicode"
	"unicode/utf8"
)

// Plain writes the name of a file so that nothing in it can disturb a terminal or
// look like a line of its own: what can't be shown is escaped, as in \x1b.
func Plain(name string) string {
	if !strings.ContainsFunc(name, Disturbs) {
		return name
	}
	var b strings.Builder
	for i, r := range name {
		if !Disturbs(r) {
			b.WriteRune(r)
			continue
		}
		_, size := utf8.DecodeRuneInString(name[i:])
		b.WriteString(strings.Trim(strconv.QuoteToASCII(name[i:i+size]), `"`))
	}
	return b.String()
}

// Disturbs reports whether a character moves the cursor, changes the
// direction of writing or otherwise makes a terminal show something other than
// the file's text.
func Disturbs(r rune) bool {
	return unicode.IsControl(r) || r == utf8.RuneError ||
		r >= 0x202a && r <= 0x202e || r >= 0x2066 && r <= 0x2069 || r == 0x200e || r == 0x200f || r == 0xfeff
}
