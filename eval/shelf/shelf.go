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

// Renamed returns what a thing of the shelf is called now that had another name
// once, so that an older design can be told; empty for all other names.
func Renamed(name string) string {
	switch name {
	case "six-ring":
		return "six-ring-70"
	case "six-ring-personal":
		return "six-ring-51"
	case "six-ring-small":
		return "six-ring-38"
	case "six-ring-pocket":
		return "six-ring-19"
	case "five-ring-mini":
		return "five-ring-19"
	case "five-ring-small":
		return "five-ring-25"
	}
	return ""
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
