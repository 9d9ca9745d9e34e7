package orders

import (
	"bytes"
	"cmp"
	"fmt"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"foredge/lang/source"

	"golang.org/x/text/encoding/htmlindex"
	utf16 "golang.org/x/text/encoding/unicode"
)

// KnownEncoding reports whether a name, such as windows-1252, is that of an
// encoding (a label of the WHATWG Encoding Standard, or ibm437, ibm850 or ibm852).
func KnownEncoding(name string) bool {
	_, err := encodingOf(name)
	return err == nil
}

// A wrongEncoding says that a table is written in another encoding than was said.
type wrongEncoding struct {
	at         int // in the text
	what, help string
	read       bool // it is read in the right one all the same
}

// decode turns the bytes of a table into UTF-8 with plain line ends. A byte-order mark
// wins over the encoding that is named; "" stands for UTF-8. Where single characters
// can't be read there is U+FFFD; if the encoding as a whole is another, it is told.
func decode(data []byte, encoding string) (text []byte, wrong *wrongEncoding, err error) {
	unmarked, marked := bytes.CutPrefix(data, []byte("\xef\xbb\xbf"))
	data = unmarked
	switch {
	case !marked && (bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff"))):
		data, err = utf16.UTF16(utf16.BigEndian, utf16.ExpectBOM).NewDecoder().Bytes(data)
	case encoding != "":
		enc, unknown := encodingOf(encoding)
		if unknown != nil {
			return nil, nil, fmt.Errorf("there is no encoding called %q", encoding)
		}
		switch name, _ := htmlindex.Name(enc); { // "" for those of DOS
		case name == "utf-8":
		case marked || isUTF8(data, name):
			if at := beyondASCII(data); at >= 0 || strings.HasPrefix(name, "utf-16") {
				wrong = &wrongEncoding{max(at, 0), fmt.Sprintf("this table is written in UTF-8, not in %s, and is read so", encoding),
					"take the line encoding out of the braces of the orders", true}
			}
		default:
			written := data
			if data, err = enc.NewDecoder().Bytes(written); err == nil {
				wrong = notDeclared(written, encoding, enc)
			}
		}
	}
	if err != nil {
		return nil, nil, err
	}
	data = plainLineEnds(data)
	if utf8.Valid(data) {
		return data, wrong, nil
	}
	if wrong := notUTF8(data); wrong != nil && !marked {
		return data[:wrong.at], wrong, nil
	}
	return bytes.ToValidUTF8(data, []byte(string(Lost))), wrong, nil
}

// isUTF8 reports a table that can only be in UTF-8, where it is said to be in another
// encoding: one in UTF-16 has zeros, if only in its line ends.
func isUTF8(data []byte, name string) bool {
	if strings.HasPrefix(name, "utf-16") {
		return utf8.Valid(data) && bytes.IndexByte(data, 0) < 0
	}
	return utf8.Valid(data) && beyondASCII(data) >= 0
}

// plainLineEnds makes carriage returns that stand alone line ends, as many as there
// are, wherever they stand.
func plainLineEnds(data []byte) []byte {
	if !bytes.ContainsRune(data, '\r') {
		return data
	}
	data = bytes.Clone(data)
	for i, b := range data {
		if b == '\r' && (i+1 == len(data) || data[i+1] != '\n') {
			data[i] = '\n'
		}
	}
	return data
}

// beyondASCII is where the first byte lies that is no character of ASCII, -1 if there
// is none.
func beyondASCII(data []byte) int {
	return slices.IndexFunc(data, func(b byte) bool { return b >= utf8.RuneSelf })
}

// notUTF8 tells of a table that as a whole is written in another encoding; nil if only
// some of its characters are damaged, so that most of those beyond ASCII can be read.
func notUTF8(data []byte) *wrongEncoding {
	at, good, bad := -1, 0, 0
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		switch {
		case r == utf8.RuneError && n == 1:
			if bad++; at < 0 {
				at = i
			}
		case n > 1:
			good++
		}
		i += n
	}
	if good >= bad {
		return nil
	}
	help := `save the table as UTF-8, or say what it is written in, as in encoding = "windows-1252"`
	if readings := guesses(data, at); len(readings) > 0 {
		help = "save the table as UTF-8, or say what it is written in: " + strings.Join(readings, ", ")
	}
	return &wrongEncoding{at, "this character can't be read", help, false}
}

