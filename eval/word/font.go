package word

import "strings"

// SingleLineFonts are the built-in fonts whose letters are single lines, which
// can be marked but not filled or cut out.
func SingleLineFonts() []string { return []string{"stroke", "stroke-script"} }

// SingleLine reports whether a name is that of a font of single lines.
func SingleLine(font string) bool {
	for _, f := range SingleLineFonts() {
		if strings.EqualFold(f, font) {
			return true
		}
	}
	return false
}
