package numeral

import (
	"fmt"
	"strconv"
	"strings"
)

// Mixed tells of a fraction of an inch such as 41/8, which nobody reads from a rule,
// what mixed fractions may be meant by it: 4 1/8, where a blank is missing, and 5 1/8,
// which it is. ok is false for a fraction that may be meant as it stands, such as 11/2.
func Mixed(top, bottom string) (missing, same string, ok bool) {
	parts, err := strconv.Atoi(bottom)
	all, err2 := strconv.Atoi(top)
	if err != nil || err2 != nil || parts == 0 || all < parts || parts < 4 && all < 10*parts {
		return "", "", false
	}
	for i := 1; i < len(top); i++ {
		part, err := strconv.Atoi(top[i:])
		if err != nil || top[i] == '0' || part >= parts || part%2 == 0 {
			continue
		}
		same = strconv.Itoa(all / parts)
		if rest := all % parts; rest != 0 {
			same = fmt.Sprintf("%s %d/%d", same, rest, parts)
		}
		return fmt.Sprintf("%s %d/%d", top[:i], part, parts), same, true
	}
	return "", "", false
}

// Carried writes a whole number with a fraction of 1 or more, as 5 18/16, with one below 1: 6 2/16. top is what
// stands before the stroke.
func Carried(top, bottom string) (same string, ok bool) {
	number := strings.Fields(top)
	if len(number) != 2 {
		return "", false
	}
	whole, err := strconv.Atoi(number[0])
	above, err2 := strconv.Atoi(number[1])
	parts, err3 := strconv.Atoi(bottom)
	if err != nil || err2 != nil || err3 != nil || parts == 0 || above < parts {
		return "", false
	}
	same = strconv.Itoa(whole + above/parts)
	if rest := above % parts; rest != 0 {
		same += fmt.Sprintf(" %d/%d", rest, parts)
	}
	return same, true
}