// guesses are at most two encodings that make most sense of a table, each with what the
// word at a place would be by it; none where no one makes sense.
func guesses(data []byte, at int) (readings []string) {
	inWord := func(b byte) bool { return b >= utf8.RuneSelf || b >= 'A' && b <= 'Z' || b >= 'a' && b <= 'z' }
	from, to := at, at
	const most = 40 // of a word on either side, which is enough to read it
	for from > max(0, at-most) && inWord(data[from-1]) {
		from--
	}
	for to < min(len(data), at+most) && inWord(data[to]) {
		to++
	}
	words, _ := wordsBeyondASCII(data)
	if len(words) == 0 {
		words = [][]byte{data[from:to]}
	}
	type reading struct {
		charset
		much float64
	}
	var all []reading
	for _, c := range []charset{western(), central(), cyrillic(), greek(), mac(), turkish(), koi8(), hebrew()} {
		if much := c.senseOf(words); much > 0 {
			all = append(all, reading{c, much})
		}
	}
	slices.SortStableFunc(all, func(a, b reading) int { return cmp.Compare(b.much, a.much) })
	var outs []string
	for _, r := range all {
		out := r.text(data[from:to])
		if r.much < all[0].much-clearly || slices.Contains(outs, out) || len(outs) == 2 {
			continue
		}
		outs = append(outs, out)
		readings = append(readings, fmt.Sprintf("by encoding = %q this word would be %q", r.name, out))
	}
	return readings
}

// senseOf judges the words of a table as they would be written in a charset, from 0 to
// 1. The share of vowels counts in other scripts alone: a Latin word is as languages write
// it, or it isn't; a few more count that are all of one language.
func (c charset) senseOf(words [][]byte) float64 {
	sum := 0.0
	for _, w := range words {
		out := c.text(w)
		much := sense(out)
		switch {
		case wrongness(out) > 1:
			much = 0
		case much > 0 && strings.ContainsFunc(out, func(r rune) bool { return unicode.Is(unicode.Latin, r) }):
			much = 0.85
		}
		sum += much
	}
	sum /= float64(len(words))
	if sum > 0.8 && c.oneLanguage(words) {
		sum += 0.05
	}
	return sum
}

// notText says what a file is that isn't a table of text in an encoding that was
// named or can be told, and what to do about it; "" for a table.
func notText(data []byte, encoding string) (what, help string) {
	for _, start := range []string{"PK\x03\x04", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"} { // zipped, or a compound file
		if bytes.HasPrefix(data, []byte(start)) {
			return "this is a spreadsheet's own file, not a table of text", "save it from there as CSV, in UTF-8 if it asks, and name that file"
		}
	}
	for _, mark := range []string{"\xff\xfe\x00\x00", "\x00\x00\xfe\xff"} {
		if bytes.HasPrefix(data, []byte(mark)) {
			return "this table is written in UTF-32, which can't be read", "save it as UTF-8"
		}
	}
	if encoding != "" || bytes.HasPrefix(data, []byte("\xff\xfe")) || bytes.HasPrefix(data, []byte("\xfe\xff")) {
		return "", ""
	}
	// UTF-16 without a byte-order mark: every other byte of plain letters is 0.
	var zero [2]int
	head := data[:min(len(data), 1000)]
	for i, b := range head {
		if b == 0 {
			zero[i%2]++
		}
	}
	for i, name := range []string{"utf-16be", "utf-16le"} {
		if zero[0] > len(head)/4 && zero[1] > len(head)/4 {
			return "this is no table of text: much of it is zeros, which no text has", "save the table as CSV, in UTF-8 if it asks, and name that file"
		}
		if zero[i] > len(head)/4 && zero[1-i] == 0 {
			return "this table is written in UTF-16, without the mark that says so", fmt.Sprintf("save it as UTF-8, or say so, as in encoding = %q", name)
		}
	}
	return "", ""
}

// saidSeparator is the sign that a first line sep=; says to part the columns; 0 if
// there is no such line.
func saidSeparator(f *source.File) rune {
	line, _ := f.Line(1)
	said, is := strings.CutPrefix(strings.ToLower(strings.Trim(strings.TrimRight(line, "\r\n"), `"`)), "sep=")
	if !is {
		return 0
	}
	switch said {
	case ";", ",", "\t", "|":
		return rune(said[0])
	}
	return 0
}

// separator is the sign that parts the columns, by the header: outside quotes,
// the tab if there is one, else the more frequent of comma and semicolon, else the bar.
func separator(f *source.File) rune {
	header := ""
	for n := 1; strings.TrimSpace(header) == ""; n++ {
		var start int
		header, start = f.Line(n)
		if start >= len(f.Text()) {
			break
		}
	}
	counts := map[rune]int{}
	quoted := false
	for _, c := range header {
		if c == '"' {
			quoted = !quoted
		} else if !quoted {
			counts[c]++
		}
	}
	switch {
	case counts['\t'] > 0:
		return '\t'
	case counts[';'] > counts[',']:
		return ';'
	case counts['|'] > 0 && counts[','] == 0:
		return '|'
	}
	return ','
}
