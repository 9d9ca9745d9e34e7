package art

import (
	"slices"
	"strings"

	"github.com/tdewolff/parse/v2"
	"github.com/tdewolff/parse/v2/css"
)

// A token is a word or a sign of a style sheet.
type token struct {
	kind css.TokenType
	text string
}

// tokens reads the words of a style sheet, comments left out.
func tokens(s string) []token {
	var out []token
	for lexer := css.NewLexer(parse.NewInputString(s)); ; {
		kind, text := lexer.Next()
		switch kind {
		case css.ErrorToken:
			return out
		case css.CommentToken, css.CDOToken, css.CDCToken:
			continue
		}
		out = append(out, token{kind, string(text)})
	}
}

// written is what tokens look like in the file.
func written(list []token) string {
	var b strings.Builder
	for _, t := range list {
		b.WriteString(t.text)
	}
	return strings.TrimSpace(b.String())
}

// ends says where what t opens ends: the place of the bracket that closes it.
func ends(list []token, at int) (int, bool) {
	var open []css.TokenType
	for i := at; i < len(list); i++ {
		switch k := list[i].kind; k {
		case css.LeftBraceToken:
			open = append(open, css.RightBraceToken)
		case css.LeftBracketToken:
			open = append(open, css.RightBracketToken)
		case css.LeftParenthesisToken, css.FunctionToken:
			open = append(open, css.RightParenthesisToken)
		case css.RightBraceToken, css.RightBracketToken, css.RightParenthesisToken:
			if len(open) > 0 && open[len(open)-1] == k {
				open = open[:len(open)-1]
			}
		}
		if len(open) == 0 {
			return i, true
		}
	}
	return len(list), false
}

// upTo is the place of the first token of one of some kinds that no bracket holds.
func upTo(list []token, kinds ...css.TokenType) int {
	for i := 0; i < len(list); i++ {
		if slices.Contains(kinds, list[i].kind) {
			return i
		}
		switch list[i].kind {
		case css.LeftBraceToken, css.LeftBracketToken, css.LeftParenthesisToken, css.FunctionToken:
			i, _ = ends(list, i)
		}
	}
	return len(list)
}

func trimmed(list []token) []token {
	blank := func(t token) bool { return t.kind == css.WhitespaceToken }
	for len(list) > 0 && blank(list[0]) {
		list = list[1:]
	}
	for len(list) > 0 && blank(list[len(list)-1]) {
		list = list[:len(list)-1]
	}
	return list
}

// A declaration is one property with its value.
type declaration struct {
	name, value string
	important   bool
	bad         bool // it can't be read; value is all of it
}

// A rule is one selector of a style sheet with its declarations.
type rule struct {
	selector     selector
	declarations []declaration
	// unsure is what may hold or not, such as @media print; empty if nothing is.
	unsure string
}

const plainStyles = "set the colours and strokes on the elements themselves"

// readStyles gathers the rules of all style elements.
func (d *document) readStyles(n *node) *Error {
	if n.name == "style" {
		kind, _, _ := strings.Cut(n.attrs["type"], ";")
		if kind = strings.TrimSpace(kind); kind != "" && kind != "text/css" {
			return n.fail("write the styles as CSS", "styles of the type %q can't be read", kind)
		}
		unsure, never := medium(n.attrs["media"])
		if never {
			return nil
		}
		if unsure != "" {
			unsure = "media=\"" + n.attrs["media"] + "\""
		}
		if err := d.sheet(n, tokens(n.text), unsure, 0); err != nil {
			return err
		}
	}
	for _, c := range n.children {
		if err := d.readStyles(c); err != nil {
			return err
		}
	}
	return nil
}

