package source

import (
	"bytes"
	"fmt"
	"sort"
	"strings"
	"sync"
	"unicode/utf8"
)

// A File is the text of one design file. It is not changed after [New].
type File struct {
	name string
	mark string
	text string
	once sync.Once
	// starts holds the offset of each line's first byte.
	starts []int
}

// New makes a file of the given bytes. A byte-order mark is left out of the
// text. The name is what messages call the file; it is not opened.
func New(name string, data []byte) *File {
	text := Unmarked(data)
	return &File{name: name, mark: string(data[:len(data)-len(text)]), text: string(text)}
}

// Unmarked is a text without the byte-order mark before it.
func Unmarked(data []byte) []byte { return bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")) }

// Name returns the name that messages use for the file.
func (f *File) Name() string { return f.name }

// Mark returns the byte-order mark that was left out, "" if there was none.
func (f *File) Mark() string { return f.mark }

// Text returns the whole text, without a byte-order mark.
func (f *File) Text() string { return f.text }

func (f *File) lineStarts() []int {
	f.once.Do(func() {
		f.starts = make([]int, 1, 2+strings.Count(f.text, "\n"))
		for start := 0; ; {
			n := strings.IndexByte(f.text[start:], '\n')
			if n < 0 {
				break
			}
			start += n + 1
			f.starts = append(f.starts, start)
		}
	})
	return f.starts
}

// A Position is a place as a person counts it.
type Position struct {
	Line   int // from 1
	Column int // from 1, in characters
}

// Position returns the line and column of a byte offset. An offset outside
// the text is taken as its nearer end.
func (f *File) Position(offset int) Position {
	offset = max(0, min(offset, len(f.text)))
	line := f.LineNumber(offset)
	return Position{
		Line:   line,
		Column: utf8.RuneCountInString(f.text[f.lineStarts()[line-1]:offset]) + 1,
	}
}

// LineNumber returns the line of a byte offset, from 1. It takes less time
// than [File.Position], which must look at the whole line.
func (f *File) LineNumber(offset int) int {
	offset = max(0, min(offset, len(f.text)))
	return sort.SearchInts(f.lineStarts(), offset+1)
}

// Line returns the text of a line, counted from 1, without its line end, and
// the offset of its first byte. A line that isn't there is empty.
func (f *File) Line(n int) (text string, start int) {
	starts := f.lineStarts()
	if n < 1 || n > len(starts) {
		return "", len(f.text)
	}
	start = starts[n-1]
	end := len(f.text)
	if n < len(starts) {
		end = starts[n] - 1
	}
	return strings.TrimSuffix(f.text[start:end], "\r"), start
}

// A Span is the stretch of a file from Start up to but not including End,
// both byte offsets. The zero Span is no place at all.
type Span struct {
	File       *File
	Start, End int
}

// IsZero reports whether the span is no place at all.
func (s Span) IsZero() bool { return s.File == nil }

// Begin is where the span begins, as a span that covers no text.
func (s Span) Begin() Span { return Span{s.File, s.Start, s.Start} }

// Text returns the text that the span covers.
func (s Span) Text() string {
	if s.File == nil {
		return ""
	}
	n := len(s.File.text)
	start := max(0, min(s.Start, n))
	return s.File.text[start:max(start, min(s.End, n))]
}

// Short is how a message quotes the text of the span: no more than 40
// characters of it.
func (s Span) Short() string {
	text := s.Text()
	t := []rune(text[:min(len(text), 41*utf8.UTFMax)])
	if len(t) > 40 {
		return string(t[:37]) + "..."
	}
	return string(t)
}

// To returns the span from the start of s to the end of t, which must lie in
// the same file.
func (s Span) To(t Span) Span {
	switch {
	case s.IsZero():
		return t
	case t.IsZero():
		return s
	}
	return Span{File: s.File, Start: min(s.Start, t.Start), End: max(s.End, t.End)}
}

// Before orders spans by file name, then by where they start and end.
func (s Span) Before(t Span) bool {
	if s.File != t.File {
		return s.fileName() < t.fileName()
	}
	if s.Start != t.Start {
		return s.Start < t.Start
	}
	return s.End < t.End
}

func (s Span) fileName() string {
	if s.File == nil {
		return ""
	}
	return s.File.name
}

// String gives the place as file:line:column.
func (s Span) String() string {
	if s.File == nil {
		return "-"
	}
	p := s.File.Position(s.Start)
	return fmt.Sprintf("%s:%d:%d", Plain(s.File.name), p.Line, p.Column)
}
