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

// slug is a text as letters a to z, digits and single hyphens. Accents are left out,
// and letters of other scripts are written in Latin ones. It is "" if one of them can't
// be: what is left would be another name.
func slug(text string) string {
	var b strings.Builder
	gap := false
	for _, c := range norm.NFKC.String(text) {
		written, known := latin(c)
		switch {
		case !known && unicode.IsLetter(c):
			return ""
		case c == '\'' || c == '’':
			continue // O'Neill is oneill
		case c > unicode.MaxASCII && !unicode.In(c, unicode.L, unicode.M, unicode.N):
			written = " "
		}
		for _, w := range strings.ToLower(written) {
			switch {
			case w >= 'a' && w <= 'z' || w >= '0' && w <= '9':
				if gap && b.Len() > 0 {
					b.WriteByte('-')
				}
				gap = false
				b.WriteRune(w)
			case c <= unicode.MaxASCII || w == ' ' || w == '-':
				gap = true // else a sign that stands for no letter of ours
			}
		}
		if b.Len() >= maxSlug {
			break
		}
	}
	return strings.TrimRight(b.String()[:min(b.Len(), maxSlug)], "-")
}
