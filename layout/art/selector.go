package art

import (
	"slices"
	"strconv"
	"strings"

	"github.com/tdewolff/parse/v2/css"
)

// A selector says which elements a rule is for (Selectors 3): compounds from left
// to right, each with what joins it to the one before it.
type selector struct {
	parts  []compound
	weight int // specificity
}

// A compound is what one element must be.
type compound struct {
	join    byte // how the one before lies: ' ' above, '>' right above, '+' right before, '~' before; 0 for the first
	element string
	tests   []test
}

// A test is what an element must be beside its name.
type test func(d *document, n *node) bool

// A flaw is why a selector selects nothing, or not surely.
type flaw uint8

const (
	fine      flaw = iota
	never          // it is for what lies under a pointer, or for no element at all
	unknown        // it has a word that is not known
	malformed      // it isn't one
)

// maxCompounds is how many elements a selector may speak of.
const maxCompounds = 32

// parseSelector reads a selector; depth is how many others hold it.
func parseSelector(list []token, depth int) (selector, flaw) {
	var s selector
	why := fine
	next := compound{}
	join := byte(0)
	started := false
	if len(list) == 0 || depth > 4 {
		return s, malformed
	}
	for len(list) > 0 {
		t := list[0]
		list = list[1:]
		switch {
		case t.kind == css.WhitespaceToken:
			if join == 0 && started {
				join = ' '
			}
			continue
		case t.kind == css.DelimToken && (t.text == ">" || t.text == "+" || t.text == "~"):
			if !started || join != 0 && join != ' ' {
				return s, malformed
			}
			join = t.text[0]
			continue
		}
		if join != 0 {
			s.parts = append(s.parts, next)
			next, join = compound{join: join}, 0
			if len(s.parts) > maxCompounds {
				return s, malformed
			}
		}
		started = true
		used, f := next.add(t, list, &s.weight, depth)
		if f == malformed {
			return s, f
		}
		why = worse(why, f)
		list = list[used:]
	}
	if join != 0 && join != ' ' || !started {
		return s, malformed
	}
	s.parts = append(s.parts, next)
	return s, why
}

// worse is what holds of a selector of which two things hold: one that selects
// nothing does so however unknown the rest is.
func worse(a, b flaw) flaw {
	if a == never || b == never {
		return never
	}
	return max(a, b)
}

// add takes one token more, and says how many of those after it belong to it.
func (c *compound) add(t token, rest []token, weight *int, depth int) (used int, why flaw) {
	switch {
	case t.kind == css.IdentToken && c.element == "" && len(c.tests) == 0:
		c.element = unescape(t.text)
		*weight++
	case t.kind == css.DelimToken && t.text == "*" && c.element == "" && len(c.tests) == 0:
		c.element = "*"
	case t.kind == css.HashToken:
		id := unescape(t.text[1:])
		c.tests = append(c.tests, func(_ *document, n *node) bool { return n.attrs["id"] == id })
		*weight += 10000
	case t.kind == css.DelimToken && t.text == "." && len(rest) > 0 && rest[0].kind == css.IdentToken:
		class := unescape(rest[0].text)
		c.tests = append(c.tests, func(_ *document, n *node) bool { return slices.Contains(n.classes(), class) })
		*weight += 100
		return 1, fine
	case t.kind == css.LeftBracketToken:
		end := upTo(rest, css.RightBracketToken)
		f, ok := attributeTest(trimmed(rest[:end]))
		if !ok || end == len(rest) {
			return 0, malformed
		}
		c.tests = append(c.tests, f)
		*weight += 100
		return end + 1, fine
	case t.kind == css.ColonToken:
		return c.pseudo(rest, weight, depth)
	default:
		return 0, malformed
	}
	return 0, fine
}

