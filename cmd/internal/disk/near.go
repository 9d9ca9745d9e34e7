package disk

import (
	"os"
	"path/filepath"
	"strings"

	"foredge/lang/spell"
)

// nearest returns the name in a folder that was probably meant by the one
// asked for, or "". An ending says what a file is, and is no help to tell which: of
// files with the same ending, names must be near without it.
func nearest(folder, name string) string {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return ""
	}
	end := filepath.Ext(name)
	stem := strings.TrimSuffix(name, end)
	var stems, whole []string
	of := map[string]string{} // names by stem
	for _, e := range entries {
		other := e.Name()
		if e.IsDir() || hidden(other) {
			continue
		}
		otherEnd := filepath.Ext(other)
		otherStem := strings.TrimSuffix(other, otherEnd)
		switch {
		case otherStem == stem:
			whole = append(whole, other)
		case strings.EqualFold(otherEnd, end):
			stems = append(stems, otherStem)
			of[otherStem] = other
		}
	}
	if near := spell.Nearest(name, whole); near != "" {
		return near
	}
	return of[spell.Nearest(stem, stems)]
}
