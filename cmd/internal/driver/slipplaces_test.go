package driver_test

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
)

// A change is what comes in the place of text[at:end].
type change struct {
	at, end int
	with    string
}

// A slip is one mistake at one place: changes of a text that don't overlap.
type slip []change

// apply makes the mistake.
func (s slip) apply(text string) string {
	s = slices.Clone(s)
	slices.SortFunc(s, func(a, b change) int { return b.at - a.at })
	for _, c := range s {
		text = text[:c.at] + c.with + text[c.end:]
	}
	return text
}

// say tells what was changed, in the line of the first change.
func (s slip) say(text string) string {
	at := s[0].at
	line := text[strings.LastIndexByte(text[:at], '\n')+1:]
	line, _, _ = strings.Cut(line, "\n")
	line = strings.TrimSpace(line)
	if s[0].end-at > len(line) {
		return "instead of: " + line
	}
	var was, is []string
	for _, c := range s {
		was = append(was, strings.TrimSpace(text[c.at:c.end]))
		is = append(is, strings.TrimSpace(c.with))
	}
	show := func(words []string) string {
		all := strings.Join(words, ", ")
		if strings.Trim(all, ", ") == "" {
			return "nothing"
		}
		return strings.ReplaceAll(all, "\n", " ")
	}
	return show(is) + " for " + show(was) + " in: " + line
}

// A stated is `NAME = VALUE` as it stands in a text, of any sign.
type stated struct {
	text       string
	at, end    int // from the name to the end of the value
	name       string
	valueAt    int
	value      string
	block      int    // where the brace stands in which it is, -1 at the top
	head       string // what stands before that brace: row wire on spine
	endOfBlock int    // where it is closed
}

var (
	statedLine = regexp.MustCompile(`(?m)(?:^|[{;])[ \t]*((?:prefer |let |check )?[A-Za-z0-9][\w.* -]*?)\s*(?:=|>=|<=)\s*([^;{}#\n]*)`)
	number     = regexp.MustCompile(`\d+(?:\.\d+)?`)
)

// lines finds all of a text. Comments have none.
func lines(text string) []stated {
	var all []stated
	for _, m := range statedLine.FindAllStringSubmatchIndex(text, -1) {
		line := text[strings.LastIndexByte(text[:m[2]], '\n')+1 : m[2]]
		if strings.Contains(line, "#") {
			continue
		}
		value := strings.TrimRight(text[m[4]:m[5]], " \t")
		s := stated{text: text, at: m[2], end: m[4] + len(value), name: text[m[2]:m[3]], valueAt: m[4], value: value}
		s.block, s.endOfBlock = braces(text, m[2])
		if s.block >= 0 {
			from := strings.LastIndexAny(text[:s.block], "\n;{}") + 1
			s.head = strings.TrimSpace(text[from:s.block])
		}
		all = append(all, s)
	}
	return all
}

// braces finds those round a place: -1 and the end of the text where there are none.
func braces(text string, at int) (open, end int) {
	depth := 0
	open = -1
	for i := at - 1; i >= 0; i-- {
		if text[i] == '}' {
			depth++
		} else if text[i] == '{' {
			if depth--; depth < 0 {
				open = i
				break
			}
		}
	}
	depth = 0
	for i := at; i < len(text); i++ {
		if text[i] == '{' {
			depth++
		} else if text[i] == '}' {
			if depth--; depth < 0 {
				return open, i
			}
		}
	}
	return open, len(text)
}

// in says that it stands in a thing of one of some kinds.
func (s stated) in(kinds ...string) bool {
	kind, _, _ := strings.Cut(s.head, " ")
	return slices.Contains(kinds, kind)
}

// is says that it is about one of some names.
func (s stated) is(names ...string) bool { return slices.Contains(names, s.name) }

// measured says that it is a reading or a count of a notebook.
func (s stated) measured() bool {
	if s.in("notebook", "binding") {
		return !s.is("accuracy", "resolution", "form")
	}
	if !s.in("row") {
		return false
	}
	open, _ := braces(s.text, s.block)
	if open < 0 {
		return false
	}
	from := strings.LastIndexAny(s.text[:open], "\n;{}") + 1
	return strings.HasPrefix(s.text[from:], "notebook")
}

// A figure is a number in a value.
type figure struct {
	of  stated
	at  int
	was string
}

// figures are the numbers in a value that no text in quotes holds.
func (s stated) figures() []figure {
	var all []figure
	for _, m := range number.FindAllStringIndex(s.value, -1) {
		before := s.value[:m[0]]
		if strings.Count(before, `"`)%2 == 0 && (m[0] == 0 || !strings.ContainsAny(before[m[0]-1:], "-abcdefghijklmnopqrstuvwxyz.")) {
			all = append(all, figure{s, s.valueAt + m[0], s.value[m[0]:m[1]]})
		}
	}
	return all
}

// to writes another number in its place.
func (f figure) to(with string) slip { return slip{{f.at, f.at + len(f.was), with}} }

func (f figure) value() float64 {
	v, err := strconv.ParseFloat(f.was, 64)
	if err != nil {
		panic(err)
	}
	return v
}

// shifted writes a number as finely as it was written.
func (f figure) shifted(v float64) slip {
	_, decimals, _ := strings.Cut(f.was, ".")
	return f.to(strconv.FormatFloat(v, 'f', len(decimals), 64))
}

// sibling is a line of the same braces.
func (s stated) sibling(name string) (stated, bool) {
	for _, l := range lines(s.text) {
		if l.block == s.block && l.name == name {
			return l, true
		}
	}
	return stated{}, false
}

// hole gives the sizes of the holes in whose row the line stands: along, across.
func (s stated) hole() (along, across float64, ok bool) {
	l, ok := s.sibling("hole")
	if !ok {
		return 0, 0, false
	}
	f := l.figures()
	return f[0].value(), f[len(f)-1].value(), len(f) > 0
}

// Places of rules that look at numbers, at lines and at the bare text.

// inNumbers tries each number of the lines that of accepts, nil for all.
func inNumbers(of func(stated) bool, rewrite func(figure) []slip) func(string) []slip {
	return inLines(of, func(s stated) []slip {
		var all []slip
		for _, f := range s.figures() {
			all = append(all, rewrite(f)...)
		}
		return all
	})
}

// inLines tries each line that of accepts, nil for all.
func inLines(of func(stated) bool, rewrite func(stated) []slip) func(string) []slip {
	return func(text string) []slip {
		var all []slip
		for _, s := range lines(text) {
			if of == nil || of(s) {
				all = append(all, rewrite(s)...)
			}
		}
		return all
	}
}

// whereFound replaces what an expression finds outside of comments: its first group,
// or all of it.
func whereFound(expr string, with func(found string) []string) func(string) []slip {
	find := regexp.MustCompile(expr)
	return func(text string) []slip {
		var all []slip
		for _, m := range find.FindAllStringSubmatchIndex(text, -1) {
			line := text[strings.LastIndexByte(text[:m[0]], '\n')+1 : m[0]]
			if strings.Contains(line, "#") {
				continue
			}
			at, end := m[0], m[1]
			if len(m) > 2 {
				at, end = m[2], m[3]
			}
			for _, w := range with(text[at:end]) {
				all = append(all, slip{{at, end, w}})
			}
		}
		return all
	}
}

// always gives the same words.
func always(words ...string) func(string) []string { return func(string) []string { return words } }