// attributeTest reads what stands in square brackets.
func attributeTest(list []token) (test, bool) {
	if len(list) == 0 || list[0].kind != css.IdentToken {
		return nil, false
	}
	name := unescape(list[0].text)
	list = trimmed(list[1:])
	if len(list) == 0 {
		return func(_ *document, n *node) bool { _, ok := n.attrs[name]; return ok }, true
	}
	how := list[0].text
	list = trimmed(list[1:])
	if len(list) == 0 {
		return nil, false
	}
	want := unescape(list[0].text)
	if list[0].kind == css.StringToken && len(want) > 1 {
		want = unescape(list[0].text[1 : len(list[0].text)-1])
	}
	same := func(v string) string { return v }
	switch flag := strings.ToLower(written(list[1:])); flag {
	case "", "s":
	case "i": // in capitals or not (Selectors 4, 6.3)
		same, want = strings.ToLower, strings.ToLower(want)
	default:
		return nil, false
	}
	holds := map[string]func(v string) bool{
		"=":  func(v string) bool { return v == want },
		"~=": func(v string) bool { return slices.Contains(strings.Fields(v), want) },
		"|=": func(v string) bool { return v == want || strings.HasPrefix(v, want+"-") },
		"^=": func(v string) bool { return want != "" && strings.HasPrefix(v, want) },
		"$=": func(v string) bool { return want != "" && strings.HasSuffix(v, want) },
		"*=": func(v string) bool { return want != "" && strings.Contains(v, want) },
	}[how]
	if holds == nil {
		return nil, false
	}
	return func(_ *document, n *node) bool { v, ok := n.attrs[name]; return ok && holds(same(v)) }, true
}

// unescape reads what a backslash stands before in a name or a text: a character by its
// number, or one that would mean something else (CSS Syntax 3, 4.3.7).
func unescape(s string) string {
	if !strings.Contains(s, "\\") {
		return s
	}
	var out strings.Builder
	for i := 0; i < len(s); i++ {
		if s[i] != '\\' {
			out.WriteByte(s[i])
			continue
		}
		end := i + 1
		for end < len(s) && end < i+7 && strings.IndexByte("0123456789abcdefABCDEF", s[end]) >= 0 {
			end++
		}
		if end == i+1 { // the character itself is meant
			if end < len(s) {
				out.WriteByte(s[end])
			}
			i++
			continue
		}
		n, _ := strconv.ParseInt(s[i+1:end], 16, 32)
		out.WriteRune(rune(n))
		if end < len(s) && isSpace(s[end]) {
			end++
		}
		i = end - 1
	}
	return out.String()
}

// pseudo reads what follows a colon.
func (c *compound) pseudo(rest []token, weight *int, depth int) (used int, why flaw) {
	if len(rest) > 1 && rest[0].kind == css.ColonToken {
		// ::before and its like are no elements of the drawing.
		if rest[1].kind == css.FunctionToken {
			end, _ := ends(rest, 1)
			return min(end+1, len(rest)), never
		}
		return 2, never
	}
	if len(rest) == 0 {
		return 0, malformed
	}
	if rest[0].kind == css.FunctionToken {
		end, closed := ends(rest, 0)
		if !closed {
			return 0, malformed
		}
		return end + 1, c.called(strings.ToLower(strings.TrimSuffix(rest[0].text, "(")), trimmed(rest[1:end]), weight, depth)
	}
	if rest[0].kind != css.IdentToken {
		return 0, malformed
	}
	*weight += 100
	name := strings.ToLower(rest[0].text)
	switch name {
	case "hover", "active", "focus", "focus-within", "focus-visible", "visited", "target", "checked", "disabled", "before", "after",
		"first-letter", "first-line", "selection":
		return 1, never
	case "link", "any-link":
		c.tests = append(c.tests, func(_ *document, n *node) bool { return n.name == "a" && n.attrs["href"] != "" })
	case "root":
		c.tests = append(c.tests, func(d *document, n *node) bool { return n == d.root })
	case "empty":
		c.tests = append(c.tests, func(_ *document, n *node) bool { return len(n.children) == 0 && strings.TrimSpace(n.text) == "" })
	case "first-child", "last-child", "only-child", "first-of-type", "last-of-type", "only-of-type":
		place, _, same := strings.Cut(name, "-of-type")
		place = strings.TrimSuffix(place, "-child")
		c.tests = append(c.tests, func(d *document, n *node) bool {
			first, last := n.place(d, same, false) == 1, n.place(d, same, true) == 1
			return place == "first" && first || place == "last" && last || place == "only" && first && last
		})
	default:
		return 1, unknown
	}
	return 1, fine
}

