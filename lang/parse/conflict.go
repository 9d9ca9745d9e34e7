package parse

import "strings"

// The marks that version control puts at the beginning of lines where two versions don't
// go together (git-merge(1), "How conflicts are presented"): before the first, before what
// both came from, where that is shown, before the second, and behind it.
const (
	markFirst  = "<<<<<<<"
	markBase   = "|||||||"
	markSecond = "======="
	markEnd    = ">>>>>>>"
)

// isMark reports whether a line begins at i with a mark, alone or before a name.
func (p *parser) isMark(i int, mark string) bool {
	rest, ok := strings.CutPrefix(p.text[i:], mark)
	return ok && (rest == "" || strings.ContainsRune(" \t\r\n", rune(rest[0])))
}

// scanConflict takes, from the beginning of a line, what is of no use in a text of which
// two versions are left: the mark before the first, or all from that behind the first to
// that behind the second. So the first version is read, and the rest is kept as comments.
// It gives i where no mark stands.
func (p *parser) scanConflict(i int) int {
	if i > 0 && p.text[i-1] != '\n' {
		return i
	}
	line := p.lineEnd(i)
	stop := i + len(strings.TrimRight(p.text[i:line], " \t\r"))
	switch {
	case p.isMark(i, markFirst):
		p.inConflict = true
		p.errorAt(codeConflict, i, stop, "two versions of this place were merged and don't go together: one stands from here to =======, the other from there to >>>>>>>").
			WithHelp("keep what is to hold, and take out the lines that begin with <<<<<<<, ======= and >>>>>>>; until then the first version is read")
		return p.leaveLines(i, line)
	case p.inConflict && (p.isMark(i, markBase) || p.isMark(i, markSecond)):
		if end := p.conflictEnd(line); end > 0 {
			p.inConflict = false
			return p.leaveLines(i, end)
		}
	}
	for _, mark := range []string{markBase, markSecond, markEnd} {
		if p.isMark(i, mark) {
			p.errorAt(codeConflict, i, stop, "this line is left of a merge of two versions").
				WithHelp("see that only what is to hold stands above and below it, and take it out")
			return p.leaveLines(i, line)
		}
	}
	return i
}

// leaveLines takes whole lines as comments, and gives their end.
func (p *parser) leaveLines(from, end int) int {
	for from < end {
		next := p.lineEnd(from)
		if stop := from + len(strings.TrimRight(p.text[from:next], " \t\r")); stop > from {
			p.comments = append(p.comments, comment{int32(from), int32(stop), false})
		}
		from = next + 1
	}
	return end
}

// conflictEnd is the end of the line that ends a conflict, looked for from the end of a
// line; 0 if there is none.
func (p *parser) conflictEnd(from int) int {
	for at := from; at < len(p.text) && !p.endless; at = p.lineEnd(at + 1) {
		if p.isMark(at+1, markEnd) {
			return p.lineEnd(at + 1)
		}
	}
	p.endless = true // so that many beginnings don't look through all of it again and again
	return 0
}
