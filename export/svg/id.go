package svg

import (
	"strconv"
	"strings"
)

// escape makes a name fit to follow "cut." in an id: what XML doesn't allow in
// a name, and the colon that namespaces claim, becomes _xHEX_. The low line is
// escaped as well, so different names stay different.
func escape(name string) string {
	fits := true
	for i := 0; i < len(name) && fits; i++ {
		c := name[i]
		fits = 'a' <= c && c <= 'z' || 'A' <= c && c <= 'Z' || '0' <= c && c <= '9' || c == '-' || c == '.'
	}
	if fits {
		return name
	}
	var b strings.Builder
	for _, r := range name {
		if nameChar(r) {
			b.WriteRune(r)
		} else {
			b.WriteString("_x" + strings.ToUpper(strconv.FormatInt(int64(r), 16)) + "_")
		}
	}
	return b.String()
}

// nameChar is production [4a] NameChar of XML 1.0, fifth edition, without the
// colon and the low line.
func nameChar(r rune) bool {
	switch {
	case r == '-', r == '.', r == 0xB7,
		'0' <= r && r <= '9', 'A' <= r && r <= 'Z', 'a' <= r && r <= 'z',
		0xC0 <= r && r <= 0x2FF && r != 0xD7 && r != 0xF7,
		0x300 <= r && r <= 0x1FFF && r != 0x37E,
		0x200C <= r && r <= 0x200D, 0x203F <= r && r <= 0x2040,
		0x2070 <= r && r <= 0x218F, 0x2C00 <= r && r <= 0x2FEF,
		0x3001 <= r && r <= 0xD7FF, 0xF900 <= r && r <= 0xFDCF,
		0xFDF0 <= r && r <= 0xFFFD, 0x10000 <= r && r <= 0xEFFFF:
		return true
	}
	return false
}