// called reads :not(...), :nth-child(...) and their like.
func (c *compound) called(name string, inner []token, weight *int, depth int) flaw {
	switch name {
	case "not", "is", "where", "matches":
		var all []selector
		heaviest := 0
		for {
			at := upTo(inner, css.CommaToken)
			s, why := parseSelector(trimmed(inner[:at]), depth+1)
			if why == malformed || why == unknown {
				return why
			}
			if why == fine {
				all = append(all, s)
				heaviest = max(heaviest, s.weight)
			}
			if at >= len(inner) {
				break
			}
			inner = inner[at+1:]
		}
		if name != "where" {
			*weight += heaviest
		}
		want := name != "not"
		c.tests = append(c.tests, func(d *document, n *node) bool {
			return slices.ContainsFunc(all, func(s selector) bool { return s.matches(d, n) }) == want
		})
		return fine
	case "nth-child", "nth-last-child", "nth-of-type", "nth-last-of-type":
		a, b, ok := parseNth(written(inner))
		if !ok {
			return unknown
		}
		same, back := strings.HasSuffix(name, "type"), strings.Contains(name, "last")
		*weight += 100
		c.tests = append(c.tests, func(d *document, n *node) bool {
			k := n.place(d, same, back)
			if a == 0 {
				return k == b
			}
			return (k-b)%a == 0 && (k-b)/a >= 0
		})
		return fine
	case "lang", "dir":
		return unknown
	}
	return unknown
}

// parseNth reads 2n+1, odd, even or 3.
func parseNth(s string) (a, b int, ok bool) {
	s = strings.ToLower(strings.Join(strings.Fields(s), ""))
	switch s {
	case "odd":
		return 2, 1, true
	case "even":
		return 2, 0, true
	}
	number := func(s string) (int, bool) {
		v, err := strconv.Atoi(s)
		return v, err == nil && v > -1_000_000 && v < 1_000_000
	}
	times, plus, found := strings.Cut(s, "n")
	if !found {
		b, ok = number(s)
		return 0, b, ok
	}
	switch times {
	case "", "+":
		a = 1
	case "-":
		a = -1
	default:
		if a, ok = number(times); !ok {
			return 0, 0, false
		}
	}
	if plus == "" {
		return a, 0, true
	}
	b, ok = number(plus)
	return a, b, ok
}

// place is which of its parent's elements the node is, from 1, counted among those
// of its own name if same, and from the end if back.
func (n *node) place(d *document, same, back bool) int {
	if n.parent == nil {
		return 1
	}
	d.matched += len(n.parent.children)
	k := 0
	for i := range n.parent.children {
		c := n.parent.children[i]
		if back {
			c = n.parent.children[len(n.parent.children)-1-i]
		}
		if c.name != textName && (!same || c.name == n.name) {
			k++
		}
		if c == n {
			break
		}
	}
	return k
}

// matches says whether a rule is for an element. The work that this takes is
// counted, so that a hostile sheet can't make it endless.
func (s *selector) matches(d *document, n *node) bool { return s.upTo(d, n, len(s.parts)-1) }

// upTo says whether the first k+1 compounds select a node.
func (s *selector) upTo(d *document, n *node, k int) bool {
	c := &s.parts[k]
	if d.matched++; d.matched > maxMatches || c.element != "" && c.element != "*" && c.element != n.name {
		return false
	}
	for _, holds := range c.tests {
		if !holds(d, n) {
			return false
		}
	}
	if k == 0 {
		return true
	}
	switch c.join {
	case '>':
		return n.parent != nil && s.upTo(d, n.parent, k-1)
	case ' ':
		for up := n.parent; up != nil; up = up.parent {
			if s.upTo(d, up, k-1) {
				return true
			}
		}
		return false
	}
	if n.parent == nil {
		return false
	}
	before := n.parent.children[:n.index]
	if c.join == '+' {
		return len(before) > 0 && s.upTo(d, before[len(before)-1], k-1)
	}
	return slices.ContainsFunc(before, func(b *node) bool { return s.upTo(d, b, k-1) })
}
