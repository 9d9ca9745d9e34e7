package parse

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"foredge/lang/diag"
	"foredge/lang/numeral"
	"foredge/lang/unit"
)

// scan cuts the text into tokens and comments. It never fails: what means
// nothing becomes a bad token, or the token that was meant, and is reported.
// The token list ends with eof; an eol stands only after another token, and
// there are never two in a row.
func (p *parser) scan() {
	s := p.text
	p.toks = make([]token, 0, len(s)/4+8)
	blank := false    // the line before this one is empty
	lineUsed := false // something stands on this line
	i := 0
	for i < len(s) {
		c := s[i]
		switch class[c] {
		case cBlank:
			i++
			continue
		case cNewline:
			if n := len(p.toks); n > 0 && p.toks[n-1].kind != eol {
				p.emit(eol, i, i+1)
			}
			blank, lineUsed = !lineUsed, false
			i++
			continue
		case cHash:
			i = p.scanComment(i, blank)
			lineUsed = true
			continue
		}
		lineUsed = true
		switch class[c] {
		case cLetter:
			i = p.scanWord(i)
		case cDigit:
			i = p.scanNumber(i)
		case cQuote:
			i = p.scanString(i)
		case cSign:
			if end := p.scanConflict(i); end > i {
				i = end
				continue
			}
			i = p.scanSign(i)
		default:
			i = p.scanOther(i)
		}
	}
	p.emit(eof, len(s), len(s))
}

func (p *parser) emit(k kind, start, end int) {
	p.toks = append(p.toks, token{k, int32(start), int32(end)})
}

// endsWith reports whether the last token has the given kind and ends at i,
// without a blank between.
func (p *parser) endsWith(k kind, i int) bool {
	n := len(p.toks)
	return n > 0 && p.toks[n-1].kind == k && int(p.toks[n-1].end) == i
}

func (p *parser) scanComment(i int, blank bool) int {
	end := strings.IndexByte(p.text[i:], '\n')
	if end < 0 {
		end = len(p.text)
	} else {
		end += i
	}
	stop := end
	if stop > i && p.text[stop-1] == '\r' {
		stop--
	}
	p.comments = append(p.comments, comment{int32(i), int32(stop), blank})
	return end
}

func (p *parser) scanWord(i int) int {
	s := p.text
	start := i
	underscore := -1
letters:
	for i < len(s) {
		switch c := s[i]; {
		case class[c] == cLetter, class[c] == cDigit:
			i++
		case c == '-' && i+1 < len(s) && wordGoesOn(s[i+1:]):
			i++
		case c == '_':
			if underscore < 0 {
				underscore = i
			}
			i++
		case c >= utf8.RuneSelf:
			r, n := utf8.DecodeRuneInString(s[i:])
			if !nameRune(r) {
				break letters
			}
			i += n
		default:
			break letters
		}
	}
	if underscore >= 0 {
		name := s[start:i]
		p.errorAt(codeCharacter, start, i, "the name %s has an underscore in it", name).
			WithHelp("names are made of letters and digits, with hyphens between them: %s", strings.Trim(strings.ReplaceAll(name, "_", "-"), "-"))
	}
	if i-start > maxName {
		p.errorAt(codeTooLong, start, i, "the name %s is longer than %d letters", shorten(p.text[start:i]), maxName).
			WithHelp("give it a shorter name")
		p.emit(bad, start, i)
		return i
	}
	p.emit(word, start, i)
	return i
}

// wordGoesOn reports whether a name goes on after a hyphen.
func wordGoesOn(s string) bool {
	if s[0] < utf8.RuneSelf {
		return class[s[0]] == cLetter || class[s[0]] == cDigit
	}
	r, _ := utf8.DecodeRuneInString(s)
	return nameRune(r)
}

// nameRune reports whether a character beyond ASCII may stand in a name:
// letters and digits of any script, and the accents that go with a letter.
func nameRune(r rune) bool {
	return unicode.IsLetter(r) || unicode.IsDigit(r) || unicode.Is(unicode.Mn, r) || unicode.Is(unicode.Mc, r)
}

func (p *parser) scanNumber(start int) int {
	// In front.rings.gap.3 the 3 is a part of the name.
	if p.endsWith(dot, start) {
		end := start
		for end < len(p.text) && class[p.text[end]] == cDigit {
			end++
		}
		p.emit(number, start, end)
		return end
	}
	end, wrong := numeral.Scan(p.text, start)
	return p.scanRest(start, end, wrong)
}

// scanRest takes the number from start to end, with what hangs on it by a sign
// that leaves open what is meant.
func (p *parser) scanRest(start, end int, wrong *numeral.Error) int {
	if last, glued := numeral.Glued(p.text, start, end); wrong == nil && glued != nil {
		end, wrong = last, glued
	}
	k := number
	if wrong != nil {
		instead(p.errorAt(codeNumber, wrong.Start, wrong.End, "%s", wrong.Message).WithHelp("%s", wrong.Help()), wrong)
		if wrong.Unreadable {
			k = bad
		}
	}
	p.emit(k, start, end)
	return end
}

