package disk

import (
	"os"

	"foredge/lang/spell"
)

// nearest returns the name in a folder that was probably meant by the one
// asked for, or "".
func nearest(folder, name string) string {
	entries, err := os.ReadDir(folder)
	if err != nil {
		return ""
	}
	var names []string
	for _, e := range entries {
		if !e.IsDir() && e.Name()[0] != '.' {
			names = append(names, e.Name())
		}
	}
	return spell.Nearest(name, names)
}
