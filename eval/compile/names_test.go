package compile_test

import (
	"fmt"
	"maps"
	"regexp"
	"slices"
	"strings"
	"testing"

	"foredge/eval/dim"
	"foredge/eval/evaltest"
	"foredge/eval/kind"
	"foredge/eval/shelf"
	"foredge/lang/diag"
	"foredge/lang/foretest"
	"foredge/lang/unit"
)

// neutral is a name that nothing else has.
const neutral = "zq"

// A place is where a design may have a named value.
type place struct {
	name string
	put  func(design, let string) (string, evaltest.Files)
}

// places are those that a thing of a kind can see.
func places(k string) []place {
	found := []place{
		{"the top of the file", func(design, let string) (string, evaltest.Files) { return let + "\n" + design, nil }},
		{"a used file", func(design, let string) (string, evaltest.Files) {
			return "use \"shop.fore\"\n" + design, evaltest.Files{"shop.fore": let}
		}},
	}
	switch k {
	case "row", "region", "cutout", "line", "lattice":
		found = append(found, place{"the thing around", func(design, let string) (string, evaltest.Files) {
			return strings.ReplaceAll(design, k+" x", let+"; "+k+" x"), nil
		}})
	}
	return found
}

// oneOrAll are the places, or with -short one of them, each in its turn.
func oneOrAll(all []place, turn int) []place {
	if foretest.Sample(len(all), 1) == 1 {
		return all[turn%len(all):][:1]
	}
	return all
}

// A named value of any word of the language never changes in silence what else
// is stated: what comes out is as without it, or something is told that names it.
func TestNamedValueChangesNothingInSilence(t *testing.T) {
	for _, k := range declared(t) {
		n := tally{}
		states := statements(k)
		for i, name := range append(wordsOf(k, states), "most", "square", "spine", "along", "exact", "log", "front") {
			lines := slices.Concat(valued(states, name), spoken(k, name), some(states, name))
			for _, place := range oneOrAll(places(k.Name), i) {
				for _, line := range lines {
					n.try(t, around[k.ID], place, name, line)
				}
			}
		}
		if n.same == 0 || n.told == 0 && len(k.Dims) > 0 {
			t.Errorf("of a %s %d came out the same and %d were told: the test tries nothing", k.Name, n.same, n.told)
		}
	}
}

// Nor does one that is a text, where texts may stand.
func TestNamedTextChangesNothingInSilence(t *testing.T) {
	for _, k := range declared(t) {
		n := tally{value: `"vinyl"`}
		states := statements(k)
		for i, name := range wordsOf(k, states) {
			for _, place := range oneOrAll(places(k.Name), i) {
				for _, line := range some(states, name) {
					n.try(t, around[k.ID], place, name, line)
				}
			}
		}
		if n.same == 0 && len(states) > 0 {
			t.Errorf("of a %s nothing came out the same: the test tries nothing", k.Name)
		}
	}
}

// statements are lines that state the properties of a kind.
func statements(k *kind.Kind) []string {
	var lines []string
	for _, p := range sorted(properties[k.ID]) {
		lines = append(lines, properties[k.ID][p]...)
	}
	return lines
}

// The words of the braces of marks are no names.
func TestNamedValueChangesNoMark(t *testing.T) {
	const design = "panel front { width = 100; height = 90; region x { spine = 10; width = 60; head = 10; height = 30\nMARK { LINE } } }"
	options := []string{"font = stroke", "cap = 5", "cap <= 5", "fit = fill", "align = left", "least = 2", "wrap = yes", "spacing = 0.1",
		"along = arc; radius = 60; side = inside", "along = circle; align = spread", "mirror = across", "rotate = 90 deg", "shade = levels",
		"line-distance = 0.2", "as = mark", "width = 20", "radius = 4"}
	for i, mark := range []string{`mark text "Tern"`, `mark text "Tern"`, `engrave art "tern.svg"`, "mark frame"} {
		n := tally{value: []string{"7", `"Go Bold"`}[i%2], files: evaltest.Files{"tern.svg": `<svg xmlns="http://www.w3.org/2000/svg" width="9mm" height="9mm"><path d="M0 0H9V9z"/></svg>`}}
		for i, name := range append(wordsOf(kind.Find("region"), options), "text", "art", "frame", "mark") {
			for _, place := range oneOrAll(places("region"), i) {
				for _, line := range append(valued(options, name), some(options, name)...) {
					n.try(t, strings.Replace(design, "MARK", mark, 1), place, name, line)
				}
			}
		}
		if n.same == 0 || n.told == 0 {
			t.Errorf("%s: %d came out the same and %d were told", mark, n.same, n.told)
		}
	}
}