func (p *parser) scanString(i int) int {
	s := p.text
	start := i
	for i++; i < len(s) && s[i] != '\n'; i++ {
		switch s[i] {
		case '"':
			p.emit(text, start, i+1)
			return i + 1
		case '\\':
			if i+1 < len(s) && s[i+1] != '\n' && s[i+1] != '\r' {
				i++
			}
		}
	}
	// The text that is meant can't be known: a bad token to the line's end.
	i = start + len(strings.TrimRight(s[start:i], " \t\r"))
	if p.endsWith(number, start) {
		p.errorAt(codeCharacter, start, start+1, `the mark " is not understood after a number`).
			WithHelp("for inches, write in after the number")
	} else {
		p.errorAt(codeString, start, i, `this text is not closed: a " is missing at its end`).
			WithHelp(`put a " after the last letter; a text can't continue on the next line`)
	}
	p.emit(bad, start, i)
	return i
}

func (t token) text(p *parser) string { return p.text[t.start:t.end] }

// scanSign takes the longest sign at i: one of ours, or one that is written
// in its place elsewhere.
func (p *parser) scanSign(i int) int {
	s := p.text
	switch {
	case s[i] == '.' && i+1 < len(s) && class[s[i+1]] == cDigit && !p.endsWith(word, i) && !p.endsWith(number, i):
		end, wrong := numeral.Scan(s, i)
		return p.scanRest(i, end, wrong)
	case strings.HasPrefix(s[i:], "//"), strings.HasPrefix(s[i:], "/*"):
		end := i + len(strings.TrimRight(s[i:p.lineEnd(i)], " \t\r"))
		p.errorAt(codeCharacter, i, i+2, "%s does not start a comment", s[i:i+2]).WithHelp("start the comment with #")
		p.emit(bad, i, end)
		return end
	}
	end := i + 1
	for end < min(i+maxSign, len(s)) && class[s[end]] == cSign {
		end++
	}
	for ; end > i; end-- {
		if k := sign(s[i:end]); k != eof {
			p.emit(k, i, end)
			return end
		}
		if k, right := foreignSign(s[i:end]); right != "" {
			d := p.errorAt(codeCharacter, i, end, "%s is not understood", s[i:end]).WithHelp("write %s", right)
			if k != bad { // what is meant is a sign of ours
				d.WithFix(d.Span, ownSign(right))
			}
			p.emit(k, i, end)
			return end
		}
	}
	panic("parse: no sign " + s[i:i+1])
}

// maxSign is how many bytes the longest sign has.
const maxSign = len("+/-")

// sign returns the token that a text is if it is a sign, and else eof.
func sign(s string) kind {
	switch s {
	case "=":
		return eq
	case "!=":
		return ne
	case "<":
		return lt
	case "<=":
		return le
	case ">":
		return gt
	case ">=":
		return ge
	case "+":
		return plus
	case "-":
		return minus
	case "+/-":
		return within
	case "*":
		return star
	case "/":
		return slash
	case "(":
		return lparen
	case ")":
		return rparen
	case "{":
		return lbrace
	case "}":
		return rbrace
	case ",":
		return comma
	case ";":
		return semi
	case "%":
		return percent
	case ".":
		return dot
	}
	return eof
}

// foreignSign returns, for a sign of other languages, the token that is meant
// and what to write instead; "" for any other text.
func foreignSign(s string) (k kind, right string) {
	switch s {
	case "==":
		return eq, "a single = for what must be equal"
	case "=<":
		return le, "<= for at most"
	case "=>":
		return ge, ">= for at least"
	case "<>":
		return ne, "!= for what must differ"
	case ":=":
		return eq, "a single ="
	case ":":
		return bad, "= between a name and its value"
	case "+-":
		return bad, "± or +/- before how surely it is known"
	case "**":
		return bad, "a square as a * a"
	case "!":
		return bad, "the word not"
	case "&", "&&":
		return bad, "the word and"
	case "|", "||":
		return bad, "the word or"
	}
	return bad, ""
}

// ownSign is the sign that a hint about a foreign one names.
func ownSign(right string) string {
	for word := range strings.FieldsSeq(right) {
		if word == "=" || len(word) == 2 && word[1] == '=' {
			return word
		}
	}
	return right
}

// scanOther takes a character that no token starts with: another script's
// letter, a blank from a text program, or something to report.
func (p *parser) scanOther(i int) int {
	s := p.text
	r, n := utf8.DecodeRuneInString(s[i:])
	if r == utf8.RuneError && n <= 1 {
		// checkText has reported the file's first broken byte.
		p.emit(bad, i, i+1)
		return i + 1
	}
	if unicode.IsLetter(r) {
		return p.scanWord(i)
	}
	if unicode.Is(unicode.Zs, r) {
		return i + n
	}
	k, say := lookalike(r)
	if k == within {
		p.emit(within, i, i+n)
		return i + n
	}
	switch {
	case say != "":
		d := p.errorAt(codeCharacter, i, i+n, "the character %c is not understood", r).WithHelp("write %s", say)
		if k != bad { // what is meant is a sign of ours
			d.WithFix(d.Span, say[strings.LastIndexByte(say, ' ')+1:])
		} else if say == plainQuote {
			p.quoted(d, i, n)
		}
	case r == '_':
		p.errorAt(codeCharacter, i, i+n, "a name can't start with an underscore").
			WithHelp("names are made of letters and digits, with hyphens between them")
	case unicode.IsPrint(r):
		p.errorAt(codeCharacter, i, i+n, "the character %c is not understood", r).
			WithHelp("take it out, or put it in double quotes if it belongs to a text")
	case r < ' ' || r == 0x7f:
		// checkText has reported control characters.
	default:
		p.errorAt(codeCharacter, i, i+n, "there is an invisible character here (code %04X)", r).
			WithHelp("delete it; it may have come in with copied text")
	}
	p.emit(k, i, i+n)
	return i + n
}

