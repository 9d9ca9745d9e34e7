package art

import (
	"bytes"
	"compress/gzip"
	"io"
	"regexp"
	"strings"

	"golang.org/x/text/encoding/htmlindex"
	"golang.org/x/text/encoding/unicode"
)

// decoded is a file as UTF-8, unpacked if it is compressed.
func decoded(data []byte) ([]byte, *Error) {
	if bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		unpack, err := gzip.NewReader(bytes.NewReader(data))
		if err == nil {
			data, err = io.ReadAll(io.LimitReader(unpack, MaxBytes+1))
		}
		switch {
		case err != nil:
			return nil, &Error{Message: "it is compressed, and can't be unpacked", Advice: "save it without compression, as .svg and not .svgz"}
		case len(data) > MaxBytes:
			return nil, &Error{Message: "unpacked it is larger than 8 MiB", Advice: "simplify the drawing, or leave out pictures that are embedded in it"}
		}
	}
	name := ""
	switch {
	case bytes.HasPrefix(data, []byte("\xef\xbb\xbf")):
		return data[3:], nil
	case bytes.HasPrefix(data, []byte{0xfe, 0xff}) || bytes.HasPrefix(data, []byte{0xff, 0xfe}):
		out, err := unicode.UTF16(unicode.BigEndian, unicode.UseBOM).NewDecoder().Bytes(data)
		if err != nil {
			return nil, notText("UTF-16")
		}
		return out, nil
	default:
		m := encodingForm().FindSubmatch(data[:min(len(data), 400)])
		if m == nil {
			return data, nil
		}
		name = string(m[1])
	}
	if strings.EqualFold(name, "utf-8") || strings.EqualFold(name, "us-ascii") {
		return data, nil
	}
	from, err := htmlindex.Get(name)
	if err != nil || strings.HasPrefix(strings.ToLower(name), "utf-16") {
		return nil, &Error{Where: Where{Line: 1}, Message: "its text is \"" + shorten(name) + "\", which is not an encoding that can be read", Advice: "save it as UTF-8"}
	}
	out, err := from.NewDecoder().Bytes(data)
	if err != nil || len(out) > 3*MaxBytes {
		return nil, notText(name)
	}
	return out, nil
}

func notText(encoding string) *Error {
	return &Error{Message: "its text is not " + shorten(encoding) + ", as it says", Advice: "save it as UTF-8"}
}

// encodingForm finds the encoding that an XML declaration names (XML 1.0, 4.3.3).
func encodingForm() *regexp.Regexp {
	return regexp.MustCompile(`^\s*<\?xml\s[^>]*?\bencoding\s*=\s*["']([A-Za-z][A-Za-z0-9._-]*)["']`)
}

// maxEntity is how long an entity may be that a drawing declares.
const maxEntity = 10000

// doctype reads a document type declaration. Of its own entities those that are
// plain texts can be used; nothing from outside of the file is read.
func (r *reader) doctype(text string, line int) *Error {
	refuse := func(why string) *Error {
		return &Error{Where: Where{Line: line}, Message: why, Advice: "save it again with nothing in it but the drawing itself"}
	}
	if !strings.HasPrefix(strings.ToUpper(text), "DOCTYPE") {
		return refuse("it declares something that is not read")
	}
	_, subset, ok := strings.Cut(text, "[")
	if !ok {
		return nil
	}
	r.dec.Entity = map[string]string{}
	for {
		at := strings.IndexAny(subset, "<%")
		if at < 0 {
			return r.bounded(refuse)
		}
		if subset[at] == '%' {
			return refuse("it declares parts by entities, which is not read")
		}
		subset = subset[at:]
		end := declarationEnd(subset)
		if end < 0 {
			return refuse("its document type can't be read")
		}
		one := subset[:end]
		subset = subset[end:]
		switch {
		case strings.HasPrefix(one, "<!ENTITY"):
			if err := r.entity(one, refuse); err != nil {
				return err
			}
		case strings.HasPrefix(one, "<!ATTLIST"):
			// A default changes elements that don't state it; names of spaces change nothing.
			for _, m := range regexp.MustCompile(`([\w:.-]+)\s+(?:CDATA|ID|NMTOKENS?|\([^)]*\))\s+(?:#FIXED\s+)?["']`).FindAllStringSubmatch(one, -1) {
				if !strings.HasPrefix(m[1], "xmlns") && !strings.HasPrefix(m[1], "xml:") {
					return refuse("its document type states the attribute " + shorten(m[1]) + ", which is not read")
				}
			}
		}
	}
}

// bounded sees that what the entities come to is no more than a file may be.
func (r *reader) bounded(refuse func(string) *Error) *Error {
	longest := 0
	for _, v := range r.dec.Entity {
		longest = max(longest, len(v))
	}
	if bytes.Count(r.data, []byte("&"))*longest > 4*MaxBytes {
		return refuse("its entities would make it far larger than it is")
	}
	return nil
}

// declarationEnd is where what stands at the start of a document type ends.
func declarationEnd(s string) int {
	quote := byte(0)
	for i := range len(s) {
		switch c := s[i]; {
		case quote != 0:
			if c == quote {
				quote = 0
			}
		case c == '"' || c == '\'':
			quote = c
		case c == '>':
			return i + 1
		}
	}
	return -1
}

// entity takes an entity that is a plain text; those of other kinds are errors
// where they are used.
func (r *reader) entity(one string, refuse func(string) *Error) *Error {
	m := regexp.MustCompile(`^<!ENTITY\s+([A-Za-z_:][\w:.-]*)\s+(?:"([^"]*)"|'([^']*)')\s*>$`).FindStringSubmatch(one)
	if m == nil {
		return nil // from outside, or a parameter: whoever uses it is told
	}
	if r.entities++; r.entities > 1000 {
		return refuse("it declares more than 1000 entities")
	}
	value := m[2] + m[3]
	for k := 0; strings.Contains(value, "&"); k++ {
		next, ok := r.withEntities(value)
		if !ok || k > 8 || len(next) > maxEntity {
			return nil
		}
		if next == value {
			break
		}
		value = next
	}
	if _, known := r.dec.Entity[m[1]]; !known && len(value) <= maxEntity && !strings.ContainsAny(value, "<&%") {
		r.dec.Entity[m[1]] = value // the first counts (XML 1.0, 4.2)
	}
	return nil
}

// withEntities puts those entities into a value that are known.
func (r *reader) withEntities(value string) (string, bool) {
	ok := true
	sum := 0
	out := regexp.MustCompile(`&[^;&]*;`).ReplaceAllStringFunc(value, func(s string) string {
		v, known := r.dec.Entity[s[1:len(s)-1]]
		if sum += len(v); !known || sum > maxEntity {
			ok = false
			return ""
		}
		return v
	})
	return out, ok && len(out) <= maxEntity
}
