package shelf

import (
	"bytes"
	"slices"
	"strings"
)

// Declaration is the text of one declaration of a part, without what stands
// around it: for whoever needs to know a single thing and would not have the
// whole part read. False if the part declares no such thing.
//
// It relies on how the parts are laid out: a declaration begins at the start of
// a line, and one that goes on over several ends with a } at the start of a line.
func Declaration(part, kind, name string) (string, bool) {
	text, ok := Text(part)
	if !ok || name == "" {
		return "", false
	}
	head := kind + " " + name
	for at := string(text); ; {
		i := strings.Index(at, head)
		if i < 0 {
			return "", false
		}
		rest := at[i+len(head):]
		if (i == 0 || at[i-1] == '\n') && rest != "" && strings.IndexByte(" \n", rest[0]) >= 0 {
			line, more, _ := strings.Cut(at[i:], "\n")
			if strings.Contains(line, "{") && !strings.Contains(line, "}") {
				block, _, _ := strings.Cut(more, "\n}")
				line += "\n" + block + "\n}"
			}
			return line, true
		}
		at = rest
	}
}

// Declared lists the names that a part declares of one kind, in the order in
// which they stand there.
func Declared(part, kind string) (names []string) {
	text, _ := Text(part)
	for line := range strings.Lines(string(text)) {
		if rest, ok := strings.CutPrefix(line, kind+" "); ok {
			names = append(names, strings.Fields(rest)[0])
		}
	}
	return names
}

// Holder finds the part that declares a thing of a kind; false if none does.
func Holder(kind, name string) (part string, ok bool) {
	for _, part := range Names() {
		if _, ok := Declaration(part, kind, name); ok {
			return part, true
		}
	}
	return "", false
}

// PartOf finds the part that declares something of a name; false if none does. It looks
// through the texts, so that nothing is made of them before somebody asks.
func PartOf(name string) (part string, ok bool) {
	for _, part := range Names() {
		text, _ := Text(part)
		for at, found := 0, []byte(" "+name+" "); ; at++ {
			i := bytes.Index(text[at:], found)
			if i < 0 {
				break
			}
			at += i
			// Before it stands one word, from the start of the line on.
			word := string(text[bytes.LastIndexByte(text[:at], '\n')+1 : at])
			if word != "" && !strings.ContainsAny(word, " \t#}") && !slices.Contains([]string{"foredge", "units", "use", "check", "prefer"}, word) {
				return part, true
			}
		}
	}
	return "", false
}
