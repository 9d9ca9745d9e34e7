package shelf

import (
	"embed"
	"strings"
)

//go:embed parts/*.fore
var parts embed.FS

// Text returns the design text of a part of the shelf, such as bindings; false
// if there is none of that name.
func Text(name string) ([]byte, bool) {
	data, err := parts.ReadFile("parts/" + name + ".fore")
	return data, err == nil
}

// Names lists the parts in alphabetical order.
func Names() []string {
	entries, err := parts.ReadDir("parts")
	if err != nil {
		return nil // can't be: the folder is part of the program
	}
	names := make([]string, len(entries))
	for i, e := range entries {
		names[i] = strings.TrimSuffix(e.Name(), ".fore")
	}
	return names
}
