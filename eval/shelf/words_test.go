package shelf_test

import (
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/eval/shelf"
)

// Each of the trade's words is told once, leads to things that are there, and says in
// sentences what it means and where that comes from.
func TestWords(t *testing.T) {
	things, seen, sources := map[string]bool{}, map[string]bool{}, publishedSources(t)
	for _, p := range shelf.All() {
		for _, x := range p.Things {
			things[x.Name] = true
		}
	}
	all := shelf.Words()
	if rows := table(t, "words.tsv", 4); len(rows) != len(all) {
		t.Errorf("%d of %d lines are read", len(all), len(rows))
	}
	for _, w := range all {
		for _, name := range w.Names {
			if seen[name] || name == "" || name != strings.ToLower(strings.TrimSpace(name)) {
				t.Errorf("%q stands twice, or not in small letters", name)
			}
			seen[name] = true
			if found := shelf.Meant(name); !slices.ContainsFunc(found, func(x shelf.Word) bool { return x.Means == w.Means }) {
				t.Errorf("%q isn't found", name)
			}
		}
		for _, x := range w.Things {
			if !things[x] {
				t.Errorf("%s leads to %q, which isn't on the shelf", w.Names[0], x)
			}
		}
		if !strings.HasSuffix(w.Means, ".") || w.Source == "" {
			t.Errorf("%s: %q, by %q", w.Names[0], w.Means, w.Source)
		}
		for _, name := range strings.Split(w.Source, "; ") {
			if _, ok := sources[name]; !ok && !strings.HasSuffix(name, "from memory") {
				t.Errorf("%s: nothing says which source %q is", w.Names[0], name)
			}
		}
	}
}

// The words are the trade's own, nobody's mark: inside a sentence only places and
// peoples have a capital.
func TestWordsAreNobodys(t *testing.T) {
	allowed := []string{"America", "American", "Britain", "Europe", "Japan", "Sweden", "Australia", "French"}
	capital := regexp.MustCompile(`[\pL\d,;)] (\p{Lu}[\pL\d'-]*)`)
	for _, w := range shelf.Words() {
		for _, m := range capital.FindAllStringSubmatch(w.Means, -1) {
			if !slices.Contains(allowed, m[1]) {
				t.Errorf("%s: is %s a word of the trade?", w.Names[0], m[1])
			}
		}
	}
}

// A word is found in any case, in the plural, with hyphens, and among others; part of
// a word is another word.
func TestMeant(t *testing.T) {
	for words, want := range map[string]string{
		"spirals": "spiral", "Lever-Arch": "lever arch", "a living hinge": "living hinge", "Binder’s boards": "binders board",
		"chicago screw": "post", "chipboard": "chipboard", "mill-board": "millboard", "compost": "", "": "", "screw": "", "-": "",
	} {
		got := ""
		if found := shelf.Meant(words); len(found) > 0 {
			got = found[0].Names[0]
		}
		if got != want {
			t.Errorf("%q is %q, want %q", words, got, want)
		}
	}
	if both := shelf.Meant("score the hinge"); len(both) != 2 {
		t.Errorf("two words mean %v", both)
	}
}
