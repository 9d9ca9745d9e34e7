package serve

import (
	"net/url"
	"path/filepath"
	"strings"
	"unicode/utf8"

	"foredge/lang/source"
)

// An encoding is how an editor counts within a line: in bytes, in UTF-16 units as the
// protocol has it where nothing else is agreed on, or in characters.
type encoding string

const (
	utf8Units  encoding = "utf-8"
	utf16Units encoding = "utf-16"
	utf32Units encoding = "utf-32"
)

// agree takes the first of the editor's encodings, in its order, that is known.
func agree(offered []string) encoding {
	for _, o := range offered {
		if e := encoding(o); e == utf8Units || e == utf16Units || e == utf32Units {
			return e
		}
	}
	return utf16Units
}

// units is how long a character is.
func (e encoding) units(r rune, size int) int {
	switch {
	case e == utf8Units:
		return size
	case e == utf16Units && r > 0xffff:
		return 2
	}
	return 1
}

// mark is how long the byte-order mark is that an editor has sent before a line's text: 0
// for all lines but the first. It counts as a character there, and is left out of the text.
func (e encoding) mark(f *source.File, line int) int {
	n := 0
	if line == 0 {
		for _, r := range f.Mark() {
			n += e.units(r, len(f.Mark()))
		}
	}
	return n
}

// position is the place of a byte offset.
func (e encoding) position(f *source.File, offset int) position {
	n := f.LineNumber(offset)
	line, start := f.Line(n)
	at := e.mark(f, n-1)
	for i := 0; i < len(line) && start+i < offset; {
		r, size := utf8.DecodeRuneInString(line[i:])
		at += e.units(r, size)
		i += size
	}
	return position{n - 1, at}
}

// offset is the byte offset of a place: that of the line's end for one past it.
func (e encoding) offset(f *source.File, p position) int {
	if p.Line < 0 {
		return 0
	}
	if last := f.LineNumber(len(f.Text())); p.Line >= last {
		return len(f.Text())
	}
	line, start := f.Line(p.Line + 1)
	i := 0
	for at := e.mark(f, p.Line); i < len(line); {
		r, size := utf8.DecodeRuneInString(line[i:])
		if at += e.units(r, size); at > p.Character {
			break
		}
		i += size
	}
	return start + i
}

// held is the byte offset of a place in what the editor holds, with the mark before it.
func (e encoding) held(f *source.File, p position) int {
	if p.Line <= 0 && p.Character < e.mark(f, 0) {
		return 0
	}
	return len(f.Mark()) + e.offset(f, p)
}

// span is the range of a span.
func (e encoding) span(s source.Span) textRange {
	if s.IsZero() {
		return textRange{}
	}
	return textRange{e.position(s.File, s.Start), e.position(s.File, s.End)}
}

// pathOf is the path that a URI names; ok is false for what lies on no disk.
func pathOf(uri string) (path string, ok bool) {
	u, err := url.Parse(uri)
	if err != nil || u.Scheme != "file" {
		return "", false
	}
	p := u.Path
	if len(p) > 2 && p[0] == '/' && p[2] == ':' { // /C:/covers
		p = p[1:]
	}
	return filepath.FromSlash(p), true
}

// uriOf names a path.
func uriOf(path string) string {
	p := filepath.ToSlash(path)
	if !strings.HasPrefix(p, "/") {
		p = "/" + p
	}
	return (&url.URL{Scheme: "file", Path: p}).String()
}