// sheet reads the rules of a style sheet or of a block in one.
func (d *document) sheet(n *node, list []token, unsure string, depth int) *Error {
	if depth > MaxDepth {
		return n.fail(plainStyles, "the styles are nested more than %d deep", MaxDepth)
	}
	for {
		list = trimmed(list)
		if len(list) == 0 {
			return nil
		}
		at := upTo(list, css.LeftBraceToken, css.SemicolonToken)
		head := trimmed(list[:at])
		if list[0].kind == css.AtKeywordToken && at < len(list) && list[at].kind == css.SemicolonToken {
			if strings.EqualFold(list[0].text, "@import") {
				return n.fail(plainStyles, "@import in the styles is not read")
			}
			list = list[at+1:]
			continue
		}
		if at < len(list) && list[at].kind == css.SemicolonToken {
			at += upTo(list[at:], css.LeftBraceToken)
			head = trimmed(list[:at])
		}
		if at == len(list) {
			if strings.EqualFold(list[0].text, "@import") {
				return n.fail(plainStyles, "@import in the styles is not read")
			}
			if list[0].kind == css.AtKeywordToken {
				return nil
			}
			return n.fail(plainStyles, "the styles break off at %q", shorten(written(list)))
		}
		end, closed := ends(list, at)
		if !closed {
			return n.fail(plainStyles, "the styles break off at %q", shorten(written(list)))
		}
		body := list[at+1 : end]
		list = list[end+1:]
		var err *Error
		if len(head) > 0 && head[0].kind == css.AtKeywordToken {
			err = d.atRule(n, head, body, unsure, depth)
		} else {
			err = d.addRules(n, head, body, unsure, depth)
		}
		if err != nil {
			return err
		}
	}
}

// atRule reads @media and its like. What only fonts, pages and animations have is
// passed over.
func (d *document) atRule(n *node, head, body []token, unsure string, depth int) *Error {
	name := strings.ToLower(head[0].text)
	switch {
	case name == "@media":
		said, never := medium(written(head[1:]))
		if never {
			return nil
		}
		if said != "" {
			unsure = "@media " + said
		}
		return d.sheet(n, body, unsure, depth+1)
	case name == "@supports" && supported(head[1:]):
		return d.sheet(n, body, unsure, depth+1)
	case name == "@supports" || name == "@layer" || name == "@container" || name == "@scope":
		return d.sheet(n, body, written(head), depth+1)
	case strings.HasSuffix(name, "keyframes"):
		d.frames[written(head[1:])] = firstFrame(body)
	}
	return nil
}

// supported reports a condition that asks for one property that is read here.
func supported(list []token) bool {
	list = trimmed(list)
	if len(list) < 2 || list[0].kind != css.LeftParenthesisToken {
		return false
	}
	end, closed := ends(list, 0)
	name, _, found := strings.Cut(written(list[1:end]), ":")
	name = strings.ToLower(strings.TrimSpace(name))
	return closed && end == len(list)-1 && found && (slices.Contains(properties(), name) || sizes(name))
}

// firstFrame are the declarations with which an animation begins.
func firstFrame(body []token) []declaration {
	var out []declaration
	for {
		at := upTo(body, css.LeftBraceToken)
		if at == len(body) {
			return out
		}
		end, _ := ends(body, at)
		for part := range strings.SplitSeq(written(body[:at]), ",") {
			if part = strings.ToLower(strings.TrimSpace(part)); part == "from" || part == "0%" {
				out = append(out, declarations(body[at+1:end])...)
			}
		}
		body = body[min(end+1, len(body)):]
	}
}

// medium says of a media query whether it never holds for a drawing that lies
// still in front of who looks at it on a screen; unsure is the query if it may hold or
// not. A drawing is what is seen of it on a screen, not what is printed.
func medium(query string) (unsure string, never bool) {
	query = strings.ToLower(strings.Join(strings.Fields(query), " "))
	if query == "" {
		return "", false
	}
	never = true
	for one := range strings.SplitSeq(query, ",") {
		one = strings.TrimPrefix(strings.TrimSpace(one), "only ")
		inner, not := strings.CutPrefix(one, "not ")
		kind, _, more := strings.Cut(inner, " ")
		switch kind {
		case "all", "screen":
			switch {
			case more:
			case not:
				continue
			default:
				return "", false
			}
		case "print", "speech", "tty", "tv", "projection", "handheld", "braille", "embossed", "aural":
			if not { // whatever else it asks for
				return "", false
			}
			continue
		}
		// What a screen is asked by default: light, and not dark.
		dark := strings.Contains(one, "prefers-color-scheme: dark") || strings.Contains(one, "prefers-color-scheme:dark")
		never = never && dark && !strings.Contains(one, "not") && !strings.Contains(one, " or ")
	}
	return query, never
}

// addRules reads a rule, and those that are nested in it.
func (d *document) addRules(n *node, head, body []token, unsure string, depth int) *Error {
	body, inner, ok := nested(head, body)
	if !ok {
		return n.fail(plainStyles, "what is nested in the styles of %q can't be read", shorten(written(head)))
	}
	if err := d.addRule(n, head, body, unsure); err != nil || len(inner) == 0 {
		return err
	}
	return d.sheet(n, inner, unsure, depth+1)
}

