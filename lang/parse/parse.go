package parse

import (
	"strings"
	"unicode/utf8"

	"foredge/lang/ast"
	"foredge/lang/diag"
	"foredge/lang/source"
	"foredge/lang/unit"
)

// The limits of a design file. Beyond them a file is refused at once.
const (
	maxBytes   = 1 << 20 // of a file
	maxNesting = 64      // of blocks, and of brackets in a value
	maxTerms   = 1000    // operators in one value
	maxName    = 256     // bytes of a name
	maxErrors  = 1000    // reported for one file
)

// The codes of what this package reports.
const (
	codeEncoding  diag.Code = "encoding"        // bytes that are no text
	codeFileLarge diag.Code = "file-too-large"  // a whole file beyond the limit
	codeTooDeep   diag.Code = "too-deep"        // things in things beyond the limit
	codeTooLong   diag.Code = "too-long"        // a name or a value beyond the limit
	codeCharacter diag.Code = "character"       // a character that means nothing here
	codeNumber    diag.Code = "number"          // a number written wrongly
	codeConflict  diag.Code = "merge-conflict"  // marks of version control
	codeString    diag.Code = "unclosed-text"   // a text without its closing quote
	codeBackslash diag.Code = "backslash"       // one before what it can't stand before
	codeUnit      diag.Code = "unknown-unit"    // a unit that doesn't exist
	codeBrace     diag.Code = "brace"           // a brace or bracket without its other half
	codeSyntax    diag.Code = "syntax"          // anything else in the wrong place
	codeManyWrong diag.Code = "too-many-errors" // the rest is not shown
)

// A parser reads one file.
type parser struct {
	src      *source.File
	text     string
	toks     []token
	comments []comment
	diags    diag.List
	badLines map[int]bool // lines that have an error already

	pos      int // the next token
	first    int // the first token of the statement being read
	end      int // the token that ends what is being read
	next     int // the next comment without an owner
	depth    int // of open blocks
	brackets int // open around the value being read
	terms    int // operators of the value being read

	bare    unit.Unit // of a length without one, where the file has stated it
	failed  bool      // the statement being read has an error already
	stopped bool      // the rest of the file is not read

	inConflict bool        // the first of two versions is being scanned
	endless    bool        // no mark behind a second version stands below
	orders     bool        // the statement stands in a table of orders
	lost       *openBlock  // the first block that seems to lack its closing brace
	astray     source.Span // see ast.File
}

// File reads a whole design file. The tree is never nil: parts that can't be
// read are in it as [ast.BadStmt] and [ast.BadExpr], and are reported in the
// list, at most one error for each line.
func File(src *source.File) (*ast.File, diag.List) {
	p := &parser{src: src, text: src.Text()}
	file := &ast.File{Source: src}
	if p.checkText() {
		p.scan()
		file.Stmts = p.stmts(nil)
		file.Comments.End = p.takeComments(len(p.text))
	}
	p.diags.Sort()
	file.Broken, file.Astray = p.diags.HasErrors(), p.astray
	return file, p.diags
}

// checkText looks at the bytes of the file and reports whether they can be
// read at all.
func (p *parser) checkText() bool {
	if len(p.text) > maxBytes {
		p.errorAt(codeFileLarge, 0, 0, "the file is %.1f MiB long; a design file has at most 1 MiB", float64(len(p.text))/(1<<20)).
			WithHelp("move a part into a file of its own and bring it in with use")
		return false
	}
	zero := strings.IndexByte(p.text, 0)
	if !utf8.ValidString(p.text) {
		at := 0
		for at < len(p.text) {
			r, n := utf8.DecodeRuneInString(p.text[at:])
			if r == utf8.RuneError && n <= 1 {
				break
			}
			at += n
		}
		d := p.errorAt(codeEncoding, at, at+1, "the file is not in UTF-8: the byte %02X is no character", p.text[at])
		d.WithHelp("save the file as UTF-8 in the text editor")
		if zero >= 0 {
			d.Message = "this is not a UTF-8 text file"
			return false
		}
	}
	if zero >= 0 {
		p.errorAt(codeEncoding, zero, zero+1, "this is not a text file: it holds a zero byte").
			WithHelp("save the design as plain text in UTF-8")
		return false
	}
	for i := 0; i < len(p.text); i++ {
		c := p.text[i]
		if class[c] > cBlank { // what tokens begin with, or a line end
			continue
		}
		if c >= ' ' && c != 0x7f || c == '\t' {
			continue
		}
		if c == '\r' {
			if i+1 == len(p.text) || p.text[i+1] == '\n' {
				continue
			}
			p.errorAt(codeCharacter, i, i+1, "there is an old kind of line end in this line").
				WithHelp("save the file with the usual line ends (LF or CRLF)")
			continue
		}
		p.errorAt(codeCharacter, i, i+1, "there is a control character here (code %02X)", c).
			WithHelp("delete it; it can't be seen, and may have come in with copied text")
	}
	return true
}

