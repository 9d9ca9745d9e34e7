package numeral

import (
	"fmt"
	"strings"
)

// Glued finds a comma without a blank between the number text[at:end] and another:
// that of 105,1 is a decimal one in half the world and parts two readings here. last
// is the end of all that hangs together; wrong is nil if there is none.
func Glued(text string, at, end int) (last int, wrong *Error) {
	if end == len(text) {
		return end, nil
	}
	if text[end] == ',' {
		return gluedComma(text, at, end)
	}
	return end, nil
}

func gluedComma(text string, at, end int) (int, *Error) {
	next, last := digits(text, end+1), end
	if next == end+1 {
		return end, nil
	}
	for last < len(text) && text[last] == ',' {
		// 105,1,105,2 and 3.4,4.1 are one slip each.
		more, _ := Scan(text, last+1)
		if more == last+1 {
			break
		}
		last = more
	}
	before, after := text[at:end], text[end+1:next]
	pair := before + "," + after
	several := before + ", " + strings.ReplaceAll(text[end+1:last], ",", ", ")
	e := &Error{Start: at, End: last, Unreadable: true, Message: pair + " can be read as one number or as two"}
	switch {
	case !IsWhole(before), next < len(text) && text[next] == '.', at > 0 && text[at-1] == '/':
		// With a point, or of a fraction, it can't be a decimal comma.
		e.Message = "a blank is missing after the comma of " + text[at:last]
		e.help = "write " + several
		e.Instead = []string{several}
	case len(after) == 3 && len(before) <= 3 && before != "0":
		e.help = fmt.Sprintf("write %s.%s with a point if it is one number, or %s if the comma parts thousands; write %s if they are several", before, after, before+after, several)
		e.Instead = []string{before + "." + after, before + after, several}
	default:
		e.help = fmt.Sprintf("write %s.%s with a point if it is one number, or %s with a blank if they are several", before, after, several)
		e.Instead = []string{before + "." + after, several}
	}
	if last > next { // of more than two the first pair alone would be none
		e.Instead = nil
	}
	return last, e
}
