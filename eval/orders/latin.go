package orders

import (
	_ "embed"
	"strconv"
	"strings"
	"sync"
	"unicode"
)

// latinText is how each letter is written in Latin ones, one line for every 256
// characters: the number of the line in hexadecimal, then a field a character, between
// tabs. It is the data of a library (TestLatin holds it against that and rewrites it),
// but as one text: as the library's many thousand strings they are gone through at every
// garbage collection, which was the eighth part of the time of a batch.
//
//go:embed latin.txt
var latinText string

// latinLines are its lines by number, found when the first is needed.
var latinLines = sync.OnceValue(func() map[string]string {
	lines := map[string]string{}
	for line := range strings.Lines(latinText) {
		if number, fields, isData := strings.Cut(strings.TrimSuffix(line, "\n"), "\t"); isData {
			lines[number] = fields
		}
	}
	return lines
})

// latinLine is the number of the line that a character stands in.
func latinLine(c rune) string { return strconv.FormatInt(int64(c>>8), 16) }

// latin is a character as it is written in Latin letters, "" if it isn't spoken. Not
// known are characters that the table ends before.
func latin(c rune) (written string, known bool) {
	if c < unicode.MaxASCII {
		return string(c), true
	}
	fields, known := latinLines()[latinLine(c)]
	for range c % 256 {
		if _, fields, known = strings.Cut(fields, "\t"); !known {
			return "", false
		}
	}
	written, _, _ = strings.Cut(fields, "\t")
	return written, known
}
