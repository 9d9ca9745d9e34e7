package disk

import (
	"os"
	"strings"
)

// nearest returns the name in a folder that is most like the one asked for, or
// "" where none is near enough to be meant.
func nearest(folder, name string) string {
	entries, err := os.ReadDir(folder)
	if err != nil || len(entries) > 5000 {
		return ""
	}
	best, least := "", len(name)/3+1
	for _, e := range entries {
		if e.IsDir() || e.Name()[0] == '.' {
			continue
		}
		if d := distance(strings.ToLower(name), strings.ToLower(e.Name()), least); d < least {
			best, least = e.Name(), d
		}
	}
	return best
}

// distance is the number of letters to insert, delete or replace (Levenshtein),
// or any number from most upwards if it is at least that.
func distance(a, b string, most int) int {
	if len(a)-len(b) >= most || len(b)-len(a) >= most {
		return most
	}
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		diagonal := row[0]
		row[0] = i + 1
		for j := range len(b) {
			d := min(row[j], row[j+1]) + 1
			if a[i] == b[j] {
				d = min(d, diagonal)
			} else {
				d = min(d, diagonal+1)
			}
			diagonal, row[j+1] = row[j+1], d
		}
	}
	return row[len(b)]
}