// span makes a place of two byte offsets.
func (p *parser) span(start, end int) source.Span {
	return source.Span{File: p.src, Start: start, End: end}
}

func (t token) span(p *parser) source.Span { return p.span(int(t.start), int(t.end)) }

// errorAt reports an error unless its line has one already. It returns a
// diagnostic in either case, for notes and help to be added.
func (p *parser) errorAt(code diag.Code, start, end int, format string, args ...any) *diag.Diagnostic {
	line := p.src.LineNumber(start)
	if p.badLines == nil {
		p.badLines = map[int]bool{}
	}
	list := &p.diags
	if p.badLines[line] || p.stopped || len(p.diags) >= maxErrors {
		if !p.badLines[line] && len(p.diags) == maxErrors {
			p.diags.Errorf(codeManyWrong, p.span(start, end), "there are more than %d errors; the rest are not shown", maxErrors).
				WithHelp("is this a design file?")
		}
		list = new(diag.List)
	}
	p.badLines[line] = true
	return list.Errorf(code, p.span(start, end), format, args...)
}

// fail reports an error in the statement being read, unless it has one
// already.
func (p *parser) fail(code diag.Code, at source.Span, format string, args ...any) *diag.Diagnostic {
	if p.failed {
		return new(diag.Diagnostic)
	}
	p.failed = true
	return p.errorAt(code, at.Start, at.End, format, args...)
}

// tok returns the next token of the statement being read; after its last one
// that is an eof.
func (p *parser) tok() token { return p.peek(0) }

// peek returns the token n after the next.
func (p *parser) peek(n int) token {
	if i := p.pos + n; i < p.end {
		return p.toks[i]
	}
	at := int32(0)
	if p.end > 0 {
		at = p.toks[p.end-1].end
	}
	return token{eof, at, at}
}

// is reports whether the next token is the given word.
func (p *parser) is(w string) bool { return p.tok().is(p, w) }

func (t token) is(p *parser, w string) bool {
	return t.kind == word && p.text[t.start:t.end] == w
}

// adjoins reports whether no blank stands between two tokens.
func (t token) adjoins(next token) bool { return t.end == next.start }

// lastEnd returns the end of the token before the next one.
func (p *parser) lastEnd() int {
	for i := p.pos - 1; i >= 0; i-- {
		if k := p.toks[i].kind; k != eol && k != semi {
			return int(p.toks[i].end)
		}
	}
	return 0
}

func (p *parser) ident(t token) ast.Ident {
	return ast.Ident{At: t.span(p), Name: t.text(p)}
}

// takeComments returns the comments that start before an offset and have no
// owner yet; the caller gives them one.
func (p *parser) takeComments(before int) []ast.Comment {
	var out []ast.Comment
	for p.next < len(p.comments) && int(p.comments[p.next].start) < before {
		c := p.comments[p.next]
		out = append(out, ast.Comment{At: p.span(int(c.start), int(c.end)), Blank: c.blank})
		p.next++
	}
	return out
}

// takeLineEnd takes the comment between the last token read and the end
// of its line, if nothing else stands there.
func (p *parser) takeLineEnd() []ast.Comment {
	last := p.pos
	for p.toks[last].kind == semi {
		last++
	}
	if k := p.toks[last].kind; k != eol && k != eof {
		return nil
	}
	at := p.lastEnd()
	if last > p.pos {
		at = int(p.toks[p.pos].start)
	}
	return p.takeComments(p.lineEnd(at))
}

// lineEnd returns the offset of the end of the line that an offset is in.
func (p *parser) lineEnd(at int) int {
	if n := strings.IndexByte(p.text[at:], '\n'); n >= 0 {
		return at + n
	}
	return len(p.text)
}
