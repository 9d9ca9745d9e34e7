package shelf

import (
	_ "embed"
	"slices"
	"strings"

	"foredge/lang/spell"
)

// words.tsv is the table of what the trade calls things, one entry a line.
//
//go:embed words.tsv
var wordTable string

// A Word is an entry of the trade's words: names for one thing, on both sides of
// the ocean, that the shelf may call otherwise.
type Word struct {
	Names  []string
	Things []string // what they are called on the shelf; none if it has nothing of the kind
	Means  string
	Source string // names of sources, parted by semicolons; or what is from memory
}

// Words reads the table of the trade's words, in its order.
func Words() (all []Word) {
	_, entries, _ := strings.Cut(wordTable, "\n") // below the headings
	for line := range strings.Lines(entries) {
		f := strings.Split(strings.TrimSuffix(line, "\n"), "\t")
		if len(f) != 4 {
			continue // can't be: a test holds the table against that
		}
		w := Word{Names: strings.Split(f[0], ", "), Means: f[2], Source: f[3]}
		if f[1] != "" {
			w.Things = strings.Split(f[1], ", ")
		}
		all = append(all, w)
	}
	return all
}

// Meant finds the entries of which a name stands in some words, in any case, in
// the plural or not, and with blanks or hyphens between. Of a name within a longer
// one, as hinge is in living hinge, only the longer one counts.
func Meant(words string) (found []Word) {
	said := "-" + singular(words) + "-"
	var as []string // by which name each was found
	for _, w := range Words() {
		longest := ""
		for _, name := range w.Names {
			if key := "-" + singular(name) + "-"; len(key) > len(longest) && strings.Contains(said, key) {
				longest = key
			}
		}
		if longest != "" {
			found, as = append(found, w), append(as, longest)
		}
	}
	whole := found[:0:0]
	for i, w := range found {
		if !slices.ContainsFunc(as, func(other string) bool { return len(other) > len(as[i]) && strings.Contains(other, as[i]) }) {
			whole = append(whole, w)
		}
	}
	return whole
}

// singular is how words are written as a name, each without the s of its plural.
func singular(words string) string {
	each := strings.Split(spell.Name(strings.NewReplacer("'", "", "’", "").Replace(words)), "-")
	for i, word := range each {
		if len(word) > 3 {
			each[i] = strings.TrimSuffix(word, "s")
		}
	}
	return strings.Join(each, "-")
}
