package spell

import (
	"strings"
	"unicode"
)

// Name is how words would be written as a name: "Glass fibre" as glass-fibre,
// in small letters and digits, with a hyphen for whatever else stands between
// them.
func Name(words string) string {
	return strings.Join(strings.FieldsFunc(strings.ToLower(words), func(r rune) bool {
		return !unicode.IsLetter(r) && !unicode.IsDigit(r)
	}), "-")
}
