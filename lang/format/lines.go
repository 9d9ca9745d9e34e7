package format

import (
	"strings"
	"unicode/utf8"

	"foredge/lang/parse"
)

// longest is how many characters a line has at the most, if it can be divided.
const longest = 120

// width counts characters; a tab is one.
func width(s string) int { return utf8.RuneCountInString(s) }

// divide makes lines of the items.
func (f *formatter) divide() {
	f.lines = f.lines[:0]
	f.looked += len(f.items)
	depth := 0
	for i := 0; i < len(f.items); {
		if f.is(i, ";") { // at the start of a line it says nothing
			if i+1 < len(f.items) {
				f.items[i+1].first = f.items[i+1].first || f.items[i].first
				f.items[i+1].blank = f.items[i+1].blank || f.items[i].blank
			}
			i++
			continue
		}
		l := line{from: i, depth: depth, blank: f.items[i].blank}
		for {
			switch it := &f.items[i]; {
			case f.is(i, "{"):
				depth++
			case f.is(i, "}"):
				depth--
				if i == l.from {
					l.depth, l.blank = depth, false
				}
			case i == l.from && it.first && f.goesOn(i):
				l.goes = true
			}
			i++
			if i >= len(f.items) || f.ends(i) {
				break
			}
		}
		l.to = i
		for l.to > l.from+1 && f.is(l.to-1, ";") {
			l.to--
		}
		if n := len(f.lines); n > 0 {
			if last := f.lines[n-1]; f.opens(last) {
				l.blank = false
			}
		} else {
			l.blank = false
		}
		f.lines = append(f.lines, l)
	}
}

// opens reports whether what a brace holds begins after a line.
func (f *formatter) opens(l line) bool {
	for i := l.to - 1; i >= l.from; i-- {
		if !f.comment(i) {
			return f.is(i, "{") && f.items[i].open
		}
	}
	return false
}

// goesOn reports whether a line goes on with the statement of the one before it: a list
// of which the last line ended with a comma.
func (f *formatter) goesOn(i int) bool {
	return f.is(f.items[i].before, ",")
}

// ends reports whether a line ends before item i, which is not the first of all.
func (f *formatter) ends(i int) bool {
	last := f.items[i-1]
	switch {
	case f.comment(i) && !f.items[i].first:
		return false
	case f.items[i].first, last.lineEnd && !f.is(i, ";"):
		return true
	case f.is(i-1, "{"), f.comment(i-1) && f.is(i-2, "{"):
		return last.open || f.comment(i-1)
	case f.is(i, "}"):
		return f.items[i].open
	case f.is(i-1, "}") && last.open:
		return !f.is(i, ";")
	}
	return false
}

// shorten divides what stands in one line and is too long for it, at its outermost
// braces or else between its statements. It reports whether anything was divided.
func (f *formatter) shorten() bool {
	f.align()
	done := false
	for _, l := range f.lines {
		f.looked += l.to - l.from
		if f.reach(l) > longest {
			done = f.cut(l) || done
		}
	}
	return done
}

// cut divides a line that is too long, and what is left of it behind each brace for as long
// as that is too long, too. It reports whether anything was divided.
func (f *formatter) cut(l line) (done bool) {
	last := f.last(l)
	left := make([]int, last-l.from+1) // how long the line is from each item on, without columns
	for i := last; i >= l.from; i-- {
		left[i-l.from] = width(f.items[i].text)
		if i < last {
			left[i-l.from] += f.gap(i+1) + left[i+1-l.from]
		}
	}
	for from := l.from; ; {
		f.looked += 1
		o := f.outermost(from, l.to)
		if o < 0 {
			for i := from + 1; i < l.to-1; i++ {
				if f.is(i, ";") && !f.items[i].lineEnd {
					f.items[i].lineEnd, done = true, true
				}
			}
			return done
		}
		end := f.items[o].pair
		f.items[o].open, f.items[end].open, done = true, true, true
		if from = end; !f.is(end+1, ";") {
			from++
		}
		if from > last || 2*l.depth+left[from-l.from] <= longest {
			return true
		}
	}
}

// last is the last item of a line but for the comment at its end.
func (f *formatter) last(l line) int {
	if last := l.to - 1; !f.comment(last) || last == l.from {
		return last
	}
	return l.to - 2
}

// reach is where a line ends, without the comment at its end.
func (f *formatter) reach(l line) int {
	last := f.last(l)
	return f.indent(l) + l.at[last-l.from] + width(f.items[last].text)
}

// outermost is the first brace of some items that is closed among them, -1 if there is none.
func (f *formatter) outermost(from, to int) int {
	for i := from; i < to; i++ {
		if f.looked++; f.is(i, "{") && !f.items[i].open && f.items[i].pair > i+1 {
			return i
		}
	}
	return -1
}

// indent is how far in a line begins.
func (f *formatter) indent(l line) int {
	if l.goes {
		return 2*l.depth + 4
	}
	return 2 * l.depth
}

// gap is how many blanks stand between item i and the one before it where nothing is
// set in columns.
func (f *formatter) gap(i int) int {
	a := f.items[i-1]
	switch {
	case f.comment(i):
		return 2
	case f.is(i, ","), f.is(i, ";"), f.is(i, ")"), f.is(i, "."):
		return 0
	case f.is(i-1, "("), f.is(i-1, "."):
		return 0
	case f.is(i, "(") && f.signs[a.End] == call && a.text != "not":
		return 0
	case f.signs[a.Start] == prefix && f.is(i-1, "-"):
		return 0
	case f.fraction(i), f.fraction(i - 1):
		return 0
	}
	return 1
}

// fraction reports whether an item is the stroke of a fraction such as 3/8, which with
// blanks would be a quotient.
func (f *formatter) fraction(i int) bool {
	return f.is(i, "/") && i+1 < len(f.items) && f.items[i-1].Kind == parse.Number && f.items[i+1].Kind == parse.Number &&
		f.items[i-1].End == f.items[i].Start && f.items[i].End == f.items[i+1].Start
}

// write puts the lines together.
func (f *formatter) write() string {
	end := "\n"
	if i := strings.IndexByte(f.text, '\n'); i > 0 && f.text[i-1] == '\r' {
		end = "\r\n"
	}
	var b strings.Builder
	for _, l := range f.lines {
		if l.blank {
			b.WriteString(end)
		}
		b.WriteString(strings.Repeat(" ", f.indent(l)))
		at := 0
		for i := l.from; i < l.to; i++ {
			b.WriteString(strings.Repeat(" ", l.at[i-l.from]-at))
			b.WriteString(f.items[i].text)
			at = l.at[i-l.from] + width(f.items[i].text)
		}
		b.WriteString(end)
	}
	return b.String()
}
