package orders

import (
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"
)

// maxSlug is how long the part of a file's name may be that comes from an
// order's text, in characters. With number and ending a name stays far below
// the 255 bytes that file systems allow.
const maxSlug = 40

// FileName is what the files of an order are called, without their ending: its
// number, then its label, as small letters a to z, digits and hyphens. Nothing
// in an order's text can make it lead into another folder, or be hidden. As
// numbers are all different, so are names.
func FileName(number, label string) string {
	number, item, isItem := strings.Cut(number, "-")
	name := slug(number)
	if isItem {
		name += "-" + slug(item)
	}
	if text := slug(label); text != "" {
		name += "-" + text
	}
	if reserved(name) {
		return name + "-order"
	}
	return name
}

// reserved reports the names of devices that some systems allow no file
// (Microsoft, "Naming Files, Paths, and Namespaces").
func reserved(name string) bool {
	switch name {
	case "con", "prn", "aux", "nul":
		return true
	}
	return len(name) == 4 && (strings.HasPrefix(name, "com") || strings.HasPrefix(name, "lpt"))
}

// slug is a text as letters a to z, digits and single hyphens. Accents are left
// out; letters of other scripts have no place in it.
func slug(text string) string {
	var b strings.Builder
	gap := false
	n := 0
	for _, c := range norm.NFKD.String(text) {
		part := ""
		switch c = unicode.ToLower(c); {
		case c >= 'a' && c <= 'z' || c >= '0' && c <= '9':
			part = string(c)
		case unicode.Is(unicode.Mn, c) || c == '\'' || c == '’':
			continue // Zoë is zoe, O'Neill is oneill
		default:
			part = spelled(c)
		}
		if part == "" {
			gap = n > 0
			continue
		}
		if n+len(part)+1 > maxSlug {
			break
		}
		if gap {
			b.WriteByte('-')
			n++
			gap = false
		}
		b.WriteString(part)
		n += len(part)
	}
	return b.String()
}

// spelled writes the letters of Latin alphabets that are no letter with an
// accent.
func spelled(c rune) string {
	switch c {
	case 'ß':
		return "ss"
	case 'æ':
		return "ae"
	case 'œ':
		return "oe"
	case 'ø':
		return "o"
	case 'å':
		return "a"
	case 'ð', 'đ':
		return "d"
	case 'þ':
		return "th"
	case 'ł':
		return "l"
	case 'ı':
		return "i"
	case 'ħ':
		return "h"
	}
	return ""
}