// nested takes the rules out of what stands in the braces of another one: inner are
// these as they would be written outside of it (CSS Nesting 1, 3). Others than plain
// ones are not ok.
func nested(head, body []token) (own, inner []token, ok bool) {
	is := func() []token {
		out := []token{{css.ColonToken, ":"}, {css.FunctionToken, "is("}}
		out = append(out, head...)
		return append(out, token{css.RightParenthesisToken, ")"})
	}
	for len(body) > 0 {
		at := upTo(body, css.SemicolonToken, css.LeftBraceToken)
		if at == len(body) || body[at].kind == css.SemicolonToken {
			at = min(at+1, len(body))
			own, body = append(own, body[:at]...), body[at:]
			continue
		}
		end, closed := ends(body, at)
		selector := trimmed(body[:at])
		if !closed || len(selector) == 0 || selector[0].kind == css.AtKeywordToken || selector[0].kind == css.CustomPropertyNameToken {
			return nil, nil, false
		}
		before := len(inner)
		for {
			comma := upTo(selector, css.CommaToken)
			one := trimmed(selector[:comma])
			if !slices.ContainsFunc(one, isParent) {
				one = append([]token{{css.DelimToken, "&"}, {css.WhitespaceToken, " "}}, one...)
			}
			for _, t := range one {
				if isParent(t) {
					inner = append(inner, is()...)
				} else {
					inner = append(inner, t)
				}
			}
			if len(inner)-before > maxNested {
				return nil, nil, false
			}
			if comma == len(selector) {
				break
			}
			inner = append(inner, selector[comma])
			selector = selector[comma+1:]
		}
		inner = append(inner, body[at:end+1]...)
		body = body[end+1:]
	}
	return own, inner, true
}

// maxNested is how many words the selectors of a rule in others may come to.
const maxNested = 2000

// isParent reports the sign for what the rule round a rule is for.
func isParent(t token) bool { return t.kind == css.DelimToken && t.text == "&" }

func (d *document) addRule(n *node, head, body []token, unsure string) *Error {
	list := declarations(body)
	for {
		at := upTo(head, css.CommaToken)
		text := written(head[:at])
		s, why := parseSelector(trimmed(head[:at]), 0)
		if why == malformed {
			return n.fail(plainStyles, "the styles use %q, which can't be read", shorten(text))
		}
		r := rule{selector: s, declarations: list, unsure: unsure}
		if why == unknown && unsure == "" {
			r.unsure = text
		}
		if why != never {
			d.rules = append(d.rules, r)
		}
		if len(d.rules) > maxRules {
			return n.fail(plainStyles, "there are more than %d styles", maxRules)
		}
		if at >= len(head) {
			return nil
		}
		head = head[at+1:]
	}
}

// declarations reads what stands between braces or in a style attribute.
func declarations(list []token) []declaration {
	var out []declaration
	for len(list) > 0 {
		at := upTo(list, css.SemicolonToken)
		part := trimmed(list[:at])
		list = list[min(at+1, len(list)):]
		if len(part) == 0 {
			continue
		}
		text := written(part)
		name, value, found := strings.Cut(text, ":")
		d := declaration{name: strings.TrimSpace(name), value: strings.TrimSpace(value)}
		if !strings.HasPrefix(d.name, "--") {
			d.name = plainly(strings.ToLower(d.name))
		}
		if i := strings.LastIndexByte(d.value, '!'); i >= 0 && strings.EqualFold(strings.TrimSpace(d.value[i+1:]), "important") {
			d.value, d.important = strings.TrimSpace(d.value[:i]), true
		}
		if !found || d.name == "" || d.value == "" && !strings.HasPrefix(d.name, "--") {
			d = declaration{value: text, bad: true}
		}
		out = append(out, d)
	}
	return out
}

// plainly is the property by which one is read that says the same of a drawing.
func plainly(name string) string {
	switch name {
	case "mask-image", "-webkit-mask", "-webkit-mask-image", "mask-border", "mask-border-source", "-webkit-mask-box-image":
		return "mask" // of its images is one drawn
	case "-webkit-clip-path":
		return "clip-path"
	}
	return name
}

// shorten keeps a quotation of a file short, and to what can be seen.
func shorten(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 40 {
		return string(r[:40]) + "..."
	}
	return s
}

// tail is the end of a text on one line.
func tail(s string) string {
	s = strings.Join(strings.Fields(s), " ")
	if r := []rune(s); len(r) > 40 {
		return "..." + string(r[len(r)-40:])
	}
	return s
}
