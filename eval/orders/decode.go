package orders

import (
	"bytes"
	"fmt"
	"strings"
	"unicode/utf8"

	"foredge/lang/source"

	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
)

// KnownEncoding reports whether a name, such as windows-1252, is that of an
// encoding (a label of the WHATWG Encoding Standard).
func KnownEncoding(name string) bool {
	_, err := htmlindex.Get(name)
	return err == nil
}

// decode turns the bytes of a table into UTF-8 with plain line ends. A
// byte-order mark wins over the encoding that is named; "" stands for UTF-8.
// at is where the first byte lies that the encoding has no character for, -1
// if there is none; the text then ends before it.
func decode(data []byte, encoding string) (text []byte, at int, err error) {
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		data, encoding = data[3:], ""
	case bytes.HasPrefix(data, []byte("\xff\xfe")), bytes.HasPrefix(data, []byte("\xfe\xff")):
		data, err = unicode.UTF16(unicode.BigEndian, unicode.ExpectBOM).NewDecoder().Bytes(data)
		encoding = ""
	case encoding != "":
		enc, unknown := htmlindex.Get(encoding)
		if unknown != nil {
			return nil, -1, fmt.Errorf("there is no encoding called %q", encoding)
		}
		if name, _ := htmlindex.Name(enc); name != "utf-8" {
			data, err = enc.NewDecoder().Bytes(data)
		}
	}
	if err != nil {
		return nil, -1, err
	}
	if !bytes.ContainsRune(data, '\n') {
		data = bytes.ReplaceAll(data, []byte("\r"), []byte("\n"))
	}
	for i := 0; i < len(data); {
		r, n := utf8.DecodeRune(data[i:])
		if r == utf8.RuneError {
			return data[:i], i, nil
		}
		i += n
	}
	return data, -1, nil
}

// notText says what a file is that isn't a table of text in an encoding that was
// named or can be told, and what to do about it; "" for a table.
func notText(data []byte, encoding string) (what, help string) {
	for _, start := range []string{"PK\x03\x04", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"} { // zipped, or a compound file
		if bytes.HasPrefix(data, []byte(start)) {
			return "this is a spreadsheet's own file, not a table of text", "save it from there as CSV, in UTF-8 if it asks, and name that file"
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
		if zero[i] > len(head)/4 && zero[1-i] == 0 {
			return "this table is written in UTF-16, without the mark that says so", fmt.Sprintf("save it as UTF-8, or say so, as in encoding = %q", name)
		}
	}
	return "", ""
}

// separator is the sign that parts the columns, by the header: outside quotes,
// the tab if there is one, else the more frequent of comma and semicolon.
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
	}
	return ','
}
