package art

import (
	"slices"
	"strings"
)

// A declaration is one property with its value.
type declaration struct {
	name, value string
	important   bool
}

// A rule is one selector of a style sheet with its declarations. Selectors are
// an element's name, classes and ids without blanks between: path.thin#wing.
type rule struct {
	element, id  string
	classes      []string
	weight       int // specificity (CSS 2.1, 6.4.3)
	declarations []declaration
}

func (r *rule) matches(n *node, classes []string) bool {
	if r.element != "" && r.element != n.name || r.id != "" && r.id != n.attrs["id"] {
		return false
	}
	for _, c := range r.classes {
		if !slices.Contains(classes, c) {
			return false
		}
	}
	return true
}

// readStyles gathers the rules of all style elements, weak ones first.
func (d *document) readStyles(n *node) *Error {
	if n.name == "style" {
		kind, _, _ := strings.Cut(n.attrs["type"], ";")
		if kind = strings.TrimSpace(kind); kind != "" && kind != "text/css" {
			return n.fail("write the styles as CSS", "styles of the type %q can't be read", kind)
		}
		if err := d.sheet(n); err != nil {
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

func (d *document) sheet(n *node) *Error {
	const plain = "set the colours and strokes on the elements themselves"
	text, ok := withoutComments(n.text)
	if !ok {
		return n.fail(plain, "a comment in the styles has no end")
	}
	for {
		text = strings.TrimSpace(text)
		if text == "" {
			return nil
		}
		if text[0] == '@' {
			word := strings.FieldsFunc(text, func(c rune) bool { return c == ' ' || c == '{' || c == ';' || c == '"' || c == '(' })[0]
			return n.fail(plain, "%s in the styles is not read", word)
		}
		open := strings.IndexByte(text, '{')
		end := strings.IndexByte(text, '}')
		if open < 0 || end < open {
			return n.fail(plain, "the styles break off at %q", shorten(text))
		}
		body, bad := declarations(text[open+1 : end])
		if bad != "" {
			return n.fail(plain, "%q in the styles can't be read", shorten(bad))
		}
		for _, s := range strings.Split(text[:open], ",") {
			r, ok := selector(strings.TrimSpace(s))
			if !ok {
				return n.fail(plain, "the styles use %q; only the names of elements, .classes and #ids can be read", shorten(strings.TrimSpace(s)))
			}
			r.declarations = body
			d.rules = append(d.rules, r)
			if len(d.rules) > maxRules {
				return n.fail(plain, "there are more than %d styles", maxRules)
			}
		}
		text = text[end+1:]
	}
}

// selector reads path.thin#wing.
func selector(s string) (rule, bool) {
	var r rule
	if s == "" {
		return r, false
	}
	word := func() string {
		n := strings.IndexAny(s, ".#")
		if n < 0 {
			n = len(s)
		}
		w := s[:n]
		s = s[n:]
		return w
	}
	plain := func(w string) bool {
		return w != "" && !strings.ContainsAny(w, " \t\r\n\f>+~:[]*()\"'\\")
	}
	if w := word(); w != "" && w != "*" {
		if !plain(w) {
			return r, false
		}
		r.element = w
		r.weight++
	}
	for s != "" {
		mark := s[0]
		s = s[1:]
		w := word()
		if !plain(w) || mark == '#' && r.id != "" && r.id != w {
			return r, false
		}
		if mark == '#' {
			r.id = w
			r.weight += 10000
		} else {
			r.classes = append(r.classes, w)
			r.weight += 100
		}
	}
	return r, true
}

// declarations reads what stands between braces or in a style attribute. bad is
// the part that can't be read.
func declarations(s string) (list []declaration, bad string) {
	s, ok := withoutComments(s)
	if !ok {
		return nil, s
	}
	for _, part := range strings.Split(s, ";") {
		if part = strings.TrimSpace(part); part == "" {
			continue
		}
		name, value, found := strings.Cut(part, ":")
		d := declaration{name: strings.ToLower(strings.TrimSpace(name)), value: strings.TrimSpace(value)}
		if v, ok := strings.CutSuffix(strings.ToLower(d.value), "!important"); ok {
			d.value, d.important = strings.TrimSpace(d.value[:len(v)]), true
		}
		if !found || d.name == "" || d.value == "" {
			return nil, part
		}
		list = append(list, d)
	}
	return list, ""
}

func withoutComments(s string) (string, bool) {
	var b strings.Builder
	for {
		open := strings.Index(s, "/*")
		if open < 0 {
			b.WriteString(s)
			return b.String(), true
		}
		end := strings.Index(s[open+2:], "*/")
		if end < 0 {
			return s, false
		}
		b.WriteString(s[:open])
		s = s[open+2+end+2:]
	}
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

// properties are the presentation attributes that mean something here.
func properties() []string {
	return []string{"fill", "stroke", "color", "fill-rule", "stroke-width", "fill-opacity", "stroke-opacity", "opacity",
		"display", "visibility", "overflow", "vector-effect", "stroke-dasharray", "font-size", "clip-path", "mask",
		"filter", "marker", "marker-start", "marker-mid", "marker-end"}
}

// cascade gives the value of each property that an element sets, by the order of
// CSS: attributes, rules by their weight, the style attribute, what is important.
func (d *document) cascade(n *node) (map[string]string, *Error) {
	return n.set.get(func() (map[string]string, *Error) { return d.readCascade(n) })
}

func (d *document) readCascade(n *node) (map[string]string, *Error) {
	set := map[string]string{}
	for _, name := range properties() {
		// The short form marker is none as an attribute (SVG 2, 6.7).
		if v, ok := n.attrs[name]; ok && name != "marker" {
			set[name] = strings.TrimSpace(v)
		}
	}
	var own []declaration
	if s, ok := n.attrs["style"]; ok {
		var bad string
		if own, bad = declarations(s); bad != "" {
			return nil, n.fail("mend or remove it", "%q in its style can't be read", shorten(bad))
		}
	}
	classes := n.classes()
	var found []*rule
	for i := range d.rules {
		if d.rules[i].matches(n, classes) {
			found = append(found, &d.rules[i])
		}
	}
	slices.SortStableFunc(found, func(a, b *rule) int { return a.weight - b.weight })
	for _, important := range []bool{false, true} {
		apply := func(list []declaration) {
			for _, x := range list {
				if x.important != important {
					continue
				}
				set[x.name] = x.value
				if x.name == "marker" {
					set["marker-start"], set["marker-mid"], set["marker-end"] = x.value, x.value, x.value
				}
			}
		}
		for _, r := range found {
			apply(r.declarations)
		}
		apply(own)
	}
	for _, name := range properties() {
		if len(set[name]) > maxValue {
			return nil, n.fail("mend or remove it", "its %s can't be read: %q", name, shorten(set[name]))
		}
	}
	return set, nil
}
