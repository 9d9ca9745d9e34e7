package export

import (
	"fmt"
	"strconv"
	"strings"
)

// An Origin is what a file says of the design that it was made of. It is a function
// of the design alone: no folder, no time.
type Origin struct {
	Design string // its name, by which its files are called
	// Made is by which command, where a design has files of several: "card". It is a
	// word of small letters; "" for what is built.
	Made string
	// In is the file in which what was made is stated, where that is no design's: that of
	// a job. It is written only with what made it.
	In string
	// Panels are the names of its panels and cases.
	Panels []string
}

// mostOrigin is how many bytes an origin may have as it is written: a line of a DXF
// file may have 255 in old programs (from memory).
const mostOrigin = 180

// inFile stands before the file in which something is stated.
const inFile = " in "

// String is how an origin stands in a file: " of gull card (front back)", in bytes that
// every format takes. Names that have no room are left out, panels all of them or none.
func (o Origin) String() string {
	if o.Design == "" {
		return ""
	}
	text := " of " + escape(o.Design)
	if o.Made != "" {
		text += " " + o.Made
		if o.In != "" {
			text += inFile + escape(o.In)
		}
	}
	if len(text) > mostOrigin {
		return ""
	}
	names := make([]string, len(o.Panels))
	for i, p := range o.Panels {
		names[i] = escape(p)
	}
	if more := " (" + strings.Join(names, " ") + ")"; len(names) > 0 && len(text+more) <= mostOrigin {
		text += more
	}
	return text
}

// parseOrigin reads what String wrote; another text is no origin.
func parseOrigin(text string) (o Origin) {
	text, ok := strings.CutPrefix(text, " of ")
	if !ok {
		return o
	}
	head, panels, _ := strings.Cut(text, " (")
	name, made, _ := strings.Cut(head, " ")
	made, in, _ := strings.Cut(made, inFile)
	o.Design, o.Made, o.In = unescape(name), made, unescape(in)
	for _, p := range strings.Fields(strings.TrimSuffix(panels, ")")) {
		o.Panels = append(o.Panels, unescape(p))
	}
	return o
}

// escape writes a name in letters, digits, points, low lines and single hyphens: two
// would end a comment. Other bytes are %XX.
func escape(name string) string {
	var b strings.Builder
	for i := 0; i < len(name); i++ {
		switch c := name[i]; {
		case c >= 'a' && c <= 'z', c >= 'A' && c <= 'Z', c >= '0' && c <= '9', c == '.', c == '_', c == '-' && (i == 0 || name[i-1] != '-'):
			b.WriteByte(c)
		default:
			fmt.Fprintf(&b, "%%%02X", c)
		}
	}
	return b.String()
}

func unescape(text string) string {
	var b strings.Builder
	for i := 0; i < len(text); i++ {
		if text[i] == '%' && i+2 < len(text) {
			if c, err := strconv.ParseUint(text[i+1:i+3], 16, 8); err == nil {
				b.WriteByte(byte(c))
				i += 2
				continue
			}
		}
		b.WriteByte(text[i])
	}
	return b.String()
}
