package main

import (
	"fmt"
	"io"
	"regexp"
	"slices"
	"strings"

	"foredge/cmd/internal/glance"
	"foredge/eval/shelf"
	"foredge/lang/spell"
)

// searchShelf explains those of the words that the trade uses for something, and
// lists what they are called on the shelf and the things that have all the words in
// their name, in what is said of them or in their lines: first what a word is said to
// be, then those that have the words in their name. It reports whether it found any.
func searchShelf(w io.Writer, words []string) bool {
	meant := shelf.Meant(strings.Join(words, " "))
	var called []string
	for _, word := range meant {
		explain(w, word)
		called = append(called, word.Things...)
	}
	begin := beginnings(words)
	found := make([][][]string, 3) // what a word is said to be, what has it in its name, what speaks of it
	for _, p := range shelf.All() {
		for _, t := range p.Things {
			about, _, _ := strings.Cut(strings.ReplaceAll(t.About, "\n", " "), ". ")
			row := []string{t.Name, t.Kind, "use " + t.Part, strings.TrimSuffix(about, ".")}
			switch {
			case slices.Contains(called, t.Name):
				found[0] = append(found[0], row)
			case holds(t.Name, begin):
				found[1] = append(found[1], row)
			case holds(t.Name+" "+t.Kind+" "+t.Part+" "+t.About+" "+t.Text, begin):
				found[2] = append(found[2], row)
			}
		}
	}
	slices.SortStableFunc(found[0], func(a, b []string) int {
		return slices.Index(called, a[0]) - slices.Index(called, b[0])
	})
	rows := slices.Concat(found...)
	if len(rows) > 0 {
		if len(meant) > 0 {
			fmt.Fprintln(w)
		}
		writeFound(w, rows)
	}
	return len(meant)+len(rows) > 0
}

// writeFound lists the things that were found, what is said of each cut to its line.
func writeFound(w io.Writer, rows [][]string) {
	wide := 0
	for _, row := range rows {
		wide = max(wide, len(row[0])+len(row[1])+len(row[2])+6)
	}
	for _, row := range rows {
		if row[3] != "" {
			row[3] = shorten(row[3], max(30, listWidth-wide))
		}
	}
	glance.Table(w, "", rows)
	fmt.Fprintln(w, "\nforedge shelf NAME shows one of them, with its sources.")
}

// explain says what a word of the trade means, by which other names the thing goes,
// and where that comes from.
func explain(w io.Writer, word shelf.Word) {
	for _, line := range fill(strings.Join(word.Names, ", ")+":", listWidth) {
		fmt.Fprintln(w, line)
	}
	for _, line := range fill(word.Means+" ["+word.Source+"]", listWidth-2) {
		fmt.Fprintf(w, "  %s\n", line)
	}
}

// beginnings find a word of a text that begins with each of the words, in any case;
// for one in the plural it is enough if its singular does.
func beginnings(words []string) (all []*regexp.Regexp) {
	for _, word := range words {
		word = strings.ToLower(word)
		if len(word) > 3 {
			word = strings.TrimSuffix(word, "s")
		}
		all = append(all, regexp.MustCompile(`(^|[^\pL])`+regexp.QuoteMeta(word)))
	}
	return all
}

// holds reports whether a text has all of them.
func holds(text string, all []*regexp.Regexp) bool {
	text = strings.ToLower(text)
	return !slices.ContainsFunc(all, func(r *regexp.Regexp) bool { return !r.MatchString(text) })
}

// notOnShelf says that nothing on the shelf has a name or speaks of the words, and
// what was meant perhaps.
func notOnShelf(words []string) error {
	name := strings.Join(words, " ")
	help := "foredge shelf lists what is there"
	if now := shelf.Renamed(name); now != "" {
		help = fmt.Sprintf("it is called %s now: foredge shelf %s", now, now)
	} else if near := nearestOnShelf(words); near != "" {
		help = fmt.Sprintf("did you mean foredge shelf %s?", near)
	}
	return misused(help, "there is nothing called %q on the shelf, and nothing on it speaks of that", name)
}

// nearestOnShelf is what was probably meant by words of which nothing speaks: a name,
// or a word of the trade, or the same words with those that nothing speaks of put
// right; "" if that finds nothing either.
func nearestOnShelf(words []string) string {
	var names, spoken []string
	for _, p := range shelf.All() {
		names = append(names, p.Name)
		for _, t := range p.Things {
			names = append(names, t.Name)
			spoken = append(spoken, strings.FieldsFunc(strings.ToLower(t.Name+" "+t.Kind+" "+t.About), func(r rune) bool {
				return !('a' <= r && r <= 'z')
			})...)
		}
	}
	for _, w := range shelf.Words() {
		names = append(names, w.Names...)
	}
	if near := spell.Nearest(strings.Join(words, " "), names); near != "" {
		return near
	}
	right := slices.Clone(words)
	for i, word := range words {
		if !searchShelf(io.Discard, []string{word}) {
			right[i] = spell.Nearest(word, spoken)
		}
	}
	if slices.Contains(right, "") || slices.Equal(right, words) || !searchShelf(io.Discard, right) {
		return ""
	}
	return strings.Join(right, " ")
}
