package spell

import (
	"strings"
	"unicode"
)

// Nearest returns the candidate that is nearest to name, or "" if none is
// near enough for a guess. Of candidates equally near it returns one that
// begins with the same letter, then the one whose length is nearer to that of
// name, then the first in alphabetical order. A candidate equal to name is
// never returned: it is not what was meant.
func Nearest(name string, candidates []string) string {
	want := fold(name)
	// One slip is likely in a name of three letters, two in one of six.
	most := (len(want) + 1) / 3
	if most == 0 && len(want) > 0 {
		most = 1
	}
	best, bestDistance := "", 0
	for _, c := range candidates {
		if c == name {
			continue
		}
		have := fold(c)
		d := distance(want, have, most)
		// All of a name must not be replaced.
		if d > most || d >= max(len(want), len(have)) && d > 0 {
			continue
		}
		if best == "" || d < bestDistance || d == bestDistance && before(c, best, name) {
			best, bestDistance = c, d
		}
	}
	return best
}

// before orders candidates that are equally near to name.
func before(a, b, name string) bool {
	// A slip of the pen seldom hits the first letter.
	if sa, sb := sameStart(a, name), sameStart(b, name); sa != sb {
		return sa
	}
	da, db := abs(len(a)-len(name)), abs(len(b)-len(name))
	if da != db {
		return da < db
	}
	return a < b
}

func sameStart(a, b string) bool {
	ra, rb := fold(a), fold(b)
	return len(ra) > 0 && len(rb) > 0 && ra[0] == rb[0]
}

func abs(n int) int {
	if n < 0 {
		return -n
	}
	return n
}

// IsWord reports whether a text is a word in which a slip can be told from another word: A4 and
// A5 are two.
func IsWord(s string) bool {
	return len(s) >= 4 && !strings.ContainsFunc(s, func(r rune) bool { return !unicode.IsLetter(r) && r != '-' && r != ' ' })
}

// fold drops what doesn't count: case and hyphens.
func fold(s string) []rune {
	return []rune(strings.Map(func(r rune) rune {
		if r == '-' || r == '_' {
			return -1
		}
		return unicode.ToLower(r)
	}, s))
}

// distance returns the number of letters to insert, delete, replace or swap
// with their neighbour that lead from a to b (the restricted
// Damerau-Levenshtein distance), or more than most if it is more.
func distance(a, b []rune, most int) int {
	if abs(len(a)-len(b)) > most {
		return most + 1
	}
	before := make([]int, len(b)+1) // the row before the last one
	last := make([]int, len(b)+1)
	row := make([]int, len(b)+1)
	for j := range last {
		last[j] = j
	}
	for i := 1; i <= len(a); i++ {
		row[0] = i
		for j := 1; j <= len(b); j++ {
			cost := 1
			if a[i-1] == b[j-1] {
				cost = 0
			}
			row[j] = min(last[j]+1, row[j-1]+1, last[j-1]+cost)
			if i > 1 && j > 1 && a[i-1] == b[j-2] && a[i-2] == b[j-1] {
				row[j] = min(row[j], before[j-2]+1)
			}
		}
		before, last, row = last, row, before
	}
	return last[len(b)]
}