// Each dimension that a thing has is told where a named value of that name
// could be meant, and not where the line is about it. One that it lacks isn't
// there, so that the named value is meant.
func TestHiddenNameIsTold(t *testing.T) {
	lacks := map[kind.ID][]dim.Name{kind.Row: {dim.Ease}, kind.Binding: {dim.Pair, dim.Pitch},
		kind.Case: {dim.SpineReach, dim.CornerReach, dim.Overlap, dim.SpineWidth, dim.SideWidth}}
	for _, k := range declared(t) {
		for _, d := range k.Dims {
			name, value := d.String(), "check "+d.String()+" >= 0"
			if strings.Contains(name, ".") { // no let is called so
				continue
			}
			if k.ID == kind.Material {
				value = "kerf = " + name
			}
			hidden := func(p place, line string) bool {
				text, files := p.put(strings.ReplaceAll(strings.Replace(around[k.ID], "LINE", line, 1), "LINE", ""), "let "+name+" = 7")
				_, ds, _ := build(text, files)
				return slices.ContainsFunc(ds, func(d *diag.Diagnostic) bool { return d.Code == "hidden-let" })
			}
			for _, p := range places(k.Name)[:2] {
				if want := !slices.Contains(lacks[k.ID], d); hidden(p, value) != want {
					t.Errorf("%s of a %s, with a let of that name at %s: told %v", name, k.Name, p.name, !want)
				}
				for _, line := range []string{name + " = 5", "5 = " + name, "prefer " + name + " = 5", "1 <= " + name + " <= 9", name + " >= 1"} {
					if hidden(p, line) {
						t.Errorf("`%s` in a %s is about the dimension, but a let of that name at %s is told", line, k.Name, p.name)
					}
				}
			}
		}
	}
}

// No named value of the shelf has the name of a dimension: a maker could not
// give it another one where it is told.
func TestShelfHidesNothing(t *testing.T) {
	for _, p := range shelf.All() {
		for _, x := range p.Things {
			for _, k := range declared(t) {
				if _, is := k.Dim(x.Name); is && x.Kind == "let" {
					t.Errorf("the shelf's %s has a let called %s, as is a dimension of a %s", p.Name, x.Name, k.Name)
				}
			}
		}
	}
}

// A tally counts what came of the designs that were tried.
type tally struct {
	same, told int
	value      string // of the named value; 7 if it isn't said
	files      evaltest.Files
	known      map[string]result // of designs with the neutral name
}

// A result is what came of a design.
type result struct {
	text string
	told diag.List
}

// run builds a design with a let of some name at a place.
func (n *tally) run(p place, design, name string) (string, result) {
	value := n.value
	if value == "" {
		value = "7"
	}
	text, files := p.put(design, "let "+name+" = "+value)
	if r, ok := n.known[p.name+text]; ok {
		return text, r
	}
	all := maps.Clone(n.files)
	if all == nil {
		all = evaltest.Files{}
	}
	maps.Copy(all, files)
	var r result
	r.text, r.told = outcome(text, all)
	if name == neutral {
		if n.known == nil {
			n.known = map[string]result{}
		}
		n.known[p.name+text] = r
	}
	return text, r
}

// try compares a design in which a let has some name with the same design in
// which it has a neutral one.
func (n *tally) try(t *testing.T, design string, p place, name, line string) {
	t.Helper()
	if strings.Contains(name, ".") {
		return
	}
	design = strings.ReplaceAll(design, "LINE", line)
	text, with := n.run(p, design, name)
	_, without := n.run(p, design, neutral)
	ds, before := with.told, without.told
	switch {
	case with.text == strings.ReplaceAll(without.text, neutral, name):
		n.same++
	case about(fresh(ds, before, name), name):
		n.told++
	case before.HasErrors() && about(before, name):
		// Without the let the line speaks of nothing that is there.
	default:
		t.Errorf("a let called %s at %s changes what comes of `%s` in silence:\n%s", name, p.name, line, text)
	}
}

