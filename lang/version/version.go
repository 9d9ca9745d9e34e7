package version

import (
	"strconv"

	"foredge/lang/spell"
)

// A Version is one version of the language.
type Version struct {
	Number int
	// Changes are what it reads otherwise than the version before it.
	Changes []Change
}

// A Change is one thing that a version reads otherwise than the one before it.
type Change struct {
	// Words are the names by which a file shows that it is concerned: it is told
	// at the first of them that it holds. A change without words concerns every
	// file.
	Words []string
	// Says tells a maker what is other now, in a sentence without a full stop:
	// "ease is stated for each side".
	Says string
}

// A Table lists versions, the oldest first. It has one at least.
type Table []Version

// All lists the versions that this program reads.
func All() Table {
	return Table{
		{Number: 1},
	}
}

// Newest is the version of files that don't say theirs.
func (t Table) Newest() int { return t[len(t)-1].Number }

// Find returns the version that a file calls by a word, as in `foredge 1`. It
// is not ok for one that is not in the table.
func (t Table) Find(word string) (number int, ok bool) {
	for _, v := range t {
		if strconv.Itoa(v.Number) == word {
			return v.Number, true
		}
	}
	return 0, false
}

// After lists the versions that came after one, each with what it changed.
func (t Table) After(number int) Table {
	for i, v := range t {
		if v.Number > number {
			return t[i:]
		}
	}
	return nil
}

// String lists the versions for a person: "version 1", "versions 1, 2 and 3".
func (t Table) String() string {
	var words []string
	for _, v := range t {
		words = append(words, strconv.Itoa(v.Number))
	}
	if len(words) == 1 {
		return "version " + words[0]
	}
	return "versions " + spell.And(words)
}
