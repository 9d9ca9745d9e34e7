package numeral

import (
	"fmt"
	"strconv"
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
