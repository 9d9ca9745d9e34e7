package word

import "strings"

// A LineFont is a built-in font whose letters are single lines, which can be
// marked but neither filled nor cut out.
type LineFont uint8

const (
	Stroke LineFont = iota + 1
	StrokeScript
)

// LineFonts are all of them.
func LineFonts() []LineFont { return []LineFont{Stroke, StrokeScript} }

func (f LineFont) String() string { return [...]string{"", "stroke", "stroke-script"}[f] }

// SingleLine reports whether a name is that of a font of single lines.
func SingleLine(font string) bool {
	for _, f := range LineFonts() {
		if strings.EqualFold(f.String(), font) {
			return true
		}
	}
	return false
}
