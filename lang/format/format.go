package format

import (
	"strings"

	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/parse"
	"foredge/lang/source"
)

// Source gives the text of a file as all designs are written. Where the text can't be
// read it tells why, and there is none.
func Source(src *source.File) (string, diag.List) {
	file, diags := parse.File(src)
	if diags.HasErrors() {
		return "", diags
	}
	return newFormatter(src, file).format(src), diags
}

func newFormatter(src *source.File, file *ast.File) *formatter {
	f := &formatter{text: src.Text(), signs: map[int]sign{}}
	f.look(file)
	return f
}

func (f *formatter) format(src *source.File) string {
	f.take(parse.Tokens(src))
	f.pair()
	for f.divide(); f.shorten(); {
		f.divide()
	}
	f.align()
	return f.write()
}

// A formatter lays out one text.
type formatter struct {
	text  string
	signs map[int]sign // by their place
	items []item
	lines []line
	// looked counts the bytes, and the items that were looked at: it grows with the text.
	looked int
}

// A sign says how close something stands to what is beside it.
type sign uint8

const (
	prefix sign = iota + 1 // close to what follows it: the minus of -3
	call                   // a bracket close to the name before it: max(
)

// An item is a token with what is to know of how it is written.
type item struct {
	parse.Token
	text    string
	column  int  // where it stands in its line, by characters from the first item
	across  int  // and from where the line begins
	first   bool // it is the first of its line
	blank   bool // an empty line stands before it
	pair    int  // of a brace, the place of the other; -1 for all else
	open    bool // of a brace, what it holds stands in lines of its own
	lineEnd bool // a line ends after it, whatever its text says
	before  int  // the item before it that is no comment; -1 if there is none
}

// A line is a line of the outcome.
type line struct {
	from, to int // items
	depth    int // braces that are open
	goes     bool
	blank    bool  // an empty line stands before it
	at       []int // where each item begins, from the first
}

// look notes what only the tree tells of signs.
func (f *formatter) look(file *ast.File) {
	visit := func(n ast.Node) bool {
		switch n := n.(type) {
		case *ast.Unary:
			if n.Op == ast.Neg {
				f.signs[n.Span().Start] = prefix
			}
		case *ast.Call:
			f.signs[n.Func.At.End] = call
		}
		return true
	}
	for _, s := range file.Stmts {
		ast.Walk(s, visit)
	}
}

// take makes items of tokens.
func (f *formatter) take(tokens []parse.Token) {
	const leading = " \t;" // before the first item of a line
	var (
		end            int  // the text is counted so far
		across, indent int  // how far in its line that is, and how far the first item, by characters
		breaks         int  // since the last item
		begins         bool // nothing but leading signs since the last break
		before         = -1
	)
	for _, t := range tokens {
		between := f.text[end:t.Start]
		f.looked += t.End - end
		if n := strings.Count(between, "\n"); n > 0 {
			breaks, begins, across, indent = breaks+n, true, 0, 0
			between = between[strings.LastIndexByte(between, '\n')+1:]
		}
		if begins {
			blanks := between[:len(between)-len(strings.TrimLeft(between, leading))]
			indent += width(blanks)
			begins = len(blanks) == len(between)
		}
		across += width(between)
		if len(f.items) == 0 {
			indent = across
		}
		at := across
		across, end = across+width(f.text[t.Start:t.End]), t.End
		if n := len(f.items); n > 0 && f.is(n-1, ";") && f.text[t.Start:t.End] == ";" {
			if begins {
				indent++
			}
			continue // one says as much as two
		}
		f.items = append(f.items, item{
			Token: t, text: strings.TrimRight(f.text[t.Start:t.End], " \t\r"), pair: -1, column: at - indent, across: at,
			first: breaks > 0 || len(f.items) == 0, blank: breaks > 1 && len(f.items) > 0, before: before,
		})
		breaks, begins = 0, false
		if t.Kind != parse.Comment {
			before = len(f.items) - 1
		}
	}
}

// is reports whether an item is a sign.
func (f *formatter) is(i int, text string) bool {
	return i >= 0 && i < len(f.items) && f.items[i].Kind == parse.Sign && f.items[i].text == text
}

// comment reports whether an item is a comment.
func (f *formatter) comment(i int) bool {
	return i >= 0 && i < len(f.items) && f.items[i].Kind == parse.Comment
}

// pair finds the braces that belong together, and which of them hold lines.
func (f *formatter) pair() {
	var open []int
	first := -1 // the last item so far that is the first of its line
	for i := range f.items {
		if f.looked++; f.items[i].first {
			first = i
		}
		switch {
		case f.is(i, "{"):
			open = append(open, i)
		case f.is(i, "}") && len(open) > 0:
			o := open[len(open)-1]
			open = open[:len(open)-1]
			f.items[i].pair, f.items[o].pair = o, i
			if first > o {
				f.items[o].open, f.items[i].open = true, true
			}
		}
	}
}