// lookalike returns, for a character that text programs and keyboards offer
// in place of ours, the token that is meant and what to write instead.
func lookalike(r rune) (kind, string) {
	switch r {
	case '±':
		return within, ""
	case '−', '–', '—', '‐', '‑':
		return minus, "the plain sign -"
	case '×', '·', '⋅':
		return star, "*"
	case '÷', '∕', '⁄':
		return slash, "/"
	case '≤', '⩽':
		return le, "<="
	case '≥', '⩾':
		return ge, ">="
	case '≠':
		return ne, "!="
	case '“', '”', '„', '«', '»', '‘', '’', '\'', '`':
		return bad, plainQuote
	case '′':
		return bad, "the length in inches"
	case '¼', '½', '¾', '⅓', '⅔', '⅛', '⅜', '⅝', '⅞':
		return bad, "the fraction with a /, as in 4 3/4 in"
	case '²':
		return bad, "a square as a * a"
	case '^':
		return bad, "a square as a * a"
	case '√':
		return bad, "sqrt(...)"
	case '⌀', '∅':
		return bad, "round and the diameter, as in round 4"
	case '[':
		return bad, "(, or { for a block"
	case ']':
		return bad, "), or } for a block"
	case '\\':
		return bad, "/ to divide"
	}
	if u, ok := unit.Meant(string(r)); ok {
		return bad, u.Name
	}
	return bad, ""
}

// plainQuote is what to write in place of other quotes.
const plainQuote = `the plain quote "`

// quoted names the change of a text to one in plain quotes: of both its quotes, if the
// other stands on the same line.
func (p *parser) quoted(d *diag.Diagnostic, i, n int) {
	line := p.text[i+n : p.lineEnd(i)]
	end := strings.IndexAny(line, "“”„«»‘’'`\"")
	if end < 0 || strings.Contains(line[:end], `\`) {
		d.WithFix(d.Span, `"`)
		return
	}
	_, closing := utf8.DecodeRuneInString(line[end:])
	d.WithFix(p.span(i, i+n+end+closing), `"`+line[:end]+`"`)
}

// The classes of bytes that decide what a token starts with.
const (
	cOther = iota
	cBlank
	cNewline
	cHash
	cLetter
	cDigit
	cQuote
	cSign
)

// class tells the class of each byte; it is never written to. A carriage
// return that no line feed follows has been reported by checkText.
var class = [256]uint8{
	' ': cBlank, '\t': cBlank, '\r': cBlank, '\n': cNewline, '#': cHash, '"': cQuote,
	'=': cSign, '<': cSign, '>': cSign, '!': cSign, '+': cSign, '-': cSign, '*': cSign, '/': cSign,
	'(': cSign, ')': cSign, '{': cSign, '}': cSign, ',': cSign, ';': cSign, '%': cSign, '.': cSign,
	':': cSign, '&': cSign, '|': cSign,
	'0': cDigit, '1': cDigit, '2': cDigit, '3': cDigit, '4': cDigit,
	'5': cDigit, '6': cDigit, '7': cDigit, '8': cDigit, '9': cDigit,
	'a': cLetter, 'b': cLetter, 'c': cLetter, 'd': cLetter, 'e': cLetter, 'f': cLetter, 'g': cLetter,
	'h': cLetter, 'i': cLetter, 'j': cLetter, 'k': cLetter, 'l': cLetter, 'm': cLetter, 'n': cLetter,
	'o': cLetter, 'p': cLetter, 'q': cLetter, 'r': cLetter, 's': cLetter, 't': cLetter, 'u': cLetter,
	'v': cLetter, 'w': cLetter, 'x': cLetter, 'y': cLetter, 'z': cLetter,
	'A': cLetter, 'B': cLetter, 'C': cLetter, 'D': cLetter, 'E': cLetter, 'F': cLetter, 'G': cLetter,
	'H': cLetter, 'I': cLetter, 'J': cLetter, 'K': cLetter, 'L': cLetter, 'M': cLetter, 'N': cLetter,
	'O': cLetter, 'P': cLetter, 'Q': cLetter, 'R': cLetter, 'S': cLetter, 'T': cLetter, 'U': cLetter,
	'V': cLetter, 'W': cLetter, 'X': cLetter, 'Y': cLetter, 'Z': cLetter,
}
