package orders

import (
	"bytes"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"unicode"

	"foredge/lang/foretest"

	"github.com/mozillazg/go-unidecode"
	"github.com/mozillazg/go-unidecode/table"
)

const latinHead = `How characters are written in Latin letters: the tables of go-unidecode 0.2.0, whose notice stands in cmd/foredge/licences.txt.
`

// The ends of lines and paragraphs are blanks here.
var oneLine = strings.NewReplacer("\n", " ")

// Every character is written as the library writes it, and unknown where it has none.
func TestLatin(t *testing.T) {
	foretest.Golden(t, "latin.txt", latinFile())
	for c := rune(0); c <= unicode.MaxRune; c++ {
		if c >= 0xd800 && c < 0xe000 {
			continue // halves of pairs, no characters
		}
		wantKnown := c < unicode.MaxASCII || len(table.Tables[c>>8]) > int(c%256)
		written, known := latin(c)
		want := unidecode.Unidecode(string(c))
		if c >= unicode.MaxASCII {
			want = oneLine.Replace(want)
		}
		if written != want || known != wantKnown {
			t.Errorf("%U: %q, known: %t; want %q, %t", c, written, known, want, wantKnown)
		}
	}
}

// latinFile is the tables of the library as latin.txt holds them.
func latinFile() []byte {
	var b bytes.Buffer
	b.WriteString(latinHead)
	for _, number := range slices.Sorted(maps.Keys(table.Tables)) {
		fields := slices.Clone(table.Tables[number])
		if number == 0 {
			clear(fields[:unicode.MaxASCII])
		}
		fmt.Fprintf(&b, "%s\t%s\n", latinLine(number<<8), oneLine.Replace(strings.Join(fields, "\t")))
	}
	return b.Bytes()
}
