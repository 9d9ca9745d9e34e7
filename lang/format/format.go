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
	f := &formatter{text: src.Text(), signs: map[int]sign{}}
	f.look(file)
	f.take(parse.Tokens(src))
	f.pair()
	for f.divide(); f.shorten(); {
		f.divide()
	}
	f.align()
	return f.write(), diags
}

// A formatter lays out one text.
type formatter struct {
	text  string
	signs map[int]sign // by their place
	items []item
	lines []line
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
	end, start, begin := 0, 0, 0
	for _, t := range tokens {
		between := f.text[end:t.Start]
		breaks := strings.Count(between, "\n")
		if breaks > 0 {
			begin = end + strings.LastIndexByte(between, '\n') + 1
			start = begin + len(f.text[begin:t.Start]) - len(strings.TrimLeft(f.text[begin:t.Start], " \t;"))
		}
		if len(f.items) == 0 {
			start = t.Start
		}
		if n := len(f.items); n > 0 && f.is(n-1, ";") && f.text[t.Start:t.End] == ";" {
			continue // one says as much as two
		}
		text := strings.TrimRight(f.text[t.Start:t.End], " \t\r")
		f.items = append(f.items, item{
			Token: t, text: text, pair: -1, column: width(f.text[start:t.Start]), across: width(f.text[begin:t.Start]),
			first: breaks > 0 || len(f.items) == 0, blank: breaks > 1 && len(f.items) > 0,
		})
		end = t.End
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
	for i := range f.items {
		switch {
		case f.is(i, "{"):
			open = append(open, i)
		case f.is(i, "}") && len(open) > 0:
			o := open[len(open)-1]
			open = open[:len(open)-1]
			f.items[i].pair, f.items[o].pair = o, i
			for k := o + 1; k <= i; k++ {
				if f.items[k].first {
					f.items[o].open, f.items[i].open = true, true
					break
				}
			}
		}
	}
}
