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

const latinHead = `How characters are written in Latin letters: the tables of go-unidecode 0.2.0, as they stand.
The MIT License. Copyright (c) 2016 mozillazg
Permission is hereby granted, free of charge, to any person obtaining a copy of this software and associated documentation files (the "Software"), to deal in the Software without restriction, including without limitation the rights to use, copy, modify, merge, publish, distribute, sublicense, and/or sell copies of the Software, and to permit persons to whom the Software is furnished to do so, subject to the following conditions:
The above copyright notice and this permission notice shall be included in all copies or substantial portions of the Software.
THE SOFTWARE IS PROVIDED "AS IS", WITHOUT WARRANTY OF ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER DEALINGS IN THE SOFTWARE.
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
