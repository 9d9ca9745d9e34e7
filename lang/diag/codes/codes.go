package codes

import (
	"slices"
	"strings"
	"sync"

	"foredge/lang/diag"
)

// An Entry says what there is to know of a code.
type Entry struct {
	Code diag.Code
	As   []diag.Severity // how it is told; as an error where nothing is said
	// Quiet is set where a design may silence it: in the laser and, if Of names a
	// kind of thing, only in such a thing beside that.
	Quiet bool
	Of    string
	// Means says what is wrong, in one or two sentences for a maker.
	Means string
	// Do says what to do next, in a sentence.
	Do string
	// From says where the number comes from by which a warning judges: a
	// published source, or that there is none. It is empty where there is no such
	// number.
	From string
	// Example is a design that is told this code and no other warning or error.
	// Files that it uses follow, each after a line "-- NAME --".
	Example string
	// Test names what raises the code where no design alone can: a test as
	// PACKAGE.TEST, or a script by its path. There is an example or a test.
	Test string
}

// A File is part of an example.
type File struct{ Name, Text string }

// ExampleName is what the design of an example is called.
const ExampleName = "example.fore"

// sorted holds the entries in the order of their codes. Nothing writes into it.
var sorted = sync.OnceValue(func() []Entry {
	all := slices.Concat(text(), names(), values(), fields(), readings(), solving(), board(), recesses(), artwork(), advice(), trade(), latticeAdvice(), orders(), sheets(), jobs(), files(), outputs())
	slices.SortStableFunc(all, func(a, b Entry) int { return compare(a, b.Code) })
	return all
})

func compare(e Entry, code diag.Code) int { return strings.Compare(string(e.Code), string(code)) }

// All returns the entries in the order of their codes.
func All() []Entry { return slices.Clone(sorted()) }

// Find returns the entry of a code.
func Find(code diag.Code) (Entry, bool) {
	i, ok := slices.BinarySearchFunc(sorted(), code, compare)
	if !ok {
		return Entry{}, false
	}
	return sorted()[i], true
}

// Silenceable reports whether a design may silence a code.
func Silenceable(code diag.Code) bool {
	e, ok := Find(code)
	return ok && e.Quiet
}

// Quiet lists the codes that a design may silence, as `quiet` takes them.
func Quiet() []string {
	var words []string
	for _, e := range sorted() {
		if e.Quiet {
			words = append(words, string(e.Code))
		}
	}
	return words
}

// Silence is how the help of a warning ends that a thing of a kind may
// silence: "; quiet = thin-web in the panel silences this". It is empty if the
// code can't be silenced.
func Silence(code diag.Code, kind string) string {
	if !Silenceable(code) {
		return ""
	}
	return "; quiet = " + string(code) + " in the " + kind + " silences this"
}

// Severities returns how the code is told.
func (e Entry) Severities() []diag.Severity {
	if len(e.As) == 0 {
		return []diag.Severity{diag.Error}
	}
	return e.As
}

// Files returns the example's files, its design first; none if it has no
// example.
func (e Entry) Files() []File {
	var files []File
	if e.Example != "" {
		files = append(files, File{Name: ExampleName})
	}
	for line := range strings.Lines(strings.TrimPrefix(e.Example, "\n")) {
		if name, ok := strings.CutPrefix(line, "-- "); ok && strings.HasSuffix(name, " --\n") {
			files = append(files, File{Name: strings.TrimSuffix(name, " --\n")})
			continue
		}
		files[len(files)-1].Text += line
	}
	return files
}

// How codes are told that are no errors, or not always.
func warning() []diag.Severity       { return []diag.Severity{diag.Warning} }
func note() []diag.Severity          { return []diag.Severity{diag.Info} }
func both() []diag.Severity          { return []diag.Severity{diag.Error, diag.Warning} }
func warningOrNote() []diag.Severity { return []diag.Severity{diag.Warning, diag.Info} }
func errorOrNote() []diag.Severity   { return []diag.Severity{diag.Error, diag.Info} }