// fresh are the messages that were not there without the name.
func fresh(ds, before diag.List, name string) diag.List {
	return slices.DeleteFunc(slices.Clone(ds), func(d *diag.Diagnostic) bool {
		return slices.ContainsFunc(before, func(b *diag.Diagnostic) bool {
			return d.Code == b.Code && d.Message == strings.ReplaceAll(b.Message, neutral, name)
		})
	})
}

// about reports whether an error or a warning names something.
func about(ds diag.List, name string) bool {
	word := regexp.MustCompile(`(^|[^\w-])` + regexp.QuoteMeta(name) + `($|[^\w-])`)
	return slices.ContainsFunc(ds, func(d *diag.Diagnostic) bool {
		if d.Severity != diag.Error && d.Severity != diag.Warning {
			return false
		}
		said := d.Message + "\n" + d.Help
		for _, note := range d.Notes {
			said += "\n" + note.Message + " " + note.Span.Short()
		}
		return word.MatchString(said)
	})
}

// wordsOf lists the words of a kind, and those of some lines.
func wordsOf(k *kind.Kind, lines []string) []string {
	words := slices.Clone(k.Props)
	for _, d := range k.Dims {
		words = append(words, d.String())
	}
	if k.Indexed != "" {
		words = append(words, k.Indexed)
	}
	// What stands in quotes is no word.
	plain := regexp.MustCompile(`"[^"]*"`).ReplaceAllString(strings.Join(lines, "\n"), "")
	words = append(words, regexp.MustCompile(`[a-z][a-z-]*`).FindAllString(plain, -1)...)
	slices.Sort(words)
	return slices.Compact(words)
}

// spoken are lines of a kind that speak of a name.
func spoken(k *kind.Kind, name string) []string {
	lines := []string{name + " = 5", name + " >= 1", "1 <= " + name + " <= 9", "prefer " + name + " = 5", "5 = " + name,
		"check " + name + " >= 0", name + " = " + name + " / 4", "let own = 2 * " + name}
	for i := 0; i < len(k.Dims); i += foretest.Sample(1, 5) {
		d, in := k.Dims[i], ""
		if d.Kind() == unit.Angle {
			in = " * 1 deg"
		}
		lines = append(lines, fmt.Sprintf("%s = 2 * %s%s", d, name, in), fmt.Sprintf("%s >= %s + 1", d, name))
	}
	return append(lines, "count = most")
}

// some are those of some lines that hold a word, and of the others a sample.
func some(lines []string, word string) []string {
	var found []string
	for i, l := range lines {
		if i%foretest.Sample(1, 8) == 0 || strings.Contains(l, word) {
			found = append(found, l)
		}
	}
	return found
}

// valued are lines with a name in place of their first number.
func valued(lines []string, name string) []string {
	var out []string
	number := regexp.MustCompile(`\d+(\.\d+)?`)
	for _, l := range lines {
		if at := number.FindStringIndex(l); at != nil && !strings.Contains(l, `"#`) {
			out = append(out, l[:at[0]]+name+l[at[1]:])
		}
	}
	return out
}

func sorted(m map[string][]string) []string {
	var keys []string
	for key := range m {
		keys = append(keys, key)
	}
	slices.Sort(keys)
	return keys
}

// A line of a used file that speaks of what isn't there is told, not passed over
// as one about things of other designs.
func TestUnknownNameInUsedFile(t *testing.T) {
	const design = "use \"shop.fore\"\npanel front { width = 100; height = 120 }"
	for shop, want := range map[string]string{
		"frnt.width = 100":                             `nothing is called "frnt" here`,
		"panel back { width = 9 }\nback.height = 9":    "",
		"panel back { width = 9 }\nback.height = fron": `nothing is called "fron" here`,
	} {
		_, ds, _ := build(design, evaltest.Files{"shop.fore": shop})
		if want == "" && len(ds) > 0 || want != "" && (len(ds) != 1 || ds[0].Message != want) {
			t.Errorf("%q: told %v, want %q", shop, ds, want)
		}
	}
}
